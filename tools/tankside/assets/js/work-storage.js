'use strict';

var tankside = window.tankside || {};

/* What a page says of the place where working copies are kept: whether anything is, how much room there is, what is gone. */
tankside.workStorage = (function () {
  const { el, say, button } = tankside.dom;
  const { askToKeep, space, missing, remember, forgetMissing } = tankside.copyDevice;
  const { moment, size, what } = tankside.workShown;

  /** @typedef {{code: string, detail: string}} Kept 'store-kept', or why nothing is kept and what the browser says of it */

  /**
   * Return the line that always says whether working copies are kept on this device.
   * @param {Kept} kept
   * @param {() => void} again tries it once more
   * @returns {HTMLElement}
   */
  function line({ code, detail }, again) {
    if (code === 'store-kept') return el('p.store-kept', {}, say('work-store-kept'));
    return el(
      'div.not-kept', { role: 'alert' },
      el('p', {}, say(`work-${code}`)),
      detail === '' ? null : el('p.detail', {}, detail),
      button(say('work-list-try-again'), again),
    );
  }

  /**
   * Return all that can be said of the place.
   * @param {boolean} isUsed the browser is asked to keep it for good only when there is something to keep
   * @returns {Promise<HTMLElement>}
   */
  async function about(isUsed) {
    const [agreed, room] = await Promise.all([isUsed ? askToKeep() : null, space()]);
    const lines = [say('work-list-local')];
    if (isUsed) lines.push(say(agreed === null ? 'work-list-cannot-persist' : agreed ? 'work-list-persisted' : 'work-list-not-persisted'));
    if (room !== null) lines.push(say('work-list-space', { used: size(room.used), most: size(room.most) }));
    lines.push(say('work-list-private'));
    return el('ul', {}, lines.map((each) => el('li', {}, each)));
  }

  /**
   * Return what is said of copies that were here and are gone, null when there are none; remember those that are here.
   * @param {string} book
   * @param {CopyHead[]} heads
   * @param {() => void} read is called when somebody has read it
   * @returns {HTMLElement | null}
   */
  function gone(book, heads, read) {
    remember(book, heads);
    const lost = missing(book, heads);
    if (lost.length === 0) return null;
    const seen = button(say('work-list-missing-read'), () => {
      forgetMissing(book, heads);
      read();
    });
    const listed = lost.map((each) => (
      el('li', {}, say('work-list-missing-one', { what: what(each), time: moment(each.started) }))));
    return el('div.not-kept', { role: 'alert' }, el('p', {}, say('work-list-missing')), el('ul', {}, listed), seen);
  }

  return Object.freeze({ line, about, gone });
})();
