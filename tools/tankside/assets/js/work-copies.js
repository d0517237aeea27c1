'use strict';

var tankside = window.tankside || {};

/**
 * What the list needs beside the heads: how steps are shown, which copies came by a file, what this book carries out.
 * @typedef {{
 *   shown: Map<string, any>, fromFile: Set<string>, carried: string[],
 *   save: (head: CopyHead) => void, take: (head: CopyHead) => void
 * }} Around
 */

/* The working copies of this device as a list: how each stands, whether a file has all of it, what can be done. */
tankside.workCopies = (function () {
  const { el, say, button, holdButton } = tankside.dom;
  const { stepOf, partWith, plain, moment, age, what } = tankside.workShown;
  const RECORD = 'copy.record.html';

  /** @param {CopyHead} head the number of its entries that no file has */
  const unsaved = ({ seq, exported }) => seq + 1 - exported;

  /** @param {CopyHead} head since when some of it is in no file */
  const waiting = ({ exported, started, saved }) => (exported === 0 ? started : saved);

  /**
   * Return a list of copies.
   * @param {CopyHead[]} heads
   * @param {Around} around
   * @returns {HTMLElement}
   */
  function list(heads, around) {
    return el('ul.copies', {}, heads.map((head) => entry(head, around)));
  }

  /** @param {CopyHead} head @param {Around} around */
  function entry(head, around) {
    const lot = head.lot === '' ? null : el('b', {}, say('work-list-lot', { lot: head.lot }));
    return el(
      'li.copy', { 'data-copy': head.copy },
      el('h3', {}, head.title),
      el('p.standing', {}, lot, el('b', {}, standing(head))),
      el('p', {}, `${say('work-list-begun', { time: moment(head.started) })}. ${lastEntry(head)}`),
      lastStep(head, around),
      el(unsaved(head) > 0 ? 'p.in-no-file' : 'p', {}, inFile(head)),
      around.fromFile.has(head.copy) ? taking(head, around) : null,
      doing(head, around),
    );
  }

  /** @param {CopyHead} head */
  function standing({ ended, givenBy, isPaused }) {
    if (ended !== '') return say(`work-list-${ended}`);
    if (givenBy !== '') return say('work-list-given', { who: givenBy });
    return say(isPaused ? 'work-list-paused' : 'work-list-at-work');
  }

  /** @param {CopyHead} head */
  function lastEntry({ last, who }) {
    return `${say('work-list-last', { time: moment(last), who })}.`;
  }

  /** @param {CopyHead} head @param {Around} around */
  function lastStep({ shown: hash, procedure, step }, { shown }) {
    const part = shown.has(hash) && step !== '' ? partWith(shown.get(hash), procedure, step) : undefined;
    const found = part === undefined ? undefined : stepOf(part, step);
    if (found === undefined) return null;
    return el('p', {}, say('work-list-last-step', { number: found.number, words: plain(found.words) }));
  }

  /** @param {CopyHead} head */
  function inFile(head) {
    if (head.exported === 0) return say('work-list-never-saved', { age: age(head.started) });
    if (unsaved(head) > 0) return say('work-list-since-saved', { age: age(head.saved), count: unsaved(head) });
    return say('work-list-saved', { age: age(head.saved) });
  }

  /** @param {CopyHead} head @param {Around} around */
  function taking(head, { take }) {
    const hold = holdButton(say('work-list-take'), () => take(head), { 'data-key': `take-${head.copy}` });
    return el('div.taking', {}, el('p', {}, el('b', {}, say('work-list-from-file'))), el('p', {}, say('work-list-take-about')), hold);
  }

  /** @param {CopyHead} head @param {Around} around what can be done with it; each name says with which copy */
  function doing(head, { carried, save }) {
    const { copy, id } = head;
    const named = (/** @type {string} */ key) => ({ 'aria-label': `${say(key)}: ${what(head)}`, 'data-key': `${key}-${copy}` });
    const open = carried.includes(id)
      ? el('a.button', { href: `${id}.html#${copy}`, ...named('work-list-go-on') }, say('work-list-go-on'))
      : null;
    return [
      open === null ? el('p', {}, say('work-list-no-page')) : null,
      el(
        'p.doing', {}, open,
        el('a.button', { href: `${RECORD}#${copy}`, ...named('work-list-read') }, say('work-list-read')),
        button(say('work-list-save'), () => save(head), named('work-list-save')),
      ),
    ].filter((each) => each !== null);
  }

  return Object.freeze({ list, unsaved, waiting });
})();
