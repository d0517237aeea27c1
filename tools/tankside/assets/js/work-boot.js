'use strict';

/* Where the page of a working copy begins: the store, the copy that the address names, or the form to start one. */
(function () {
  const { el, say } = tankside.dom;
  const { open } = tankside.copyStore;
  const { deviceName, selfTest, remember, now } = tankside.copyDevice;
  const { Work } = tankside.copyWork;
  const { View, refused } = tankside.workView;
  const { Page, zone } = tankside.workPage;
  const { enter, rest } = tankside.workResume;
  const { timeText } = tankside.workHistory;

  const TICK = 500;

  /** @returns {string} the copy that the address names, empty when it names none */
  function named() {
    return window.location.hash.replace('#', '');
  }

  async function boot() {
    const data = JSON.parse(String(/** @type {Element} */ (document.querySelector('[data-work-data]')).textContent));
    document.documentElement.classList.add('has-script');
    const { edition, shown, around } = data;
    const store = await open(around.book).catch((error) => error);
    const isKept = !(store instanceof Error);
    // All at once: each of them waits for the disk.
    const [code, device, copies] = isKept
      ? await Promise.all([selfTest(store), deviceName(store).catch(() => ''), store.copies().catch(() => [])])
      : [/** @type {any} */ (store).code || 'store-none', '', []];
    const work = new Work(isKept ? store : null, { edition, shown, build: around.build, device });
    const view = new View(work, data);
    const page = new Page(view, shown);
    if (code !== 'store-kept') work.trouble = code;
    await (isKept ? begin(page, view, { ...data, copies }) : offer(view, copies, data));
    page.soon();
    if (isKept) {
      tankside.workKept.ask(view);
      live(view);
    }
  }

  /** @param {any} page @param {any} view @param {any} data with the copies that are kept here */
  async function begin(page, view, { copies, ...data }) {
    const { work } = view;
    const wanted = named();
    const found = copies.find((/** @type {CopyHead} */ { copy }) => copy === wanted);
    if (found !== undefined && found.id !== data.shown.id) {
      window.location.replace(`${encodeURIComponent(found.id)}.html#${wanted}`);
      return;
    }
    const code = wanted === '' ? '' : await read(work, wanted);
    if (code !== '') view.refuse(refused(code));
    if (wanted === '' || code !== '') {
      offer(view, copies, data);
      return;
    }
    page.soon();
    if (work.copy.ended === '' && work.broken.length === 0) opened(view);
  }

  /** @param {any} work @param {string} copy @returns {Promise<string>} why it is not read: that it is gone is said of no other fault */
  async function read(work, copy) {
    try {
      return await work.read(copy) ? '' : 'store-gone';
    } catch (error) {
      return /** @type {any} */ (error).code || 'store-unread';
    }
  }

  /** @param {any} view */
  function opened(view) {
    enter(view, 'work-rest-opened', () => view.work.claim());
  }

  /** @param {any} view @param {CopyHead[]} copies @param {any} data the copies that are open, then the form to start one */
  function offer(view, copies, data) {
    const own = copies.filter(({ id, ended }) => id === data.shown.id && ended === '');
    const links = own.map(({ copy, lot, started, last }) => el('li', {}, el('a.press', { href: `#${copy}`, 'data-open-copy': copy },
      el('b', {}, say('work-open-copy', { lot: lot || say('work-none') })),
      el('span', {}, say('work-open-times', { started: timeText(started, ''), last: timeText(last, '') })))));
    const made = [
      links.length === 0 ? null : el('section', { 'aria-label': say('work-open-copies') }, el('h2', {}, say('work-open-copies')), el('ul.open-copies', {}, links)),
      tankside.workStart.form(view, () => begun(view)),
    ];
    zone('start').replaceChildren(...made.filter((each) => each !== null));
  }

  /** @param {any} view a copy was begun: the address names it from now on */
  function begun(view) {
    const { copy } = view.copy.events[0];
    window.history.replaceState(null, '', `#${copy}`);
    zone('start').replaceChildren();
    window.scrollTo({ top: 0 });
    // The form had the focus: whoever works with a keyboard is led on to the first step.
    tankside.workLines.forget();
    recall(view);
    view.work.changed();
  }

  /** @param {any} view be able to notice when the browser throws copies away */
  async function recall({ work, around }) {
    remember(around.book, await work.store.copies().catch(() => []));
  }

  /** @param {any} view go on while the page is open */
  function live(view) {
    let touched = Date.now();
    for (const each of ['pointerdown', 'keydown']) {
      document.addEventListener(each, () => { touched = Date.now(); }, { capture: true, passive: true });
    }
    view.work.keepBeating();
    tankside.workTimers.listen();
    window.setInterval(() => {
      tankside.workTimers.tick(view);
      if (tankside.workClock.isGap(view.copy, now(), touched)) rest(view, 'work-rest-gap');
    }, TICK);
    let isLeaving = false;
    document.addEventListener('visibilitychange', () => {
      // A page that is left lets go of the work and writes nothing more: whoever opens it next is asked.
      if (!isLeaving) rest(view, 'work-rest-hidden');
      if (document.visibilityState === 'visible') tankside.workKept.wake(view);
    });
    window.addEventListener('pagehide', () => {
      isLeaving = true;
      view.work.letGo();
    });
    window.addEventListener('pageshow', ({ persisted }) => {
      isLeaving = false;
      if (persisted && view.copy.events.length > 0) opened(view);
    });
    window.addEventListener('hashchange', () => window.location.reload());
  }

  boot().catch((error) => {
    zone('banner').replaceChildren(el('p.stopped-word', { role: 'alert' }, say('work-fault')));
    throw error;
  });
})();
