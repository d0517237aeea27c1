'use strict';

var tankside = window.tankside || {};

/* The label of what is about to be added is read back: what it says, and its lot. A wrong one stops, and is kept. */
tankside.workDrum = (function () {
  const { el, say, button } = tankside.dom;
  const { keypad } = tankside.workKeys;
  const { drafts, settled } = tankside.workTyping;
  const { labelOf, partOf } = tankside.copyState;
  const { lastLook } = tankside.workFigures;
  const { entered, refilled, tiles, fold, stopped, roleName } = tankside.workPieces;

  const REMEMBERED = 4;

  /**
   * Return the materials whose labels could be mistaken for the right one: all of its kind, and all raw ones.
   * @param {{materials: Object<string, string>, kinds: Object<string, string>}} around
   * @param {string} right
   * @returns {Array<[string, string]>} id and name, sorted by name
   */
  function lookalikes({ materials, kinds }, right) {
    const names = Object.entries(materials).filter(([id]) => ['raw', kinds[right]].includes(kinds[id]));
    return /** @type {Array<[string, string]>} */ (names).sort(([, one], [, other]) => (one < other ? -1 : 1));
  }

  /** @param {any} view @param {string} material */
  function nameOf(view, material) {
    return view.around.materials[material] || material;
  }

  /**
   * Return what is to be done about a label that is not read yet.
   * @param {any} view
   * @param {Visit} visit
   * @returns {HTMLElement}
   */
  function labelPart(view, visit) {
    const look = lastLook(view.copy, visit);
    const name = `look-${view.copy.trail.indexOf(visit)}`;
    return refilled((again) => {
      const kept = drafts(view);
      if (look !== null && kept.get(`${name}-again`, -1) !== look.seq) return [wrong(view, visit, look, again)];
      return kept.get(`${name}-says`) === '' ? whatItSays(view, visit, name, again) : whichLot(view, visit, name, again);
    });
  }

  /** @param {any} view @param {Visit} visit @param {any} look @param {() => void} again */
  function wrong(view, visit, look, again) {
    const right = nameOf(view, labelOf(view.copy, visit));
    const name = `look-${view.copy.trail.indexOf(visit)}`;
    return stopped(say('work-look-wrong', { right }), [
      say('work-look-says', { says: nameOf(view, look.says), lot: look.lot }),
      say('work-look-back', { right }),
      say('work-look-kept'),
    ], button(say('work-look-again', { right }), () => {
      drafts(view).drop(name);
      drafts(view).set(`${name}-again`, look.seq);
      again();
    }, { 'data-again': true }));
  }

  /** @param {any} view @param {Visit} visit @param {string} name @param {() => void} after @returns {Node[]} */
  function whatItSays(view, visit, name, after) {
    const options = lookalikes(view.around, labelOf(view.copy, visit));
    return [
      el('p.work-label', {}, say('work-look-ask')),
      tiles(view, { name: `${name}-says`, label: say('work-look-ask'), options, after }),
    ];
  }

  /** @param {any} view @param {Visit} visit @param {string} name @param {() => void} again @returns {Node[]} */
  function whichLot(view, visit, name, again) {
    const kept = drafts(view);
    const own = () => ({ says: kept.get(`${name}-says`), lot: settled(kept.get(`${name}-lot`), 'code') });
    const enter = button('', async () => {
      const look = own();
      if (look.lot === '') return;
      const isDone = await entered(view, name, 'look', { visit: view.copy.trail.indexOf(visit), ...look });
      if (isDone) await remember(view, look);
    }, { 'data-enter': 'look' });
    const paint = () => {
      const { says, lot } = own();
      enter.textContent = lot === '' ? say('work-look-lot-missing') : say('work-look-enter', { says: nameOf(view, says), lot });
      enter.disabled = lot === '';
    };
    const pad = keypad(view, {
      name: `${name}-lot`, kind: 'code', label: say('work-look-lot'), after: paint, done: () => enter.click(),
    });
    const known = el('div.work-known', {});
    paint();
    offerLots(view, own().says, known, pad);
    const other = button(say('work-look-other'), () => {
      kept.set(`${name}-says`, '');
      again();
    }, { 'data-other': true });
    return [el('div.work-chosen', {}, el('p', {}, say('work-look-chosen', { says: nameOf(view, own().says) })), other),
      known, pad, enter, noLot(view, visit, name)];
  }

  /** @param {any} view @param {Visit} visit @param {string} name what to do with a container on which no lot stands */
  function noLot(view, visit, name) {
    const role = roleName(view, partOf(view.copy, visit).approver);
    return fold(view, `${name}-no-lot`, say('work-look-no-lot'), [el('p', {}, say('work-look-no-lot-do', { role }))]);
  }

  /**
   * Offer the lots that were read of a material before, in this work or on this device.
   * @param {any} view
   * @param {string} material
   * @param {HTMLElement} place
   * @param {HTMLElement} pad
   */
  async function offerLots(view, material, place, pad) {
    const here = view.copy.events.filter((/** @type {any} */ each) => each.kind === 'look' && each.says === material);
    const before = await notedLots(view);
    const lots = [...new Set([...here.map((/** @type {any} */ { lot }) => lot), ...(before[material] || [])])].filter(Boolean);
    const field = /** @type {HTMLInputElement} */ (pad.querySelector('input'));
    place.replaceChildren(...lots.slice(0, REMEMBERED).map((lot) => button(lot, () => {
      field.value = lot;
      field.dispatchEvent(new Event('input'));
    }, { 'data-lot': lot })));
  }

  /** @param {any} view @returns {Promise<Object<string, string[]>>} what was noted is a help, not a record: none is no harm */
  async function notedLots(view) {
    return await view.work.store.note('lots').catch(() => undefined) || {};
  }

  /** @param {any} view @param {{says: string, lot: string}} look */
  async function remember(view, { says, lot }) {
    const known = await notedLots(view);
    const lots = [lot, ...(known[says] || []).filter((each) => each !== lot)].slice(0, REMEMBERED);
    await view.work.store.setNote('lots', { ...known, [says]: lots }).catch(() => undefined);
  }

  return Object.freeze({ labelPart, nameOf });
})();
