'use strict';

var tankside = window.tankside || {};

/**
 * What is known before a start: the competence of everybody that is kept on this device, by what they did, or that it
 * cannot be read.
 * @typedef {{records: TrainingRecord[], uses: TrainingUse[], isUnread: boolean}} TrainedHere
 */

/* Before a start: who of those who work is not competent in it any more, or not yet, and who else is. Somebody decides;
   nothing is refused, and nothing of it comes up in the middle of the work. */
tankside.workTrained = (function () {
  const { el, say } = tankside.dom;
  const { isSame } = tankside.trainingEntries;
  const { records } = tankside.trainingStore;
  const { uses, standingOf } = tankside.trainingUses;
  const { isFine, sentences } = tankside.trainingWords;
  const ALONE = 'alone';
  const ON_THE_WAY = ['never', 'read', 'shown', 'supervised'];

  /** @param {any} store @returns {Promise<TrainedHere>} */
  async function trainedHere(store) {
    try {
      const found = await records(store);
      return { records: found, uses: found.length === 0 ? [] : await uses(store), isUnread: false };
    } catch (error) {
      return { records: [], uses: [], isUnread: true };
    }
  }

  /**
   * Return what there is to be said of those who work.
   * @param {any} view with `trained`, what is taught now by procedure
   * @param {Array<{who: string}>} people
   * @param {TrainedHere} here
   * @returns {Node[]}
   */
  function warnings(view, people, here) {
    if (here.isUnread) return [el('p', {}, say('train-start-unread'))];
    if (here.records.length === 0 || Object.keys(view.trained).length === 0) return [];
    const of = (/** @type {string} */ who) => here.records.filter(({ head }) => isSame(head.person, who));
    const said = people.flatMap(({ who }) => lines(view, of(who), here));
    const unknown = people.filter(({ who }) => of(who).length === 0).map(({ who }) => who);
    return [
      said.length === 0 ? null : el('div.work-stopped', { 'data-trained': said.length },
        el('p', {}, say('train-start-about')), el('ul', {}, said.map((each) => el('li', {}, each))), el('p', {}, others(view, people, here))),
      unknown.length === 0 ? null : el('p', { 'data-untrained': true }, say('train-start-none', { who: unknown.join(', ') })),
    ].filter((each) => each !== null);
  }

  /** @param {any} view @param {TrainingRecord[]} own of a person @param {TrainedHere} here @returns {string[]} nothing when it stands in one of them */
  function lines(view, own, here) {
    if (own.length === 0 || own.some((record) => isCompetent(view, record, here))) return [];
    const [record] = own;
    return Object.entries(view.trained).flatMap(([procedure, lesson]) => {
      const found = standingOf(record, lesson, ALONE, here.uses);
      if (isFine(found)) return [];
      const gaps = { who: record.head.person, title: titleOf(view, procedure) };
      return [ON_THE_WAY.includes(found.word) ? say('train-start-never', gaps)
        : say('train-start-warn', { ...gaps, why: sentences(found, ALONE).join(' ') })];
    });
  }

  /** @param {any} view @param {TrainingRecord} record @param {TrainedHere} here whether it stands for all that is done */
  function isCompetent(view, record, here) {
    return Object.values(view.trained).every((lesson) => isFine(standingOf(record, lesson, ALONE, here.uses)));
  }

  /** @param {any} view @param {Array<{who: string}>} people @param {TrainedHere} here who of this device can stand in */
  function others(view, people, here) {
    const found = here.records.filter((record) => (
      !people.some(({ who }) => isSame(who, record.head.person)) && isCompetent(view, record, here)));
    if (found.length === 0) return say('train-start-nobody');
    return say('train-start-others', { who: found.map(({ head }) => head.person).join(', ') });
  }

  /** @param {any} view @param {string} procedure */
  function titleOf(view, procedure) {
    return (view.shown.parts.find((/** @type {any} */ part) => part.procedure === procedure) || { title: procedure }).title;
  }

  return Object.freeze({ trainedHere, warnings });
})();
