'use strict';

var tankside = window.tankside || {};

/* The entries of a record: what was not as written first, then every step with its state and all that was entered for it,
   then what belongs to no step. Each entry stands below its step, or among the last ones: none is left out. */
tankside.workRecordEntries = (function () {
  const { el, say } = tankside.dom;
  const { sectionOf, labelOf } = tankside.copyState;
  const { stepOf, partWith, plain, moment } = tankside.workShown;
  const { historyOf } = tankside.workHistory;
  const { STATES, said } = tankside.workSaid;

  /** What is done otherwise than written, whatever it is about. */
  const UNLIKE = ['take', 'alone', 'skip', 'deviate', 'allow', 'decide', 'correct', 'unmark', 'stop', 'abandon', 'redline'];

  /** @param {any} view @param {CopyEvent} event @param {Visit} [visit] whether it is to be looked at first */
  function isUnlike({ copy }, event, visit) {
    const { kind, inside, answer, says } = event;
    if (kind === 'look') return visit !== undefined && says !== labelOf(copy, visit);
    return UNLIKE.includes(kind) || inside === false || (kind === 'mark' && answer === 'no') || isBack(copy, event);
  }

  /** @param {Copy} copy @param {CopyEvent} event whether the time of day went back before it */
  function isBack({ events }, { seq, at, paper }) {
    const before = events[seq - 1];
    return before !== undefined && paper === undefined && before.paper === undefined && Date.parse(at) < Date.parse(before.at);
  }

  /** @param {any} view @returns {HTMLElement} */
  function unlike(view) {
    const { visitOf } = historyOf(view.copy);
    const found = view.copy.events.filter((/** @type {CopyEvent} */ event) => isUnlike(view, event, visitOf.get(event.seq)));
    if (found.length === 0) return el('p', {}, say('work-record-nothing-unlike'));
    return el('ol.record-unlike', {}, found.map((/** @type {CopyEvent} */ event) => {
      const visit = visitOf.get(event.seq);
      const number = visit === undefined ? numberSaid(view, event) : numberOf(view, visit);
      return el('li', {}, number === '' ? null : el('b', {}, `${say('work-record-step', { number })} `), ...line(view, event, visit));
    }));
  }

  /** @param {any} view @returns {HTMLElement} every step that the way led to, in that order, below its section */
  function steps(view) {
    const { byPlace } = historyOf(view.copy);
    /** @type {Node[]} */
    const made = [];
    let heading = '';
    view.copy.trail.forEach((/** @type {Visit} */ visit, /** @type {number} */ place) => {
      const above = headingOf(view, visit);
      if (above !== '' && above !== heading) made.push(el('h3', {}, above));
      heading = above || heading;
      made.push(step(view, visit, byPlace[place]));
    });
    return el('div', {}, made);
  }

  /** @param {any} view @param {Visit} visit */
  function headingOf({ shown, copy }, visit) {
    if (visit.node < 0) return '';
    const part = shown.parts[visit.part];
    const name = sectionOf(copy, visit);
    const section = part.sections.find((/** @type {any} */ each) => (each.name || '') === name);
    const titles = [shown.parts.length > 1 ? part.title : '', section === undefined ? '' : section.title || ''];
    return titles.filter((each) => each !== '').join(': ');
  }

  /** @param {any} view @param {Visit} visit @param {CopyEvent[]} events */
  function step(view, visit, events) {
    const [drawn, word] = STATES[visit.state];
    return el(
      'div.record-step', { 'data-visit': view.copy.trail.indexOf(visit), 'data-state': visit.state },
      el('p.record-title', {}, el('b', {}, numberOf(view, visit)), ` ${words(view, visit)}`),
      el('p.record-state', {}, el('img', { src: `../tankside/marks/${drawn}.svg`, alt: '', width: 20, height: 20 }), ` ${say(word)}`),
      list(view, events, visit),
    );
  }

  /** @param {any} view @param {Visit} visit */
  function numberOf({ shown }, { node, part, name }) {
    const found = node < 0 ? undefined : stepOf(shown.parts[part], name);
    return found === undefined ? '' : found.number;
  }

  /** @param {any} view @param {CopyEvent} event the number of the step that an entry names, though it changes nothing there */
  function numberSaid({ shown }, { procedure = '', step: name = '' }) {
    const part = name === '' ? undefined : partWith(shown, procedure, name);
    return part === undefined ? '' : /** @type {StepShown} */ (stepOf(part, name)).number;
  }

  /** @param {any} view @param {Visit} visit what the step asks, as it was shown */
  function words(view, { node, kind, part, name }) {
    if (kind === 'away') return say('work-record-away', { title: titleOf(view, name) });
    if (node < 0) return say('work-record-decide');
    const found = stepOf(view.shown.parts[part], name);
    const asked = found === undefined ? name : plain(found.words, view.amounts(part));
    return kind === 'question' ? say('work-record-question', { words: asked }) : asked;
  }

  /** @param {any} view @param {string} name of another procedure */
  function titleOf({ copy }, name) {
    const { edition } = copy.script;
    const editions = [edition, ...copy.script.parts.map((/** @type {CopyPart} */ part) => part.edition)];
    return editions.map(({ procedures = {} }) => procedures[name]).find((title) => title !== undefined) || name;
  }

  /** @param {any} view @param {CopyEvent[]} events @param {Visit} [visit] */
  function list(view, events, visit) {
    if (events.length === 0) return null;
    return el('ul.record-entries', {}, events.map((event) => el('li', { 'data-entry': event.seq + 1 }, ...line(view, event, visit))));
  }

  /**
   * Return an entry: its number, what it says, who and when. What was corrected is struck through, and stays readable.
   * @param {any} view
   * @param {CopyEvent} event
   * @param {Visit} [visit]
   */
  function line(view, event, visit) {
    const { copy } = view;
    const correcting = copy.corrected.get(event.seq);
    const says = said(view, event, visit);
    const signed = say(event.paper === undefined ? 'work-record-signed' : 'work-record-signed-paper', {
      who: event.who, time: moment(event.at), paper: event.paper || '', entered: moment(event.entered_at || ''),
    });
    return [
      el('span.record-number', {}, `${event.seq + 1} `),
      el('span.record-signed', {}, `${signed} `),
      el(
        'span.record-says', {}, correcting === undefined ? says : el('s', {}, says),
        correcting === undefined ? null : ` ${say('work-record-corrected', { number: correcting + 1 })}`,
        isBack(copy, event) ? el('b', {}, ` ${say('work-record-clock-back')}`) : null),
    ];
  }

  /** @param {any} view @returns {HTMLElement} entries that belong to no step */
  function others(view) {
    const { visitOf } = historyOf(view.copy);
    const found = view.copy.events.filter(({ seq }) => !visitOf.has(seq));
    return list(view, found) || el('p', {}, say('work-record-none'));
  }

  /** @param {any} view @returns {HTMLElement} steps of its own sections to which the way has not led */
  function notReached(view) {
    const { shown, copy } = view;
    const reached = new Set(copy.trail.map((/** @type {Visit} */ { part, name }) => `${part}/${name}`));
    const found = tankside.workSteps.allLines(shown).filter(({ form, key, part, section }) => (
      form === 'step' && !reached.has(key) && shown.parts[part].begins_in.includes(section)));
    if (found.length === 0) return el('p', {}, say('work-record-none'));
    return el('ul.record-not-reached', {}, found.map(({ entry, part }) => (
      el('li', {}, el('b', {}, entry.number), ` ${plain(entry.words, view.amounts(part))}`))));
  }

  return Object.freeze({ unlike, steps, others, notReached });
})();
