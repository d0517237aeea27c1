'use strict';

var tankside = window.tankside || {};

/** @typedef {{title: string, state: 'done' | 'now' | 'later', says?: string, body?: Array<Node | string | null>}} FormPart */

/* What the forms of a working copy are put together from: parts that come one after the other, tiles of which one is
   chosen, words that stop the work, presses and holds by somebody else. */
tankside.workPieces = (function () {
  const { el, say, button, holdButton } = tankside.dom;
  const { drafts } = tankside.workTyping;

  let isByKeyboard = false;
  document.addEventListener('keydown', () => { isByKeyboard = true; }, true);
  document.addEventListener('pointerdown', () => { isByKeyboard = false; }, true);

  /**
   * Return a form whose parts are locked until the one before is done.
   * @param {any} view
   * @param {Visit} visit
   * @param {{kind: string, label: string, parts: FormPart[]}} about
   * @returns {HTMLElement}
   */
  function panel(view, visit, { kind, label, parts }) {
    const made = el(`section.work-form.work-form-${kind}`, { 'data-form': kind, 'aria-label': label },
      el('ol.work-parts', {}, parts.map(part)));
    if (hasGoneOn(view, visit)) window.requestAnimationFrame(() => bringUp(made));
    goOn(made);
    return made;
  }

  /** @param {any} view @param {Visit} visit whether something was entered here since the form was made the last time */
  function hasGoneOn(view, visit) {
    const place = view.copy.trail.indexOf(visit);
    const count = view.copy.events.filter((/** @type {CopyEvent} */ { visit: at, kind }) => (
      at === place || kind === 'checked' || kind === 'correct')).length;
    const before = drafts(view).get('form-made', null);
    drafts(view).set('form-made', { place, count });
    return before !== null && before.place === place && before.count < count;
  }

  /**
   * Bring the part that is to be done now up to where it is read and pressed.
   * @param {Element} within the form, or something in it; while it is on no page there is nothing to bring up
   */
  function bringUp(within) {
    const form = within.closest('[data-form]');
    const now = form === null ? null : form.querySelector('[data-part-state=now]');
    if (now === null) return;
    const isCalm = window.matchMedia('(prefers-reduced-motion: reduce)').matches;
    now.scrollIntoView({ block: 'start', behavior: isCalm ? 'auto' : 'smooth' });
  }

  /** @param {FormPart} part @param {number} place */
  function part({ title, state, says = '', body = [] }, place) {
    const words = { done: 'work-part-done', now: 'work-part-now', later: 'work-part-later' };
    return el(`li.work-part.work-part-${state}`, { 'data-part-state': state },
      el('h3', {}, el('span.work-part-number', {}, String(place + 1)), el('span', {}, title),
        says === '' ? null : el('b.work-part-says', {}, says),
        el('span.work-part-state', {}, say(words[state]))),
      state === 'now' ? body : []);
  }

  /**
   * Let whoever works with a keyboard go on with what comes next: painting anew has taken the focus away.
   * @param {HTMLElement} within the form, or something in its part that is to be done now
   */
  function goOn(within) {
    later(() => within.closest('[data-form]'), '[data-part-state=now]');
  }

  /** @param {string} place let whoever works with a keyboard go on there */
  function goOnAt(place) {
    later(() => document.body, place);
  }

  /** @param {() => Element | null} whole @param {string} place */
  function later(whole, place) {
    if (!isByKeyboard) return;
    window.requestAnimationFrame(() => {
      const found = whole();
      const next = found === null ? null : found.querySelector(`${place} :is(input, textarea, a, summary, button:not([tabindex]))`);
      if (next !== null && document.activeElement === document.body) {
        /** @type {HTMLElement} */ (next).focus({ preventScroll: true });
      }
    });
  }

  /**
   * Enter what was typed. As soon as it is kept it is typed no longer, whenever the form is painted anew; what is refused
   * or not kept stays as it was typed.
   * @param {any} view
   * @param {string} name how the names of the drafts begin
   * @param {string} kind of the event
   * @param {any} own
   * @returns {Promise<boolean>} whether it is done and kept
   */
  async function entered(view, name, kind, own) {
    const { visit, corrects, instrument } = own;
    drafts(view).entering(name, view.copy.events.length, (event) => (
      event.kind === kind && event.visit === visit && event.corrects === corrects && event.instrument === instrument));
    return view.act(kind, own);
  }

  /**
   * Return an element that is filled anew when something in it asks for that.
   * @param {(again: () => void) => Array<Node | null>} fill
   * @returns {HTMLElement}
   */
  function refilled(fill) {
    const place = el('div');
    const again = () => {
      place.replaceChildren(...fill(again).filter((each) => each !== null));
      bringUp(place);
      goOn(place);
    };
    again();
    return place;
  }

  /**
   * Return tiles of which one is chosen; what was chosen stays as what was typed does.
   * @param {object} view
   * @param {{name: string, label: string, options: Array<[string, string]>, after?: (value: string) => void}} about
   */
  function tiles(view, { name, label, options, after = () => {} }) {
    const kept = drafts(view);
    const made = options.map(([value, text]) => button(text, () => {
      kept.set(name, value);
      paint();
      after(value);
    }, { 'data-tile': value }));
    const paint = () => made.forEach((tile, place) => {
      tile.setAttribute('aria-pressed', String(options[place][0] === kept.get(name, null)));
    });
    paint();
    return el('div.work-tiles', { role: 'group', 'aria-label': label, 'data-tiles': name }, made);
  }

  /**
   * Return words that stop the work, and the ways out below them.
   * @param {string} what
   * @param {string[]} todo
   * @param {...(Node | null)} ways
   */
  function stopped(what, todo, ...ways) {
    return el('div.work-stopped', { role: 'alert' },
      el('p.work-stop-word', {}, what), todo.map((each) => el('p', {}, each)), ways);
  }

  /**
   * Return what is seldom needed, to be opened; once open it stays so when the page is painted anew.
   * @param {object} view
   * @param {string} name
   * @param {string} title
   * @param {Array<Node | string | null>} body
   * @returns {HTMLDetailsElement}
   */
  function fold(view, name, title, body) {
    const summary = el('summary', {}, title);
    const made = el('details.work-fold', { 'data-fold': name }, summary, body);
    made.open = drafts(view).get(name, false);
    // What comes out of it would lie behind the foot of the page. It is open only after the press.
    summary.addEventListener('click', () => window.requestAnimationFrame(() => {
      if (made.open) summary.scrollIntoView({ block: 'start' });
    }));
    made.addEventListener('toggle', () => drafts(view).set(name, made.open));
    return made;
  }

  /**
   * Return a field for a reason, with reasons that are often the right ones.
   * @param {object} view
   * @param {{name: string, label: string, offered: string[], after: () => void}} about
   */
  function reasonField(view, { name, label, offered, after }) {
    const kept = drafts(view);
    const field = el('textarea', { id: `typed-${name}`, 'data-typed': name, rows: 2, maxlength: 500 });
    field.value = kept.get(name);
    const change = (/** @type {string} */ text) => {
      kept.set(name, text);
      if (field.value !== text) field.value = text;
      after();
    };
    field.addEventListener('input', () => change(field.value));
    const made = offered.map((text) => button(text, () => change(text), { 'data-offered': true }));
    return el('div.work-reason', {}, el('label', { for: field.id }, label), field, el('div.work-tiles', {}, made));
  }

  /**
   * Return a press and hold for each of some people, with the words that it says.
   * @param {Array<[string, string]>} people who and what their role is called
   * @param {string} key of the words, with gaps `who` and `role`
   * @param {(who: string) => void} action
   */
  function holds(people, key, action) {
    return el('div.work-holds', {}, people.map(([who, role]) => (
      holdButton(say(key, { who, role }), () => action(who), { 'data-hold': who }))));
  }

  /** @param {any} view @param {(who: string, role: string) => boolean} wanted people and what their roles are called */
  function peopleOf(view, wanted) {
    const found = /** @type {Array<[string, string]>} */ ([...view.copy.people]).filter(([who, role]) => wanted(who, role));
    return found.map(([who, role]) => /** @type {[string, string]} */ ([who, roleName(view, role)]));
  }

  /** @param {any} view @returns {string} the day of what is done now: today, or that of the sheet that is taken over */
  function dayOf({ paper, copy }) {
    const last = copy.events[copy.events.length - 1];
    const at = paper.paper === undefined ? tankside.copyDevice.now().at : paper.at || last.at;
    return at.slice(0, 10);
  }

  /** @param {any} view @param {string} role */
  function roleName(view, role) {
    return view.around.roles[role] || role;
  }

  return Object.freeze({ panel, bringUp, goOnAt, entered, refilled, tiles, stopped, fold, reasonField, holds, peopleOf, dayOf, roleName });
})();
