'use strict';

var tankside = window.tankside || {};

/* Adding to a tank: what and where, the label, how much, in this order; each part is locked until the one before is done. */
tankside.workAdd = (function () {
  const { el, say, button } = tankside.dom;
  const { keypad, unitText } = tankside.workKeys;
  const { drafts, settled, hasComma } = tankside.workTyping;
  const { partOf, stepOf, labelOf, needsSecond } = tankside.copyState;
  const { adding, verdict, apart, together, pour, shownText, lastLook } = tankside.workFigures;
  const { panel, entered, stopped, dayOf, roleName } = tankside.workPieces;
  const { correction, allowing, struck } = tankside.workWays;
  const { gauge } = tankside.workGauge;
  const { labelPart, nameOf } = tankside.workDrum;

  /**
   * Return the form of a step that adds something.
   * @param {any} view
   * @param {Visit} visit
   * @returns {HTMLElement}
   */
  function add(view, visit) {
    const state = adding(view.copy, visit);
    const material = nameOf(view, stepOf(view.copy, visit).material);
    const found = [label(view, visit), amount(view, visit, state), second(view, visit)].filter((each) => each !== null);
    const parts = /** @type {FormPart[]} */ (found);
    const made = panel(view, visit, { kind: 'add', label: say('work-add', { material }), parts });
    made.prepend(head(view, visit, material));
    return made;
  }

  /** @param {any} view @param {Visit} visit @param {string} material what goes where, to be read from arm's length */
  function head(view, visit, material) {
    const step = stepOf(view.copy, visit);
    const { equipment } = partOf(view.copy, visit).edition;
    const named = (/** @type {string} */ tag) => `${tag}: ${(equipment[tag] || { name: tag }).name}`;
    return el('header.work-add-head', {},
      el('p.work-add-what', {}, material),
      el('p.work-add-where', {}, say('work-add-into'), ' ', el('b', {}, named(step.to))),
      step.from === undefined ? null : el('p', {}, say('work-add-from', { from: named(step.from) })),
      step.with === undefined ? null : el('p', {}, say('work-add-with', { with: named(step.with) })));
  }

  /** @param {any} view @param {Visit} visit @returns {FormPart | null} none where water comes out of the wall */
  function label(view, visit) {
    if (labelOf(view.copy, visit) === '') return null;
    const title = say('work-look');
    if (!visit.isLabelled) return { title, state: 'now', body: [labelPart(view, visit)] };
    const { says, lot } = lastLook(view.copy, visit);
    return { title, state: 'done', says: say('work-look-done', { says: nameOf(view, says), lot }) };
  }

  /** @param {any} view @param {Visit} visit @param {any} state @returns {FormPart} */
  function amount(view, visit, state) {
    const title = say('work-pour');
    const isLocked = labelOf(view.copy, visit) !== '' && !visit.isLabelled;
    if (isLocked) return { title, state: 'later', says: shownText(state.wanted) };
    const isIn = visit.values.length > 0;
    const says = isIn ? say('work-pour-in', { total: shownText(state.total) }) : '';
    const found = isIn ? verdict(state.total, state) : 'below';
    if (found === 'over') return { title, state: 'now', says, body: tooMuch(view, visit, state) };
    if (found === 'enough') return { title, state: 'done', says };
    return { title, state: 'now', says, body: pouring(view, visit, state) };
  }

  /** @param {any} view @param {Visit} visit @returns {FormPart | null} the press itself stands at the step */
  function second(view, visit) {
    if (!needsSecond(view.copy, visit)) return null;
    const body = [el('p', {}, say('work-add-second')), correction(view, visit, adding(view.copy, visit).wanted.unit)];
    return { title: say('work-second'), state: visit.isInside ? 'now' : 'later', body };
  }

  /** @param {any} state what is wanted, in figures that can be read from the tank */
  function figures({ wanted, low, high }) {
    return el('dl.work-figures', {},
      el('div', {}, el('dt', {}, say('work-pour-wanted')), el('dd.work-wanted', { 'data-wanted': true }, shownText(wanted))),
      el('div', {}, el('dt', {}, say('work-pour-enough')),
        el('dd', { 'data-tolerance': true }, say('work-from-to', { low: shownText(low), high: shownText(high) }))));
  }

  /** @param {any} view @param {Visit} visit the tag of that with which it is measured */
  function tagOf(view, visit) {
    const { edition } = partOf(view.copy, visit);
    return edition.amounts[stepOf(view.copy, visit).amount.replace(/[<>]/g, '')].measure_in;
  }

  /** @param {any} view @param {Visit} visit with what it is measured, and whether that may be used */
  function scale(view, visit) {
    const tag = tagOf(view, visit);
    const { name = tag, due = '' } = view.around.instruments[tag] || {};
    if (due !== '' && due < dayOf(view)) {
      const role = roleName(view, partOf(view.copy, visit).approver);
      return el('p.work-missing', {}, say('work-pour-scale-over', { tag, due, role }));
    }
    return el('p.work-scale', {}, say('work-pour-scale', { tag, name }), due === '' ? '' : ` ${say('work-due', { due })}`);
  }

  /** @param {any} view @param {Visit} visit @param {any} state @returns {Array<Node | null>} */
  function pouring(view, visit, state) {
    const kept = drafts(view);
    const name = `pour-${view.copy.trail.indexOf(visit)}`;
    const symbol = state.wanted.unit.symbol;
    const number = () => settled(kept.get(name), 'number');
    const [bar, said] = [el('div', {}), el('p.work-said', { 'aria-live': 'polite', 'data-said': true })];
    const doubt = el('div.work-doubt', { hidden: true });
    const put = () => entered(view, name, 'pour', {
      visit: view.copy.trail.indexOf(visit), ...pour(view.copy, visit, number()),
    });
    const enter = button('', () => {
      const total = together(state, number());
      if (total === null) return undefined;
      if (verdict(total, state) !== 'over') return put();
      doubt.hidden = false;
      doubt.replaceChildren(
        el('p', {}, say('work-pour-doubt', {
          value: `${number()} ${unitText(symbol)}`, over: shownText(apart(total, state.wanted)), tag: tagOf(view, visit),
        })),
        button(say('work-pour-sure', { value: `${number()} ${unitText(symbol)}` }), put, { 'data-sure': true }));
      doubt.scrollIntoView({ block: 'nearest' });
      return undefined;
    }, { 'data-enter': 'pour' });
    const paint = () => {
      const total = together(state, number());
      doubt.hidden = true;
      bar.replaceChildren(gauge(state, total));
      said.textContent = sentence(state, total, kept.get(name));
      enter.disabled = total === null;
      enter.textContent = say('work-pour-enter', { value: `${number() || '0'} ${unitText(symbol)}` });
    };
    const pad = keypad(view, {
      name, kind: 'number', label: say('work-pour-ask'), unit: symbol, after: paint, done: () => enter.click(),
    });
    paint();
    return [
      el('div.work-entry', {},
        el('div.work-entry-about', {}, figures(state), scale(view, visit), list(view, visit), bar),
        pad, said, el('div.work-entry-do', {}, enter, doubt)),
      correction(view, visit, state.wanted.unit),
    ];
  }

  /** @param {any} state @param {Quantity | null} total @param {string} text what is said of what was typed */
  function sentence(state, total, text) {
    if (text.trim() !== '' && total === null) return say(hasComma(text) ? 'work-number-comma' : 'work-number-none');
    const sum = total || state.total;
    const gaps = { total: shownText(sum), apart: shownText(apart(sum, state.wanted)) };
    return say({ below: 'work-pour-below', enough: 'work-pour-is-enough', over: 'work-pour-over' }[verdict(sum, state)], gaps);
  }

  /** @param {any} view @param {Visit} visit what went in, pour by pour */
  function list(view, visit) {
    if (visit.values.length === 0) return null;
    const pours = visit.values.filter((seq) => !view.copy.corrected.has(seq)).map((seq) => view.copy.events[seq]);
    return el('div.work-pours', { 'data-pours': true },
      pours.map(({ value, unit, who }) => el('p', {}, say('work-pour-line', { value: `${value} ${unitText(unit)}`, who }))),
      struck(view, visit));
  }

  /** @param {any} view @param {Visit} visit @param {any} state @returns {Array<Node | null>} */
  function tooMuch(view, visit, state) {
    const over = shownText(apart(state.total, state.wanted));
    return [
      stopped(say('work-over', { over }), [
        say('work-over-is', { total: shownText(state.total), high: shownText(state.high) }),
        say('work-over-means'), say('work-over-do'),
      ]),
      list(view, visit), gauge(state, null), correction(view, visit, state.wanted.unit),
      allowing(view, visit, [say('work-over-reason-harmless'), say('work-over-reason-scaled')]),
    ];
  }

  return Object.freeze({ add });
})();

tankside.workForms = Object.freeze({ ...tankside.workForms, add: tankside.workAdd.add });
