'use strict';

var tankside = window.tankside || {};

/**
 * Something that can be corrected: the event as it counts now, what it says, and what is asked for in its place.
 * @typedef {{event: CopyEvent, says: string, asks: Array<{name: string, kind: Typing, unit: string}>}} Correctable
 */

/* Correcting the paper way: what was written first stays to be read, struck through, with initials, time and reason. */
tankside.workCorrect = (function () {
  const { el, say, button } = tankside.dom;
  const { latest } = tankside.copyState;
  const { historyOf } = tankside.workHistory;
  const { said, signed } = tankside.workSaid;
  const { keypad } = tankside.workKeys;
  const { drafts, settled } = tankside.workTyping;

  /** @type {Object<string, string>} */
  const LABELS = {
    value: 'work-correct-to', lot: 'work-correct-lot', text: 'work-correct-text', issued: 'work-correct-issued',
    used: 'work-correct-used', spoiled: 'work-correct-spoiled', left: 'work-correct-left',
  };
  const WHOLE = ['issued', 'used', 'spoiled', 'left'];

  /**
   * Return what of a step can be corrected.
   * @param {any} view
   * @param {Visit} visit
   * @returns {Correctable[]}
   */
  function correctable(view, visit) {
    const { copy } = view;
    const own = historyOf(copy).byPlace[copy.trail.indexOf(visit)] || [];
    const firsts = own.filter(({ seq, kind }) => kind === 'look' || visit.values.includes(seq));
    return firsts.map((first) => {
      const event = latest(copy, first.seq);
      return { event, says: `${signed(copy, event)} ${said(view, event, visit)}`, asks: asked(first, visit) };
    }).filter(({ asks }) => asks.length > 0);
  }

  /** @param {CopyEvent} first @param {Visit} visit */
  function asked(first, { kind }) {
    const whole = WHOLE.filter((name) => first[name] !== undefined).map((name) => ({ name, kind: 'whole', unit: '' }));
    if (whole.length > 0) return /** @type {any[]} */ (whole);
    if (first.value !== undefined) {
      return [{ name: 'value', kind: first.unit.startsWith('deg') ? 'signed' : 'number', unit: first.unit }];
    }
    if (first.kind === 'look') return [{ name: 'lot', kind: 'code', unit: '' }];
    return kind === 'record' ? [{ name: 'text', kind: 'text', unit: '' }] : [];
  }

  /**
   * Return a press for each thing that can be corrected.
   * @param {any} view
   * @param {Visit} visit
   * @returns {Array<Node>}
   */
  function presses(view, visit) {
    return correctable(view, visit).map((one) => button(
      [el('b', {}, say('work-correct')), el('span', {}, one.says)], () => open(view, one),
      { class: 'press', 'data-correct': one.event.seq }));
  }

  /** @param {any} view @param {Correctable} one */
  function open(view, { event, says, asks }) {
    const kept = drafts(view);
    // The form of a step that has stopped keeps its own drafts, by the place of the step.
    const name = `entry-${event.seq}`;
    const fields = asks.map((ask) => (ask.kind === /** @type {any} */ ('text') ? textField(kept, name, ask.name) : keypad(view, {
      name: `${name}-${ask.name}`, kind: ask.kind, label: say(LABELS[ask.name]), unit: ask.unit,
    })));
    view.open({
      name: 'reason',
      kind: `correct-${event.seq}`,
      title: say('work-correct'),
      about: [say('work-correct-first', { says }), say('work-correct-stays')],
      body: el('div.work-form', {}, fields),
      offered: [say('work-correct-slip'), say('work-correct-misread')],
      confirm: say('work-hold-to', { what: say('work-correct') }),
      isHeld: true,
      act: (/** @type {string} */ reason) => {
        const own = Object.fromEntries(asks.map((ask) => [ask.name, entered(kept.get(`${name}-${ask.name}`), ask.kind)]));
        const unit = asks[0].unit === '' ? {} : { unit: asks[0].unit };
        return view.act('correct', { corrects: event.seq, ...own, ...unit, reason });
      },
    });
  }

  /** @param {any} kept @param {string} name @param {string} own */
  function textField(kept, name, own) {
    const field = el('textarea', { id: `${name}-text`, rows: 2, maxlength: 500, 'data-typed': `${name}-${own}` });
    field.value = kept.get(`${name}-${own}`);
    field.addEventListener('input', () => kept.set(`${name}-${own}`, field.value));
    return el('div', {}, el('label', { for: field.id }, say(LABELS[own])), field);
  }

  /** @param {string} text @param {string} kind */
  function entered(text, kind) {
    if (kind === 'text') return text.trim();
    const found = settled(text, /** @type {Typing} */ (kind));
    return kind === 'whole' ? (found === '' ? -1 : Number(found)) : found;
  }

  /**
   * Return a press that takes the mark of a step back, nothing where that may not be.
   * @param {any} view
   * @param {Visit} visit
   * @returns {Array<Node>}
   */
  function takingBack(view, visit) {
    const seq = visit.done === null ? visit.values[visit.values.length - 1] : visit.done;
    const code = seq === undefined ? 'nothing-to-correct' : view.against('unmark', { corrects: seq, reason: '-' });
    if (code === 'past-a-hold') return [el('p', {}, say('work-unmark-hold'))];
    if (code !== '') return [];
    return [button(say('work-unmark'), () => view.open({
      name: 'reason',
      kind: 'unmark',
      title: say('work-unmark'),
      about: [say('work-unmark-about')],
      offered: [say('work-unmark-slip'), say('work-unmark-not-done')],
      confirm: say('work-hold-to', { what: say('work-unmark') }),
      isHeld: true,
      act: (/** @type {string} */ reason) => view.act('unmark', { corrects: seq, reason }),
    }), { class: 'press', 'data-unmark': seq })];
  }

  return Object.freeze({ presses, takingBack });
})();
