'use strict';

var tankside = window.tankside || {};

/* Taking over a record that was written on paper: every entry carries the serial of the sheet and the time that stands
   there. Each line has a time of its own, which is typed or said to be that of the line before. */
tankside.workPaper = (function () {
  const { el, say, button } = tankside.dom;
  const { keypad } = tankside.workKeys;
  const { drafts, settled } = tankside.workTyping;
  const { timeText } = tankside.copyDevice;
  const { fold, goOnAt } = tankside.workPieces;

  const DAY = /^\d{4}-\d\d-\d\d$/;

  /**
   * Return a day and a time of day as an event has them, empty when one of them is none.
   * @param {string} day
   * @param {string} time as it was typed
   * @returns {string}
   */
  function moment(day, time) {
    const settledTime = settled(time, 'time');
    if (!DAY.test(day) || settledTime === '') return '';
    const found = new Date(`${day}T${settledTime}:00`);
    return Number.isNaN(found.getTime()) ? '' : timeText(found);
  }

  /**
   * Return what is odd about the time of a line: it lies before the line above, or has not come yet.
   * @param {string} at
   * @param {string} before the time of the line above, empty when it is the first
   * @param {string} now
   * @returns {'' | 'backwards' | 'future'}
   */
  function oddity(at, before, now) {
    if (Date.parse(at) > Date.parse(now)) return 'future';
    return before !== '' && Date.parse(at) < Date.parse(before) ? 'backwards' : '';
  }

  /**
   * Return which line of the sheet is taken over: it is another one once a step is done, or a wait has begun.
   * @param {Copy} copy
   */
  function lineAt({ trail, events }) {
    const done = trail.filter(({ exit }) => exit !== null).length;
    return `${done} ${events.filter(({ kind }) => kind === 'begin').length}`;
  }

  /** @param {any} view @returns {string} the serial of the sheet that is taken over, empty when none is */
  function serialOf(view) {
    const { events, ended } = view.copy;
    if (view.paper.paper !== undefined || drafts(view).get('paper-left', false)) return view.paper.paper || '';
    const last = events[events.length - 1];
    // After the page was loaded again it goes on with the sheet, until somebody says otherwise.
    return last === undefined || ended !== '' ? '' : last.paper || '';
  }

  /**
   * Ask for the time anew at each new line of the sheet; return what the band is painted from.
   * @param {any} view
   * @returns {[string, string, string]} serial of the sheet, the time of its line, which line that is
   */
  function turned(view) {
    const [serial, kept, line] = [serialOf(view), drafts(view), lineAt(view.copy)];
    if (serial === '' || view.copy.ended !== '') return ['', '', ''];
    if (view.paper.paper === undefined || kept.get('paper-line') !== line) {
      view.paper = { paper: serial, at: '' };
      kept.set('paper-line', line);
      kept.set('paper-time', '');
    }
    return [serial, view.paper.at, line];
  }

  /**
   * Return the band that says which sheet is taken over, and the way to go on without it; null when none is.
   * @param {any} view
   * @returns {HTMLElement | null}
   */
  function band(view) {
    const [serial] = turned(view);
    if (serial === '') return null;
    return el('section.work-paper', { 'data-sheet': serial, 'aria-label': say('work-paper') },
      el('p.work-paper-sheet', {}, say('work-paper-sheet', { serial: grouped(serial) })),
      fold(view, 'paper-leave', say('work-paper-leave'), [
        el('p', {}, say('work-paper-leave-about')),
        button(say('work-paper-leave-now'), () => leave(view), { 'data-leave-paper': true }),
      ]));
  }

  /**
   * Return the time of the line that is taken over now, or what asks for it; null when no sheet is taken over.
   * @param {any} view
   * @returns {HTMLElement | null}
   */
  function lineTime(view) {
    const [serial, at] = turned(view);
    if (serial === '') return null;
    return el('section.work-paper', { 'data-line-time': at, 'aria-label': say('work-paper-line') },
      el('p.work-paper-sheet', {}, say('work-paper-sheet', { serial: grouped(serial) })),
      at === '' ? asking(view) : given(view));
  }

  /** @param {any} view go on without the sheet */
  function leave(view) {
    drafts(view).set('paper-left', true);
    view.paper = {};
    view.work.changed();
  }

  /** @param {string} serial as it is printed */
  function grouped(serial) {
    return tankside.serial === undefined ? serial : tankside.serial.grouped(serial);
  }

  /** @param {any} view */
  function lastTime(view) {
    const { events } = view.copy;
    return events.length === 0 ? '' : events[events.length - 1].at;
  }

  /** @param {any} view @param {string} at */
  function take(view, at) {
    view.paper = { ...view.paper, at };
    view.work.changed();
    goOnAt('[data-now] [data-presses]');
  }

  /** @param {any} view the time of the line is known */
  function given(view) {
    const { at } = view.paper;
    return el('p', {}, say('work-paper-at', { day: at.slice(0, 10), time: at.slice(11, 16) }), ' ',
      button(say('work-paper-other-time'), () => take(view, ''), { 'data-other-time': true }));
  }

  /** @param {any} view */
  function asking(view) {
    const kept = drafts(view);
    const before = lastTime(view);
    if (kept.get('paper-day') === '') kept.set('paper-day', before.slice(0, 10));
    const warning = el('div.work-said', { 'aria-live': 'polite' });
    const typed = () => moment(kept.get('paper-day'), kept.get('paper-time'));
    const set = button(say('work-paper-set'), () => {
      const at = typed();
      const odd = oddity(at, before, tankside.copyDevice.now().at);
      if (odd === '') take(view, at);
      else warning.replaceChildren(...warned(view, odd, at));
    }, { 'data-set-time': true });
    const paint = () => {
      set.disabled = typed() === '';
      warning.replaceChildren();
    };
    const day = dayField(view, 'paper-day', paint);
    const pad = keypad(view, {
      name: 'paper-time', kind: 'time', label: say('work-paper-time'), after: paint, done: () => set.click(),
    });
    paint();
    const same = before === '' ? null : button(say('work-paper-same', { time: before.slice(11, 16) }), () => take(view, before), {
      'data-same-time': true,
    });
    return el('div.work-entry', {}, el('div.work-entry-about', {}, day), pad, warning,
      el('div.work-entry-do', {}, el('div.work-presses', {}, set, same)));
  }

  /** @param {any} view @param {string} odd @param {string} at @returns {Node[]} */
  function warned(view, odd, at) {
    if (odd === 'future') return [el('p.work-missing', {}, say('work-paper-future'))];
    return [
      el('p.work-missing', {}, say('work-paper-backwards', { before: lastTime(view).slice(11, 16) })),
      button(say('work-paper-backwards-keep', { time: at.slice(11, 16) }), () => take(view, at), { 'data-backwards': true }),
    ];
  }

  /**
   * Return a field for a day.
   * @param {any} view
   * @param {string} name
   * @param {() => void} after
   */
  function dayField(view, name, after) {
    const kept = drafts(view);
    const field = el('input', { id: `typed-${name}`, 'data-typed': name, type: 'date' });
    field.value = kept.get(name);
    field.addEventListener('input', () => {
      kept.set(name, field.value);
      after();
    });
    return el('p.work-typed', {}, el('label', { for: field.id }, say('work-paper-day')), field);
  }

  /**
   * Return the fields of the start from a sheet: its serial, and when it was begun.
   * @param {any} view
   * @param {() => void} after
   */
  function startFields(view, after) {
    return el('div.work-paper-start', {},
      el('p', {}, say('work-paper-about')),
      keypad(view, { name: 'paper-serial', kind: 'code', label: say('work-paper-serial'), after }),
      dayField(view, 'paper-day', after),
      keypad(view, { name: 'paper-begun', kind: 'time', label: say('work-paper-begun'), after }));
  }

  /**
   * Return what a start from a sheet carries, or what is missing for it.
   * @param {any} view
   * @param {Object<string, string>} taken serials that were taken over on this device, with the copies that hold them
   * @returns {{own: {paper: string, at: string}, missing: string[]}}
   */
  function startFrom(view, taken) {
    const kept = drafts(view);
    const paper = tankside.serial.plain(kept.get('paper-serial'));
    const at = moment(kept.get('paper-day'), kept.get('paper-begun'));
    const fault = tankside.serial.fault(paper);
    const missing = [];
    if (fault !== '') missing.push(say(`work-paper-serial-${fault}`));
    else if (taken[paper] !== undefined) missing.push(say('work-paper-taken', { serial: grouped(paper) }));
    if (at === '') missing.push(say('work-paper-begun-missing'));
    else if (oddity(at, '', tankside.copyDevice.now().at) !== '') missing.push(say('work-paper-future'));
    return { own: { paper, at }, missing };
  }

  return Object.freeze({ turned, band, lineTime, startFields, startFrom, moment, oddity, lineAt });
})();
