'use strict';

var tankside = window.tankside || {};

/* What a step that may be done now offers: one big press, or one for each answer. Whatever is pressed, it is kept first
   and shown after. */
tankside.workNow = (function () {
  const { el, say, button } = tankside.dom;
  const { partOf, nodeOf, stepOf, isOpen, needsSecond, isReady } = tankside.copyState;
  const { timer } = tankside.workTimers;
  const { remaining, figures } = tankside.workClock;
  const { now } = tankside.copyDevice;
  const { others, release, sent } = tankside.workOthers;

  /** Steps that take their time: that one was begun may be marked, too. */
  const LONG = ['move', 'do', 'record'];
  /** @type {Object<string, string>} what a press says that nothing else has to be said about */
  const DONE = { check: 'work-press-looked', notify: 'work-press-told', record: 'work-press-written', repeat: 'work-press-begin' };
  /** @type {Object<string, string>} */
  const PASSES = { enough: 'work-press-enough', again: 'work-press-again', 'not enough': 'work-press-not-enough' };

  /**
   * Return what a step that may be done now offers.
   * @param {any} view
   * @param {Line} line
   * @param {Visit} visit
   * @returns {Array<Node>}
   */
  function presses(view, line, visit) {
    const time = visit === view.copy.trail.find(isOpen) ? tankside.workPaper.lineTime(view) : null;
    if (time === null) return offered(view, line, visit);
    // A line of a sheet that is taken over has its time first.
    return view.paper.at === '' ? [time] : [time, ...offered(view, line, visit)];
  }

  /** @param {any} view @param {Line} line @param {Visit} visit @returns {Array<Node>} */
  function offered(view, line, visit) {
    if (visit.node < 0) return sent(view, visit);
    const own = forms(view, visit);
    if (needsSecond(view.copy, visit) && isReady(visit)) return [...own, ...others(view, visit)];
    if (visit.kind === 'measure' && visit.values.length > 0 && !visit.isInside) return [...own, outside(view, visit)];
    if (own.length > 0) return own;
    if (visit.kind === 'hold') return release(view, visit);
    if (visit.kind === 'wait') return waiting(view, visit);
    const { exits } = nodeOf(view.copy, visit);
    // The last pass that is allowed may have one answer only, and still asks for it.
    return exits.length > 1 || exits[0].answer !== '' ? answers(view, line, visit) : plain(view, line, visit);
  }

  /** @param {any} view @param {Visit} visit the form of a step into which something is entered */
  function forms(view, visit) {
    const { workForms } = /** @type {any} */ (tankside);
    if (workForms === undefined || workForms[visit.kind] === undefined) return [];
    return [workForms[visit.kind](view, visit)];
  }

  /** @param {any} view @param {Visit} visit @param {any} [own] */
  function done(view, visit, own = {}) {
    return view.act('mark', { visit: view.copy.trail.indexOf(visit), ...own });
  }

  /** @param {any} view @param {Line} line @param {Visit} visit the whole row is the press */
  function plain(view, line, visit) {
    const field = visit.kind === 'record' ? written(view, visit) : null;
    const press = big(say(DONE[visit.kind] || 'work-press-done'), () => {
      const text = field === null ? '' : field.value.trim();
      return done(view, visit, text === '' ? {} : { text });
    }, { class: 'press press-row', 'aria-label': named(view, line, say(DONE[visit.kind] || 'work-press-done')) });
    return [press, ...begun(view, visit), ...(field === null ? [] : [labelled(field)])];
  }

  /** @param {any} view @param {Line} line @param {string} words what a press is called where it is heard and not seen */
  function named(view, line, words) {
    return `${words}: ${tankside.workRow.titleOf(view, line)}`;
  }

  /** @param {any} view @param {Visit} visit */
  function written(view, visit) {
    const place = view.copy.trail.indexOf(visit);
    const kept = tankside.workTyping.drafts(view);
    const field = el('textarea', { id: `written-${place}`, rows: 2, maxlength: 500, 'data-written': place });
    field.value = kept.get(`written-${place}`);
    field.addEventListener('input', () => kept.set(`written-${place}`, field.value));
    return field;
  }

  /** @param {any} field */
  function labelled(field) {
    return el('div.written', {}, el('label', { for: field.id }, say('work-written')), field);
  }

  /** @param {any} view @param {Visit} visit a press by which one marks that a long step was begun */
  function begun(view, visit) {
    if (!LONG.includes(visit.kind) || visit.state !== 'not started') return [];
    const begin = () => view.act('begin', { visit: view.copy.trail.indexOf(visit) });
    return [button(say('work-press-begun'), begin, { class: 'quiet', 'data-begin': true })];
  }

  /** @param {string} words @param {() => any} action @param {any} [attributes] */
  function big(words, action, attributes = {}) {
    return button(words, action, { class: 'press', 'data-press': true, ...attributes });
  }

  /** @param {any} view @param {Line} line @param {Visit} visit one press for each answer */
  function answers(view, line, visit) {
    const { exits } = nodeOf(view.copy, visit);
    return exits.map((exit) => {
      const words = answerText(visit, exit.answer);
      const goesTo = destination(view, visit, exit);
      const label = goesTo === '' ? [el('b', {}, words)] : [el('b', {}, words), el('span', {}, goesTo)];
      return button(label, () => done(view, visit, { answer: exit.answer }), {
        class: `press press-answer${exit.answer === 'no' ? ' press-no' : ''}`,
        'data-press': true, 'data-answer': exit.answer,
        'aria-label': named(view, line, goesTo === '' ? words : `${words}, ${goesTo}`),
      });
    });
  }

  /** @param {Visit} visit @param {string} answer */
  function answerText({ kind }, answer) {
    if (kind === 'question') return say(PASSES[answer]);
    if (kind === 'check') return say(answer === 'no' ? 'work-press-not' : 'work-press-so');
    return answer.charAt(0).toUpperCase() + answer.slice(1);
  }

  /**
   * Return where an answer leads, where that is not the next step of the same section; else an empty text.
   * @param {any} view
   * @param {Visit} visit
   * @param {CopyExit} exit
   */
  function destination({ copy, shown }, visit, { to, away }) {
    const { edition, nodes, sections } = partOf(copy, visit);
    if (away !== '') return say('work-to', { title: edition.procedures[away] || away });
    if (to === 'ends' || to === 'decides') return say('work-to-end');
    const section = sections.get(nodes[Number(to)].step);
    if (section === sections.get(visit.name)) return '';
    const found = shown.parts[visit.part].sections.find((/** @type {any} */ { name = '' }) => name === section);
    return found === undefined || !found.title ? '' : say('work-to', { title: found.title });
  }

  /** @param {any} view @param {Visit} visit the work stops until the procedure's own way is chosen */
  function outside(view, visit) {
    const exit = nodeOf(view.copy, visit).exits.find(({ answer }) => answer === 'outside');
    const goesTo = exit === undefined ? '' : destination(view, visit, exit);
    return big(say('work-press-outside', { to: goesTo }), () => view.act('take', { visit: view.copy.trail.indexOf(visit) }), {
      'data-take': true,
    });
  }

  /** @param {any} view @param {Visit} visit */
  function waiting(view, visit) {
    const place = view.copy.trail.indexOf(visit);
    if (visit.begun === null) {
      const { time } = stepOf(view.copy, visit);
      return [big(say('work-press-wait', { time }), () => view.act('begin', { visit: place }), { 'data-begin': true })];
    }
    const waited = () => {
      const left = Number(remaining(view.copy, visit, now()));
      if (left > 0) return view.refuse(say('work-too-early', { left: figures(left) }));
      return done(view, visit);
    };
    return [timer(view, visit), big(say('work-press-waited'), waited, { 'data-waited': true })];
  }

  return Object.freeze({ presses });
})();
