'use strict';

var tankside = window.tankside || {};

/** @typedef {'not started' | 'started' | 'complete' | 'not applicable' | 'deviated'} StepState */
/**
 * One time that the way leads to a step. Its `node` is -1 where one was sent away or a decision is due.
 * @typedef {{
 *   part: number, node: number, kind: string, name: string, state: StepState, sender: Visit | null,
 *   exit: number | null, doer: string, hands: string[], answer: string, isLabelled: boolean, values: number[],
 *   total: Rational, isInside: boolean, begun: number | null, second: number | null, done: number | null,
 *   isAside: boolean
 * }} Visit
 */
/**
 * @typedef {{
 *   script: CopyScript, events: CopyEvent[], trail: Visit[], tip: Visit | null, people: Map<string, string>,
 *   inputs: Inputs, checked: Map<string, string>, corrected: Map<number, number>, isPaused: boolean, givenBy: string,
 *   isThrough: boolean, isCutShort: boolean, ended: '' | 'finish' | 'abandon', visitOf: Map<number, Visit>,
 *   closed: number
 * }} Copy `visitOf` is the visit that each event was about, by its number; before the place `closed` none is open
 */

/* The state of a working copy, and what can be told of it (`records/copy.py`). */
tankside.copyState = (function () {
  const { ZERO } = tankside.rational;

  /** @param {CopyScript} script @returns {Copy} */
  function newCopy(script) {
    return {
      script, events: [], trail: [], tip: null, people: new Map(), inputs: {}, checked: new Map(),
      corrected: new Map(), isPaused: false, givenBy: '', isThrough: false, isCutShort: false, ended: '',
      visitOf: new Map(), closed: 0,
    };
  }

  /** @param {number} part @param {number} node @param {string} kind @param {string} name @returns {Visit} */
  function visitTo(part, node, kind, name, sender = null) {
    return {
      part, node, kind, name, state: 'not started', sender, exit: null, doer: '', hands: [], answer: '',
      isLabelled: false, values: [], total: ZERO, isInside: false, begun: null, second: null, done: null,
      isAside: false,
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
  /** @param {Visit} visit whether it is still to be done */
  const isOpen = ({ exit, isAside }) => exit === null && !isAside;

  /** @param {Copy} copy @returns {number} the place of what is to be done next; a long trail is not searched for each event */
  function firstOpen(copy) {
    while (copy.closed < copy.trail.length && !isOpen(copy.trail[copy.closed])) copy.closed += 1;
    return copy.closed;
  }

  /** @param {Copy} copy @param {Visit} visit whether marks behind it may be set before its own */
  const isLoose = (copy, visit) => visit.node >= 0 && nodeOf(copy, visit).isLoose;

  /**
   * Return whether a step may be done now: everything before it is, or is work of the same section known by heart.
   * @param {Copy} copy
   * @param {Visit} visit
   */
  function isMarkable(copy, visit) {
    if (!isOpen(visit)) return false;
    const first = firstOpen(copy);
    const waiting = copy.trail.slice(first, copy.trail.indexOf(visit, first)).filter(isOpen);
    return waiting.length === 0
      || (copy.script.isLoose && [...waiting, visit].every((each) => isBeside(copy, each, visit)));
  }

  /** @param {Copy} copy @param {Visit} one @param {Visit} other whether one may wait behind the other */
  function isBeside(copy, one, other) {
    return one.part === other.part && isLoose(copy, one) && isLoose(copy, other)
      && sectionOf(copy, one) === sectionOf(copy, other);
  }

  /** @param {Copy} copy @param {Visit} visit whether a second person has to look at it */
  function needsSecond(copy, visit) {
    return visit.node >= 0 && visit.kind !== 'question' && stepOf(copy, visit).second_person === 'yes';
  }

  /** @param {Visit} visit whether there is something for a second person to look at */
  function isReady({ kind, isInside, doer }) {
    return ['add', 'measure', 'labels'].includes(kind) ? isInside : doer !== '';
  }

  /** @param {Copy} copy @param {Visit} visit whether the right label was read, or there is none */
  function hasLabel(copy, visit) {
    return visit.isLabelled || labelOf(copy, visit) === '';
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

  /**
   * Return the visits that a value of one is counted in: its own, and those with labels of the same product.
   * @param {Copy} copy
   * @param {Visit} visit
   */
  function countedWith(copy, visit) {
    if (visit.kind !== 'labels') return [visit];
    const { product } = stepOf(copy, visit);
    return copy.trail.filter((each) => (
      each.kind === 'labels' && each.values.length > 0 && stepOf(copy, each).product === product));
  }

  /** @param {Copy} copy @param {number} seq the event that an event corrects, the first of them, or itself */
  function entryOf(copy, seq) {
    let at = seq;
    while (copy.events[at].kind === 'correct') at = copy.events[at].corrects;
    return at;
  }

  /** @param {Copy} copy @param {number} seq the visit to which a value belongs, or what corrects it */
  function valued(copy, seq) {
    const first = entryOf(copy, seq);
    return copy.trail.find(({ values }) => values.includes(first));
  }

  /** @param {Copy} copy @param {number} seq what an event finished, or marked, when a second person has still to look */
  function markedBy(copy, seq) {
    return copy.trail.find(({ done, exit, values }) => (
      done === seq || (exit === null && values.length > 0 && values[values.length - 1] === seq)));
  }

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
    newCopy, visitTo, partOf, nodeOf, stepOf, sectionOf, isOpen, firstOpen, isLoose, isMarkable, needsSecond, isReady, labelOf,
    hasLabel, difference, countedWith, entryOf, latest, valued, markedBy,
  });
})();
