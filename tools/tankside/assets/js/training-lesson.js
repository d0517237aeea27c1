'use strict';

var tankside = window.tankside || {};

/* The page on which a procedure is learnt: read it, answer its questions, be shown it, do it, practise it. */
tankside.trainingLesson = (function () {
  const { el, say, button } = tankside.dom;
  const { attest, folded } = tankside.trainingAttest;
  const { open, missed, ask } = tankside.trainingQuestions;
  const { sentences } = tankside.trainingWords;
  const { place } = tankside.trainingPage;

  /** @param {any} trained */
  function start(trained) {
    if (trained.record === null) return;
    const { procedure, goal } = trained.data;
    const lesson = trained.path.lessons[procedure];
    trained.shows(() => place('standing').replaceChildren(standing(trained, lesson, goal)));
    trained.shows(() => place('read').replaceChildren(reading(trained, lesson)));
    trained.shows(() => place('entries').replaceChildren(...tankside.trainingEntered.list(trained, procedure)));
    questions(trained, procedure);
    tankside.trainingWatched.start(trained, lesson);
    place('drill').replaceChildren(el('p', {}, say('train-drill-about')), drill(trained, lesson));
  }

  /** @param {any} trained @param {Lesson} lesson @param {string} goal */
  function standing(trained, lesson, goal) {
    const found = trained.standing(trained.data.procedure, goal);
    const changed = found.reasons.filter(({ key }) => key !== '').map(({ key }) => inWords(trained, lesson, key));
    return el('div.train-next', { 'data-train-word': found.word },
      el('p', {}, el('b', {}, sentences(found, goal).join(' '))),
      changed.length === 0 ? null : el('p', {}, say('train-changed')),
      changed.length === 0 ? null : el('ul', {}, changed.map((/** @type {string} */ each) => el('li', {}, each))));
  }

  /** @param {any} trained @param {Lesson} lesson @param {string} key of what changed; what was taken out is told as it was */
  function inWords({ record }, { taught }, key) {
    const all = [taught, ...Object.values(record.taught)].filter(({ procedure }) => procedure === taught.procedure);
    const found = all.flatMap(({ elements }) => elements).find((/** @type {TaughtElement} */ each) => each.key === key);
    return found === undefined ? key : found.says;
  }

  /** @param {any} trained @param {Lesson} lesson */
  function reading(trained, lesson) {
    const { head } = trained.record;
    const own = { kind: 'signed', who: head.person, task: 'whole', method: 'read', result: 'not-seen', assessor: head.person, assessor_role: head.role };
    const last = trained.counting.filter((/** @type {any} */ each) => each.method === 'read' && each.taught === lesson.hash).pop();
    if (last !== undefined) return el('p', { 'data-train-has-read': true }, say('train-has-read', { who: head.person, day: last.at.slice(0, 10) }));
    return el('p.doing', {}, button(say('train-i-have-read'), () => trained.act(own, { lesson }), { 'data-train-i-have-read': true }));
  }

  /** @param {any} trained @param {string} procedure its own questions, then what was missed in others */
  function questions(trained, procedure) {
    const printed = document.querySelector('[data-train-printed]');
    if (printed === null) return;
    printed.setAttribute('hidden', '');
    const back = missed(trained, procedure);
    ask(trained, place('ask'), open(trained, procedure), () => {
      printed.removeAttribute('hidden');
      place('ask').replaceChildren(el('p', { 'data-train-all-asked': true }, say('train-all-asked')));
      if (back.length === 0) return;
      const section = place('back-section');
      section.hidden = false;
      ask(trained, place('back'), back, () => place('back').replaceChildren(el('p', { 'data-train-back-done': true }, say('train-back-through'))));
    });
  }

  /** @param {any} trained @param {Lesson} lesson */
  function drill(trained, lesson) {
    return folded(say('train-drilled'), () => [attest(trained, {
      name: 'drill', confirm: say('train-drilled'), act: (own) => trained.act({ kind: 'drill', who: own.assessor, ...own }, { lesson }),
    }).form], { 'data-train-fold': 'drill' });
  }

  return Object.freeze({ start });
})();
