'use strict';

var tankside = window.tankside || {};

/* What must be so before the start: read one by one, and each confirmed by a press. */
tankside.workReady = (function () {
  const { el, say, button } = tankside.dom;
  const { drafts } = tankside.workTyping;
  const { asked } = tankside.boardDeeds;

  /** @typedef {{id: string, group: 'condition' | 'needs' | 'wear', words: Array<Node | string>}} Seen */

  /**
   * Return what is to be seen before the start, each once; what an earlier part brings about is left to that part.
   * @param {any} view
   * @returns {Seen[]}
   */
  function toBeSeen(view) {
    const { parts } = view.copy.script;
    const conditions = asked(view.copy.script).map(([part, id]) => {
      const place = parts[part].edition.written.prerequisites.indexOf(id);
      return { id, group: 'condition', words: view.words(view.shown.parts[part].prerequisites[place], part) };
    });
    const needs = gathered(view, 'needs', (shown) => [shown]);
    const wear = gathered(view, 'wear', ({ name, look_for: look = '' }) => [el('b', {}, name), ' ', say('work-ready-look', { look })]);
    const all = /** @type {Seen[]} */ ([...conditions, ...needs, ...wear]);
    return [...new Map(all.reverse().map((each) => [each.id, each])).values()].reverse();
  }

  /**
   * @param {any} view
   * @param {'needs' | 'wear'} group
   * @param {(shown: any) => Array<Node | string>} words
   */
  function gathered(view, group, words) {
    return view.copy.script.parts.flatMap((/** @type {CopyPart} */ { edition }, /** @type {number} */ part) => (
      (edition.written[group] || []).map((/** @type {string} */ id, /** @type {number} */ place) => (
        { id, group, words: words(view.shown.parts[part][group][place]) }))));
  }

  /** @param {any} view @returns {string[]} what is brought about on the way, in words */
  function onTheWay(view) {
    const first = new Set(asked(view.copy.script).map(([, id]) => id));
    const all = view.copy.script.parts.flatMap((/** @type {CopyPart} */ { edition }) => (
      edition.written.prerequisites.filter((/** @type {string} */ id) => !first.has(id))
        .map((/** @type {string} */ id) => edition.conditions[id].says)));
    return [...new Set(all)];
  }

  /** @param {any} view @returns {string[]} the ids of what was confirmed, in the order in which it stands */
  function confirmed(view) {
    const seen = new Set(drafts(view).get('start-seen', []));
    return toBeSeen(view).map(({ id }) => id).filter((id) => seen.has(id));
  }

  /**
   * Return the list in which each is confirmed.
   * @param {any} view
   * @param {() => void} after
   * @returns {HTMLElement}
   */
  function readyPart(view, after) {
    const items = toBeSeen(view);
    const groups = /** @type {Array<[string, string]>} */ ([
      ['condition', 'work-ready-condition'], ['needs', 'work-ready-needs'], ['wear', 'work-ready-wear'],
    ]);
    const made = groups.map(([group, key]) => {
      const rows = items.filter((each) => each.group === group).map((each) => row(view, each, after));
      return rows.length === 0 ? null : el('div', {}, el('p.work-label', {}, say(key)), el('ul.work-ready', {}, rows));
    });
    const later = onTheWay(view);
    return el('div', {}, made, later.length === 0 ? null : el('div', {},
      el('p.work-label', {}, say('work-ready-later')), el('ul', {}, later.map((words) => el('li', {}, words)))));
  }

  /** @param {any} view @param {Seen} item @param {() => void} after */
  function row(view, { id, words }, after) {
    const kept = drafts(view);
    const isSeen = () => kept.get('start-seen', []).includes(id);
    const text = el('p', { id: `seen-${id}` }, words);
    const press = button('', () => {
      const others = kept.get('start-seen', []).filter((/** @type {string} */ each) => each !== id);
      kept.set('start-seen', isSeen() ? others : [...others, id]);
      paint();
      after();
    }, { 'data-seen': id, 'aria-describedby': text.id });
    const paint = () => {
      press.textContent = say(isSeen() ? 'work-ready-seen' : 'work-ready-not-seen');
      press.setAttribute('aria-pressed', String(isSeen()));
    };
    paint();
    return el('li', {}, text, press);
  }

  return Object.freeze({ readyPart, toBeSeen, confirmed });
})();
