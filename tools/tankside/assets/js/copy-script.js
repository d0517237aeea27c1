'use strict';

var tankside = window.tankside || {};

/** @typedef {{to: string, away: string, answer: string, seen: Effect[]}} CopyExit */
/** @typedef {{step: string, kind: string, exits: CopyExit[], isLoose: boolean}} CopyNode */
/**
 * @typedef {{
 *   edition: any, procedure: string, revision: string, approver: string, start: string, steps: Map<string, any>,
 *   sections: Map<string, string>, apart: Set<string>, nodes: CopyNode[]
 * }} CopyPart
 */
/**
 * @typedef {{
 *   edition: any, id: string, isLoose: boolean, parts: CopyPart[], needsSecondPerson: boolean, needsLot: boolean,
 *   inputs: Array<[string, string, any]>, sizes: string[]
 * }} CopyScript
 */

/* What a working copy follows: the parts of an edition, and where each step leads (`records/script.py`). */
tankside.copyScript = (function () {
  const LOOSE = ['open', 'shut', 'start', 'stop', 'move', 'lock', 'unlock', 'do', 'check', 'record', 'notify'];
  const MARKED = [...LOOSE, 'wait', 'choose', 'repeat', 'question'];
  const SKIPPED = ['open', 'shut', 'start', 'stop', 'move', 'do', 'record', 'notify', 'wait'];
  const CHANGED = [...SKIPPED, 'lock', 'unlock', 'labels'];
  const NO_STEPS = ['section', 'danger', 'warning', 'caution', 'notice', 'note'];

  /**
   * Return all items, those inside others included, in reading order.
   * @param {any[]} items
   * @returns {any[]}
   */
  function every(items) {
    return items.flatMap((item) => [
      item,
      ...every(item.steps || []),
      ...(item.branches || []).flatMap((/** @type {any} */ branch) => every(branch.steps)),
    ]);
  }

  /** @param {any[]} items */
  function stepsIn(items) {
    return every(items).filter(({ kind }) => !NO_STEPS.includes(kind));
  }

  /** @param {any[]} items @returns {Map<string, string>} */
  function sectionsOf(items) {
    const found = new Map();
    let section = '';
    for (const item of items) {
      if (item.kind === 'section') section = item.section;
      for (const step of stepsIn([item])) found.set(step.name, section);
    }
    return found;
  }

  /** @param {any} edition @param {any} program @param {string} [only] its section, where only that one is followed */
  function part(edition, program, only) {
    const { written } = edition;
    const steps = new Map(stepsIn(written.steps).map((step) => [step.name, step]));
    const apart = written.steps.filter((/** @type {any} */ { kind, entered, section }) => (
      kind === 'section' && entered !== undefined && section !== only));
    return {
      edition,
      procedure: written.procedure,
      revision: written.revision,
      approver: written.approved,
      start: program.start,
      steps,
      sections: sectionsOf(written.steps),
      apart: new Set(apart.map((/** @type {any} */ item) => item.section)),
      nodes: program.nodes.map((/** @type {any} */ { step, asks, exits }) => {
        const kind = asks ? 'question' : steps.get(step).kind;
        return { step, kind, exits: exits.map(exit), isLoose: LOOSE.includes(kind) };
      }),
    };
  }

  /** @param {any} written @returns {CopyExit} */
  function exit({ to = '', away = '', answer = '', seen = [] }) {
    return { to, away, answer, seen };
  }

  /**
   * Return what a working copy of an edition follows.
   * @param {any} edition
   * @returns {CopyScript}
   */
  function script(edition) {
    const { written } = edition;
    const isProcedure = written.procedure !== undefined;
    const parts = isProcedure
      ? [part(edition, edition.program)]
      : edition.parts.map((/** @type {any} */ each) => part(each.edition, each.program, each.section));
    const kinds = parts.flatMap((/** @type {CopyPart} */ { nodes }) => nodes.map(({ kind }) => kind));
    return {
      edition,
      id: isProcedure ? written.procedure : written.checklist,
      isLoose: written.followed === 'do then check',
      parts,
      needsSecondPerson: parts.some((/** @type {CopyPart} */ each) => each.edition.written.second_person === 'in the room'),
      needsLot: kinds.includes('add') || kinds.includes('labels'),
      inputs: inputsOf(parts),
      sizes: sizesOf(parts),
    };
  }

  /** @param {CopyPart[]} parts @returns {Array<[string, string, any]>} */
  function inputsOf(parts) {
    const once = new Map(parts.map((each) => [each.procedure, each]));
    return [...once].flatMap(([procedure, { edition }]) => Object.entries(edition.written.inputs).map(
      ([name, asked]) => /** @type {[string, string, any]} */ ([procedure, name, asked])));
  }

  /** @param {CopyPart[]} parts @returns {string[]} */
  function sizesOf(parts) {
    const labels = parts.flatMap(({ edition }) => Object.values(edition.labels));
    return [...new Set(labels.flatMap((/** @type {any} */ { codes }) => Object.keys(codes)))];
  }

  return Object.freeze({ script, LOOSE, MARKED, SKIPPED, CHANGED });
})();
