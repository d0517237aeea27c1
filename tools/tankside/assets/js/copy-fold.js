'use strict';

var tankside = window.tankside || {};

/* Events folded into the state of a working copy (`records/folding.py`). */
tankside.copyFold = (function () {
  const { ZERO, add } = tankside.rational;
  const { entered, isInside, limits, target } = tankside.copyWorth;
  const { partOf, stepOf, isOpen, needsSecond, labelOf, difference, latest, valued, markedBy } = tankside.copyState;
  const { complete, extend } = tankside.copyTrail;
  const [NOT_STARTED, STARTED, COMPLETE] = /** @type {StepState[]} */ (['not started', 'started', 'complete']);
  const [NOT_APPLICABLE, DEVIATED] = /** @type {StepState[]} */ (['not applicable', 'deviated']);

  /**
   * Change a copy as an event says, which `refusal` lets pass.
   * @param {Copy} copy
   * @param {any} event
   */
  function fold(copy, event) {
    copy.events.push(event);
    const visit = event.visit === undefined ? null : copy.trail[event.visit];
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
      Object.assign(visit, { doer: event.who, answer: event.answer || '' });
      visit.values.push(event.seq);
      if (needsSecond(copy, visit) && visit.answer !== 'no') visit.state = STARTED;
      else complete(copy, visit, event, COMPLETE);
    },
    look(copy, event, visit) {
      Object.assign(visit, { isLabelled: event.says === labelOf(copy, visit), state: STARTED, doer: event.who });
    },
    pour(copy, event, visit) {
      entry(copy, event, visit, weigh);
    },
    read(copy, event, visit) {
      entry(copy, event, visit, compared);
    },
    take(copy, event, visit) {
      visit.answer = 'outside';
      complete(copy, visit, event, DEVIATED);
    },
    count(copy, event, visit) {
      entry(copy, event, visit, counted);
    },
    second(copy, event, visit) {
      visit.second = event.seq;
      const isCorrected = visit.values.some((/** @type {number} */ seq) => copy.corrected.has(seq));
      complete(copy, visit, event, isCorrected ? DEVIATED : COMPLETE);
    },
    alone(copy, event, visit) { complete(copy, visit, event, DEVIATED); },
    release(copy, event, visit) {
      visit.doer = event.who;
      complete(copy, visit, event, COMPLETE);
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

  /** @param {Copy} copy @param {any} event @param {Visit} visit @param {(copy: Copy, visit: Visit) => void} judged */
  function entry(copy, event, visit, judged) {
    Object.assign(visit, { state: STARTED, doer: event.who });
    visit.values.push(event.seq);
    judged(copy, visit);
    if (visit.isInside && !needsSecond(copy, visit)) complete(copy, visit, event, COMPLETE);
  }

  /** @param {Copy} copy @param {Visit} visit */
  function weigh(copy, visit) {
    const { low, high } = target(partOf(copy, visit), stepOf(copy, visit), copy.inputs);
    visit.total = visit.values.reduce((sum, seq) => add(sum, worthOf(copy, seq)), ZERO);
    visit.isInside = isInside(visit.total, low, high);
  }

  /** @param {Copy} copy @param {Visit} visit */
  function compared(copy, visit) {
    const { low, high } = limits(partOf(copy, visit), stepOf(copy, visit));
    visit.total = worthOf(copy, visit.values[visit.values.length - 1]);
    visit.isInside = isInside(visit.total, low, high);
  }

  /** @param {Copy} copy @param {Visit} visit */
  function counted(copy, visit) {
    visit.isInside = difference(copy, visit) === 0;
  }

  /** @param {Copy} copy @param {any} event */
  function correct(copy, event) {
    copy.corrected.set(event.corrects, event.seq);
    const visit = valued(copy, event.corrects);
    if (visit === undefined) return;
    if (visit.kind === 'add') weigh(copy, visit);
    else if (visit.kind === 'measure') compared(copy, visit);
    else if (visit.kind === 'labels') counted(copy, visit);
    else return;
    if (!isOpen(visit)) visit.state = visit.isInside ? visit.state : DEVIATED;
    else if (visit.isInside && !needsSecond(copy, visit) && !copy.ended) complete(copy, visit, event, DEVIATED);
  }

  /** @param {Copy} copy @param {any} event */
  function unmark(copy, event) {
    copy.corrected.set(event.corrects, event.seq);
    Object.assign(/** @type {Visit} */ (markedBy(copy, event.corrects)), {
      state: NOT_STARTED, exit: null, doer: '', answer: '', begun: null, second: null, done: null, values: [],
    });
    copy.isThrough = false;
  }

  /** @param {Copy} copy @param {number} seq */
  function worthOf(copy, seq) {
    return /** @type {Quantity} */ (entered(latest(copy, seq))).value;
  }

  return Object.freeze({ fold, KINDS: Object.keys(FOLDS) });
})();
