'use strict';

var tankside = window.tankside || {};

/** @typedef {{procedure: string, question: any}} TrainingAsked a question of a procedure */

/* Questions, one after the other. A wrong answer is explained at once, and the question comes back later. */
tankside.trainingQuestions = (function () {
  const { el, say, button } = tankside.dom;
  const OPEN = 'open';
  const MISSED = 'missed';
  const RIGHT = 'right';

  /**
   * Return how a question stands: it is open while none of the answers of today was given to it.
   * @param {any} trained
   * @param {string} procedure
   * @param {any} question
   */
  function stateOf(trained, procedure, { id, choices }) {
    const given = trained.counting.filter((/** @type {any} */ each) => (
      each.kind === 'answered' && each.procedure === procedure && each.question === id));
    const last = given.length === 0 ? undefined : choices.find((/** @type {any} */ { says }) => says === given[given.length - 1].choice);
    if (last === undefined) return OPEN;
    return last.right ? RIGHT : MISSED;
  }

  /** @param {any} trained @param {string} procedure @param {string} state @returns {TrainingAsked[]} its questions that stand so */
  function standing(trained, procedure, state) {
    return trained.path.lessons[procedure].questions
      .filter((/** @type {any} */ question) => stateOf(trained, procedure, question) === state)
      .map((/** @type {any} */ question) => ({ procedure, question }));
  }

  /** @param {any} trained @param {string} procedure @returns {TrainingAsked[]} those that were never asked */
  const open = (trained, procedure) => standing(trained, procedure, OPEN);

  /** @param {any} trained @param {string} [except] @returns {TrainingAsked[]} what was missed in other procedures of the path */
  function missed(trained, except = '') {
    return Object.keys(trained.path.lessons).filter((each) => each !== except)
      .flatMap((each) => standing(trained, each, MISSED));
  }

  /**
   * Ask some questions.
   * @param {any} trained
   * @param {HTMLElement} at
   * @param {TrainingAsked[]} list
   * @param {() => void} done is called when all of them were asked
   */
  function ask(trained, at, list, done) {
    let place = 0;
    const next = () => {
      if (place >= list.length) {
        at.replaceChildren();
        done();
        return;
      }
      const asked = list[place];
      place += 1;
      at.replaceChildren(form(trained, asked, say('train-question-of', { at: place, of: list.length }), (node) => {
        at.replaceChildren(node, el('p', {}, button(say('train-next-question'), next, { 'data-train-next-question': true })));
        /** @type {HTMLElement} */ (node).focus();
      }));
    };
    next();
  }

  /**
   * @param {any} trained
   * @param {TrainingAsked} asked
   * @param {string} count
   * @param {(node: Node) => void} told
   */
  function form(trained, { procedure, question }, count, told) {
    const lesson = trained.path.lessons[procedure];
    const name = `asked-${procedure}-${question.id}`;
    const fields = question.choices.map((/** @type {any} */ choice, /** @type {number} */ at) => el('input', {
      type: 'radio', name, value: at,
    }));
    const missing = el('p.missing', { role: 'status' });
    const answer = button(say('train-give-answer'), async () => {
      const at = fields.findIndex((/** @type {HTMLInputElement} */ { checked }) => checked);
      if (at < 0) {
        missing.textContent = say('train-choose-first');
        return;
      }
      const chosen = question.choices[at];
      const own = { kind: 'answered', who: trained.person, question: question.id, choice: chosen.says, right: chosen.right };
      if (await trained.act(own, { lesson })) told(explained(trained, lesson, question, chosen));
    }, { 'data-train-answer': true });
    const rows = question.choices.map((/** @type {any} */ { says }, /** @type {number} */ at) => el('label.train-choice', {}, fields[at], el('span', {}, says)));
    const from = el('p', {}, `${lesson.title}. ${count}`);
    return el('div.train-asking', { 'data-train-asking': question.id, 'data-of': procedure }, from,
      el('fieldset', {}, el('legend', {}, question.asks), rows), missing, answer);
  }

  /** @param {any} trained @param {Lesson} lesson @param {any} question @param {any} chosen */
  function explained(trained, lesson, question, chosen) {
    const right = question.choices.find((/** @type {any} */ each) => each.right);
    const link = el('a', { href: `${trained.data.root}${lesson.address}${question.anchor}` }, question.place);
    const lines = chosen.right
      ? [el('p', {}, el('b', {}, say('train-was-right')), ` ${chosen.why}`)]
      : [
        el('p', {}, el('b', {}, say('train-was-wrong')), ` ${chosen.says} `, chosen.why),
        el('p', {}, el('b', {}, say('train-right-is')), ` ${right.says} `, right.why),
        el('p', {}, say('train-look-there'), ' ', link),
        el('p', {}, say('train-comes-back')),
      ];
    return el('div.train-explained', { tabindex: -1, 'data-train-explained': chosen.right ? RIGHT : MISSED },
      el('p', {}, el('b', {}, question.asks)), lines);
  }

  return Object.freeze({ open, missed, ask });
})();
