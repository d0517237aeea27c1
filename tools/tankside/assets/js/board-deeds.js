'use strict';

var tankside = window.tankside || {};

/**
 * The event of a working copy that something is known from; `id` is that of the procedure or checklist.
 * @typedef {{copy: string, seq: number, at: string, lot: string, id: string, step: string}} EventReference
 */
/**
 * What came of one event: what was done, what nobody knows whether it was done, what was seen in the end.
 * @typedef {{reference: EventReference, rules: Rules, done: Effect[], doubted: Effect[], seen: Effect[]}} Deed
 */

/* What the events of a working copy did to the plant and showed of it (`records/deeds.py`, `part_effects.py`). */
tankside.boardDeeds = (function () {
  const { ZERO, read, add, subtract, multiply, compare } = tankside.rational;
  const { interval, intervalText } = tankside.volumes;
  const { own } = tankside.plantState;
  const { newCopy, partOf, nodeOf } = tankside.copyState;
  const { worth } = tankside.copyWorth;
  const { fold } = tankside.copyFold;

  /** Steps that lead elsewhere when what they look at is not so. */
  const LOOKING = ['check', 'measure'];
  /** @type {Rules} */
  const NO_RULES = { held: {}, lines: [], supplies: [], waters: [], isolated_at: {}, pressure: [] };

  /**
   * Return what must be so at the start: the place of a part, and each prerequisite that no earlier part brings about.
   * @param {CopyScript} script
   * @returns {Array<[number, string]>}
   */
  function asked({ parts }) {
    const before = new Set();
    return parts.flatMap(({ edition, procedure }, number) => {
      const { prerequisites } = edition.written;
      const isOurs = (/** @type {string} */ name) => !before.has(edition.conditions[name].procedure);
      const found = prerequisites.filter(isOurs);
      before.add(procedure);
      return found.map((/** @type {string} */ name) => /** @type {[number, string]} */ ([number, name]));
    });
  }

  /** What somebody wears is about a person, not about the plant. @param {Effect[] | undefined} effects */
  function effectsIn(effects = []) {
    return effects.filter(({ kind }) => kind !== 'wears');
  }

  /** @param {CopyPart} part @param {string} step @returns {Effect[]} */
  function effectsOf({ edition }, step) {
    return effectsIn(own(edition.effects, step));
  }

  /** @param {CopyPart} part @param {string} condition @returns {Effect[]} */
  function seenAt({ edition }, condition) {
    return effectsIn(own(edition.seen, condition));
  }

  /** @param {CopyPart} part @returns {Rules} */
  function rulesIn({ edition }) {
    return edition.fold_rules || NO_RULES;
  }

  /**
   * @param {Copy} copy
   * @param {number} seq
   * @param {string} [step]
   * @returns {EventReference}
   */
  function referenceTo({ script, events }, seq, step = '') {
    return { copy: events[seq].copy, seq, at: events[seq].at, lot: events[0].lot || '', id: script.id, step };
  }

  /**
   * Return what came of all events in the order of time. Within a copy nothing comes before what was entered before it:
   * a clock that was set back does not turn the order round.
   * @param {Copy[]} copies
   * @returns {Deed[]}
   */
  function orderedDeeds(copies) {
    const found = copies.flatMap((copy) => {
      let latest = -Infinity;
      const moments = copy.events.map(({ at }) => (latest = Math.max(latest, Date.parse(at))));
      return deeds(copy).map((deed) => ({ moment: moments[deed.reference.seq], deed }));
    });
    return found.sort(compareDeeds).map(({ deed }) => deed);
  }

  /** @param {{moment: number, deed: Deed}} one @param {{moment: number, deed: Deed}} other */
  function compareDeeds(one, other) {
    const [mine, theirs] = [one.deed.reference, other.deed.reference];
    if (one.moment !== other.moment) return one.moment - other.moment;
    if (mine.copy !== theirs.copy) return mine.copy < theirs.copy ? -1 : 1;
    return mine.seq - theirs.seq;
  }

  /**
   * Return what came of the events of a copy, in no order.
   * @param {Copy} copy
   * @returns {Deed[]}
   */
  function deeds(copy) {
    if (copy.events.length === 0) return [];
    const visited = copy.trail.filter(({ node }) => node >= 0).map((visit) => ofVisit(copy, visit));
    return [...atStart(copy), ...visited.filter((deed) => deed !== null), ...atStops(copy)];
  }

  /** People looked before they began, and found that what must be so was so. @param {Copy} copy @returns {Deed[]} */
  function atStart(copy) {
    const { confirmed = [] } = copy.events[0];
    const said = new Set();
    return asked(copy.script).flatMap(([number, name]) => {
      if (!confirmed.includes(name) || said.has(name)) return [];
      said.add(name);
      const part = copy.script.parts[number];
      const seen = seenAt(part, name);
      return [{ reference: referenceTo(copy, 0), rules: rulesIn(part), done: [], doubted: [], seen }];
    });
  }

  /** @param {Copy} copy @param {Visit} visit @returns {Deed | null} null where nothing came of a step */
  function ofVisit(copy, visit) {
    const { exits, kind } = nodeOf(copy, visit);
    const effects = kind === 'question' ? [] : effectsOf(partOf(copy, visit), visit.name);
    const at = touchedAt(visit);
    if (visit.exit === null) return at === null ? null : unfinished(copy, visit, effects, at);
    const done = /** @type {number} */ (visit.done);
    switch (copy.events[done].kind) {
      // What was begun before it was left out may have been done in part.
      case 'skip': return at === null ? null : deed(copy, visit, at, { doubted: effects });
      case 'deviate': return deed(copy, visit, done, { doubted: effects });
      default: return deed(copy, visit, done, {
        done: measured(copy, visit, effects),
        doubted: visit.exit > 0 && LOOKING.includes(kind) ? effectsIn(exits[0].seen) : [],
        seen: effectsIn(exits[visit.exit].seen),
      });
    }
  }

  /**
   * @param {Copy} copy
   * @param {Visit} visit
   * @param {number} seq
   * @param {{done?: Effect[], doubted?: Effect[], seen?: Effect[]}} came
   * @returns {Deed}
   */
  function deed(copy, visit, seq, { done = [], doubted = [], seen = [] }) {
    return { reference: referenceTo(copy, seq, visit.name), rules: rulesIn(partOf(copy, visit)), done, doubted, seen };
  }

  /** The last event by which a step was begun or something was entered for it. @param {Visit} visit */
  function touchedAt({ values, begun }) {
    return values.length > 0 ? values[values.length - 1] : begun;
  }

  /** @param {Copy} copy @param {Visit} visit @param {Effect[]} effects @param {number} at what was put in so far */
  function unfinished(copy, visit, effects, at) {
    if (visit.kind !== 'add' || visit.values.length === 0) return deed(copy, visit, at, { doubted: effects });
    return deed(copy, visit, at, {
      done: measured(copy, visit, effects).filter(({ kind }) => kind === 'flows'),
      doubted: effects.filter(({ kind }) => kind !== 'flows'),
    });
  }

  /**
   * Return effects with the amount that was really put in, or moved for what was chosen.
   * @param {Copy} copy
   * @param {Visit} visit
   * @param {Effect[]} effects
   * @returns {Effect[]}
   */
  function measured(copy, visit, effects) {
    const amount = amountOf(copy, visit);
    if (amount === null) return effects;
    return effects.map((each) => (each.kind === 'flows' && each.amount !== undefined ? { ...each, amount } : each));
  }

  /** @param {Copy} copy @param {Visit} visit @returns {IntervalText | null} */
  function amountOf(copy, visit) {
    const part = partOf(copy, visit);
    const named = own(part.edition.volumes, visit.name);
    if (named === undefined) return null;
    const litres = read(named.litres);
    if (visit.kind === 'add') return intervalText(exactly(multiply(visit.total, litres)));
    const amount = part.edition.amounts[named.amount];
    const wanted = worth(part, amount, copy.inputs);
    const off = amount.tolerance === undefined ? ZERO : read(amount.tolerance.value);
    const low = subtract(wanted, off);
    const atLeast = compare(low, ZERO) < 0 ? ZERO : low;
    return intervalText(interval(multiply(atLeast, litres), multiply(add(wanted, off), litres)));
  }

  /** @param {Rational} volume */
  function exactly(volume) {
    return interval(volume, volume);
  }

  /** What stopping safely did, each time in the part where the work was then. @param {Copy} copy @returns {Deed[]} */
  function atStops(copy) {
    if (!copy.events.some(({ kind }) => kind === 'stop')) return [];
    const again = newCopy(copy.script);
    return copy.events.flatMap((event) => {
      fold(again, event);
      if (event.kind !== 'stop') return [];
      const visit = again.trail.find(tankside.copyState.isOpen) || again.tip;
      const part = copy.script.parts[visit === null ? 0 : visit.part];
      const done = effectsIn(part.edition.stopping);
      return [{ reference: referenceTo(copy, event.seq), rules: rulesIn(part), done, doubted: [], seen: [] }];
    });
  }

  return Object.freeze({ asked, effectsIn, effectsOf, seenAt, rulesIn, referenceTo, orderedDeeds });
})();
