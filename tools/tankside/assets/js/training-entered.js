'use strict';

var tankside = window.tankside || {};

/* All that was entered about somebody and a procedure. What was wrong is struck out, and stays readable. */
tankside.trainingEntered = (function () {
  const { el, say, holdButton } = tankside.dom;
  const { moment } = tankside.workShown;
  const { keypad } = tankside.workKeys;
  const { drafts, settled } = tankside.workTyping;
  const { struck } = tankside.trainingEntries;
  const { folded } = tankside.trainingAttest;

  /**
   * Return the list of them, the last one first; answers to questions stand together.
   * @param {any} trained
   * @param {string} procedure
   * @returns {Node[]}
   */
  function list(trained, procedure) {
    const gone = struck(trained.record.events);
    const own = trained.record.events.filter((/** @type {any} */ each) => each.procedure === procedure).reverse();
    const [answers, others] = [true, false].map((isAnswer) => own.filter((/** @type {any} */ { kind }) => (kind === 'answered') === isAnswer));
    const rows = (/** @type {any[]} */ some) => el('ul.train-entries', {}, some.map((each) => row(trained, each, gone.get(each.seq))));
    return [
      others.length === 0 ? el('p', {}, say('train-entries-none')) : rows(others),
      ...(answers.length === 0 ? [] : [folded(say('train-answers', { count: answers.length }), () => [rows(answers)], { 'data-train-fold': 'answers' })]),
    ];
  }

  /** @param {any} trained @param {any} event @param {any} line what strikes it out, if anything does */
  function row(trained, event, line) {
    const words = `${moment(event.at)}. ${said(trained, event)} ${say('train-entry-revision', { revision: event.revision })}`;
    const seen = Object.entries(event.seen || {}).filter(([, each]) => each === 'needs-more');
    return el('li', { 'data-train-entry': event.seq, 'data-train-struck': line !== undefined },
      el('p', {}, line === undefined ? words : el('s', {}, words)),
      seen.length === 0 ? null : el('p', {}, say('train-entry-more', { what: seen.map(([key]) => inWords(trained, event, key)).join(' / ') })),
      event.remark === undefined ? null : el('p', {}, say('train-entry-remark', { text: event.remark })),
      line === undefined ? striking(trained, event)
        : el('p', {}, say('train-entry-struck', { who: line.who, time: moment(line.at), reason: line.reason })));
  }

  /** @param {any} trained @param {any} event */
  function said(trained, event) {
    const by = { who: event.assessor, role: trained.roleName(event.assessor_role) };
    if (event.kind === 'answered') return say(event.right ? 'train-entry-right' : 'train-entry-wrong', { choice: event.choice });
    if (event.kind === 'drill') return say('train-entry-drill', by);
    if (event.method === 'read') return say('train-entry-read', { who: event.person });
    return say('train-entry-signed', { ...by, method: say(`train-method-${event.method}`), result: say(`train-result-${event.result}`) });
  }

  /** @param {any} trained @param {any} event @param {string} key what was seen, as it was worded then */
  function inWords(trained, event, key) {
    const found = trained.record.taught[event.taught].elements.find((/** @type {TaughtElement} */ each) => each.key === key);
    return found === undefined ? key : found.says;
  }

  /** @param {any} trained @param {any} event @returns {HTMLElement} the form that strikes it out */
  function striking(trained, event) {
    return folded(say('train-strike'), () => {
      const kept = drafts(trained.view);
      const name = `strike-${event.seq}`;
      const reason = el('textarea', { id: `${name}-reason`, rows: 2, maxlength: 500, 'data-train-reason': true });
      const who = () => settled(kept.get(`${name}-who`), 'initials');
      const go = holdButton(say('work-hold-to', { what: say('train-strike') }), () => (
        trained.act({ kind: 'struck', who: who(), corrects: event.seq, reason: reason.value.trim() })), { 'data-train-hold': name });
      const missing = el('p', { 'aria-live': 'polite' });
      const paint = () => {
        missing.textContent = who() === '' ? say('work-crew-initials-missing')
          : reason.value.trim() === '' ? say('train-refused-reason-missing') : '';
        go.disabled = missing.textContent !== '';
      };
      reason.addEventListener('input', paint);
      const form = el('div.work-form', {}, el('p.train-field', {}, el('label', { for: reason.id }, say('train-strike-reason')), reason),
        keypad(trained.view, { name: `${name}-who`, kind: 'initials', label: say('train-strike-who'), after: paint }), missing, go);
      paint();
      return [form];
    }, { 'data-train-fold': `strike-${event.seq}` });
  }

  return Object.freeze({ list });
})();
