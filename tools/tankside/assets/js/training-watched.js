'use strict';

var tankside = window.tankside || {};

/* Shown, under supervision, alone: what an assessor saw of each line that matters, and what comes of it. */
tankside.trainingWatched = (function () {
  const { el, say } = tankside.dom;
  const { drafts } = tankside.workTyping;
  const { attest } = tankside.trainingAttest;
  const { critical } = tankside.trainingEntries;
  const { WATCHED } = tankside.trainingStanding;
  const { lackingFirst } = tankside.trainingPathPage;
  const { place } = tankside.trainingPage;

  const METHODS = ['shown', 'supervised', 'alone'];
  const SEEN = ['competent', 'needs-more', 'not-seen'];
  /** What can come of each method. @type {Object<string, string[]>} */
  const RESULTS = { shown: ['not-seen', 'needs-more'], supervised: ['competent', 'needs-more'], alone: ['competent', 'needs-more'] };
  const NAME = 'watched';

  /** @param {any} trained @param {Lesson} lesson */
  function start(trained, lesson) {
    let paint = () => {};
    const rows = [...place('watched').querySelectorAll('[data-watch]')].map((line) => lineRow(/** @type {HTMLElement} */ (line), () => paint()));
    const build = () => { paint = form(trained, lesson, rows, build); };
    build();
    trained.shows(() => paint());
  }

  /**
   * Put up the form, empty.
   * @param {any} trained
   * @param {Lesson} lesson
   * @param {WatchedRow[]} rows
   * @param {() => void} again is called once it is signed
   * @returns {() => void} what paints anew what is missing
   */
  function form(trained, lesson, rows, again) {
    const kept = drafts(trained.view);
    const results = el('div', {});
    const remark = el('textarea', { id: 'train-remark', rows: 2, maxlength: 1000, 'data-train-remark': true });
    const signing = attest(trained, {
      name: NAME, confirm: say('train-sign'), lacking: () => lacking(trained, lesson, rows),
      act: async (own) => {
        const isKept = await trained.act(proposed(kept, rows, remark.value.trim(), own), about(trained, lesson));
        if (isKept) window.setTimeout(again);
        return isKept;
      },
    });
    const chosen = (/** @type {string} */ method) => {
      kept.set('watched-method', method);
      kept.set('watched-result', '');
      rows.forEach(({ choices }) => { choices.hidden = !WATCHED.includes(method); });
      results.replaceChildren(...resultsOf(method, (value) => {
        kept.set('watched-result', value);
        signing.paint();
      }));
      signing.paint();
    };
    rows.forEach(({ clear }) => clear());
    place('method').replaceChildren(radios('train-method', say('train-method'), METHODS.map((each) => [each, say(`train-method-${each}`)]), chosen));
    place('sign').replaceChildren(results,
      el('p.train-field', {}, el('label', { for: 'train-remark' }, say('train-remark')), remark), signing.form);
    return signing.paint;
  }

  /** @param {string} method @param {(value: string) => void} after @returns {Node[]} what can come of a method */
  function resultsOf(method, after) {
    const words = (/** @type {string} */ each) => (WATCHED.includes(method) ? say(`train-result-${each}`) : say(`train-result-shown-${each}`));
    const choices = radios('train-result', say('train-result'), RESULTS[method].map((each) => [each, words(each)]), after);
    return WATCHED.includes(method) ? [el('p', {}, say('train-line-open')), choices] : [choices];
  }

  /**
   * Return radio inputs with words.
   * @param {string} name
   * @param {string} label
   * @param {Array<[string, string]>} options
   * @param {(value: string) => void} after
   * @returns {HTMLElement}
   */
  function radios(name, label, options, after) {
    const made = options.map(([value, words]) => {
      const field = el('input', { type: 'radio', name, value });
      field.addEventListener('change', () => after(value));
      return el('label.train-choice', {}, field, el('span', {}, words));
    });
    return el('fieldset', { 'data-train-radios': name }, el('legend', {}, label), el('div.train-choices', {}, made));
  }

  /** @typedef {{key: string, choices: HTMLElement, value: () => string, clear: () => void}} WatchedRow */

  /** @param {HTMLElement} line @param {() => void} after @returns {WatchedRow} */
  function lineRow(line, after) {
    const key = String(line.dataset.watch);
    const words = el('p', {}, [...line.childNodes]);
    let value = '';
    const set = (/** @type {string} */ each) => {
      value = each;
      after();
    };
    const choices = radios(`seen-${key}`, say('train-line-saw'), SEEN.map((each) => [each, say(`train-result-${each}`)]), set);
    choices.hidden = true;
    line.replaceChildren(words, choices);
    const clear = () => {
      [value, choices.hidden] = ['', true];
      for (const field of choices.querySelectorAll('input')) field.checked = false;
    };
    return { key, choices, value: () => value, clear };
  }

  /** @param {any} trained @param {Lesson} lesson what an entry is held against */
  function about(trained, lesson) {
    return { lesson, critical: critical(lesson.taught), aside: trained.data.aside, first: lackingFirst(trained, trained.data.first) };
  }

  /** @param {any} kept @param {WatchedRow[]} rows @param {string} remark @param {any} own */
  function proposed(kept, rows, remark, own) {
    const method = kept.get('watched-method');
    const seen = WATCHED.includes(method)
      ? { seen: Object.fromEntries(rows.map(({ key, value }) => [key, value() || 'not-seen'])) } : {};
    return {
      kind: 'signed', who: own.assessor, task: 'whole', method, result: kept.get('watched-result'), ...seen,
      ...(remark === '' ? {} : { remark }), ...own,
    };
  }

  /** @param {any} trained @param {Lesson} lesson @param {WatchedRow[]} rows @returns {string[]} what is missing, in words */
  function lacking(trained, lesson, rows) {
    const kept = drafts(trained.view);
    const [method, result] = [kept.get('watched-method'), kept.get('watched-result')];
    if (method === '') return [say('train-method-missing')];
    if (result === '') return [say('train-refused-result-missing')];
    if (result !== 'competent') return [];
    if (rows.some(({ value }) => value() === 'needs-more')) return [say('train-refused-needs-more-seen')];
    if (method !== 'alone') return [];
    const { aside, first } = about(trained, lesson);
    const wanted = new Set(critical(lesson.taught).filter((key) => !aside.includes(key)));
    const open = rows.filter(({ key, value }) => wanted.has(key) && value() !== 'competent').length;
    const isNone = rows.every(({ value }) => value() !== 'competent');
    return [
      ...(open > 0 || isNone ? [say('train-lines-missing', { count: Math.max(open, 1) })] : []),
      ...(first.length > 0 ? [say('train-first', { what: first.join('; ') })] : []),
    ];
  }

  return Object.freeze({ start });
})();
