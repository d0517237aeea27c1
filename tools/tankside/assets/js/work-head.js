'use strict';

var tankside = window.tankside || {};

/* The head of a working copy, in view at all times: what it is, where one is in it, how to stop safely, who works, and
   whether it is kept. It is painted part by part, so that a press is not lost under the finger. */
tankside.workHead = (function () {
  const { el, say, button } = tankside.dom;
  const { whoWorks } = tankside.workPeople;
  const { line } = tankside.workKept;
  const { sectionAt } = tankside.workSteps;

  const SHORT = 8;
  /** @type {WeakMap<Element, string>} */
  const painted = new WeakMap();

  /**
   * Fill the head of the page.
   * @param {any} view
   * @param {{lines: Line[], now: Line | undefined}} at
   */
  function paint(view, { lines, now }) {
    const { shown, work, copy } = view;
    const place = now === undefined ? partAtEnd(view) : now.part;
    const { lot = '', product = '' } = copy.events[0] || {};
    put('about', [shown.hash, lot, product], () => [about(view, lot)]);
    put('section', [sectionAt(lines, now), copy.isThrough, copy.ended, work.script.isLoose], () => [where(view, lines, now)]);
    put('stop', [place, copy.events.length > 0 && copy.ended === ''], () => [stop(view, place)]);
    put('people', [[...copy.people], view.worker, copy.ended], () => (copy.ended === '' ? [whoWorks(view)] : []));
    put('kept', [line(view).textContent, work.trouble], () => [line(view)]);
  }

  /** @param {any} view @returns {number} the part at work when nothing is to be done */
  function partAtEnd({ copy }) {
    return copy.trail.length === 0 ? 0 : copy.trail[copy.trail.length - 1].part;
  }

  /**
   * Paint a part of the head when it has changed.
   * @param {string} name
   * @param {any} from what it is painted from
   * @param {() => Node[]} make
   */
  function put(name, from, make) {
    const place = /** @type {Element} */ (document.querySelector(`[data-head-${name}]`));
    const key = JSON.stringify(from);
    if (painted.get(place) === key) return;
    painted.set(place, key);
    const { tile = '' } = place.contains(document.activeElement) ? /** @type {HTMLElement} */ (document.activeElement).dataset : {};
    place.replaceChildren(...make());
    // Whoever chose a person with a keyboard stays there.
    if (tile !== '') /** @type {any} */ (place.querySelector(`[data-tile="${CSS.escape(tile)}"]`))?.focus({ preventScroll: true });
  }

  /** @param {any} view @param {string} lot */
  function about({ shown }, lot) {
    const found = [
      lot === '' ? '' : say('work-head-lot', { lot }),
      say('work-head-revision', { revision: shown.revision, hash: shown.hash.slice(0, SHORT) }),
    ];
    return el('p', {}, found.filter((each) => each !== '').flatMap((each) => [el('span.whole', {}, each), ' ']));
  }

  /** @param {any} view @param {Line[]} lines @param {Line | undefined} now */
  function where({ copy, work }, lines, now) {
    const { at, of, title, isSentTo } = sectionAt(lines, now);
    const followed = say(work.script.isLoose ? 'work-head-loose' : 'work-head-in-order');
    if (copy.ended !== '') return el('p', {}, el('b', {}, say(copy.ended === 'finish' ? 'work-head-finished' : 'work-head-abandoned')));
    if (copy.isThrough) return el('p', {}, el('b', {}, say('work-head-through')));
    const section = at > 0 ? say('work-head-section', { at, of, title }) : say('work-head-sent', { title });
    return el('p', {}, title === '' && !isSentTo ? null : el('b', {}, section), ' ', el('span.followed', {}, followed));
  }

  /** @param {any} view @param {number} place */
  function stop(view, place) {
    const says = el('p', {}, el('span.label', {}, say('stop-safely')), ': ', view.words(view.shown.parts[place].stop_safely, place));
    if (view.copy.events.length === 0 || view.copy.ended !== '') return says;
    return el('div.stop', {}, says, button(say('work-stopped'), () => view.act('stop'), { 'data-stop': true }));
  }

  return Object.freeze({ paint });
})();
