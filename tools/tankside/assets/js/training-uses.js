'use strict';

var tankside = window.tankside || {};

/** @typedef {{who: string, procedure: string, day: string}} TrainingUse */

/* When somebody did something: in the working copies of this device, and in drills; `training/uses.py`. */
tankside.trainingUses = (function () {
  const { isSame, counting } = tankside.trainingEntries;
  /** What is entered by who does a step; looking on and letting go are no use of it. */
  const DOING = ['mark', 'look', 'pour', 'read', 'count'];

  /** @param {any} store @returns {Promise<TrainingUse[]>} of everybody */
  async function uses(store) {
    const found = [];
    for (const { copy } of await store.copies()) found.push(...ofCopy(await store.events(copy)));
    return found;
  }

  /** @param {CopyEvent[]} events @returns {TrainingUse[]} for each person and procedure the last day */
  function ofCopy(events) {
    const found = new Map();
    const undone = new Set(events.filter(({ kind }) => kind === 'unmark').map(({ corrects }) => corrects));
    for (const { kind, who, procedure, step, at, seq } of events) {
      if (DOING.includes(kind) && step && !undone.has(seq)) found.set(`${who}/${procedure}`, { who, procedure, day: at.slice(0, 10) });
    }
    return [...found.values()];
  }

  /**
   * Return the days on which a person did a procedure, in earnest or as a drill.
   * @param {TrainingRecord} record
   * @param {string} procedure
   * @param {TrainingUse[]} all
   */
  function daysOf({ head, events }, procedure, all) {
    const drills = counting(events).filter((each) => each.kind === 'drill' && each.procedure === procedure);
    const copies = all.filter((each) => each.procedure === procedure && isSame(each.who, head.person));
    return [...drills.map(({ at }) => at.slice(0, 10)), ...copies.map(({ day }) => day)];
  }

  /**
   * Return how the competence of a person stands today.
   * @param {TrainingRecord} record
   * @param {{taught: Taught, rules: {after: number, unused_for: number}}} lesson
   * @param {string} goal
   * @param {TrainingUse[]} all
   * @returns {Standing}
   */
  function standingOf(record, { taught, rules }, goal, all) {
    const { procedure } = taught;
    return tankside.trainingStanding.standing({
      entries: counting(record.events).filter((each) => each.procedure === procedure),
      uses: daysOf(record, procedure, all), taught: record.taught, now: taught, rules, goal,
      today: tankside.copyDevice.now().at.slice(0, 10),
    });
  }

  return Object.freeze({ uses, standingOf });
})();
