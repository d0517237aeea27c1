'use strict';

var tankside = window.tankside || {};

/* The page of a working copy: everything is painted anew from the events that are kept, after each of them. */
tankside.workPage = (function () {
  const { TOO_SHORT, el, say } = tankside.dom;
  const { linesOf, standings } = tankside.workSteps;
  const { historyOf } = tankside.workHistory;
  const { refused } = tankside.workView;

  /** A head that takes more of the window than this has to be made lower. */
  const TALL = 0.34;
  /** @type {Object<string, (view: any, panel: any) => Node[]>} what may stand in place of the steps */
  const PANELS = {
    aside: (view, panel) => tankside.workAside.body(view, panel),
    reason: (view, panel) => tankside.workReason.body(view, panel),
    text: (view, panel) => tankside.workAside.text(view, panel),
    people: (view, panel) => tankside.workPeople.body(view, panel),
    give: (view) => tankside.workPeople.giving(view),
    wrong: (view) => tankside.workFoot.wrong(view),
  };
  /** @type {Object<string, string>} */
  const TITLES = { people: 'work-people', give: 'work-give', wrong: 'work-wrong' };

  /** A page that shows one working copy. */
  class Page {
    /** @param {any} view @param {any} edition what the site has now: its revision and hash */
    constructor(view, edition) {
      Object.assign(this, { view, edition });
      /** @type {Map<string, string>} what each zone was painted from */
      this.zones = new Map();
      this.isWaiting = false;
      /** @type {any} */
      this.panel = null;
      this.panels = 0;
      view.work.watch(() => this.soon());
      tankside.workFoot.make(view, () => tankside.workLines.show());
      this.listen();
    }

    /** Paint once for all that changes together. */
    soon() {
      if (this.isWaiting) return;
      this.isWaiting = true;
      queueMicrotask(() => {
        this.isWaiting = false;
        this.paint();
      });
    }

    paint() {
      try {
        this.paintAll();
      } catch (error) {
        // Whoever is at the tank must not be left with half a page and no word.
        zone('banner').replaceChildren(el('p.stopped-word', { role: 'alert' }, say('work-fault')));
        throw error;
      }
    }

    paintAll() {
      const { view } = this;
      const before = tankside.workLines.standing();
      const lines = linesOf(view.shown, view.copy);
      const places = standings(lines, view.copy);
      const now = lines.find(({ key }) => (places.get(key) || {}).isNow);
      view.lines = lines;
      tankside.workHead.paint(view, { lines, now });
      this.put('banner', bannerOf(this), () => bannerOf(this).map((words) => el('p', {}, words)));
      this.put('sheet-taken', tankside.workPaper.turned(view)[0], () => (
        [tankside.workPaper.band(view)].filter((each) => each !== null)));
      this.paintRest();
      this.paintPanel();
      const isShown = view.copy.events.length > 0 && view.panel === null;
      for (const name of ['steps', 'end']) zone(name).hidden = !isShown;
      zone('links').hidden = view.copy.events.length > 0;
      tankside.workLines.paint(view, { lines, places, history: historyOf(view.copy) });
      this.put('end', [view.copy.events.length, view.reading, view.hindrance], () => tankside.workEnd.body(view));
      tankside.workFoot.paint(view);
      if (view.hindrance !== '') tankside.workLines.forget();
      else if (isShown) tankside.workLines.follow(now === undefined ? 'end' : now.key, before);
      measure();
      this.lookBack();
    }

    /** What must be looked at before anything can be marked. */
    paintRest() {
      const { view } = this;
      const isAtWork = view.copy.events.length > 0 && view.panel === null;
      const key = [isAtWork, view.hindrance, view.copy.events.length, view.reading, view.worker, view.said];
      const before = headingOf('rest');
      this.put('rest', key, () => (isAtWork ? tankside.workResume.body(view) : []));
      const heading = zone('rest').querySelector('h2');
      if (heading !== null && headingOf('rest') !== before) arrive(heading);
    }

    /** What stands in place of the steps for a while. */
    paintPanel() {
      const { view } = this;
      const { panel } = view;
      const isNew = panel !== this.panel;
      if (isNew) Object.assign(this, { panel, panels: this.panels + 1 });
      const key = [this.panels, panel === null ? 0 : [view.copy.events.length, view.reading]];
      this.put('panel', key, () => (panel === null ? [] : [
        el('h2', { tabindex: -1 }, titleOf(view, panel)), ...PANELS[panel.name](view, panel),
      ]));
      const heading = zone('panel').querySelector('h2');
      if (isNew && heading !== null) arrive(heading);
      // Whoever comes back from there is led to the step again.
      if (isNew && panel === null) tankside.workLines.forget();
    }

    /** @param {string} name @param {any} from what it is painted from @param {() => Node[]} make */
    put(name, from, make) {
      const key = JSON.stringify(from);
      if (this.zones.get(name) === key) return;
      this.zones.set(name, key);
      const hadFocus = zone(name).contains(document.activeElement);
      zone(name).replaceChildren(...make());
      // What had the focus is gone: whoever works with a keyboard goes on from the heading of the same place.
      const heading = /** @type {HTMLElement | null} */ (zone(name).querySelector('h2[tabindex]'));
      if (hadFocus && heading !== null) heading.focus({ preventScroll: true });
    }

    /** Offer the way back to the step to be done while it is out of view; nothing that has the focus is behind the head. */
    lookBack() {
      const isAway = this.view.hindrance === '' && !zone('steps').hidden && !tankside.workLines.isInView();
      tankside.workFoot.toggle('back', isAway);
    }

    listen() {
      window.addEventListener('scroll', () => this.lookBack(), { passive: true });
      const fit = () => window.requestAnimationFrame(() => {
        measure();
        this.lookBack();
      });
      new ResizeObserver(fit).observe(zone('top'));
      window.addEventListener('resize', fit);
      zone('steps').addEventListener('load', () => tankside.workLines.settle(), { capture: true });
      document.addEventListener(TOO_SHORT, () => this.view.refuse(say('work-hold-longer')));
      zone('steps').addEventListener('click', (event) => this.pressed(/** @type {any} */ (event.target)));
    }

    /** @param {Element} target a touch on a row that marks nothing says why */
    pressed(target) {
      const row = /** @type {HTMLElement | null} */ (target.closest('[data-row]'));
      if (row === null || target.closest('button, a, input, textarea, label, summary, [data-form]') !== null) return;
      const { view } = this;
      const places = standings(view.lines, view.copy);
      const standing = places.get(row.dataset.row || '');
      const why = standing === undefined ? '' : tankside.workLines.whyNot(view, standing);
      if (why !== '') view.refuse(why);
    }
  }

  /** @param {string} name @returns {HTMLElement} */
  function zone(name) {
    return /** @type {HTMLElement} */ (document.querySelector(`[data-${name}]`));
  }

  /** @param {string} name @returns {string} what a zone is about now, empty when it is about nothing */
  function headingOf(name) {
    const found = zone(name).querySelector('h2');
    return found === null ? '' : String(found.textContent);
  }

  /** In large text or a small window, what is in view at all times must not take what is to be read. */
  function measure() {
    const { classList, style } = document.documentElement;
    const [top, foot] = [zone('top'), zone('foot')];
    classList.remove('is-tall');
    classList.toggle('is-tall', top.offsetHeight > window.innerHeight * TALL);
    style.setProperty('--top-height', `${top.offsetHeight}px`);
    style.setProperty('--foot-height', `${foot.offsetHeight}px`);
  }

  /** @param {HTMLElement} heading of what has come up: it is seen, and read aloud */
  function arrive(heading) {
    heading.scrollIntoView({ block: 'start' });
    heading.focus({ preventScroll: true });
  }

  /** @param {any} view @param {any} panel */
  function titleOf(view, panel) {
    if (panel.title !== undefined) return panel.title;
    if (panel.name !== 'aside') return say(TITLES[panel.name]);
    const line = view.lines.find((/** @type {Line} */ { key }) => key === panel.key) || lineAt(view, panel.place);
    return line === undefined ? say('work-aside') : say('work-more-about', { title: tankside.workRow.titleOf(view, line) });
  }

  /** @param {any} view @param {number | null} place */
  function lineAt(view, place) {
    return place === null || view.copy.trail[place] === undefined ? undefined : view.lineOf(view.copy.trail[place]);
  }

  /** @param {any} page what has to be known of this copy @returns {string[]} */
  function bannerOf({ view, edition }) {
    const { work, shown } = view;
    const found = [];
    if (work.hash !== edition.hash) {
      found.push(say('work-other-edition', { own: shown.revision, newer: edition.revision }));
    }
    if (work.broken.length > 0) {
      const at = work.broken[0][0];
      found.push(at === 0 ? refused('chain-broken') : say('work-chain-until', { at: at - 1 }));
    }
    if (view.copy.trail.some((/** @type {Visit} */ { isAside, state }) => isAside && state === 'started')) {
      found.push(say('work-given-up'));
    }
    return found;
  }

  return Object.freeze({ Page, zone });
})();
