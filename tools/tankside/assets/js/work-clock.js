'use strict';

var tankside = window.tankside || {};

/** @typedef {{at: string, clock: number, session: string}} Moment see `copyDevice.now` */

/* Time as a working copy needs it: how long a wait still lasts, whether the clock went back, whether somebody was away. */
tankside.workClock = (function () {
  const { stepOf, isOpen } = tankside.copyState;
  const { quantityOrNull } = tankside.copyWorth;
  const { elapsed } = tankside.copyRefusal;
  const { timeText } = tankside.copyDevice;
  const { clockText } = tankside.workHistory;

  /** A gap so long asks whether the last step is really done [ms]. */
  const GAP = 5 * 60 * 1000;
  /** A clock is put right by so much without anybody touching it [ms]. */
  const SLACK = 2000;
  const MINUTE = 60;

  /** @param {Copy} copy @param {Visit} visit how long it is waited [ms] */
  function lasting(copy, visit) {
    const { value } = /** @type {Quantity} */ (quantityOrNull(stepOf(copy, visit).time));
    return Math.ceil(Number(value.numerator * 1000n) / Number(value.denominator));
  }

  /**
   * Return how long a wait still lasts, below zero when it is over; null before it was started.
   * @param {Copy} copy
   * @param {Visit} visit
   * @param {Moment} moment
   * @returns {number | null} [ms]
   */
  function remaining(copy, visit, moment) {
    if (visit.begun === null) return null;
    return lasting(copy, visit) - elapsed(copy.events[visit.begun], moment);
  }

  /** @param {Copy} copy @param {Visit} visit the time of day at which a wait that was started is over */
  function dueText(copy, visit) {
    const { at } = copy.events[Number(visit.begun)];
    return clockText(timeText(new Date(Date.parse(at) + lasting(copy, visit))));
  }

  /**
   * Return a time as minutes and seconds, or hours, minutes and seconds; what is left is counted as begun seconds.
   * @param {number} milliseconds
   */
  function figures(milliseconds) {
    const whole = milliseconds > 0 ? Math.ceil(milliseconds / 1000) : Math.floor(-milliseconds / 1000);
    const [seconds, minutes] = [whole % MINUTE, Math.floor(whole / MINUTE) % MINUTE];
    const hours = Math.floor(whole / MINUTE / MINUTE);
    const two = (/** @type {number} */ value) => String(value).padStart(2, '0');
    return hours > 0 ? `${hours}:${two(minutes)}:${two(seconds)}` : `${minutes}:${two(seconds)}`;
  }

  /** @param {Copy} copy the wait that runs, null when none does */
  function running(copy) {
    return copy.trail.find((visit) => visit.kind === 'wait' && isOpen(visit) && visit.begun !== null) || null;
  }

  /** @param {Copy} copy @returns {string} the latest time that an event has: the last one need not, once a clock went back */
  function latestTime({ events }) {
    return events.reduce((latest, { at }) => (Date.parse(at) > Date.parse(latest) ? at : latest), events[0].at);
  }

  /** @param {Copy} copy @param {string} at whether the clock shows less than it did at some event */
  function hasGoneBack(copy, at) {
    return copy.events.length > 0 && Date.parse(at) < Date.parse(latestTime(copy)) - SLACK;
  }

  /**
   * Return whether nothing was done for so long that somebody was away; a wait that runs is no gap.
   * @param {Copy} copy
   * @param {Moment} moment
   * @param {number} touched when the page was last touched [ms since 1970]
   */
  function isGap(copy, moment, touched) {
    const here = Date.parse(moment.at);
    const { events } = copy;
    if (events.length === 0) return false;
    const wait = running(copy);
    const due = wait === null ? 0 : here + Number(remaining(copy, wait, moment));
    return here - Math.max(touched, Date.parse(events[events.length - 1].at), due) > GAP;
  }

  return Object.freeze({ remaining, dueText, figures, running, latestTime, hasGoneBack, isGap });
})();
