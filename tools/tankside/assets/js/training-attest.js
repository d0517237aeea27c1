'use strict';

var tankside = window.tankside || {};

/* The form by which somebody stands for something with initials, a role, and a press that is held. */
tankside.trainingAttest = (function () {
  const { el, say, holdButton } = tankside.dom;
  const { keypad } = tankside.workKeys;
  const { tiles } = tankside.workPieces;
  const { drafts, settled } = tankside.workTyping;
  const { isSame } = tankside.trainingEntries;

  /**
   * Return the form, and what paints anew what is missing in it.
   * @param {any} trained
   * @param {{
   *   name: string, confirm: string, act: (own: {assessor: string, assessor_role: string}) => Promise<boolean>,
   *   lacking?: () => string[]
   * }} about `lacking` is what is missing elsewhere, in words
   * @returns {{form: HTMLElement, paint: () => void}}
   */
  function attest(trained, { name, confirm, act, lacking = () => [] }) {
    const kept = drafts(trained.view);
    const own = () => ({ assessor: settled(kept.get(`${name}-who`), 'initials'), assessor_role: kept.get(`${name}-role`) });
    const missing = el('div', { 'aria-live': 'polite', 'data-train-missing': name });
    const go = holdButton(say('work-hold-to', { what: confirm }), async () => {
      if (!await act(own())) return;
      kept.drop(`${name}-`);
      // What has been done is folded away.
      const fold = form.closest('details');
      if (fold !== null) fold.open = false;
    }, { 'data-train-hold': name });
    const paint = () => {
      const words = [...lacking(), ...assessor(trained, own())];
      missing.replaceChildren(...(words.length === 0 ? [] : [
        el('p.work-label', {}, say('work-start-missing')), el('ul', {}, words.map((each) => el('li', {}, each)))]));
      go.disabled = words.length > 0;
    };
    const form = el('div.work-form', {},
      keypad(trained.view, { name: `${name}-who`, kind: 'initials', label: say('train-assessor'), after: paint }),
      el('p.work-label', {}, say('train-assessor-role')),
      tiles(trained.view, { name: `${name}-role`, label: say('train-assessor-role'), options: trained.roles, after: paint }),
      missing, go);
    paint();
    return { form, paint };
  }

  /** @param {any} trained @param {{assessor: string, assessor_role: string}} own @returns {string[]} */
  function assessor(trained, own) {
    const found = [];
    if (own.assessor === '') found.push(say('train-refused-assessor-missing'));
    else if (isSame(own.assessor, trained.person)) found.push(say('train-refused-own-assessor'));
    if (own.assessor_role === '') found.push(say('train-refused-assessor-role-missing'));
    return found;
  }

  /**
   * Return a form that is made when it is opened.
   * @param {string} title
   * @param {() => Node[]} fill
   * @param {Object<string, any>} [attributes]
   */
  function folded(title, fill, attributes = {}) {
    const inside = el('div', {});
    const made = el('details.work-fold', attributes, el('summary', {}, title), inside);
    made.addEventListener('toggle', () => inside.replaceChildren(...(made.open ? fill() : [])));
    return made;
  }

  return Object.freeze({ attest, folded });
})();
