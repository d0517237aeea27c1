'use strict';

var tankside = window.tankside || {};

/* The foot of a working copy, in view at all times: what was done or refused last, read aloud, too; the way back to the
   step to be done; what to do if it goes wrong; everything that is beside the way. */
tankside.workFoot = (function () {
  const { el, say, button } = tankside.dom;

  /** @param {string} name */
  function part(name) {
    return /** @type {any} */ (document.querySelector(`[data-foot-${name}]`));
  }

  /**
   * Put the presses there, once.
   * @param {any} view
   * @param {() => void} goBack
   */
  function make(view, goBack) {
    part('presses').replaceChildren(
      button(say('work-back'), goBack, { 'data-back': true, hidden: true }),
      button(say('work-close'), () => view.close(), { 'data-close': true, hidden: true }),
      button(say('work-wrong'), () => view.open({ name: 'wrong' }), { 'data-wrong': true }),
      button(say('work-aside'), () => view.open({ name: 'aside', place: placeNow(view) }), { 'data-aside-open': true }));
  }

  /** @param {any} view the place of what is to be done now, null when nothing is */
  function placeNow({ copy }) {
    const place = copy.trail.findIndex(tankside.copyState.isOpen);
    return place < 0 ? null : place;
  }

  /**
   * Paint what changes.
   * @param {any} view
   */
  function paint(view) {
    const line = part('said');
    if (line.textContent !== view.said) line.textContent = view.said;
    line.classList.toggle('is-refused', view.isRefused);
    const isBegun = view.copy.events.length > 0;
    const isOpen = view.panel !== null;
    toggle('close', isOpen);
    toggle('wrong', isBegun && !isOpen && view.copy.ended === '');
    toggle('aside-open', isBegun && !isOpen);
  }

  /** @param {string} name @param {boolean} isShown */
  function toggle(name, isShown) {
    const found = document.querySelector(`[data-foot-presses] [data-${name}]`);
    if (found !== null) /** @type {HTMLElement} */ (found).hidden = !isShown;
  }

  /**
   * Return what one may notice, and what one does then.
   * @param {any} view
   * @returns {Array<Node>}
   */
  function wrong(view) {
    const open = view.copy.trail.find(tankside.copyState.isOpen);
    const place = open === undefined ? 0 : open.part;
    const { remedies = [] } = view.shown.parts[place];
    const rows = remedies.map((/** @type {any} */ { sign, do: what, go_to: goTo }) => el('div', {},
      el('dt', {}, view.words(sign, place)),
      el('dd', {}, view.words(what, place), goTo ? [' ', ...view.words(goTo, place)] : '')));
    return [
      el('p', {}, say('work-wrong-first')),
      rows.length === 0 ? el('p', {}, say('work-wrong-none')) : el('dl.remedies-list', {}, rows),
    ];
  }

  return Object.freeze({ make, paint, toggle, wrong });
})();
