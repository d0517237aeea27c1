'use strict';

var tankside = window.tankside || {};

/**
 * What somebody must know who comes back: the last step that was marked, and the one to be done next.
 * @typedef {{last: {event: CopyEvent, visit: Visit} | null, next: Visit | null, cause: CopyEvent | null}} Return
 */

/* Coming back: after a reload, from another tab or another procedure, after a gap. Interruptions are where procedures go
   wrong, so nothing is marked before somebody has said whether the last step is really done. */
tankside.workResume = (function () {
  const { el, say, button, holdButton } = tankside.dom;
  const { isOpen } = tankside.copyState;
  const { lastMark, timeText, valueAt } = tankside.workHistory;
  const { sentence, numberOf } = tankside.workSaid;
  const { taking } = tankside.workPeople;
  const { adding, shownText } = tankside.workFigures;
  const { refused } = tankside.workView;
  const { now } = tankside.copyDevice;
  const { dueText, hasGoneBack, latestTime, remaining } = tankside.workClock;

  /** The mark of which somebody has said that its step is not done, and that cannot be taken back. */
  let doubted = -1;
  /** How often the work was entered: what a page does by itself while somebody presses is of no account any more. */
  let entries = 0;

  /**
   * Return what somebody must know who comes back.
   * @param {Copy} copy
   * @returns {Return}
   */
  function whereOneWas(copy) {
    const causes = copy.events.filter(({ kind }) => kind === 'pause' || kind === 'stop');
    return {
      last: lastMark(copy),
      next: copy.trail.find(isOpen) || null,
      cause: causes.length === 0 ? null : causes[causes.length - 1],
    };
  }

  /**
   * Note that the work rests, where it does not yet: nothing can be marked until somebody has looked.
   * @param {any} view
   * @param {string} key of the words that say why
   */
  async function rest(view, key) {
    const { copy, work } = view;
    const isAtWork = copy.events.length > 0 && copy.ended === '' && copy.givenBy === '' && !copy.isPaused;
    const isOnPaper = Object.keys(view.paper).length > 0;
    if (!isAtWork || isOnPaper || !work.isHere || work.trouble !== '') return;
    if (await view.act('pause', { reason: say(key) })) view.tell('');
  }

  /**
   * Return what stands above the steps while nothing can be marked; nothing when something can.
   * @param {any} view
   * @returns {Array<Node>}
   */
  function body(view) {
    const { hindrance } = view;
    if (hindrance === 'ended') return tankside.workEnd.record(view);
    if (hindrance === 'store-other-tab') return elsewhere(view);
    if (hindrance === 'store-from-file') return fromFile(view);
    if (hindrance === 'given') return given(view);
    if (hindrance === 'entering') return entering(view);
    return hindrance === 'paused' ? paused(view) : [];
  }

  /** @param {any} view a press that takes the work here, whichever tab has it */
  function takingHere(view) {
    return button(say('work-here'), () => enter(view, 'work-rest-moved', () => view.work.takeHere()), {
      class: 'press', 'data-take-here': true,
    });
  }

  /**
   * Take the work into this tab, and ask where one was. When the store does not answer as it should, that is said.
   * @param {any} view
   * @param {string} key of the words that say why the work rests
   * @param {() => Promise<boolean>} take whether the work was taken
   */
  async function enter(view, key, take) {
    const own = (entries += 1);
    view.isEntering = true;
    try {
      if (await take() && own === entries) await rest(view, key);
    } catch (error) {
      view.refuse(refused(/** @type {any} */ (error).code || 'store-failed'));
    } finally {
      if (own === entries) view.isEntering = false;
      view.work.changed();
    }
  }

  /** @param {any} view it is not known yet whether another tab has the work */
  function entering(view) {
    return [el('h2', { tabindex: -1 }, say('work-entering')), el('p', {}, refused('entering')), takingHere(view)];
  }

  /** @param {any} view another tab has the work */
  function elsewhere(view) {
    return [el('h2', { tabindex: -1 }, say('work-elsewhere')), el('p', {}, refused('store-other-tab')), takingHere(view)];
  }

  /** @param {any} view */
  function fromFile(view) {
    return [
      el('h2', { tabindex: -1 }, say('work-from-file')),
      el('p', {}, refused('store-from-file')),
      holdButton(say('work-hold-to', { what: say('work-take') }), () => enter(view, 'work-rest-file', () => view.work.takeHere()), {
        class: 'held press', 'data-take-here': true,
      }),
    ];
  }

  /** @param {any} view */
  function given(view) {
    const { copy } = view;
    const { last, next } = whereOneWas(copy);
    const event = [...copy.events].reverse().find(({ kind }) => kind === 'give') || copy.events[0];
    return [
      el('h2', { tabindex: -1 }, say('work-given', { who: event.who, time: timeText(event.at, copy.events[0].at) })),
      event.text ? el('p.given-text', {}, event.text) : null,
      ...clockSays(copy),
      recap(named(view), ...(last === null ? [] : [lastFact(view, last)]), nextFact(view, next)),
      el('h3', {}, say('work-receive')),
      ...taking(view),
    ].filter((each) => each !== null);
  }

  /** @param {any} view */
  function paused(view) {
    const { copy } = view;
    const { last, next, cause } = whereOneWas(copy);
    const why = cause === null ? '' : sentence(view, cause);
    return [
      el('h2', { tabindex: -1 }, say(cause !== null && cause.kind === 'stop' ? 'work-resume-stopped' : 'work-resume')),
      el('p', { 'data-cause': true }, why),
      ...clockSays(copy),
      ...(last === null ? [recap(named(view), nextFact(view, next)), ...beginning(view)] : [
        recap(named(view), lastFact(view, last)), ...question(view, last), recap(nextFact(view, next)),
      ]),
    ];
  }

  /** @param {...Node} rows */
  function recap(...rows) {
    return el('dl.recap', {}, rows);
  }

  /** @param {any} view the copy and its lot */
  function named({ copy, shown }) {
    const { lot = '' } = copy.events[0];
    return fact('work-resume-copy', 'copy', [lot === '' ? shown.title : say('work-resume-lot', { title: shown.title, lot })]);
  }

  /** @param {string} key @param {string} name @param {Array<Node | string>} says */
  function fact(key, name, says) {
    return el('div', { [`data-resume-${name}`]: true }, el('dt', {}, say(key)), el('dd', {}, says));
  }

  /** @param {Copy} copy what is to be said when the clock shows less than it did */
  function clockSays(copy) {
    if (!hasGoneBack(copy, now().at)) return [];
    const words = say('work-clock-back', { last: timeText(latestTime(copy), now().at), here: timeText(now().at) });
    return [el('p.stopped-word', { 'data-clock-back': true }, words)];
  }

  /** @param {any} view @param {{event: CopyEvent, visit: Visit}} last the last mark, with its time, who, and the value */
  function lastFact(view, { event, visit }) {
    const value = worth(view.copy, visit);
    const signed = `${event.who}, ${timeText(event.at, now().at)}${value === '' ? '' : `, ${value}`}`;
    return fact('work-resume-last', 'last', [el('b', {}, stepName(view, visit)), ' ', signed]);
  }

  /** @param {any} view @param {Visit | null} next */
  function nextFact(view, next) {
    return fact('work-resume-next', 'next', next === null ? [say('work-resume-end')] : nextSays(view, next));
  }

  /** @param {any} view @param {Visit} next */
  function nextSays(view, next) {
    const begun = next.state === 'started' ? begunSays(view, next) : '';
    return [el('b', {}, stepName(view, next)), ' ', begun];
  }

  /** @param {Copy} copy @param {Visit} visit what was read, or what is in by now; empty when nothing is */
  function worth(copy, visit) {
    const isIn = visit.kind === 'add' && visit.values.length > 0;
    return isIn ? shownText(adding(copy, visit).total) : valueAt(copy, visit);
  }

  /** @param {any} view @param {Visit} next how far a step is that was begun */
  function begunSays({ copy }, next) {
    const isUp = next.kind === 'wait' && Number(remaining(copy, next, now())) <= 0;
    if (next.kind === 'wait') return say(isUp ? 'work-resume-waited' : 'work-resume-waiting', { due: dueText(copy, next) });
    const value = worth(copy, next);
    return value === '' ? say('work-resume-started') : say('work-resume-begun', { value });
  }

  /** @param {any} view @param {Visit} visit */
  function stepName(view, visit) {
    const line = view.lineOf(visit);
    return line === undefined ? numberOf(view, visit) : tankside.workRow.titleOf(view, line);
  }

  /** @param {any} view nothing is marked yet */
  function beginning(view) {
    return [button(say('work-resume-on'), () => view.act('resume', { sure: 'yes' }), { class: 'press', 'data-sure': 'yes' })];
  }

  /** @param {any} view @param {{event: CopyEvent, visit: Visit}} last */
  function question(view, last) {
    if (doubted === last.event.seq) return notDone(view, last);
    const number = numberOf(view, last.visit);
    return [
      el('p.question', { 'data-question': true }, say('work-resume-question', { number })),
      el('div.pair', {},
        button(say('work-resume-yes'), () => view.act('resume', { sure: 'yes' }), { class: 'press', 'data-sure': 'yes' }),
        button(say('work-resume-no'), () => doubt(view, last), { class: 'press press-no', 'data-sure': 'no' })),
    ];
  }

  /** @param {any} view @param {{event: CopyEvent, visit: Visit}} last its mark is taken back where that may be */
  async function doubt(view, { event }) {
    const back = { corrects: event.seq, reason: say('work-resume-reason') };
    if (view.against('unmark', back) !== '') {
      doubted = event.seq;
      view.tell(say('work-resume-stays'));
      return;
    }
    if (await view.act('unmark', back)) await view.act('resume', { sure: 'no' });
  }

  /** @param {any} view @param {{event: CopyEvent, visit: Visit}} last a mark that cannot be taken back */
  function notDone(view, { event, visit }) {
    const number = numberOf(view, visit);
    const put = async () => {
      if (await view.act('resume', { sure: 'no', reason: say('work-resume-put-right') })) doubted = -1;
    };
    return [
      el('p.question', {}, say('work-resume-not-done', { number })),
      el('p', {}, say('work-resume-stays')),
      button(say('work-resume-now-done', { number }), put, { class: 'press', 'data-sure': 'now', 'data-of': event.seq }),
    ];
  }

  return Object.freeze({ enter, rest, body });
})();
