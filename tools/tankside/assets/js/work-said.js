'use strict';

var tankside = window.tankside || {};

/* What an event says, in words: below its step, in the list of all events, and read aloud when it is kept. */
tankside.workSaid = (function () {
  const { say } = tankside.dom;
  const { labelOf } = tankside.copyState;
  const { historyOf, timeText, valueText } = tankside.workHistory;
  const { allLines, keyOf } = tankside.workSteps;

  /** Answers that have words of ours; those of a choice are the book's own. @type {Object<string, string>} */
  const ANSWERS = {
    '': 'work-said-done',
    yes: 'work-said-yes',
    no: 'work-said-no',
    enough: 'work-said-enough',
    again: 'work-said-once-more',
    'not enough': 'work-said-not-enough',
  };
  /** @type {Object<string, string>} */
  const REDLINES = {
    wrong: 'work-redline-wrong', 'could-not': 'work-redline-could-not', 'near-miss': 'work-redline-near-miss',
  };
  /** State of a step -> its drawing and its word. @type {Object<StepState, [string, string]>} */
  const STATES = {
    'not started': ['not-started', 'work-state-not-started'],
    started: ['started', 'work-state-started'],
    complete: ['complete', 'work-state-complete'],
    'not applicable': ['not-applicable', 'work-state-not-applicable'],
    deviated: ['deviated', 'work-state-deviated'],
  };
  /** Events about which there is nothing to add but their reason or text. @type {Object<string, string>} */
  const PLAIN = {
    begin: 'work-said-started',
    take: 'work-said-take',
    second: 'work-said-second',
    alone: 'work-said-alone',
    skip: 'work-said-skip',
    deviate: 'work-said-deviate',
    unmark: 'work-said-unmark',
    pause: 'work-said-pause',
    resume: 'work-said-resume',
    stop: 'work-said-stop',
    give: 'work-said-give',
    leave: 'work-said-leave',
    note: 'work-said-note',
    finish: 'work-said-finish',
    abandon: 'work-said-abandon',
  };
  /** @type {Object<string, (view: any, event: any, visit: any) => string>} */
  const SAYS = {
    start: ({ around }, { lot, people }) => say('work-said-start', {
      lot: lot || say('work-none'),
      people: people.map((/** @type {any} */ { who, role }) => `${who} (${around.roles[role] || role})`).join(', '),
    }),
    mark: (view, { answer = '' }, visit) => (
      visit !== undefined && visit.kind === 'choose' ? say('work-said-chosen', { answer }) : say(ANSWERS[answer] || ANSWERS[''])),
    look: label,
    pour: (view, { value, unit, low, high, total }) => say('work-said-pour', {
      value: valueText(value, unit), limits: limitsText(low, high, unit), total: valueText(total, unit),
    }),
    checked: (view, { instrument }) => say('work-said-checked', { instrument }),
    read: (view, { value, unit, low, high, inside, instrument }) => say(inside ? 'work-said-read' : 'work-said-read-outside', {
      value: valueText(value, unit), limits: limitsText(low, high, unit), instrument,
    }),
    count: (view, event) => say(event.issued === undefined ? 'work-said-counted' : 'work-said-issued', event),
    release: ({ around }, { role }) => say('work-said-release', { role: around.roles[role] || role }),
    allow: ({ around }, { role }) => say('work-said-allow', { role: around.roles[role] || role }),
    decide: (view, { then }) => say(then === 'again' ? 'work-said-again' : 'work-said-end'),
    correct: (view, event) => say('work-said-correct', { value: corrected(event), second: event.second || say('work-none') }),
    receive: ({ around }, { role }) => say('work-said-receive', { role: around.roles[role] || role }),
    join: ({ around }, { role }) => say('work-said-join', { role: around.roles[role] || role }),
    redline: (view, { about }) => say('work-said-redline', { about: say(REDLINES[about]) }),
  };

  /** @param {any} view @param {any} event @param {Visit | undefined} visit */
  function label({ copy, around }, { says, lot = '' }, visit) {
    const isRight = visit === undefined || says === labelOf(copy, visit);
    const name = around.materials[says] || says;
    return say(isRight ? 'work-said-label' : 'work-said-label-wrong', { label: lot ? `${name}, ${lot}` : name });
  }

  /** @param {string} low @param {string} high @param {string} unit */
  function limitsText(low, high, unit) {
    if (!low) return say('work-limits-high', { high: valueText(high, unit) });
    if (!high) return say('work-limits-low', { low: valueText(low, unit) });
    return say('work-limits-both', { low: valueText(low, unit), high: valueText(high, unit) });
  }

  /** @param {any} event what stands in place of what was corrected */
  function corrected(event) {
    const { value, unit, lot, text, issued, used, spoiled, left } = event;
    if (value !== undefined) return valueText(value, unit);
    if (lot !== undefined) return lot;
    if (issued !== undefined) return say('work-said-issued', { issued });
    if (used !== undefined) return say('work-said-counted', { used, spoiled, left });
    return text || '';
  }

  /**
   * Return what an event says, without who and when.
   * @param {any} view
   * @param {CopyEvent} event
   * @param {Visit} [visit]
   * @returns {string}
   */
  function said(view, event, visit) {
    const { kind, reason = '', text = '' } = event;
    const words = SAYS[kind] === undefined ? say(PLAIN[kind] || 'work-said-other', { kind }) : SAYS[kind](view, event, visit);
    const own = kind === 'correct' ? '' : text;
    return [words, own, reason].filter((each) => each !== '').join(': ');
  }

  /** @param {Copy} copy @param {CopyEvent} event who did it and when */
  function signed(copy, { who, at, paper }) {
    const time = timeText(at, copy.events[0].at);
    return paper === undefined ? `${who} ${time}` : say('work-said-from-paper', { who, time, paper });
  }

  /** @type {WeakMap<object, Map<string, string>>} */
  const numbers = new WeakMap();

  /** @param {any} view @param {Visit | undefined} visit the number of its step, empty where there is none */
  function numberOf({ shown }, visit) {
    if (visit === undefined || visit.node < 0) return '';
    if (!numbers.has(shown)) {
      numbers.set(shown, new Map(allLines(shown).filter(({ entry }) => entry !== null).map(({ key, entry }) => [key, entry.number || ''])));
    }
    return /** @type {Map<string, string>} */ (numbers.get(shown)).get(keyOf(visit)) || '';
  }

  /**
   * Return what is said when something was done and kept.
   * @param {any} view
   * @param {CopyEvent} event
   * @returns {string}
   */
  function kept(view, event) {
    const visit = historyOf(view.copy).visitOf.get(event.seq);
    const number = numberOf(view, visit);
    const words = sentence(view, event, visit);
    return number === '' ? words : say('work-said-at', { number, words });
  }

  /** @param {any} view @param {CopyEvent} event @param {Visit} [visit] what an event says, as a sentence, who and when */
  function sentence(view, event, visit) {
    const words = said(view, event, visit);
    const end = /[.!?]$/.test(words) ? '' : '.';
    return `${words.charAt(0).toUpperCase()}${words.slice(1)}${end} ${signed(view.copy, event)}`;
  }

  return Object.freeze({ STATES, REDLINES, said, signed, sentence, kept, numberOf });
})();
