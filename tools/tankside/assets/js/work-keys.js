'use strict';

var tankside = window.tankside || {};

/**
 * @typedef {{name: string, label: string}} TypedField `name` is that of the draft
 * @typedef {{kind: Typing, unit?: string, after?: () => void, done?: () => void}} TypedHow `after` is called at each
 *   change, `done` when Enter was pressed in the last field
 */

/* Large keys for wet gloves, beside fields that a keyboard types into. What is typed stays when the page is painted anew:
   it is kept in the drafts of the page. */
tankside.workKeys = (function () {
  const { el, say } = tankside.dom;
  const { KEYS, BACK, LONGEST, pressed, keyed, drafts } = tankside.workTyping;

  /** @param {string} symbol a unit as people write it */
  function unitText(symbol) {
    return symbol.replace(/^deg(?=[CF]$)/, '°');
  }

  /**
   * Return a field with its keys.
   * @param {object} view
   * @param {TypedField & TypedHow} typed
   * @returns {HTMLElement}
   */
  function keypad(view, { name, label, ...how }) {
    return keypads(view, [{ name, label }], how);
  }

  /**
   * Return fields with the keys that they share: what is pressed goes into the field that was touched last.
   * @param {object} view
   * @param {TypedField[]} asked
   * @param {TypedHow} how
   * @returns {HTMLElement}
   */
  function keypads(view, asked, { kind, unit = '', after = () => {}, done = () => {} }) {
    const kept = drafts(view);
    const fields = asked.map(({ name }) => fieldFor(name, kind, kept.get(name)));
    const rows = asked.map(({ label }, place) => el('p.work-typed', {},
      el('label', { for: fields[place].id }, label), fields[place],
      unit === '' ? null : el('span.work-unit', {}, unitText(unit))));
    let active = 0;
    const turn = (/** @type {number} */ place) => {
      active = place;
      if (fields.length > 1) rows.forEach((row, each) => row.classList.toggle('work-typed-now', each === place));
    };
    const change = (/** @type {number} */ place, /** @type {string} */ text) => {
      kept.set(asked[place].name, text);
      if (fields[place].value !== text) fields[place].value = text;
      after();
    };
    fields.forEach((field, place) => {
      field.addEventListener('focus', () => turn(place));
      field.addEventListener('input', () => change(place, keyed(field.value, kind)));
      field.addEventListener('keydown', (/** @type {KeyboardEvent} */ event) => {
        if (event.key !== 'Enter') return;
        event.preventDefault();
        if (place + 1 < fields.length) fields[place + 1].focus();
        else done();
      });
    });
    turn(0);
    const keys = keysOf(kind, (key) => change(active, pressed(fields[active].value, key, kind)));
    const many = fields.length > 1 ? '.work-typing-many' : '';
    return el(`div.work-typing${many}`, {}, el('div', {}, rows), keys);
  }

  /** @param {string} name @param {Typing} kind @param {string} text @returns {HTMLInputElement} */
  function fieldFor(name, kind, text) {
    const field = el('input', {
      id: `typed-${name}`, 'data-typed': name, type: 'text', autocomplete: 'off', spellcheck: 'false',
      maxlength: LONGEST[kind],
      // The keyboard of the system hides half the screen; only a code may need a sign that has no large key.
      inputmode: kind === 'code' ? 'text' : 'none',
    });
    field.value = text;
    return field;
  }

  /**
   * Return large keys. They act when the touch ends, each time: two keys soon after each other are no slip.
   * @param {Typing} kind
   * @param {(key: string) => void} press
   * @returns {HTMLElement}
   */
  function keysOf(kind, press) {
    const made = KEYS[kind].map((key) => {
      if (key === '') return el('span', {});
      // The fields beside them take the keyboard: the way through the page must not lead over forty keys.
      const button = el('button', { type: 'button', 'data-key': key, tabindex: -1 }, key === BACK ? say('work-keys-back') : key);
      button.addEventListener('click', () => press(key));
      return button;
    });
    return el(`div.work-keys.work-keys-${kind}`, { role: 'group', 'aria-label': say('work-keys') }, made);
  }

  return Object.freeze({ keypad, keypads, unitText });
})();
