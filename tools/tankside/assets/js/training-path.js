'use strict';

var tankside = window.tankside || {};

/* The page of a path: how each thing stands for who is trained, what is due next, what comes back. */
tankside.trainingPathPage = (function () {
  const { el, say, button } = tankside.dom;
  const { attest, folded } = tankside.trainingAttest;
  const { missed, ask } = tankside.trainingQuestions;
  const { isFine, sentences } = tankside.trainingWords;
  const { place } = tankside.trainingPage;

  /** @param {any} trained */
  function start(trained) {
    if (trained.record === null) return;
    for (const item of trained.path.items) {
      const at = /** @type {Element} */ (document.querySelector(`[data-train-item="${item.key}"] [data-train-stands]`));
      const state = el('div', {});
      at.append(state, ...(item.procedure === '' ? [going(trained, item)] : []));
      trained.shows(() => state.replaceChildren(...stands(trained, item)));
    }
    trained.shows(() => place('next').replaceChildren(next(trained)));
    trained.shows(() => place('appoint').replaceChildren(...appointments(trained)));
    place('appoint').after(appointing(trained));
    back(trained);
  }

  /** @param {any} trained @param {any} item @returns {any} the last entry that it was gone through */
  function gone(trained, { key }) {
    return trained.counting.filter((/** @type {any} */ { kind, path, item }) => (
      kind === 'went' && path === trained.path.id && item === key)).pop();
  }

  /** @param {any} trained @param {any} item @returns {boolean} */
  function isDone(trained, item) {
    return item.procedure === '' ? gone(trained, item) !== undefined : isFine(trained.standing(item.procedure, item.goal));
  }

  /** @param {any} trained @param {any} item @returns {Node[]} */
  function stands(trained, item) {
    const attributes = { 'data-train-state': isDone(trained, item) ? 'done' : 'due' };
    if (item.procedure === '') {
      const found = gone(trained, item);
      const words = found === undefined ? say('train-not-gone')
        : say('train-gone', { day: found.at.slice(0, 10), who: found.assessor, role: trained.roleName(found.assessor_role) });
      return [el('p.train-stands', attributes, words)];
    }
    const words = sentences(trained.standing(item.procedure, item.goal), item.goal);
    const first = lackingFirst(trained, item.after);
    return [
      el('p.train-stands', attributes, words.join(' ')),
      ...(first.length === 0 || first.length === item.after.length || isDone(trained, item) ? [] : [el('p', {}, say('train-first', { what: first.join('; ') }))]),
    ];
  }

  /** @param {any} trained @param {string[]} after @returns {string[]} the titles of what one must be competent in first, and is not */
  function lackingFirst(trained, after) {
    return after.filter((each) => !isFine(trained.standing(each, 'alone'))).map((each) => trained.path.lessons[each].title);
  }

  /** @param {any} trained @param {any} item @returns {HTMLElement} the form by which it was gone through */
  function going(trained, item) {
    const lines = /** @type {HTMLElement} */ (document.querySelector(`[data-train-item="${item.key}"] .train-lines`));
    return folded(say('train-go-through'), () => {
      const ticks = item.key.startsWith('find-') ? ticked(lines, () => paint()) : [];
      const { form, paint } = attest(trained, {
        name: item.key, confirm: say('train-went'),
        lacking: () => ticks.filter(({ checked }) => !checked).map(({ value }) => say('train-find-missing', { what: value })),
        act: (own) => trained.act({ kind: 'went', who: own.assessor, path: trained.path.id, item: item.key, ...own }),
      });
      return [form];
    }, { 'data-train-fold': item.key });
  }

  /** @param {HTMLElement} lines @param {() => void} after @returns {HTMLInputElement[]} a tick for each of them */
  function ticked(lines, after) {
    // The form may be opened again: then they stand already.
    lines.onchange = after;
    const known = [...lines.querySelectorAll('input')];
    return known.length > 0 ? known : [...lines.children].map(tickOf);
  }

  /** @param {Element} line @returns {HTMLInputElement} */
  function tickOf(line) {
    const words = String(line.textContent).trim();
    const [tag] = words.split(':');
    const tick = el('input', { type: 'checkbox', value: tag, 'data-train-found': tag });
    line.replaceChildren(el('label.train-choice', {}, tick, el('span', {}, words)));
    return tick;
  }

  /** @param {any} trained @returns {HTMLElement} what is due next, and how many questions come back */
  function next(trained) {
    const due = trained.path.items.filter((/** @type {any} */ item) => !isDone(trained, item));
    const count = missed(trained).length;
    const [first] = due;
    return el('div.train-next', { 'data-train-due': due.length },
      el('p', {}, el('b', {}, first === undefined ? say('train-all-done') : say('train-due', { what: first.title, count: due.length }))),
      first === undefined ? null : el('p.doing', {}, goOn(trained, first)),
      count === 0 ? null : el('p', { 'data-train-missed': count }, say('train-back-count', { count })));
  }

  /** @param {any} trained @param {any} item the way to it: its page, or its place on this one */
  function goOn(trained, { key, procedure }) {
    const attributes = { 'data-train-go-next': true };
    if (procedure !== '') return el('a.button', { href: trained.link(`${trained.path.id}/${procedure}.html`), ...attributes }, say('train-go-next'));
    return button(say('train-go-next'), () => {
      const at = /** @type {Element} */ (document.querySelector(`[data-train-item="${key}"]`));
      at.scrollIntoView({ block: 'start' });
      /** @type {HTMLElement} */ (at.querySelector('summary')).focus({ preventScroll: true });
    }, attributes);
  }

  /** @param {any} trained ask what was missed before this page was opened */
  function back(trained) {
    const at = place('back');
    const list = missed(trained);
    const none = () => at.replaceChildren(el('p', {}, say(missed(trained).length === 0 ? 'train-back-none' : 'train-back-later')));
    if (list.length === 0) none();
    else ask(trained, at, list, none);
  }

  /** @param {any} trained @returns {Node[]} who was appointed, and by whom */
  function appointments(trained) {
    const found = trained.counting.filter((/** @type {any} */ each) => each.kind === 'appointed');
    const lines = found.map((/** @type {any} */ { role, assessor, assessor_role: by, at }) => say('train-appointed', {
      role: trained.roleName(role), who: assessor, by: trained.roleName(by), day: at.slice(0, 10),
    }));
    return [el('p', {}, say('train-appoint-about')), ...lines.map((/** @type {string} */ each) => el('p', { 'data-train-appointed': true }, each))];
  }

  /** @param {any} trained @returns {HTMLElement} */
  function appointing(trained) {
    const { role } = trained.path;
    const title = say('train-appoint-as', { who: trained.person, role: trained.roleName(role) });
    return folded(title, () => [attest(trained, {
      name: 'appoint', confirm: title, act: (own) => trained.act({ kind: 'appointed', who: own.assessor, role, ...own }),
    }).form], { 'data-train-fold': 'appoint' });
  }

  return Object.freeze({ start, lackingFirst });
})();
