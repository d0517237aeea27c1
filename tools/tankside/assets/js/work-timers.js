'use strict';

var tankside = window.tankside || {};

/* The time of a wait, in big figures, counted down and then up; and a sign that can be heard when it is over. */
tankside.workTimers = (function () {
  const { el, say, mark } = tankside.dom;
  const { now } = tankside.copyDevice;
  const { remaining, dueText, figures, running } = tankside.workClock;
  const { clockText } = tankside.workHistory;

  const AGAIN = 30000;
  /** Three short tones: their pitch [Hz], and when each begins and how long it lasts [s]. */
  const TONE = { pitch: 880, starts: [0, 0.35, 0.7], length: 0.2, volume: 0.4 };
  const plainTitle = document.title;
  /** @type {AudioContext | null} */
  let sound = null;
  let lastSign = -Infinity;

  /**
   * Return the time of a wait that was started.
   * @param {any} view
   * @param {Visit} visit
   */
  function timer(view, visit) {
    const { copy } = view;
    const started = clockText(copy.events[Number(visit.begun)].at);
    const made = el('div.timer', { 'data-timer': copy.trail.indexOf(visit) },
      mark('clock'),
      el('p.timer-figures', { 'data-timer-figures': true, role: 'timer' }),
      el('p.timer-says', {}, el('b', { 'data-timer-state': true }), ' ',
        say('work-timer-times', { started, due: dueText(copy, visit) })));
    paint(view, made);
    return made;
  }

  /** @param {any} view @param {HTMLElement} made */
  function paint({ copy }, made) {
    const visit = copy.trail[Number(made.dataset.timer)];
    const left = visit === undefined ? null : remaining(copy, visit, now());
    if (left === null) return;
    const isOver = left <= 0;
    made.classList.toggle('is-over', isOver);
    /** @type {any} */ (made.querySelector('[data-timer-figures]')).textContent = isOver ? `+${figures(left)}` : figures(left);
    /** @type {any} */ (made.querySelector('[data-timer-state]')).textContent = say(isOver ? 'work-timer-over' : 'work-timer-left');
  }

  /**
   * Count on, and give a sign when a time is over.
   * @param {any} view
   */
  function tick(view) {
    for (const made of document.querySelectorAll('[data-timer]')) paint(view, /** @type {HTMLElement} */ (made));
    const wait = view.copy.ended === '' ? running(view.copy) : null;
    const left = wait === null ? null : remaining(view.copy, wait, now());
    const isOver = left !== null && left <= 0;
    document.title = isOver ? `${say('work-timer-over')} ${plainTitle}` : plainTitle;
    document.documentElement.classList.toggle('time-is-up', isOver);
    if (!isOver) lastSign = -Infinity;
    else if (performance.now() - lastSign >= AGAIN) sign(view);
  }

  /** @param {any} view */
  function sign(view) {
    if (lastSign === -Infinity) view.tell(say('work-timer-over'));
    lastSign = performance.now();
    beep();
  }

  function beep() {
    if (sound === null || sound.state !== 'running') return;
    for (const start of TONE.starts) {
      const [tone, volume] = [sound.createOscillator(), sound.createGain()];
      tone.frequency.value = TONE.pitch;
      volume.gain.value = TONE.volume;
      tone.connect(volume).connect(sound.destination);
      tone.start(sound.currentTime + start);
      tone.stop(sound.currentTime + start + TONE.length);
    }
  }

  /** A browser makes no sound before somebody has touched the page: after a reload the first touch wakes it again. */
  function wakeSound() {
    const { AudioContext } = window;
    if (AudioContext === undefined) return;
    if (sound === null) sound = new AudioContext();
    if (sound.state === 'suspended') sound.resume().catch(() => undefined);
  }

  /** Be able to give a sign once the page was touched. */
  function listen() {
    document.addEventListener('click', wakeSound, { capture: true });
  }

  return Object.freeze({ timer, tick, listen });
})();
