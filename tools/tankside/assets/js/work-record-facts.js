'use strict';

var tankside = window.tankside || {};

/** @typedef {{work: {shown: any, copy: Copy}, shown: any, copy: Copy, around: any}} Recorded see `workView.View` */
/** @typedef {{edition: any, events: CopyEvent[], broken: Array<[number, string]>}} Chain */

/* What stands at the head of a record: of what it is, who worked, on which device, and whether its chain holds. */
tankside.workRecordFacts = (function () {
  const { el, say } = tankside.dom;
  const { moment } = tankside.workShown;

  /**
   * Return the facts as a list.
   * @param {Recorded} view
   * @param {Chain} chain
   * @returns {HTMLElement}
   */
  function facts(view, chain) {
    const rows = [...what(view, chain), ...whoAndWhere(view, chain.events), ...holding(chain)];
    return el('dl.record-facts', {}, rows.map(([label, value]) => (
      el('div', {}, el('dt', {}, label), el('dd', {}, value)))));
  }

  /** @typedef {Array<[string, any]>} Rows */

  /** @param {Recorded} view @param {Chain} chain @returns {Rows} */
  function what({ shown, copy }, { edition, events }) {
    const [{ lot = '', product = '', bottle = '', at }] = events;
    const chosen = copy.script.inputs.map(([procedure, name, asked]) => (
      /** @type {[string, any]} */ ([asked.asks, (copy.inputs[procedure] || {})[name] || ''])));
    const confirmed = (events[0].confirmed || []).map((/** @type {string} */ name) => el('li', {}, condition(edition, name)));
    return /** @type {Rows} */ ([
      [say('work-record-lot'), lot],
      [say('work-record-product'), product],
      [say('work-record-bottle'), bottle],
      ...chosen,
      [say('work-record-confirmed'), confirmed.length === 0 ? '' : el('ul', {}, confirmed)],
      [say('work-record-standing'), standing(copy)],
      [say('work-record-begun'), moment(at)],
      [say('work-record-last'), moment(events[events.length - 1].at)],
      [say('work-record-revision'), say('work-record-revision-from', { revision: shown.revision, effective: shown.effective })],
    ]).filter(([, value]) => value !== '');
  }

  /** @param {any} edition @param {string} name what a condition says, what else was looked at; its name where nothing is told */
  function condition(edition, name) {
    const editions = [edition, ...(edition.parts || []).map((/** @type {any} */ part) => part.edition || {})];
    const found = editions.map(({ conditions = {}, wear = {}, equipment = {} }) => conditions[name] || wear[name] || equipment[name])
      .find((each) => each !== undefined);
    return found === undefined ? name : found.says || found.name;
  }

  /** @param {Copy} copy */
  function standing({ events, ended, isCutShort, givenBy, isPaused }) {
    if (ended === 'abandon') return say('work-record-abandoned', { reason: (events.find(({ kind }) => kind === 'abandon') || {}).reason || '' });
    if (ended === 'finish') return say(isCutShort ? 'work-record-cut-short' : 'work-list-finish');
    if (givenBy !== '') return say('work-list-given', { who: givenBy });
    return say(isPaused ? 'work-list-paused' : 'work-record-open');
  }

  /** @param {Recorded} view @param {CopyEvent[]} events @returns {Rows} */
  function whoAndWhere({ around }, events) {
    return [
      [say('work-record-people'), el('ul', {}, people(events).map(({ who, role, at }) => (
        el('li', {}, say('work-record-person', { who, role: around.roles[role] || role, time: moment(at) })))))],
      [say('work-record-devices'), el('ul', {}, devices(events).map((each) => (
        el('li', {}, say(each.from === each.to ? 'work-record-device-one' : 'work-record-device', each)))))],
    ];
  }

  /** @param {CopyEvent[]} events everybody who was named, with the role and since when */
  function people(events) {
    const [{ people: first, at }] = events;
    const later = events.filter(({ kind }) => kind === 'join' || kind === 'receive');
    const all = [...first.map((/** @type {any} */ each) => ({ ...each, at })), ...later];
    return all.filter(({ who, role }, place) => all.findIndex((each) => each.who === who && each.role === role) === place);
  }

  /** @param {CopyEvent[]} events which device made which of them, in order */
  function devices(events) {
    /** @type {Array<{device: string, build: string, from: number, to: number}>} */
    const found = [];
    for (const { seq, device = '', build = '' } of events) {
      const last = found[found.length - 1];
      if (last !== undefined && last.device === device && last.build === build) last.to = seq + 1;
      else found.push({ device, build, from: seq + 1, to: seq + 1 });
    }
    return found;
  }

  /** @param {Chain} chain @returns {Rows} */
  function holding({ events, broken }) {
    const { copy, edition, hash } = events[events.length - 1];
    const holds = broken.length === 0
      ? say('work-record-chain-holds', { count: events.length })
      : say('work-record-chain-broken', { count: events.length, at: broken[0][0] + 1 });
    return [
      [say('work-record-chain'), holds],
      [say('work-record-copy'), el('code', {}, copy)],
      [say('work-record-edition'), el('code', {}, edition)],
      [say('work-record-hash'), el('code', {}, hash)],
    ];
  }

  return Object.freeze({ facts });
})();
