'use strict';

var tankside = window.tankside || {};

/** @typedef {'not started' | 'started' | 'complete' | 'not applicable' | 'deviated'} StepState */
/**
 * One time that the way leads to a step. Its `node` is -1 where one was sent away or a decision is due.
 * @typedef {{
 *   part: number, node: number, kind: string, name: string, state: StepState, sender: Visit | null,
 *   exit: number | null, doer: string, answer: string, isLabelled: boolean, values: number[], total: Rational,
 *   isInside: boolean, begun: number | null, second: number | null, done: number | null
 * }} Visit
 */
/**
 * @typedef {{
 *   script: CopyScript, events: CopyEvent[], trail: Visit[], tip: Visit | null, people: Map<string, string>,
 *   inputs: Inputs, checked: Map<string, string>, corrected: Map<number, number>, isPaused: boolean, givenBy: string,
 *   isThrough: boolean, isCutShort: boolean, ended: '' | 'finish' | 'abandon'
 * }} Copy
 */

/* The state of a working copy, and what can be told of it (`records/copy.py`). */
tankside.copyState = (function () {
  const { ZERO } = tankside.rational;

  /** @param {CopyScript} script @returns {Copy} */
  function newCopy(script) {
    return {
      script, events: [], trail: [], tip: null, people: new Map(), inputs: {}, checked: new Map(),
      corrected: new Map(), isPaused: false, givenBy: '', isThrough: false, isCutShort: false, ended: '',
    };
  }

  /** @param {number} part @param {number} node @param {string} kind @param {string} name @returns {Visit} */
  function visitTo(part, node, kind, name, sender = null) {
    return {
      part, node, kind, name, state: 'not started', sender, exit: null, doer: '', answer: '', isLabelled: false,
      values: [], total: ZERO, isInside: false, begun: null, second: null, done: null,
    };
  }

  /** @param {Copy} copy @param {Visit} visit */
  const partOf = (copy, visit) => copy.script.parts[visit.part];
  /** @param {Copy} copy @param {Visit} visit */
  const nodeOf = (copy, visit) => partOf(copy, visit).nodes[visit.node];
  /** @param {Copy} copy @param {Visit} visit */
  const stepOf = (copy, visit) => partOf(copy, visit).steps.get(visit.name);
  /** @param {Copy} copy @param {Visit} visit */
  const sectionOf = (copy, visit) => partOf(copy, visit).sections.get(visit.name);
  /** @param {Visit} visit */
  const isOpen = (visit) => visit.exit === null;
  /** @param {Copy} copy @param {Visit} visit whether marks behind it may be set before its own */
  const isLoose = (copy, visit) => visit.node >= 0 && nodeOf(copy, visit).isLoose;

  /**
   * Return whether a step may be done now: everything before it is, or is work that is known by heart.
   * @param {Copy} copy
   * @param {Visit} visit
   */
  function isMarkable(copy, visit) {
    if (!isOpen(visit)) return false;
    const waiting = copy.trail.slice(0, copy.trail.indexOf(visit)).filter(isOpen);
    return waiting.length === 0
      || (copy.script.isLoose && [...waiting, visit].every((each) => isLoose(copy, each)));
  }

  /** @param {Copy} copy @param {Visit} visit whether a second person has to look at it */
  function needsSecond(copy, visit) {
    return visit.node >= 0 && visit.kind !== 'question' && stepOf(copy, visit).second_person === 'yes';
  }

  /**
   * Return what the label must say: a material, or the code for the bottles chosen; empty where there is none.
   * @param {Copy} copy
   * @param {Visit} visit
   * @returns {string}
   */
  function labelOf(copy, visit) {
    const [step, { edition }] = [stepOf(copy, visit), partOf(copy, visit)];
    if (visit.kind === 'labels') {
      return step.counted === 'out' ? edition.labels[step.product].codes[copy.events[0].bottle || ''] || '' : '';
    }
    if (visit.kind !== 'add') return '';
    const source = edition.equipment[step.from || ''];
    return source !== undefined && source.kind === 'supply' ? '' : step.material;
  }

  /**
   * Return how many labels are not accounted for; none where they are only taken out.
   * @param {Copy} copy
   * @param {Visit} visit
   */
  function difference(copy, visit) {
    const { product } = stepOf(copy, visit);
    const count = latest(copy, visit.values[visit.values.length - 1]);
    if (count.issued !== undefined) return 0;
    const counts = copy.trail
      .filter((each) => each.kind === 'labels' && stepOf(copy, each).product === product)
      .flatMap((each) => each.values.map((seq) => latest(copy, seq)));
    const issued = counts.reduce((sum, each) => sum + (each.issued || 0), 0);
    return issued - count.used - count.spoiled - count.left;
  }

  /** @param {Copy} copy @param {number} seq the visit to which a value belongs */
  const valued = (copy, seq) => copy.trail.find((visit) => visit.values.includes(seq));
  /** @param {Copy} copy @param {number} seq the visit that an event finished */
  const markedBy = (copy, seq) => copy.trail.find((visit) => visit.done === seq);

  /**
   * Return an event, or the last one that corrects it.
   * @param {Copy} copy
   * @param {number} seq
   */
  function latest(copy, seq) {
    let at = seq;
    for (let next = copy.corrected.get(at); next !== undefined; next = copy.corrected.get(at)) at = next;
    return copy.events[at];
  }

  return Object.freeze({
    newCopy, visitTo, partOf, nodeOf, stepOf, sectionOf, isOpen, isLoose, isMarkable, needsSecond, labelOf, difference,
    latest, valued, markedBy,
  });
})();
