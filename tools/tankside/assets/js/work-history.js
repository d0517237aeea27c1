'use strict';

var tankside = window.tankside || {};

/** @typedef {{byPlace: CopyEvent[][], visitOf: Map<number, Visit>}} History */

/* Which events belong to which visit, and when something was done. An event names its visit by the place that it had at
   that time; a way that was given up moves what stands behind it, so the visit was noted while events were folded. */
tankside.workHistory = (function () {
  const { latest } = tankside.copyState;
  const { quantityOrNull } = tankside.copyWorth;

  /** @type {WeakMap<Copy, {length: number, history: History}>} */
  const known = new WeakMap();

  /**
   * Return the events of each visit, by its place in the trail, and the visit of each event, by its number.
   * @param {Copy} copy
   * @returns {History}
   */
  function historyOf(copy) {
    const before = known.get(copy);
    if (before !== undefined && before.length === copy.events.length) return before.history;
    const history = gathered(copy);
    known.set(copy, { length: copy.events.length, history });
    return history;
  }

  /** @param {Copy} copy @returns {History} */
  function gathered({ events, trail, visitOf }) {
    /** @type {Map<Visit, CopyEvent[]>} */
    const found = new Map(trail.map((visit) => [visit, []]));
    for (const [seq, visit] of visitOf) found.get(visit)?.push(events[seq]);
    return { byPlace: [...found.values()], visitOf };
  }

  /**
   * Return the last event that finished a step and still counts.
   * @param {Copy} copy
   * @returns {{event: CopyEvent, visit: Visit} | null}
   */
  function lastMark(copy) {
    const done = copy.trail.filter(({ node, done: seq }) => node >= 0 && seq !== null);
    const visit = done.reduce((/** @type {Visit | null} */ last, each) => (
      last === null || Number(each.done) > Number(last.done) ? each : last), null);
    return visit === null ? null : { event: copy.events[Number(visit.done)], visit };
  }

  /** @param {string} at a time of day, as a clock on the wall shows it */
  function clockText(at) {
    return at.slice(11, 16);
  }

  /**
   * Return a time of day, with its date where that is another one than a record began on.
   * @param {string} at
   * @param {string} [began]
   */
  function timeText(at, began = at) {
    return at.slice(0, 10) === began.slice(0, 10) ? clockText(at) : `${at.slice(0, 10)} ${clockText(at)}`;
  }

  /** @param {string} value @param {string} unit a number with its unit, as people read it */
  function valueText(value, unit) {
    return `${value} ${unit.replace(/^deg(?=[CF]$)/, '°')}`;
  }

  /**
   * Return what was put in, read or counted at a step, as it counts now; empty where there is no number.
   * @param {Copy} copy
   * @param {Visit} visit
   */
  function valueAt(copy, visit) {
    const seq = visit.values[visit.values.length - 1];
    const event = seq === undefined ? undefined : latest(copy, seq);
    if (event === undefined || event.value === undefined) return '';
    return quantityOrNull(`${event.value} ${event.unit}`) === null ? '' : valueText(event.value, event.unit);
  }

  return Object.freeze({ historyOf, lastMark, clockText, timeText, valueText, valueAt });
})();
