'use strict';

var tankside = window.tankside || {};

/* The steps on the page, painted line by line: only what has changed is made anew, so that nothing that is being typed or
   held is lost. The step to be done now is brought into view, unless somebody has scrolled away to read. */
tankside.workLines = (function () {
  const { el, say } = tankside.dom;
  const { isOpen, stepOf } = tankside.copyState;
  const { cautionsAgain } = tankside.workSteps;
  const { lineElement, signature, caution, entry } = tankside.workRow;
  const { presses } = tankside.workNow;
  const { numberOf } = tankside.workSaid;
  const { refused } = tankside.workView;

  const AGAIN = 'again';
  const GAP = 8;
  /** So much of a step is in view at least, where it is that high [px]. */
  const LEAST = 110;

  /** @type {Map<string, {element: HTMLElement, from: string}>} */
  const painted = new Map();
  let nowKey = '';
  /** how far the page was scrolled when the step to be done was shown [px] */
  let shownAt = -Infinity;

  /** @returns {HTMLElement} */
  function container() {
    return /** @type {HTMLElement} */ (document.querySelector('[data-steps]'));
  }

  /**
   * Paint all lines.
   * @param {any} view
   * @param {{lines: Line[], places: Map<string, Standing>, history: History}} state
   */
  function paint(view, { lines, places, history }) {
    const remarks = remarksOf(view, lines);
    const again = cautionsAgain(lines, places);
    const wanted = [];
    for (const line of lines) {
      const standing = places.get(line.key);
      if (standing !== undefined && standing.isNow && again.length > 0) {
        wanted.push(keep(AGAIN, again.map(({ key }) => key).join(), () => cautions(view, again)));
      }
      const painting = { line, standing, events: history.byPlace, history };
      const own = remarks.get(line.key) || [];
      const from = `${signature(view, painting)} ${own.map(({ seq }) => seq)}`;
      wanted.push(keep(line.key, from, () => whole(view, painting, own)));
    }
    arrange(wanted);
    shut(view);
  }

  /** @param {any} view @param {Line[]} again the cautions that cover what is done now, once more, right before it */
  function cautions(view, again) {
    return el('div.again', { 'data-cautions-again': true },
      again.map(({ entry: one, part }) => caution(view, one, part)));
  }

  /** @param {any} view @param {Painted} painting @param {CopyEvent[]} remarks */
  function whole(view, painting, remarks) {
    const made = lineElement(view, painting);
    const { line, standing } = painting;
    if (standing === undefined || line.form === 'answer') return made;
    made.querySelector('.row-past').append(...remarks.map((event) => entry(view, event, /** @type {any} */ (undefined))));
    if (standing.isMarkable && standing.current !== null) {
      made.querySelector('[data-presses]').append(...presses(view, line, view.copy.trail[standing.current]));
    }
    return made;
  }

  /** @param {any} view @param {Line[]} lines @returns {Map<string, CopyEvent[]>} notes and red-lines, by their step */
  function remarksOf({ copy, shown }, lines) {
    const found = new Map();
    for (const event of copy.events) {
      if (!['note', 'redline'].includes(event.kind) || !event.step) continue;
      const line = lines.find(({ form, entry: one, part }) => (
        form === 'step' && one.name === event.step && shown.parts[part].procedure === event.procedure));
      if (line === undefined) continue;
      if (!found.has(line.key)) found.set(line.key, []);
      found.get(line.key)?.push(event);
    }
    return found;
  }

  /** @param {string} key @param {string} from @param {() => HTMLElement} make @returns {[string, HTMLElement]} */
  function keep(key, from, make) {
    const before = painted.get(key);
    if (before !== undefined && before.from === from) return [key, before.element];
    const element = make();
    if (before !== undefined && before.element.isConnected) before.element.replaceWith(element);
    painted.set(key, { element, from });
    return [key, element];
  }

  /** @param {Array<[string, HTMLElement]>} wanted put them in order, moving as little as can be */
  function arrange(wanted) {
    const keys = new Set(wanted.map(([key]) => key));
    for (const [key, { element }] of [...painted]) {
      if (keys.has(key)) continue;
      element.remove();
      painted.delete(key);
    }
    let next = container().firstChild;
    for (const [, element] of wanted) {
      if (element === next) next = next.nextSibling;
      else container().insertBefore(element, next);
    }
  }

  /** @param {any} view what cannot be pressed now cannot be reached, either; it can still be read */
  function shut(view) {
    const isBlocked = view.hindrance !== '';
    for (const each of container().querySelectorAll('[data-presses]')) each.toggleAttribute('inert', isBlocked);
  }

  /** @returns {HTMLElement | null} */
  function nowRow() {
    return document.querySelector('[data-steps] [data-now], [data-now-end]');
  }

  /** @returns {[number, number]} the part of the window between head and foot [px] */
  function free() {
    const head = /** @type {Element} */ (document.querySelector('[data-top]')).getBoundingClientRect().bottom;
    const foot = /** @type {Element} */ (document.querySelector('[data-foot]')).getBoundingClientRect().top;
    return [Math.max(head, 0), foot];
  }

  /** How the page stands before it is painted anew. */
  function standing() {
    return { isInView: isInView(), hasFocus: container().contains(document.activeElement) };
  }

  /** @returns {boolean} whether something of the step to be done is in view */
  function isInView() {
    const row = nowRow();
    if (row === null) return true;
    const [top, bottom] = free();
    const box = row.getBoundingClientRect();
    return box.bottom > top + GAP && box.top < bottom - GAP;
  }

  /** @param {Element} row where the cautions and notes begin that stand right before it [px] */
  function topWithCautions(row) {
    let first = row;
    for (let each = row.previousElementSibling; each !== null && each.matches('.again, .caution, .note'); each = each.previousElementSibling) {
      first = each;
    }
    return first.getBoundingClientRect().top;
  }

  /**
   * Return how far to scroll so that a form is in view down to its press: what its step says stands at its head, too [px].
   * @param {Element} row
   * @param {[number, number]} free
   */
  function formMove(row, [top, bottom]) {
    const now = row.querySelector('.work-form .work-part-now');
    if (now === null) return -Infinity;
    const part = now.getBoundingClientRect();
    return Math.min(part.top - top - GAP, part.bottom - bottom + GAP);
  }

  /** Bring the step to be done into view, with as much of its cautions as there is room for. */
  function show() {
    const row = nowRow();
    if (row === null) return;
    const [top, bottom] = free();
    const own = row.getBoundingClientRect();
    // Its cautions come first; of the step so much is in view that it can be read and pressed.
    const first = topWithCautions(row);
    const wanted = first - top - GAP;
    const least = own.top + Math.min(own.height, LEAST) - bottom + GAP;
    const move = Math.max(wanted, least, first < own.top ? least : formMove(row, [top, bottom]));
    const isCalm = window.matchMedia('(prefers-reduced-motion: reduce)').matches;
    window.scrollBy({ top: move, behavior: isCalm ? 'auto' : 'smooth' });
    const furthest = document.documentElement.scrollHeight - window.innerHeight;
    shownAt = Math.min(Math.max(window.scrollY + (isCalm ? 0 : move), 0), furthest);
  }

  /** A picture has come: what stands around it has moved. Who has scrolled since is left alone. */
  function settle() {
    if (Math.abs(window.scrollY - shownAt) < GAP) show();
  }

  /** Nothing can be done now: whoever goes on is led to the step again. */
  function forget() {
    nowKey = '';
  }

  /**
   * Follow the step to be done: into view, and with the keyboard.
   * @param {string} key of its line
   * @param {{isInView: boolean, hasFocus: boolean}} before it was painted
   */
  function follow(key, before) {
    const [isOther, isFirst] = [key !== nowKey, nowKey === ''];
    nowKey = key;
    const row = nowRow();
    if (row === null) return;
    // Also when what was there has become shorter: a form that is filled in leaves the page where it was scrolled to.
    if (before.isInView && (isOther || !isInView()) || isOther && isFirst) show();
    const isLost = document.activeElement === document.body;
    // A form leads the keyboard on by itself while its step stays the same.
    if (!isOther && !(isLost && before.hasFocus && row.querySelector('[data-form]') === null)) return;
    if (!isLost && !container().contains(document.activeElement)) return;
    const press = row.querySelector(':is([data-presses] :is(button, a, input), [data-finish]):not([tabindex="-1"])');
    if (press !== null) /** @type {HTMLElement} */ (press).focus({ preventScroll: true });
  }

  /**
   * Return why a step cannot be marked now, empty when it can.
   * @param {any} view
   * @param {Standing} standing
   * @returns {string}
   */
  function whyNot(view, { isMarkable, state, current }) {
    if (view.hindrance !== '') return refused(view.hindrance);
    if (isMarkable) return '';
    const { copy } = view;
    if (current !== null && !isOpen(copy.trail[current]) && state !== 'not started') return say('work-why-done');
    const next = copy.trail.find(isOpen);
    if (next === undefined) return say('work-why-off');
    const number = numberOf(view, next);
    if (next.kind !== 'hold') return say(next.node < 0 ? 'work-why-sent' : 'work-why-later', { number });
    return say('work-why-hold', { number, role: view.roleName(stepOf(copy, next).released_by) });
  }

  return Object.freeze({ paint, standing, isInView, show, settle, follow, forget, whyNot });
})();
