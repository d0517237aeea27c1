'use strict';

var tankside = window.tankside || {};

/** @typedef {{title: string, lines: Array<{said: string, text: string}>}} Marked */

/* Red-lines of this device, by procedure: what people marked on it while they worked. */
tankside.workRedlines = (function () {
  const { el, say } = tankside.dom;
  const { stepOf, partWith, moment } = tankside.workShown;

  /** @type {Object<string, string>} */
  const ABOUT = {
    wrong: 'work-redline-wrong', 'could-not': 'work-redline-could-not', 'near-miss': 'work-redline-near-miss',
  };

  /**
   * Return the red-lines of all copies.
   * @param {any} store
   * @param {CopyHead[]} heads
   * @param {(hash: string) => Promise<any>} shownOf
   * @returns {Promise<Marked[]>} by the title of the procedure, in alphabetical order; the last one first
   */
  async function marked(store, heads, shownOf) {
    /** @type {Map<string, Array<{said: string, text: string, at: string}>>} */
    const found = new Map();
    for (const head of heads.filter(({ redlines }) => redlines > 0)) {
      const shown = await shownOf(head.shown);
      const events = await store.events(head.copy);
      for (const event of events.filter((/** @type {CopyEvent} */ { kind }) => kind === 'redline')) {
        const { title, line } = told(shown, { ...event, text: explained(events, event) });
        found.set(title, [...found.get(title) || [], line]);
      }
    }
    const inOrder = [...found].sort(([one], [other]) => (one < other ? -1 : 1));
    return inOrder.map(([title, lines]) => ({ title, lines: lines.sort((one, other) => Date.parse(other.at) - Date.parse(one.at)) }));
  }

  /**
   * Return the words of a red-line: it is marked first, and then explained by notes at the same step.
   * @param {CopyEvent[]} events
   * @param {CopyEvent} redline
   */
  function explained(events, redline) {
    const later = events.slice(redline.seq + 1)
      .filter(({ procedure, step }) => procedure === redline.procedure && step === redline.step);
    const next = later.findIndex(({ kind }) => kind === 'redline');
    const own = next < 0 ? later : later.slice(0, next);
    const notes = own.filter(({ kind }) => kind === 'note').map(({ text }) => text);
    return [redline.text, ...notes].filter(Boolean).join(' ');
  }

  /** @param {any} shown @param {CopyEvent} event */
  function told(shown, { at, who, about, text = '', step = '', procedure = '' }) {
    const part = partWith(shown, procedure, step);
    const number = part === undefined ? '' : /** @type {StepShown} */ (stepOf(part, step)).number;
    const gaps = { time: moment(at), who, number, about: ABOUT[about] === undefined ? about : say(ABOUT[about]) };
    const said = say(number === '' ? 'work-list-redline' : 'work-list-redline-step', gaps);
    return { title: part === undefined ? shown.title : part.title, line: { said, text, at } };
  }

  /**
   * @param {Marked[]} procedures
   * @returns {HTMLElement}
   */
  function list(procedures) {
    if (procedures.length === 0) return el('p', {}, say('work-list-no-redlines'));
    return el('div', {}, procedures.map(({ title, lines }) => el(
      'section', {}, el('h3', {}, title),
      el('ul', {}, lines.map(({ said, text }) => el('li', {}, el('b', {}, said), text === '' ? '' : ` ${text}`))))));
  }

  return Object.freeze({ marked, list });
})();
