'use strict';

var tankside = window.tankside || {};

/* What a working copy refuses, and why (`records/refusing.py`): a code, or an empty text when nothing is against it. */
tankside.copyRefusal = (function () {
  const { ZERO, compare, multiply, rational } = tankside.rational;
  const { LOOSE, SKIPPED, CHANGED } = tankside.copyScript;
  const { entered, isInside, like, limits, quantityOrNull, target } = tankside.copyWorth;
  const { isMarkable, isOpen, partOf, nodeOf, stepOf, needsSecond, labelOf, difference, valued, markedBy }
    = tankside.copyState;
  const { KINDS } = tankside.copyFold;

  const FINE = '';
  const SAID = ['note', 'redline'];
  const RESTING = [...SAID, 'resume', 'give', 'receive', 'join', 'leave', 'correct', 'unmark', 'stop', 'abandon'];
  const WAITING = [...SAID, 'receive', 'join', 'correct', 'stop', 'abandon'];
  const AFTER = [...SAID, 'correct'];
  const VISITING = ['begin', 'mark', 'look', 'pour', 'read', 'take', 'count', 'second', 'alone', 'release', 'allow',
    'skip', 'deviate', 'decide'];
  const REASONED = ['alone', 'allow', 'skip', 'deviate', 'decide', 'correct', 'unmark', 'abandon'];
  const ARRIVING = ['join', 'receive'];
  const MARKED = [...LOOSE, 'wait', 'choose', 'repeat', 'question'];
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

  /** @param {CopyScript} script @param {any} event */
  function start(script, event) {
    const people = event.people.map((/** @type {any} */ { who }) => who);
    if (!people.includes(event.who)) return 'people-missing';
    if (new Set(people).size < people.length) return 'person-twice';
    if (script.needsSecondPerson && people.length < 2) return 'second-person-missing';
    if (script.needsLot && !event.lot) return 'lot-missing';
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
    if (ARRIVING.includes(kind)) return FINE;
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
    return REASONED.includes(kind) && !reason ? 'reason-missing' : FINE;
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
  const hasLabel = (copy, visit) => visit.isLabelled || labelOf(copy, visit) === '';
  /** @param {Copy} copy @param {Visit} visit */
  const isOver = (copy, visit) => compare(visit.total, targetOf(copy, visit).high.value) > 0;

  /** @param {Visit} visit whether there is something for a second person to look at */
  function isReady(visit) {
    return ['add', 'measure', 'labels'].includes(visit.kind) ? visit.isInside : visit.doer !== '';
  }

  /**
   * Return the time between two events [ms]: by a clock that nobody sets, where both were made in one go.
   * @param {any} before
   * @param {any} after
   */
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
    return like(entered(event), /** @type {Quantity} */ (low || high)) ? FINE : 'no-number';
  }

  /** @param {Copy} copy @param {Visit} visit @param {any} event */
  function counts(copy, visit, event) {
    const names = stepOf(copy, visit).counted === 'out' ? ['issued'] : ['used', 'spoiled', 'left'];
    return names.every((name) => Number.isSafeInteger(event[name]) && event[name] >= 0) ? FINE : 'no-number';
  }

  /** @param {Copy} copy @param {Visit} visit @param {any} event */
  function reopens(copy, visit, event) {
    if (visit.isInside || !isOpen(visit)) return FINE;
    if (!copy.people.has(event.second)) return 'second-person-missing';
    return [event.who, visit.doer].includes(event.second) ? 'same-person' : FINE;
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
      return event.who === visit.doer ? 'same-person' : FINE;
    },
    alone(copy, event, visit) { return needsSecond(copy, visit) && isReady(visit) ? FINE : 'nothing-to-check'; },
    release(copy, event, visit) {
      if (visit.kind !== 'hold') return 'wrong-kind';
      return event.role === stepOf(copy, visit).released_by ? FINE : 'wrong-role';
    },
    allow(copy, event, visit) {
      const isEntered = visit.values.length > 0;
      const isOff = visit.kind === 'labels' && isEntered && difference(copy, visit) !== 0;
      if (!isOff && !(visit.kind === 'add' && isEntered && isOver(copy, visit))) return 'nothing-to-allow';
      return event.role === partOf(copy, visit).approver ? FINE : 'wrong-role';
    },
    skip(copy, event, visit) { return SKIPPED.includes(visit.kind) ? FINE : 'cannot-be-skipped'; },
    deviate(copy, event, visit) { return CHANGED.includes(visit.kind) ? FINE : 'cannot-be-changed'; },
    decide(copy, event, visit) {
      if (visit.node >= 0) return 'wrong-kind';
      return ['again', 'end'].includes(event.then) ? FINE : 'answer-unknown';
    },
    correct(copy, event) {
      const place = event.corrects;
      if (copy.corrected.has(place)) return 'corrected-already';
      const visit = valued(copy, place);
      if (visit === undefined) {
        const isLabel = copy.events[place] !== undefined && copy.events[place].kind === 'look';
        return isLabel && event.lot ? FINE : 'nothing-to-correct';
      }
      if (['add', 'measure'].includes(visit.kind)) return number(copy, visit, event) || reopens(copy, visit, event);
      if (visit.kind === 'labels') return counts(copy, visit, event);
      return event.text ? FINE : 'nothing-to-correct';
    },
    unmark(copy, event) {
      const visit = markedBy(copy, event.corrects);
      if (visit === undefined || visit.exit !== 0 || ![...LOOSE, 'wait'].includes(visit.kind)) return 'nothing-to-correct';
      const after = copy.trail.slice(copy.trail.indexOf(visit));
      return after.some((each) => each.kind === 'hold' && !isOpen(each)) ? 'past-a-hold' : FINE;
    },
    resume(copy) { return copy.isPaused ? FINE : 'not-paused'; },
    receive(copy, event) {
      if (!copy.givenBy) return 'not-given';
      return event.who === copy.givenBy ? 'same-person' : FINE;
    },
    join(copy, event) { return copy.people.has(event.who) ? 'person-twice' : FINE; },
    leave(copy) { return copy.people.size === 1 ? 'people-missing' : FINE; },
    checked(copy, event) { return event.due && event.due < event.at.slice(0, 10) ? 'out-of-calibration' : FINE; },
    finish(copy) { return copy.isThrough ? FINE : 'not-through'; },
  };

  return Object.freeze({ refusal, elapsed });
})();
