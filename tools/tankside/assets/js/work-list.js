'use strict';

var tankside = window.tankside || {};

/* The page of the working copies on this device. What can be begun stands in it without a script. */
(function () {
  const { el, say, button } = tankside.dom;
  const { save, saveAll } = tankside.copyFile;
  const { FROM_FILE } = tankside.copyStore;
  const { age, what } = tankside.workShown;
  const { line, about, gone } = tankside.workStorage;
  const { list, unsaved, waiting } = tankside.workCopies;

  /** @param {string} name @returns {HTMLElement} */
  const place = (name) => /** @type {HTMLElement} */ (document.querySelector(`[data-list-${name}]`));

  /** @param {string} what parts of the page that need it are shown */
  function show(what) {
    for (const each of document.querySelectorAll(`[data-list-needs-${what}]`)) each.removeAttribute('hidden');
  }

  /** What is on the page, and how it is brought up to date. */
  class List {
    /** @param {{book: string, carried: string[]}} about */
    constructor({ book, carried }) {
      Object.assign(this, { book, carried });
      /** @type {any} null while what is kept cannot be read */
      this.store = null;
      /** @type {Map<string, any>} */
      this.shown = new Map();
      this.said = place('said');
    }

    async start() {
      show('script');
      try {
        this.store = await tankside.copyStore.open(this.book);
        place('bring').replaceChildren(tankside.workBringing.place(this.store, this.book, () => this.refresh()));
        show('store');
        await this.refresh();
      } catch (error) {
        await this.failed(error);
      }
    }

    /** Show again how everything stands, with the focus where it was. */
    async refresh() {
      if (this.store === null) return;
      try {
        const code = await tankside.copyDevice.selfTest(this.store);
        const heads = await this.store.copies();
        const at = /** @type {HTMLElement} */ (document.activeElement).dataset.key;
        place('storage').replaceChildren(line({ code, detail: '' }, () => this.refresh()));
        place('gone').replaceChildren(...[gone(this.book, heads, () => this.refresh())].filter((each) => each !== null));
        await this.showCopies(heads);
        const again = at === undefined ? null : document.querySelector(`[data-key="${at}"]`);
        if (again instanceof HTMLElement) again.focus();
        place('about').replaceChildren(await about(heads.length > 0));
        const redlines = await tankside.workRedlines.marked(this.store, heads, (/** @type {string} */ hash) => this.shownOf(hash));
        place('redlines').replaceChildren(tankside.workRedlines.list(redlines));
      } catch (error) {
        await this.failed(error);
      }
    }

    /** @param {CopyHead[]} heads */
    async showCopies(heads) {
      const open = byLast(heads.filter(({ ended }) => ended === ''));
      const ended = byLast(heads.filter((head) => head.ended !== ''));
      for (const { shown } of open) await this.shownOf(shown);
      const leases = await this.store.leases();
      const fromFile = new Set(leases.filter((/** @type {any} */ { tab }) => tab === FROM_FILE).map((/** @type {any} */ { copy }) => copy));
      const around = {
        shown: this.shown, fromFile, carried: this.carried,
        save: (/** @type {CopyHead} */ head) => this.keep([head]),
        take: (/** @type {CopyHead} */ head) => this.take(head),
      };
      place('unsaved').replaceChildren(...this.reminder(heads));
      place('open').replaceChildren(open.length === 0 ? el('p', {}, say('work-list-none-open')) : list(open, around));
      this.showEnded(ended, around);
    }

    /** @param {CopyHead[]} ended @param {any} around a long list is folded, and stays as it was left */
    showEnded(ended, around) {
      const fold = place('ended').querySelector('details');
      const isOpen = fold === null ? ended.length <= 5 : fold.open;
      const heading = el('summary', { 'data-key': 'ended' }, el('h2', {}, say('work-list-ended', { count: ended.length })));
      place('ended').replaceChildren(...(ended.length === 0 ? [] : [el('details', { open: isOpen }, heading, list(ended, around))]));
    }

    /** @param {CopyHead[]} heads @returns {Node[]} */
    reminder(heads) {
      const loose = heads.filter((head) => unsaved(head) > 0);
      const [oldest] = loose.map(waiting).sort((one, other) => Date.parse(one) - Date.parse(other));
      const all = button(say('work-list-save-all'), () => this.keep(heads), { 'data-key': 'save-all' });
      if (loose.length === 0) return heads.length === 0 ? [] : [el('p.doing', {}, all)];
      const says = say('work-list-unsaved', { count: loose.length, all: heads.length, age: age(oldest) });
      const these = button(say('work-list-save-unsaved'), () => this.keep(loose), { 'data-key': 'save-unsaved' });
      return [el('p.in-no-file', {}, says), el('p.doing', {}, these, loose.length === heads.length ? null : all)];
    }

    /** @param {CopyHead[]} heads save them to a file */
    async keep(heads) {
      const copies = heads.map(({ copy }) => copy);
      await this.doing(async () => {
        this.said.textContent = say('work-list-writing');
        const names = copies.length === 1 ? [await save(this.store, copies[0])] : await saveAll(this.store, copies);
        return say('work-list-saved-as', { names: names.join(', ') });
      });
    }

    /** @param {CopyHead} head */
    async take(head) {
      await this.doing(async () => {
        await this.store.release(head.copy);
        return say('work-list-taken', { what: what(head) });
      });
    }

    /** @param {() => Promise<string>} work what is done, and what is said then */
    async doing(work) {
      let says;
      try {
        says = await work();
      } catch (error) {
        says = said(error);
      }
      await this.refresh();
      this.said.textContent = says;
    }

    /** @param {string} hash @returns {Promise<any>} what is shown of a copy that is kept here */
    async shownOf(hash) {
      if (!this.shown.has(hash)) this.shown.set(hash, (await this.store.edition(hash)).shown);
      return this.shown.get(hash);
    }

    /** @param {any} error what is kept cannot be read: say why, and what can be said of the place */
    async failed(error) {
      const kept = { code: error.code || 'store-failed', detail: error.detail || String(error) };
      place('storage').replaceChildren(line(kept, () => (this.store === null ? this.start() : this.refresh())));
      place('about').replaceChildren(await about(false));
    }
  }

  /** @param {CopyHead[]} heads */
  const byLast = (heads) => [...heads].sort((one, other) => Date.parse(other.last) - Date.parse(one.last));
  /** @param {any} error */
  const said = (error) => `${say(`work-${error.code || 'store-failed'}`)} ${error.detail || ''}`.trim();

  const page = new List(JSON.parse(/** @type {HTMLElement} */ (document.querySelector('[data-work-data]')).textContent || ''));
  page.start();
  // Coming back to it from a copy, from another tab, or after the night.
  window.addEventListener('pageshow', ({ persisted }) => { if (persisted) page.refresh(); });
  document.addEventListener('visibilitychange', () => { if (document.visibilityState === 'visible') page.refresh(); });
})();
