'use strict';

var tankside = window.tankside || {};

/* What is beside the way: the step is wrong, a note, not applicable, a correction, a pause, another person. In two touches
   from any step; what is pressed here never marks a step by itself. */
tankside.workAside = (function () {
  const { el, say, button } = tankside.dom;
  const { SKIPPED, CHANGED } = tankside.copyScript;
  const { isMarkable, partOf } = tankside.copyState;
  const { presses, takingBack } = tankside.workCorrect;
  const { REDLINES } = tankside.workSaid;
  const { giving } = tankside.workPeople;

  /**
   * Return everything that can be done beside a step.
   * @param {any} view
   * @param {{place: number | null}} panel
   * @returns {Array<Node>}
   */
  function body(view, { place }) {
    const visit = place === null ? null : view.copy.trail[place] || null;
    const isEnded = view.copy.ended !== '';
    return [
      ...group('work-aside-redline', [el('p', {}, say('work-redline-about')), ...redlines(view, visit), note(view, visit)]),
      ...(visit === null ? [] : group('work-aside-step', [...instead(view, visit), ...presses(view, visit), ...takingBack(view, visit)])),
      ...(isEnded ? [] : group('work-aside-work', work(view))),
      ...group('work-aside-file', [save(view)]),
    ];
  }

  /** @param {string} key @param {Array<Node>} inside nothing where there is nothing in it */
  function group(key, inside) {
    return inside.length === 0 ? [] : [el('section.group', { 'aria-label': say(key) }, el('h3', {}, say(key)), inside)];
  }

  /** @param {any} view @param {Visit | null} visit what names the step that a remark is about */
  function aboutStep(view, visit) {
    if (visit === null || visit.node < 0) return {};
    const { procedure, revision } = partOf(view.copy, visit);
    return { step: visit.name, procedure, revision };
  }

  /** @param {any} view @param {Visit | null} visit a correction of the procedure, marked from the floor */
  function redlines(view, visit) {
    return Object.entries(REDLINES).map(([about, key]) => button(say(key), async () => {
      if (!await view.act('redline', { about, text: '', ...aboutStep(view, visit) })) return;
      words(view, visit, say('work-redline-kept'));
    }, { class: 'press', 'data-redline': about }));
  }

  /** @param {any} view @param {Visit | null} visit */
  function note(view, visit) {
    return button(say('work-note'), () => words(view, visit, ''), { class: 'press', 'data-note': true });
  }

  /** @param {any} view @param {Visit | null} visit @param {string} about a field for words */
  function words(view, visit, about) {
    view.open({
      name: 'text',
      kind: 'note',
      title: say('work-note'),
      about,
      confirm: say('work-note-keep'),
      act: (/** @type {string} */ text) => view.act('note', { text, ...aboutStep(view, visit) }),
    });
  }

  /** @param {any} view @param {Visit} visit not applicable, or done in another way: where that may be */
  function instead(view, visit) {
    if (!isMarkable(view.copy, visit) || visit.node < 0) return [];
    const found = [];
    if (SKIPPED.includes(visit.kind) && visit.doer === '') {
      found.push(reasoned(view, visit, 'skip', 'work-skip', ['work-skip-absent', 'work-skip-already', 'work-skip-size']));
    }
    if (CHANGED.includes(visit.kind)) {
      found.push(reasoned(view, visit, 'deviate', 'work-deviate', ['work-deviate-tool', 'work-deviate-order', 'work-deviate-lead']));
    }
    return found.length > 0 ? found : [el('p', {}, say('work-instead-never'))];
  }

  /** @param {any} view @param {Visit} visit @param {string} kind @param {string} key @param {string[]} reasons */
  function reasoned(view, visit, kind, key, reasons) {
    return button(say(key), () => view.open({
      name: 'reason',
      kind,
      title: say(key),
      about: [],
      offered: reasons.map((each) => say(each)),
      confirm: say(key),
      act: (/** @type {string} */ reason) => view.act(kind, { visit: view.copy.trail.indexOf(visit), reason }),
    }), { class: 'press', 'data-instead': kind });
  }

  /** @param {any} view what is about the work as a whole */
  function work(view) {
    const press = (/** @type {string} */ key, /** @type {any} */ panel) => (
      button(say(key), () => view.open(panel), { class: 'press', 'data-aside': panel.kind || panel.name }));
    return [
      view.copy.isPaused ? null : press('work-pause', {
        name: 'text', kind: 'pause', title: say('work-pause'), about: say('work-pause-about'), isOptional: true,
        confirm: say('work-pause'),
        act: (/** @type {string} */ reason) => view.act('pause', reason === '' ? {} : { reason }),
      }),
      press('work-give', { name: 'give' }),
      press('work-people', { name: 'people' }),
      press('work-abandon', {
        name: 'reason', kind: 'abandon', title: say('work-abandon'), isHeld: true,
        about: [say('work-abandon-stop'), say('work-abandon-after')],
        offered: [say('work-abandon-unsafe'), say('work-abandon-broken'), say('work-abandon-missing')],
        confirm: say('work-hold-to', { what: say('work-abandon') }),
        act: (/** @type {string} */ reason) => view.act('abandon', { reason }),
      }),
    ].filter((each) => each !== null);
  }

  /** @param {any} view a file of the copy: also when nothing can be written any more */
  function save(view) {
    return button(say('work-save'), () => keep(view), { class: 'press', 'data-save': true });
  }

  /** @param {any} view */
  async function keep(view) {
    const { copyFile } = /** @type {any} */ (tankside);
    const { work, copy } = view;
    try {
      if (work.trouble === '') await copyFile.save(work.store, copy.events[0].copy);
      else copyFile.handRecord({ edition: work.edition, shown: work.shown, events: copy.events });
      if (work.trouble === '') await work.again();
      view.tell(say('work-saved'));
    } catch (error) {
      view.refuse(say('work-save-failed'));
    }
  }

  /**
   * Return a field for words, and a press that keeps them.
   * @param {any} view
   * @param {any} panel
   * @returns {Array<Node>}
   */
  function text(view, { kind, about, confirm, act, isOptional = false }) {
    const kept = tankside.workTyping.drafts(view);
    const name = `text-${kind}`;
    const field = el('textarea', { id: name, rows: 3, maxlength: 500, 'data-text': kind });
    field.value = kept.get(name);
    const go = button(confirm, async () => {
      if (!await act(field.value.trim())) return;
      kept.drop(name);
      view.close();
    }, { class: 'press', 'data-confirm': kind });
    const paint = () => {
      kept.set(name, field.value);
      go.disabled = !isOptional && field.value.trim() === '';
    };
    field.addEventListener('input', paint);
    paint();
    return [el('p', {}, about), el('label', { for: name }, say(isOptional ? 'work-words-optional' : 'work-words')), field, go];
  }

  return Object.freeze({ body, text, giving, keep });
})();
