'use strict';

var tankside = window.tankside || {};

/* Whose training a page is about, and who else it could be. */
tankside.trainingPeople = (function () {
  const { el, say } = tankside.dom;
  const PEOPLE = 'training/index.html';

  /**
   * Return who is trained on this page, or the ways to choose somebody.
   * @param {any} trained
   * @returns {Node[]}
   */
  function who(trained) {
    const { record, heads, data } = trained;
    const all = el('a.button', { href: `${data.root}${PEOPLE}` }, say(record === null ? 'train-who-new' : 'train-who-other'));
    if (record !== null) {
      return [el('p', {}, el('b', {}, say('train-who-is', { who: nameOf(record.head) }))), el('p.doing', {}, all)];
    }
    const links = heads.map((/** @type {TrainingHead} */ head) => (
      el('a.button', { href: `#${head.competence}`, 'data-train-choose': head.person }, nameOf(head))));
    return [el('p', {}, say(heads.length === 0 ? 'train-who-nobody' : 'train-who-choose')), el('p.doing', {}, links, all)];
  }

  /** @param {{person: string, name: string}} head */
  function nameOf({ person, name }) {
    return name === '' ? person : `${person}, ${name}`;
  }

  return Object.freeze({ who, nameOf });
})();
