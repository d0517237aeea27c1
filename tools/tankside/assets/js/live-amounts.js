'use strict';

/* Amounts that follow what is typed for the input of their procedure. All of them change together, before the browser
   draws again; when one cannot be worked out, none of them is shown. */
(function () {
  const { amountTexts, readInput } = tankside.amounts;
  const { exactText } = tankside.numberText;
  const { Refusal } = tankside.reading;

  /** @param {Element} place @param {string} what */
  function said(place, what) {
    return place.getAttribute(`data-${what}`) || '';
  }

  /** @param {Element} box the field of one procedure, with its data */
  function follow(box) {
    /** @param {string} what @returns {any} */
    const part = (what) => box.querySelector(`[data-live-${what}]`);
    /** @type {Procedure & {id: string}} */
    const procedure = JSON.parse(part('data').textContent);
    const { words } = procedure;
    const field = /** @type {HTMLInputElement} */ (part('field'));
    const usual = field.defaultValue;
    const own = `${procedure.id}/`;
    /** @type {any} */
    const missing = { both: words.none, inside: words.none, working: () => words.none, at: '' };
    /** @type {any} of each amount; null when there are none */
    let shown = null;
    /** @type {Array<{place: Element, amount: string, way: string}>} */
    const places = [...document.querySelectorAll('[data-amount]')]
      .map((place) => ({ place, amount: said(place, 'amount'), way: said(place, 'shows') }))
      .filter(({ amount }) => amount.startsWith(own))
      .map(({ place, amount, way }) => ({ place, amount: amount.slice(own.length), way }));

    /** @param {{place: Element, amount: string, way: string}} one */
    function fillPlace({ place, amount, way }) {
      const text = (shown === null ? missing : shown.get(amount))[way];
      const fold = place.closest('details');
      // A fold that is shut keeps nothing that would be old when it is opened.
      if (way !== 'working') place.textContent = text;
      else place.textContent = fold === null || fold.open ? text() : '';
      place.classList.toggle('not-worked-out', shown === null);
    }

    /** @param {any} texts of each amount; null when there are none */
    function fill(texts) {
      shown = texts;
      places.forEach(fillPlace);
    }

    /** @param {string} refusal what is wrong, empty when nothing is @param {string} status */
    function say(refusal, status) {
      part('refusal').textContent = refusal;
      part('refusal').hidden = refusal === '';
      field.setAttribute('aria-invalid', String(refusal !== ''));
      part('status').textContent = status;
    }

    function update() {
      try {
        const chosen = readInput(procedure.input, field.value);
        fill(amountTexts(procedure, chosen));
        say('', words.workedOut.replace('{value}', exactText(chosen)));
      } catch (error) {
        fill(null);
        say(error instanceof Refusal ? error.message : words.fault, words.none);
        if (!(error instanceof Refusal)) throw error;
      }
    }

    for (const one of places) {
      const fold = one.way === 'working' && one.place.closest('details');
      if (fold) fold.addEventListener('toggle', () => fillPlace(one));
    }
    field.addEventListener('input', update);
    part('reset').addEventListener('click', function () {
      field.value = usual;
      update();
      field.focus();
    });
    // A page that is come back to may have its field filled already.
    window.addEventListener('pageshow', update);
    part('asked').hidden = false;
  }

  document.querySelectorAll('[data-live]').forEach(follow);
})();
