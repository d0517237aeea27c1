'use strict';

var tankside = window.tankside || {};

/* Events folded into the state of a working copy (`records/folding.py`). */
tankside.copyFold = (function () {
  const { ZERO, add } = tankside.rational;
  const { brokenLinks } = tankside.chain;
  const { script } = tankside.copyScript;
  const { entered, isInside, limits, target } = tankside.copyWorth;
  const { newCopy, partOf, stepOf, isOpen, needsSecond, labelOf, difference, countedWith, latest, valued, markedBy }
    = tankside.copyState;
  const { complete, extend } = tankside.copyTrail;
  const [NOT_STARTED, STARTED, COMPLETE] = /** @type {StepState[]} */ (['not started', 'started', 'complete']);
  const [NOT_APPLICABLE, DEVIATED] = /** @type {StepState[]} */ (['not applicable', 'deviated']);

  /**
   * Return what events lead to, as far as their chain holds, and where it does not: nothing is built on what is behind.
   * @param {any} edition
   * @param {CopyEvent[]} events
   * @returns {{copy: Copy, broken: Array<[number, string]>}}
   */
  function followed(edition, events) {
    const broken = brokenLinks(events);
    const sound = broken.length > 0 ? events.slice(0, broken[0][0]) : events;
    return { copy: sound.reduce(fold, newCopy(script(edition))), broken };
  }

  /**
   * Change a copy as an event says, which `refusal` lets pass.
   * @param {Copy} copy
   * @param {any} event
   * @returns {Copy} the same
   */
  function fold(copy, event) {
    copy.events.push(event);
    const visit = event.visit === undefined ? null : copy.trail[event.visit];
    const about = event.corrects === undefined ? visit : copy.visitOf.get(event.corrects);
    if (about) copy.visitOf.set(event.seq, about);
    FOLDS[event.kind](copy, event, visit);
    extend(copy);
    return copy;
  }

  /** @type {Object<string, (copy: Copy, event: any, visit: any) => void>} */
  const FOLDS = {
    start(copy, { people, inputs }) {
      for (const { who, role } of people) copy.people.set(who, role);
      copy.inputs = inputs;
    },
    begin(copy, event, visit) {
      visit.state = STARTED;
      visit.begun = event.seq;
    },
    mark(copy, event, visit) {
      handled(visit, event);
      visit.answer = event.answer || '';
      visit.values.push(event.seq);
      const isDenied = visit.kind === 'check' && visit.answer === 'no';
      if (isDenied || !needsSecond(copy, visit)) complete(copy, visit, event, COMPLETE);
    },
    look(copy, event, visit) {
      handled(visit, event);
      visit.isLabelled = event.says === labelOf(copy, visit);
    },
    pour: entry,
    read: entry,
    take(copy, event, visit) {
      visit.answer = 'outside';
      complete(copy, visit, event, DEVIATED);
    },
    count: entry,
    second(copy, event, visit) {
      visit.second = event.seq;
      complete(copy, visit, event, settled(copy, visit));
    },
    alone(copy, event, visit) { complete(copy, visit, event, DEVIATED); },
    release(copy, event, visit) {
      handled(visit, event);
      if (!needsSecond(copy, visit)) complete(copy, visit, event, COMPLETE);
    },
    allow(copy, event, visit) { complete(copy, visit, event, DEVIATED); },
    skip(copy, event, visit) { complete(copy, visit, event, NOT_APPLICABLE); },
    deviate(copy, event, visit) { complete(copy, visit, event, DEVIATED); },
    decide(copy, event, visit) {
      visit.answer = event.then;
      complete(copy, visit, event, COMPLETE);
    },
    correct,
    unmark,
    pause(copy) { copy.isPaused = true; },
    resume(copy) { copy.isPaused = false; },
    stop(copy) { copy.isPaused = true; },
    give(copy, event) { copy.givenBy = event.who; },
    receive(copy, { who, role }) {
      Object.assign(copy, { givenBy: '', isPaused: false });
      copy.people.set(who, role);
    },
    join(copy, { who, role }) { copy.people.set(who, role); },
    leave(copy, { who }) { copy.people.delete(who); },
    checked(copy, { instrument, at }) { copy.checked.set(instrument, at.slice(0, 10)); },
    note() { /* It stands in the log and changes nothing. */ },
    redline() { /* It stands in the log and changes nothing. */ },
    finish(copy) { copy.ended = 'finish'; },
    abandon(copy) { copy.ended = 'abandon'; },
  };

  /** @param {Visit} visit @param {any} event somebody has a hand in it */
  function handled(visit, { who }) {
    Object.assign(visit, { state: STARTED, doer: who });
    visit.hands.push(who);
  }

  /** @param {Copy} copy @param {any} event an amount put in, a reading or a count @param {Visit} visit */
  function entry(copy, event, visit) {
    handled(visit, event);
    visit.values.push(event.seq);
    JUDGED[visit.kind](copy, visit);
    if (visit.isInside && !needsSecond(copy, visit)) complete(copy, visit, event, settled(copy, visit));
  }

  /** @param {Copy} copy @param {Visit} visit where its value was corrected, what was first entered stays to be seen */
  function settled(copy, { values }) {
    return values.some((seq) => copy.corrected.has(seq)) ? DEVIATED : COMPLETE;
  }

  /** @type {Object<string, (copy: Copy, visit: Visit) => void>} how a value is judged, corrections included */
  const JUDGED = {
    add(copy, visit) {
      const { low, high } = target(partOf(copy, visit), stepOf(copy, visit), copy.inputs);
      visit.total = visit.values.reduce((sum, seq) => add(sum, worthOf(copy, seq)), ZERO);
      visit.isInside = isInside(visit.total, low, high);
    },
    measure(copy, visit) {
      const { low, high } = limits(partOf(copy, visit), stepOf(copy, visit));
      visit.total = worthOf(copy, visit.values[visit.values.length - 1]);
      visit.isInside = isInside(visit.total, low, high);
    },
    labels(copy, visit) {
      visit.isInside = difference(copy, visit) === 0;
    },
  };

  /** @param {Copy} copy @param {any} event */
  function correct(copy, event) {
    copy.corrected.set(event.corrects, event.seq);
    copy.closed = 0;
    const visit = valued(copy, event.corrects);
    if (visit === undefined) return;
    visit.hands.push(event.who);
    for (const each of countedWith(copy, visit)) judgeAgain(copy, each, event);
  }

  /** @param {Copy} copy @param {Visit} visit a value of it is another one than was thought @param {any} event */
  function judgeAgain(copy, visit, event) {
    const isJudged = JUDGED[visit.kind] !== undefined;
    if (isJudged) JUDGED[visit.kind](copy, visit);
    const isWrong = isJudged && !visit.isInside;
    if (visit.exit === null) {
      const goesOn = isOpen(visit) && visit.isInside && !needsSecond(copy, visit) && !copy.ended;
      if (goesOn) complete(copy, visit, event, DEVIATED);
    } else if (isWrong && isNewest(copy, visit) && !copy.ended) {
      Object.assign(visit, { state: STARTED, exit: null, second: null, done: null });
      copy.isThrough = false;
    } else if (isWrong || needsSecond(copy, visit)) {
      visit.state = DEVIATED;
    }
  }

  /** @param {Copy} copy @param {Visit} visit whether the work can stop there as if it had not gone on */
  function isNewest(copy, visit) {
    const after = copy.trail.slice(copy.trail.indexOf(visit) + 1);
    return visit.exit === 0 && !visit.isAside && after.every(({ state }) => state === NOT_STARTED);
  }

  /** @param {Copy} copy @param {any} event */
  function unmark(copy, event) {
    copy.corrected.set(event.corrects, event.seq);
    copy.closed = 0;
    const visit = /** @type {Visit} */ (markedBy(copy, event.corrects));
    if (visit.isAside) {
      copy.trail.splice(copy.trail.indexOf(visit), 1);
      return;
    }
    const fresh = { state: NOT_STARTED, exit: null, doer: '', answer: '', begun: null, second: null, done: null };
    Object.assign(visit, fresh, { values: [], hands: [] });
    copy.isThrough = false;
  }

  /** @param {Copy} copy @param {number} seq */
  function worthOf(copy, seq) {
    return /** @type {Quantity} */ (entered(latest(copy, seq))).value;
  }

  return Object.freeze({ fold, followed, KINDS: Object.keys(FOLDS) });
})();
