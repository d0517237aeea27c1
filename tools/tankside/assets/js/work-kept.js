'use strict';

var tankside = window.tankside || {};

/** @typedef {{isPromised: boolean | null, isAwake: boolean, left: number | null}} Device what the browser has agreed to */

/* The honest line: whether records are being kept, whether the screen stays on, and when a file was made. */
tankside.workKept = (function () {
  const { el, say, button } = tankside.dom;
  const { askToKeep, keepAwake, space } = tankside.copyDevice;
  const { timeText } = tankside.workHistory;
  const { refused } = tankside.workView;

  /** With less room than this, it is said [bytes]. */
  const LITTLE = 20 * 1024 * 1024;
  /** @type {Device} */
  const device = { isPromised: null, isAwake: false, left: null };

  /**
   * Ask the browser what it will do.
   * @param {any} view
   */
  async function ask(view) {
    const [isPromised, room, isAwake] = await Promise.all([
      askToKeep().catch(() => null), space().catch(() => null), keepAwake(),
    ]);
    Object.assign(device, { isPromised, isAwake, left: room === null ? null : room.most - room.used });
    view.work.changed();
  }

  /** @param {any} view keep the screen on again: the browser lets go of it whenever the page is hidden */
  async function wake(view) {
    device.isAwake = await keepAwake();
    view.work.changed();
  }

  /**
   * Return what is to be said, the worst first.
   * @param {any} view
   * @param {Device} state
   * @returns {string[]}
   */
  function sentences({ work }, { isPromised, isAwake, left }) {
    const found = [say(isPromised === true ? 'work-kept-promised' : 'work-kept')];
    if (left !== null && left < LITTLE) found.push(say('work-kept-little'));
    return [...found, fileSays(work), say(isAwake ? 'work-awake' : 'work-asleep')];
  }

  /** @param {any} work */
  function fileSays({ head, copy }) {
    if (head === null || !head.exported) return say('work-file-none');
    const since = copy.events.length - head.exported;
    const time = timeText(head.saved || head.last);
    return since > 0 ? say('work-file-older', { time, count: since }) : say('work-file-whole', { time });
  }

  /**
   * Return the line.
   * @param {any} view
   */
  function line(view) {
    const { trouble } = view.work;
    if (trouble === '') return el('p.kept', { 'data-kept': 'yes' }, sentences(view, device).join(' '));
    return el('div.kept.not-kept', { 'data-kept': 'no', role: 'alert' },
      el('b', {}, say('work-not-saved')), ' ', refused(trouble), ' ',
      trouble === 'chain-broken' ? null : button(say('work-try-again'), () => tryAgain(view), { 'data-try-again': true }));
  }

  /** @param {any} view */
  async function tryAgain(view) {
    const { code } = await view.work.recover();
    if (code === '') view.tell(say('work-kept-again'));
    else view.refuse(refused(code));
  }

  return Object.freeze({ ask, wake, line });
})();
