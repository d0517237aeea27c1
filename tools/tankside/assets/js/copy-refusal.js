'use strict';

var tankside = window.tankside || {};

/* What a working copy refuses, and why (`records/refusing.py`): a code, or an empty text when nothing is against it. */
tankside.copyRefusal = (function () {
  const { ZERO, compare, multiply, rational } = tankside.rational;
  const { LOOSE, MARKED, SKIPPED, CHANGED } = tankside.copyScript;
  const { entered, isInside, like, limits, quantityOrNull, target } = tankside.copyWorth;
  const {
    isMarkable, isOpen, partOf, nodeOf, stepOf, needsSecond, isReady, labelOf, hasLabel, difference, countedWith, entryOf,
    valued, markedBy,
  } = tankside.copyState;
  const { KINDS } = tankside.copyFold;

  const FINE = '';
  const SAID = ['note', 'redline'];
  const RESTING = [...SAID, 'resume', 'give', 'receive', 'join', 'leave', 'correct', 'unmark', 'stop', 'abandon'];
  const WAITING = [...SAID, 'receive', 'join', 'correct', 'stop', 'abandon'];
  const AFTER = [...SAID, 'correct'];
  const VISITING = ['begin', 'mark', 'look', 'pour', 'read', 'take', 'count', 'second', 'alone', 'release', 'allow',
    'skip', 'deviate', 'decide'];
  const REASONED = ['alone', 'allow', 'skip', 'deviate', 'decide', 'correct', 'unmark', 'abandon'];
  /** What anybody may do, whether their initials are known or not: nothing stands between a person and the stop. */
  const ANYBODY = ['join', 'receive', ...SAID, 'stop'];
  const BLANKS = /[ \t\r\n\u00a0]/g;
  const COUNTS = ['issued', 'used', 'spoiled', 'left'];
  const A_THOUSAND = rational(1000n);

  /**
   * Return the code of what is against an event now, empty when nothing is.
   * @param {Copy} copy
   * @param {any} event
   * @returns {string}
   */
  function refusal(copy, event) {
    const { kind } = event;
    const isStarted = copy.events.length > 0;
    if (!KINDS.includes(kind)) return 'kind-unknown';
    if ((kind === 'start') === isStarted) return isStarted ? 'already-started' : 'not-started';
    if (kind === 'start') return start(copy.script, event);
    const general = whose(copy, event) || timely(copy, event) || reasoned(event) || visited(copy, event);
    if (general || !Object.prototype.hasOwnProperty.call(REFUSALS, kind)) return general;
    return REFUSALS[kind](copy, event, event.visit === undefined ? null : copy.trail[event.visit]);
  }

  /** @param {string} [text] as two are compared: ab and A B are the same initials; blanks alone are nothing */
  const bare = (text) => (text || '').replace(BLANKS, '').toUpperCase();

  /** @param {CopyScript} script @param {any} event */
  function start(script, event) {
    const initials = event.people.map((/** @type {any} */ { who }) => bare(who));
    const isThere = event.people.some((/** @type {any} */ { who, role }) => who === event.who && role === event.role);
    if (!isThere || initials.includes('')) return 'people-missing';
    if (new Set(initials).size < initials.length) return 'person-twice';
    if (script.needsSecondPerson && initials.length < 2) return 'second-person-missing';
    if (script.needsLot && !bare(event.lot)) return 'lot-missing';
    if (script.sizes.length > 0 && !script.sizes.includes(event.bottle)) return 'bottle-missing';
    return script.inputs.map((each) => input(event, ...each)).find(Boolean) || FINE;
  }

  /** @param {any} event @param {string} procedure @param {string} name @param {any} asked */
  function input(event, procedure, name, asked) {
    const text = (event.inputs[procedure] || {})[name];
    const chosen = text === undefined ? null : quantityOrNull(text);
    if (chosen === null) return 'input-missing';
    const [low, high] = [quantityOrNull(asked.from), quantityOrNull(asked.to)];
    return like(chosen, /** @type {Quantity} */ (low)) && isInside(chosen.value, low, high) ? FINE : 'input-outside';
  }

  /** @param {Copy} copy @param {any} event */
  function whose(copy, { kind, who, role }) {
    if (ANYBODY.includes(kind)) return FINE;
    if (!copy.people.has(who)) return 'who-unknown';
    return role === copy.people.get(who) ? FINE : 'wrong-role';
  }

  /** @param {Copy} copy @param {any} event */
  function timely(copy, { kind }) {
    if (copy.ended) return AFTER.includes(kind) ? FINE : 'ended';
    if (copy.givenBy) return WAITING.includes(kind) ? FINE : 'given';
    return copy.isPaused && !RESTING.includes(kind) ? 'paused' : FINE;
  }

  /** @param {any} event */
  function reasoned({ kind, reason }) {
    return REASONED.includes(kind) && !bare(reason) ? 'reason-missing' : FINE;
  }

  /** @param {Copy} copy @param {any} event */
  function visited(copy, { kind, visit: place }) {
    if (!VISITING.includes(kind)) return FINE;
    const visit = copy.trail[place];
    if (visit === undefined) return 'no-such-step';
    if (!isOpen(visit)) return 'done-already';
    if (!isMarkable(copy, visit)) return 'not-next';
    return visit.node < 0 && kind !== 'decide' ? 'wrong-kind' : FINE;
  }

  /** @param {Copy} copy @param {Visit} visit */
  const targetOf = (copy, visit) => target(partOf(copy, visit), stepOf(copy, visit), copy.inputs);
  /** @param {Copy} copy @param {Visit} visit */
  const isOver = (copy, visit) => compare(visit.total, targetOf(copy, visit).high.value) > 0;

  /** @param {any} before @param {any} after time between two [ms]: by a clock that nobody sets, where it is one page */
  function elapsed(before, after) {
    return before.session === after.session
      ? after.clock - before.clock
      : Math.round(Date.parse(after.at) - Date.parse(before.at));
  }

  /** @param {Copy} copy @param {Visit} visit @param {any} event */
  function waited(copy, visit, event) {
    if (visit.begun === null) return 'not-begun';
    const { value } = /** @type {Quantity} */ (quantityOrNull(stepOf(copy, visit).time));
    const passed = rational(BigInt(elapsed(copy.events[visit.begun], event)));
    return compare(passed, multiply(value, A_THOUSAND)) < 0 ? 'too-early' : FINE;
  }

  /** @param {Copy} copy @param {Visit} visit @param {any} event what is against a value as that of a step */
  function number(copy, visit, event) {
    const { low, high } = visit.kind === 'add' ? targetOf(copy, visit) : limits(partOf(copy, visit), stepOf(copy, visit));
    const value = entered(event);
    const isLessThanNothing = visit.kind === 'add' && value !== null && compare(value.value, ZERO) < 0;
    return like(value, /** @type {Quantity} */ (low || high)) && !isLessThanNothing ? FINE : 'no-number';
  }

  /** @param {Copy} copy @param {Visit} visit @param {any} event with no count of another step, which would mislead */
  function counts(copy, visit, event) {
    const names = stepOf(copy, visit).counted === 'out' ? ['issued'] : ['used', 'spoiled', 'left'];
    const isCount = (/** @type {any} */ count) => Number.isSafeInteger(count) && count >= 0;
    return COUNTS.every((name) => (names.includes(name) ? isCount(event[name]) : !(name in event))) ? FINE : 'no-number';
  }

  /** @param {Copy} copy @param {Visit} visit @param {any} event */
  function goingOn(copy, visit, event) {
    // Nothing more can be entered there; to too little, more is added.
    const hasStopped = (/** @type {Visit} */ each) => !each.isInside && (each.kind !== 'add' || isOver(copy, each));
    const stopped = countedWith(copy, visit).filter((each) => isOpen(each) && hasStopped(each));
    if (stopped.length === 0) return FINE;
    if (!copy.people.has(event.second)) return 'second-person-missing';
    const hands = [event.who, ...[visit, ...stopped].flatMap((each) => each.hands)];
    return hands.includes(event.second) ? 'same-person' : FINE;
  }

  /** @param {Copy} copy @param {any} event */
  function joins(copy, event) {
    const who = bare(event.who);
    if (who === '') return 'people-missing';
    return [...copy.people.keys()].some((each) => bare(each) === who) ? 'person-twice' : FINE;
  }

  /** @type {Object<string, (copy: Copy, event: any, visit: any) => string>} */
  const REFUSALS = {
    begin(copy, event, visit) {
      if (['hold', 'question'].includes(visit.kind)) return 'wrong-kind';
      return visit.state === 'not started' ? FINE : 'begun-already';
    },
    mark(copy, event, visit) {
      if (!MARKED.includes(visit.kind)) return 'wrong-kind';
      if (visit.doer) return 'marked-already';
      const answers = nodeOf(copy, visit).exits.map(({ answer }) => answer);
      if (!answers.includes(event.answer || '')) return 'answer-unknown';
      return visit.kind === 'wait' ? waited(copy, visit, event) : FINE;
    },
    look(copy, event, visit) { return labelOf(copy, visit) ? FINE : 'wrong-kind'; },
    pour(copy, event, visit) {
      if (visit.kind !== 'add') return 'wrong-kind';
      if (!hasLabel(copy, visit)) return 'label-not-read';
      const value = entered(event);
      if (value === null || number(copy, visit, event) || compare(value.value, ZERO) <= 0) return 'no-number';
      return isOver(copy, visit) ? 'over' : FINE;
    },
    read(copy, event, visit) {
      if (visit.kind !== 'measure') return 'wrong-kind';
      if (visit.values.length > 0) return 'read-already';
      const today = event.at.slice(0, 10);
      if (event.instrument !== stepOf(copy, visit).instrument) return 'wrong-instrument';
      if (event.due && event.due < today) return 'out-of-calibration';
      return copy.checked.get(event.instrument) === today ? number(copy, visit, event) : 'not-checked';
    },
    take(copy, event, visit) {
      return visit.kind === 'measure' && visit.values.length > 0 && !visit.isInside ? FINE : 'not-outside';
    },
    count(copy, event, visit) {
      if (visit.kind !== 'labels') return 'wrong-kind';
      if (!hasLabel(copy, visit)) return 'label-not-read';
      return visit.values.length > 0 ? 'counted-already' : counts(copy, visit, event);
    },
    second(copy, event, visit) {
      if (!needsSecond(copy, visit) || !isReady(visit)) return 'nothing-to-check';
      return visit.hands.includes(event.who) ? 'same-person' : FINE;
    },
    alone(copy, event, visit) { return needsSecond(copy, visit) && isReady(visit) ? FINE : 'nothing-to-check'; },
    release(copy, event, visit) {
      if (visit.kind !== 'hold') return 'wrong-kind';
      if (visit.doer) return 'marked-already';
      return event.role === stepOf(copy, visit).released_by ? FINE : 'wrong-role';
    },
    allow(copy, event, visit) {
      const isEntered = visit.values.length > 0;
      const isOff = visit.kind === 'labels' && isEntered && difference(copy, visit) !== 0;
      if (!isOff && !(visit.kind === 'add' && isEntered && isOver(copy, visit))) return 'nothing-to-allow';
      return event.role === partOf(copy, visit).approver ? FINE : 'wrong-role';
    },
    skip(copy, event, visit) {
      if (!SKIPPED.includes(visit.kind)) return 'cannot-be-skipped';
      return visit.doer ? 'marked-already' : FINE;
    },
    deviate(copy, event, { kind, values }) {
      return CHANGED.includes(kind) && !(kind === 'labels' && values.length > 0) ? FINE : 'cannot-be-changed';
    },
    decide(copy, event, visit) {
      if (visit.node >= 0) return 'wrong-kind';
      return ['again', 'end'].includes(event.then) ? FINE : 'answer-unknown';
    },
    correct(copy, event) {
      const place = event.corrects;
      if (copy.events[place] === undefined) return 'nothing-to-correct';
      if (copy.corrected.has(place)) return 'corrected-already';
      const visit = valued(copy, place);
      if (visit === undefined) {
        const isLabel = copy.events[entryOf(copy, place)].kind === 'look';
        return isLabel && event.lot ? FINE : 'nothing-to-correct';
      }
      if (!['add', 'measure', 'labels'].includes(visit.kind)) return event.text ? FINE : 'nothing-to-correct';
      return (visit.kind === 'labels' ? counts : number)(copy, visit, event) || goingOn(copy, visit, event);
    },
    unmark(copy, event) {
      const visit = markedBy(copy, event.corrects);
      if (visit === undefined || ![null, 0].includes(visit.exit)) return 'nothing-to-correct';
      if (!(visit.exit === null ? MARKED : [...LOOSE, 'wait']).includes(visit.kind)) return 'nothing-to-correct';
      const after = copy.trail.slice(copy.trail.indexOf(visit));
      return after.some(({ kind, doer }) => kind === 'hold' && doer) ? 'past-a-hold' : FINE;
    },
    resume(copy) { return copy.isPaused ? FINE : 'not-paused'; },
    receive(copy, event) {
      if (!copy.givenBy) return 'not-given';
      if (event.who === copy.givenBy) return 'same-person';
      if (!copy.people.has(event.who)) return joins(copy, event);
      return event.role === copy.people.get(event.who) ? FINE : 'wrong-role';
    },
    join: joins,
    leave(copy) { return copy.people.size === 1 ? 'people-missing' : FINE; },
    checked(copy, event) { return event.due && event.due < event.at.slice(0, 10) ? 'out-of-calibration' : FINE; },
    finish(copy) { return copy.isThrough ? FINE : 'not-through'; },
  };

  return Object.freeze({ refusal, elapsed });
})();
