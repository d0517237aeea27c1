'use strict';

var tankside = window.tankside || {};

/** @typedef {{key: string, lines: string[]}} Gathered lines under the key of their heading */

/* The end as a step of its own: what stays open, what was done otherwise, what lay outside, what was said of the procedure.
   Afterwards the page is a record that can be read and printed. */
tankside.workEnd = (function () {
  const { el, say, mark, button, holdButton } = tankside.dom;
  const { compare } = tankside.rational;
  const { entered } = tankside.copyWorth;
  const { historyOf, timeText } = tankside.workHistory;
  const { said, sentence, numberOf } = tankside.workSaid;

  /** What is listed at the end: which events, under which heading. @type {Array<[string, (event: any) => boolean]>} */
  const LISTED = [
    ['work-end-outside', ({ kind, inside }) => (kind === 'read' || kind === 'pour') && inside === false],
    ['work-end-deviated', ({ kind }) => ['deviate', 'take', 'allow'].includes(kind)],
    ['work-end-skipped', ({ kind }) => kind === 'skip'],
    ['work-end-alone', ({ kind }) => kind === 'alone'],
    ['work-end-corrected', ({ kind }) => kind === 'correct' || kind === 'unmark'],
    ['work-end-redlines', ({ kind }) => kind === 'redline'],
    ['work-end-notes', ({ kind }) => kind === 'note'],
  ];

  /**
   * Return all that has to be looked at before the end.
   * @param {any} view
   * @returns {Gathered[]}
   */
  function gathered(view) {
    const { copy } = view;
    const left = copy.trail.filter((/** @type {Visit} */ { exit, state }) => exit === null && state === 'started');
    const open = left.map((/** @type {Visit} */ visit) => nameOf(view, visit));
    const cut = copy.isCutShort ? [say('work-end-cut')] : [];
    const listed = LISTED.map(([key, belongs]) => ({
      key,
      lines: copy.events.filter((/** @type {any} */ event) => belongs(event) && !isSmall(event)).map((/** @type {CopyEvent} */ event) => line(view, event)),
    }));
    return [{ key: 'work-end-open', lines: [...cut, ...open] }, ...listed].filter(({ lines }) => lines.length > 0);
  }

  /** @param {any} event a pour that leaves room for the next one is nothing out of the way */
  function isSmall({ kind, total, low, unit }) {
    if (kind !== 'pour') return false;
    const [sum, least] = [total, low].map((value) => entered({ value, unit }));
    return sum !== null && least !== null && compare(sum.value, least.value) < 0;
  }

  /** @param {any} view @param {CopyEvent} event */
  function line(view, event) {
    const visit = historyOf(view.copy).visitOf.get(event.seq);
    const words = sentence(view, event, visit);
    const number = visit === undefined ? numberOfStep(view, event) : numberOf(view, visit);
    return number === '' ? words : say('work-said-at', { number, words });
  }

  /** @param {any} view @param {any} event a remark names its step itself */
  function numberOfStep(view, { step = '', procedure }) {
    const place = view.shown.parts.findIndex((/** @type {any} */ part) => part.procedure === procedure);
    return step === '' ? '' : numberOf(view, /** @type {any} */ ({ part: place, node: 0, kind: '', name: step }));
  }

  /** @param {any} view @param {Visit} visit */
  function nameOf(view, visit) {
    const found = view.lineOf(visit);
    return found === undefined ? visit.name : tankside.workRow.titleOf(view, found);
  }

  /** @param {Gathered[]} lists */
  function shown(lists) {
    return lists.map(({ key, lines }) => el('section', { 'data-list': key.replace('work-end-', ''), 'aria-label': say(key) },
      el('h3', {}, say(key)), el('ul', {}, lines.map((each) => el('li', {}, each)))));
  }

  /**
   * Return what stands behind the last step.
   * @param {any} view
   * @returns {Array<Node>}
   */
  function body(view) {
    const { copy } = view;
    if (copy.events.length === 0) return [];
    if (copy.ended !== '') return [log(view), el('p', {}, say('work-end-claims'))];
    if (!copy.isThrough) return [el('p', { 'data-end-later': true }, say('work-end-later'))];
    const lists = gathered(view);
    return [el('div.end-now', { 'data-now-end': true },
      el('p.row-call', {}, mark('arrow-right'), say('work-now')),
      el('h2', {}, say('work-end')),
      lists.length === 0 ? el('p', {}, say('work-end-nothing')) : [el('p', {}, say('work-end-look')), ...shown(lists)],
      holdButton(say('work-hold-to', { what: say('work-finish') }), () => view.act('finish'), {
        class: 'held press', 'data-finish': true, disabled: view.hindrance !== '',
      }))];
  }

  /**
   * Return what stands at the head of a record.
   * @param {any} view
   * @returns {Array<Node>}
   */
  function record(view) {
    const { copy } = view;
    const [first, last] = [copy.events[0], copy.events.find((/** @type {any} */ { kind }) => kind === copy.ended)];
    const facts = [
      ['work-end-begun', `${timeText(first.at, '')} ${said(view, first)}`],
      ['work-end-ended', `${timeText(last.at, '')} ${last.who}: ${said(view, last)}`],
      ['work-end-for', chosen(first)],
    ].filter(([, words]) => words !== '');
    return [
      el('h2', { tabindex: -1 }, say('work-end-record')),
      el('dl.recap', {}, facts.map(([key, words]) => el('div', {}, el('dt', {}, say(key)), el('dd', {}, words)))),
      ...shown(gathered(view)),
      el('div.pair.not-printed', {},
        button(say('work-save'), () => tankside.workAside.keep(view), { class: 'press', 'data-save': true }),
        el('a.press', { href: recordOf(copy), 'data-record': true }, say('work-record-page'))),
    ];
  }

  /** @param {Copy} copy the address of its record, which can be printed */
  function recordOf({ events }) {
    const { recordPage } = /** @type {HTMLElement} */ (document.querySelector('[data-work]')).dataset;
    return `${recordPage}#${events[0].copy}`;
  }

  /** @param {any} event what was chosen at the start */
  function chosen({ product = '', bottle = '', inputs = {} }) {
    const values = Object.values(inputs).flatMap((/** @type {any} */ each) => Object.entries(each));
    return [product, bottle, ...values.map(([name, value]) => `${name} ${value}`)].filter((each) => each !== '').join(', ');
  }

  /** @param {any} view every event in order */
  function log(view) {
    const { copy } = view;
    return el('div.scroll', { tabindex: 0, role: 'group', 'aria-label': say('work-log') },
      el('table.log', {}, el('caption', {}, say('work-log')),
        el('thead', {}, el('tr', {}, ['work-log-number', 'work-log-time', 'work-log-who', 'work-log-what'].map((key) => (
          el('th', { scope: 'col' }, say(key)))))),
        el('tbody', {}, copy.events.map((/** @type {CopyEvent} */ event) => el('tr', { 'data-logged': event.kind },
          el('td', {}, String(event.seq)), el('td', {}, timeText(event.at, '')), el('td', {}, event.who),
          el('td', {}, lineOnly(view, event)))))));
  }

  /** @param {any} view @param {CopyEvent} event */
  function lineOnly(view, event) {
    const visit = historyOf(view.copy).visitOf.get(event.seq);
    const number = visit === undefined ? numberOfStep(view, event) : numberOf(view, visit);
    const words = said(view, event, visit);
    return number === '' ? words : say('work-said-at', { number, words });
  }

  return Object.freeze({ body, record });
})();
