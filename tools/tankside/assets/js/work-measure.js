'use strict';

var tankside = window.tankside || {};

/* Measuring: an instrument that is in calibration and was looked at today, then its reading, seen large before it is kept. */
tankside.workMeasure = (function () {
  const { el, say, button } = tankside.dom;
  const { keypad, unitText } = tankside.workKeys;
  const { drafts, settled, hasComma } = tankside.workTyping;
  const { partOf, stepOf, needsSecond } = tankside.copyState;
  const { measuring, reading, shownText, valuesOf } = tankside.workFigures;
  const { panel, bringUp, entered, stopped, dayOf, roleName } = tankside.workPieces;
  const { correction, struck, typingOf, valueText } = tankside.workWays;

  /**
   * Return the form of a step that reads a value.
   * @param {any} view
   * @param {Visit} visit
   * @returns {HTMLElement}
   */
  function measure(view, visit) {
    const parts = [instrumentPart(view, visit), valuePart(view, visit)];
    if (needsSecond(view.copy, visit)) {
      const body = [el('p', {}, say('work-measure-second')), wrongly(view, visit)];
      parts.push({ title: say('work-second'), state: visit.isInside ? 'now' : 'later', body });
    }
    return panel(view, visit, { kind: 'measure', label: say('work-measure'), parts });
  }

  /** @param {any} view @param {Visit} visit */
  function instrumentOf(view, visit) {
    const tag = stepOf(view.copy, visit).instrument;
    return { tag, ...(view.around.instruments[tag] || { name: tag, due: '' }) };
  }

  /** @param {any} view @param {Visit} visit @returns {FormPart} */
  function instrumentPart(view, visit) {
    const { tag, name, due } = instrumentOf(view, visit);
    const says = due === '' ? say('work-due-none') : say('work-due', { due });
    const title = say('work-instrument', { tag, name });
    if (visit.values.length > 0) return { title, state: 'done', says };
    if (due !== '' && due < dayOf(view)) return { title, state: 'now', body: [outOfCalibration(view, visit)] };
    if (view.copy.checked.get(tag) === dayOf(view)) return { title, state: 'done', says: `${says} ${say('work-checked')}` };
    return { title, state: 'now', says, body: checking(view, visit) };
  }

  /** @param {any} view @param {Visit} visit */
  function outOfCalibration(view, visit) {
    const { tag, due } = instrumentOf(view, visit);
    const role = roleName(view, partOf(view.copy, visit).approver);
    return stopped(say('work-due-over', { tag, due }), [
      say('work-due-over-no-other'), say('work-due-over-do', { role }), say('work-due-over-then', { tag }),
    ]);
  }

  /** @param {any} view @param {Visit} visit once a day a working copy @returns {Node[]} */
  function checking(view, visit) {
    const { tag, due } = instrumentOf(view, visit);
    const role = roleName(view, partOf(view.copy, visit).approver);
    const name = `unsure-${tag}`;
    const wrong = stopped(say('work-check-now', { tag }), [say('work-check-how', { tag }), say('work-check-wrong', { tag, role })]);
    wrong.hidden = !drafts(view).get(name, false);
    return [
      el('p.work-label', {}, say('work-check-ask', { tag })),
      el('div.work-presses', {},
        button(say('work-check-yes', { tag }), () => entered(view, name, 'checked', { instrument: tag, due }), {
          'data-checked': true,
        }),
        button(say('work-check-no'), () => {
          drafts(view).set(name, true);
          wrong.hidden = false;
        }, { 'data-unsure': true })),
      wrong,
    ];
  }

  /** @param {any} view @param {Visit} visit @returns {FormPart} */
  function valuePart(view, visit) {
    const title = say('work-reading');
    const [last] = valuesOf(view.copy, visit).slice(-1);
    if (last !== undefined && visit.isInside) {
      return { title, state: 'done', says: say('work-reading-inside', { value: valueText(last.event) }) };
    }
    if (last !== undefined) return { title, state: 'now', says: valueText(last.event), body: outside(view, visit, last.event) };
    const isReady = instrumentPart(view, visit).state === 'done';
    if (!isReady) return { title, state: 'later', says: limitsText(view, visit) };
    return { title, state: 'now', body: asking(view, visit) };
  }

  /** @param {any} view @param {Visit} visit @returns {string} */
  function limitsText(view, visit) {
    const { low, high } = measuring(view.copy, visit);
    if (low === null) return say('work-limit-high', { high: shownText(/** @type {Quantity} */ (high)) });
    if (high === null) return say('work-limit-low', { low: shownText(low) });
    return say('work-from-to', { low: shownText(low), high: shownText(high) });
  }

  /** @param {any} view @param {Visit} visit */
  function wrongly(view, visit) {
    return correction(view, visit, measuring(view.copy, visit).unit);
  }

  /** @param {any} view @param {Visit} visit @param {any} event what follows stands at the step: the work has stopped */
  function outside(view, visit, event) {
    return [
      stopped(say('work-read-out', { value: valueText(event) }), [
        say('work-read-out-limits', { limits: limitsText(view, visit) }), say('work-read-out-do'),
      ]),
      el('div', {}, struck(view, visit)), wrongly(view, visit),
    ];
  }

  /** @param {any} view @param {Visit} visit @returns {Node[]} */
  function asking(view, visit) {
    const { unit } = measuring(view.copy, visit);
    const [kind, place] = [typingOf(unit), view.copy.trail.indexOf(visit)];
    const kept = drafts(view);
    const name = `read-${place}`;
    const number = () => settled(kept.get(name), kind);
    const said = el('p.work-said', { 'aria-live': 'polite', 'data-said': true });
    const seen = el('div.work-seen', { hidden: true });
    // Enter that is still held down from typing must not confirm what nobody has looked at yet.
    seen.addEventListener('keydown', (/** @type {KeyboardEvent} */ event) => { if (event.repeat) event.preventDefault(); });
    const enter = button(say('work-reading-look'), () => show(), { 'data-enter': 'read' });
    const pad = keypad(view, {
      name, kind, label: say('work-reading-ask'), unit: unit.symbol, after: () => paint(), done: () => enter.click(),
    });
    const typing = el('div.work-entry', {},
      el('div.work-entry-about', {},
        el('p', {}, say('work-limits')), el('p.work-limits', { 'data-limits': true }, limitsText(view, visit))),
      pad, said, el('div.work-entry-do', {}, enter));
    const paint = () => {
      const text = kept.get(name).trim();
      enter.disabled = number() === '';
      const isNone = text !== '' && number() === '';
      said.textContent = isNone ? say(hasComma(text) ? 'work-number-comma' : 'work-number-none') : '';
    };
    const show = () => {
      if (number() === '') return;
      seen.replaceChildren(...confirming(view, visit, number(), () => {
        const { tag, due } = instrumentOf(view, visit);
        return entered(view, name, 'read', { visit: place, ...reading(view.copy, visit, number()), instrument: tag, due });
      }, () => turn(false)));
      turn(true);
    };
    const turn = (/** @type {boolean} */ isSeen) => {
      kept.set(`${name}-seen`, isSeen);
      [seen.hidden, typing.hidden] = [!isSeen, isSeen];
      const next = /** @type {HTMLElement} */ ((isSeen ? seen : typing).querySelector(isSeen ? 'button' : 'input'));
      if (!next.isConnected) return;
      next.focus({ preventScroll: true });
      bringUp(next);
    };
    paint();
    if (kept.get(`${name}-seen`, false)) show();
    return [typing, seen];
  }

  /**
   * Return the value as it is seen before it is kept, so that a slip of the finger is noticed.
   * @param {any} view
   * @param {Visit} visit
   * @param {string} number
   * @param {() => any} keep
   * @param {() => void} again
   * @returns {Node[]}
   */
  function confirming(view, visit, number, keep, again) {
    const found = /** @type {{unit: string, inside: boolean}} */ (reading(view.copy, visit, number));
    const value = `${number} ${unitText(found.unit)}`;
    return [
      el('p.work-seen-value', { 'data-seen': true }, value),
      el('p.work-said', { 'data-verdict': found.inside ? 'inside' : 'outside' },
        say(found.inside ? 'work-reading-is-inside' : 'work-reading-is-outside', { limits: limitsText(view, visit) })),
      el('div.work-presses', {},
        button(say('work-reading-keep', { value }), keep, { 'data-keep': true }),
        button(say('work-reading-again'), again, { 'data-again': true })),
    ];
  }

  return Object.freeze({ measure });
})();

tankside.workForms = Object.freeze({ ...tankside.workForms, measure: tankside.workMeasure.measure });
