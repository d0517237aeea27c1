'use strict';

var tankside = window.tankside || {};

/**
 * What is kept of a working copy beside its events. `shown` is the hash of what its page shows. `seq`, `hash`, `last` and `who` are those of its last event,
 * `procedure` and `step` those of the last event that is about a step. `exported` is the number of events that a file
 * has held, and `saved` when that file was made, empty when there was none.
 * @typedef {{
 *   copy: string, edition: string, shown: string, id: string, title: string, lot: string, started: string, last: string, seq: number,
 *   hash: string, ended: string, who: string, procedure: string, step: string, isPaused: boolean, givenBy: string,
 *   redlines: number, exported: number, saved: string
 * }} CopyHead
 */
/**
 * What came of a file: 'brought-new', 'brought-more', 'brought-same', 'brought-shorter' or 'brought-forked'; how many
 * events were added; the number of the first event that differs.
 * @typedef {{code: string, added: number, at: number}} Brought
 */

/* What is kept of a working copy beside its events, so that a list need not fold them all; what a file brings to it. */
tankside.copyHead = (function () {
  /**
   * Compare the events of a copy that are here with those of a file.
   * @param {CopyEvent[]} here
   * @param {CopyEvent[]} brought
   * @returns {Brought}
   */
  function compared(here, brought) {
    const both = Math.min(here.length, brought.length);
    const at = here.slice(0, both).findIndex(({ hash }, place) => hash !== brought[place].hash);
    const added = at < 0 ? Math.max(brought.length - here.length, 0) : 0;
    if (at >= 0) return { code: 'brought-forked', added, at };
    if (here.length === 0) return { code: 'brought-new', added, at };
    if (added > 0) return { code: 'brought-more', added, at };
    return { code: here.length > brought.length ? 'brought-shorter' : 'brought-same', added, at };
  }

  /**
   * Return what is kept of a working copy of which the first event is known.
   * @param {CopyEvent} event
   * @param {any} about what is shown
   * @returns {CopyHead}
   */
  function headOf(event, { id, title }) {
    const { copy, edition, shown, at, seq, hash, who, lot = '' } = event;
    return {
      copy, edition, shown, id, title, lot, started: at, last: at, seq, hash, ended: '', who, procedure: '', step: '',
      isPaused: false, givenBy: '', redlines: 0, exported: 0, saved: '',
    };
  }

  /**
   * Return what is kept of it after another event.
   * @param {CopyHead} head
   * @param {CopyEvent} event
   * @returns {CopyHead}
   */
  function headAfter(head, event) {
    const { seq, hash, at, who, kind } = event;
    const about = event.step ? { procedure: event.procedure || '', step: event.step } : {};
    const redlines = head.redlines + (kind === 'redline' ? 1 : 0);
    return { ...head, seq, hash, last: at, who, redlines, ...about, ...standing(kind, who) };
  }

  /** @param {string} kind @param {string} who how the copy stands after an event, where that changes it */
  function standing(kind, who) {
    if (kind === 'finish' || kind === 'abandon') return { ended: kind };
    if (kind === 'pause' || kind === 'stop') return { isPaused: true };
    if (kind === 'resume') return { isPaused: false };
    if (kind === 'give') return { givenBy: who };
    return kind === 'receive' ? { givenBy: '', isPaused: false } : {};
  }

  /** @param {CopyEvent[]} events @param {any} shown @returns {CopyHead} */
  function headOver([first, ...others], shown) {
    return others.reduce(headAfter, headOf(first, shown));
  }

  return Object.freeze({ headOf, headAfter, headOver, compared });
})();
