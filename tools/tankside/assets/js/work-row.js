'use strict';

var tankside = window.tankside || {};

/**
 * All that a line of the page is painted from.
 * @typedef {{line: Line, standing: Standing | undefined, events: CopyEvent[][], history: History}} Painted
 */

/* The lines of a working copy as they stand on the page. A step shows its place-keeping mark with the word beside it, and
   below it what was done, by whom and when; what was corrected stays to be read, struck through. */
tankside.workRow = (function () {
  const { el, say, mark, button } = tankside.dom;
  const { STATES, said, signed } = tankside.workSaid;
  const { latest } = tankside.copyState;
  const { dayOf } = tankside.workPieces;

  /** @type {Object<string, string>} */
  const SIGNALS = {
    danger: 'signal-danger', warning: 'signal-warning', caution: 'signal-caution', notice: 'signal-notice',
  };
  const MARKS = '../tankside/marks/';
  const SIGNS = '../tankside/signs/';
  const PICTURES = '../pictures/';

  /** @type {Object<string, (view: any, painted: Painted) => Node>} */
  const FORMS = {
    part: (view, { line }) => part(view, line.entry, line.part),
    section: (view, { line }) => section(view, line),
    caution: (view, { line }) => caution(view, line.entry, line.part),
    note: (view, { line }) => el('p.note', {}, el('b', {}, say('note')), ': ', view.words(line.entry.words, line.part)),
    answer: (view, painted) => answer(view, painted),
    step: (view, painted) => step(view, painted),
    question: (view, painted) => step(view, painted),
    sent: (view, painted) => step(view, painted),
  };

  /** @param {any} view @param {any} entry @param {number} place what stands before the steps of a part */
  function part(view, { title, why, wear = [], needs = [] }, place) {
    const isAlone = view.shown.parts.length === 1;
    return el('div.part', { 'data-part-head': place },
      isAlone ? null : el('h2', {}, title),
      why ? el('p', {}, why) : null,
      wear.length === 0 ? null : el('div.part-wear', {}, el('p.label', {}, say('wear')),
        el('ul', {}, wear.map((/** @type {any} */ each) => el('li', {},
          el('img', { src: `${SIGNS}${each.sign}.svg`, alt: '', width: 48, height: 48 }), el('span', {}, each.name))))),
      needs.length === 0 ? null : el('p', {}, el('b', {}, say('needs')), ': ', needs.join('; ')));
  }

  /** @param {any} view @param {Line} line */
  function section({ shown }, { entry, isSentTo }) {
    const title = entry.title || '';
    if (title === '') return el('div', {});
    const only = isSentTo ? el('span.sent-to', {}, say('work-section-sent-to')) : null;
    const heading = shown.parts.length === 1 ? 'h2' : 'h3';
    return el('div.section', { 'data-section': entry.name }, el(heading, {}, title), only);
  }

  /** @param {any} view @param {any} entry @param {number} place */
  function caution(view, { kind, words, details = [] }, place) {
    const alert = kind === 'notice' ? null
      : el('img', { src: `${MARKS}safety-alert.svg`, alt: say('alt-alert'), width: 32, height: 32 });
    return el(`div.caution.caution-${kind}`, { role: 'note', 'aria-label': say(SIGNALS[kind]) },
      el('p.signal', {}, alert, el('span', {}, say(SIGNALS[kind]))),
      el('p.hazard', {}, view.words(words, place)),
      details.map((/** @type {any} */ each) => detail(view, each, place)));
  }

  /** @param {any} view @param {any} one @param {number} place */
  function detail(view, { label, words }, place) {
    return el('p.detail', {}, el('b', {}, label), ': ', view.words(words, place));
  }

  /** @param {any} view @param {Painted} painted an answer of a choice, and whether it was the one */
  function answer(view, { line, standing }) {
    const { letter, answer: words, go_to: goTo } = line.entry;
    const isOut = standing !== undefined && standing.isOffTheWay;
    return el('p.answer', { 'data-answer': line.key, 'data-off': isOut }, el('b', {}, letter), ' ', view.words(words, line.part),
      goTo ? [': ', ...view.words(goTo, line.part)] : '', isOut ? el('span.off', {}, say('work-answer-not-taken')) : '');
  }

  /** @param {any} view @param {Painted} painted */
  function step(view, painted) {
    const { line } = painted;
    const standing = /** @type {Standing} */ (painted.standing);
    const { state, isNow, isMarkable, isOffTheWay } = standing;
    const [drawn, word] = STATES[state];
    const name = line.form === 'sent' ? line.key : line.entry.name;
    const made = el(`div.row.depth-${Math.min(line.depth, 3)}`, {
      role: 'group',
      'aria-label': `${titleOf(view, line)}. ${say(isOffTheWay ? 'work-state-off' : word)}`,
      'aria-current': isNow ? 'step' : null,
      'data-row': line.key, 'data-step': name, 'data-part': line.part, 'data-state': state,
      'data-kind': line.form === 'step' ? line.entry.kind : line.form,
      'data-now': isNow, 'data-markable': isMarkable, 'data-off': isOffTheWay,
    },
    el('div.row-place', {},
      isOffTheWay ? null : mark(drawn),
      el('span.row-state', { 'data-state-word': true }, say(isOffTheWay ? 'work-state-off' : word))),
    el('div.row-text', {}, isNow ? el('p.row-call', {}, mark('arrow-right'), say('work-now')) : null,
      texts(view, line), past(view, painted, standing)),
    el('div.row-presses', { 'data-presses': true }),
    more(view, line, standing));
    return made;
  }

  /** @param {any} view @param {Line} line what a step is called in one line */
  function titleOf(view, line) {
    if (line.form === 'sent') return say('work-sent-title');
    const words = line.entry.words.map((/** @type {Run} */ { text }) => text).join('');
    return say(line.form === 'question' ? 'work-title-question' : 'work-title', { number: line.entry.number, words });
  }

  /** @param {any} view @param {Line} line */
  function texts(view, line) {
    const { form, entry, part: place } = line;
    if (form === 'sent') return [];
    if (form === 'question') {
      return [el('p.action', {}, el('span.number', {}, entry.number), ' ', say('work-question')), detail(view, entry.details[0], place)];
    }
    // Due times are kept by the timer, and who looked by the row: both are blanks to be filled in on paper.
    const details = (entry.details || []).slice(entry.kind === 'wait' ? 1 : 0);
    return [
      el('p.action', {}, el('span.number', {}, entry.number), ' ', view.words(entry.words, place)),
      ...details.map((/** @type {any} */ each) => detail(view, each, place)),
      entry.picture ? el('img.picture', { src: `${PICTURES}${entry.picture}`, alt: entry.picture_says || '' }) : null,
    ].filter((each) => each !== null);
  }

  /** @param {any} view @param {Painted} painted @param {Standing} standing what was done, pass by pass */
  function past(view, { events }, { current, earlier }) {
    const passes = earlier.map((place, at) => el('div.pass', { 'data-pass': at + 1 },
      el('p', {}, mark(STATES[view.copy.trail[place].state][0]), el('b', {}, say('work-pass', { number: at + 1 }))),
      (events[place] || []).map((event) => entry(view, event, view.copy.trail[place]))));
    const here = current === null ? [] : (events[current] || []).map((event) => entry(view, event, view.copy.trail[current]));
    return el('div.row-past', {}, passes, here);
  }

  /**
   * Return what an event says below its step; what was corrected is struck through, and stays to be read.
   * @param {any} view
   * @param {CopyEvent} event
   * @param {Visit} visit
   */
  function entry(view, event, visit) {
    const { copy } = view;
    const isStruck = copy.corrected.has(event.seq);
    const words = `${signed(copy, event)} ${said(view, event, visit)}`;
    const isBad = event.inside === false || event.kind === 'alone';
    return el('p.said', { 'data-event': event.seq, 'data-kind': event.kind, 'data-struck': isStruck, 'data-bad': isBad },
      isStruck ? el('s', {}, words) : words);
  }

  /** @param {any} view @param {Line} line @param {Standing} standing */
  function more(view, line, { current, isOffTheWay }) {
    if (view.copy.events.length === 0 || isOffTheWay) return null;
    return button(say('work-more'), () => view.open({ name: 'aside', place: current, key: line.key }), {
      class: 'row-more', 'data-more': line.key, 'aria-label': say('work-more-about', { title: titleOf(view, line) }),
    });
  }

  /**
   * Return a line of the page.
   * @param {any} view
   * @param {Painted} painted
   * @returns {any}
   */
  function lineElement(view, painted) {
    return FORMS[painted.line.form](view, painted);
  }

  /**
   * Return what a line is painted from, as a text: while it stays the same, the element on the page stays, too.
   * @param {any} view
   * @param {Painted} painted
   */
  function signature(view, { line, standing, events }) {
    if (standing === undefined) return line.key;
    const { copy } = view;
    const places = [...standing.earlier, ...(standing.current === null ? [] : [standing.current])];
    const told = places.map((place) => (events[place] || []).map(({ seq }) => [seq, latest(copy, seq).seq]));
    // At midnight an instrument has to be looked at again.
    const own = standing.isMarkable
      ? [[...copy.people], view.worker, [...copy.checked], dayOf(view), tankside.workPaper.turned(view)] : [];
    const rest = [own, view.reading, copy.ended];
    const visit = standing.current === null ? null : copy.trail[standing.current];
    const open = visit === null ? '' : `${visit.exit} ${visit.isInside} ${visit.isLabelled} ${visit.doer}`;
    return JSON.stringify([line.key, standing, told, open, rest]);
  }

  return Object.freeze({ lineElement, signature, caution, titleOf, entry });
})();
