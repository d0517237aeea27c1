'use strict';

var tankside = window.tankside || {};

/* On the home page: how many working copies are open on this device, and how many are in no file. Silent when none are. */
(function () {
  const { say } = tankside.dom;

  /** @param {HTMLElement} place */
  async function tell(place) {
    const store = await tankside.copyStore.open(place.dataset.workOpen);
    /** @type {CopyHead[]} */
    const heads = await store.copies().finally(() => store.close());
    const open = heads.filter(({ ended }) => ended === '').length;
    const unsaved = heads.filter(({ seq, exported }) => exported <= seq).length;
    place.textContent = open + unsaved === 0 ? '' : say('work-open', { open, unsaved });
    place.hidden = open + unsaved === 0;
  }

  const place = /** @type {HTMLElement} */ (document.querySelector('[data-work-open]'));
  // Where nothing can be kept nothing is open; the page of the working copies says why.
  const look = () => tell(place).catch(() => { place.hidden = true; });
  window.addEventListener('pageshow', ({ persisted }) => { if (persisted) look(); });
  look();
})();
