'use strict';

var tankside = window.tankside || {};

/* The page that shows the whole record of one working copy, to be read and printed; its address ends in the copy. */
(function () {
  const { el, say, button } = tankside.dom;
  const { followed } = tankside.copyFold;
  const { NotKept } = tankside.copyDatabase;
  const { save, handRecord } = tankside.copyFile;
  const { unlike, steps, others, notReached } = tankside.workRecordEntries;
  const { facts } = tankside.workRecordFacts;
  const { moment, what } = tankside.workShown;

  const main = /** @type {HTMLElement} */ (document.querySelector('[data-record]'));
  const around = JSON.parse(/** @type {HTMLElement} */ (document.querySelector('[data-work-data]')).textContent || '');

  /** Show the copy that the address names, or why it cannot be shown. */
  async function show() {
    try {
      const store = await tankside.copyStore.open(around.book);
      const record = await store.record(window.location.hash.slice(1));
      if (record === null) throw new NotKept('store-gone');
      main.replaceChildren(...page(store, record));
      document.title = `${what(record.head)}, ${record.head.copy.slice(0, 8)}`;
    } catch (error) {
      const { code = 'store-unread', detail = String(error) } = /** @type {any} */ (error);
      main.replaceChildren(
        el('h1', {}, say('work-record-of-copy')),
        el('div.not-kept', { role: 'alert' }, el('p', {}, say(`work-${code}`)), detail === '' ? null : el('p.detail', {}, detail)),
      );
    }
  }

  /** @param {any} store @param {CopyRecord} record @returns {HTMLElement[]} */
  function page(store, record) {
    const { head, edition, shown, events } = record;
    // What does not hold is shown as it is, and not followed.
    const { copy, broken } = followed(edition, events);
    const view = new tankside.workView.View({ shown, copy, edition }, { around, emergencies: [], draft: false });
    return [controls(store, record), paper(view, head, { edition, events, broken })];
  }

  /** @param {any} store @param {CopyRecord} record */
  function controls(store, record) {
    const says = el('p', { role: 'status' });
    const keep = async () => {
      // What the page has seen can leave the device also when the store is gone meanwhile.
      const name = await save(store, record.head.copy).catch(() => handRecord(record).name);
      says.textContent = say('work-list-saved-as', { names: name });
    };
    return el(
      'div.record-controls', {},
      el('p', {}, button(say('work-record-print'), () => window.print()), button(say('work-list-save'), keep)), says);
  }

  /** @param {any} view @param {CopyHead} head @param {any} chain what is printed, with a line that comes again on each page */
  function paper(view, head, chain) {
    const gaps = { what: what(head), copy: head.copy.slice(0, 8), hash: head.edition.slice(0, 8) };
    return el(
      'div.paper', {},
      el('div.running', { 'aria-hidden': 'true' }, el('div', {}, say('work-record-running', gaps))),
      el('div.body', {}, body(view, chain)));
  }

  /** @param {any} view @param {any} chain @returns {HTMLElement[]} */
  function body(view, chain) {
    const { events, broken } = chain;
    const lost = broken.length === 0 ? [] : events.slice(broken[0][0]);
    return [
      el('p.record-of', {}, `${around.title}: ${say('work-record-of-copy')}`),
      el('h1', {}, view.shown.title),
      facts(view, chain),
      el('p.record-honest', {}, say('work-record-honest')),
      el('h2', {}, say('work-record-unlike')), unlike(view),
      ...(lost.length === 0 ? [] : [el('h2', {}, say('work-record-lost')), el('ul', {}, lost.map(raw))]),
      el('h2', {}, say('work-record-steps')), steps(view),
      el('h2', {}, say('work-record-not-reached')), notReached(view),
      el('h2', {}, say('work-record-others')), others(view),
      el('p.record-end', {}, say('work-record-end', { count: events.length, hash: events[events.length - 1].hash })),
    ];
  }

  /** @param {CopyEvent} event one that does not hold, just as it stands there */
  function raw(event) {
    return el('li', {}, el('b', {}, `${moment(event.at)} ${event.who}`), ` ${tankside.chain.canonical(event)}`);
  }

  window.addEventListener('hashchange', show);
  show();
})();
