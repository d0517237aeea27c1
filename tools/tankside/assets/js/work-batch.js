'use strict';

var tankside = window.tankside || {};

/* What is chosen before the start: the lot, the bottles, how much is made; and what follows from it. */
tankside.workBatch = (function () {
  const { el, say, button } = tankside.dom;
  const { keypad } = tankside.workKeys;
  const { drafts, settled, hasComma } = tankside.workTyping;
  const { like, isInside, quantityOrNull } = tankside.copyWorth;
  const { amountTexts } = tankside.amounts;
  const { Refusal } = tankside.reading;
  const { numberText } = tankside.workFigures;
  const { tiles, fold } = tankside.workPieces;

  /** @param {any} view @returns {string} the product that is made or labelled, empty where there is not just one */
  function productOf(view) {
    const editions = view.copy.script.parts.map((/** @type {CopyPart} */ { edition }) => edition);
    const labelled = editions.flatMap((/** @type {any} */ { labels }) => Object.keys(labels));
    const made = editions.flatMap((/** @type {any} */ { written }) => (
      Object.values(written.amounts).map((/** @type {any} */ amount) => amount.with.product).filter(Boolean)));
    const found = new Set([...labelled, ...made]);
    return found.size === 1 ? [...found][0] : '';
  }

  /** @param {any} view @param {() => void} after @returns {HTMLElement | null} the lot, where something is added or labelled */
  function lotPart(view, after) {
    if (!view.copy.script.needsLot) return null;
    const known = el('div.work-known', {});
    const pad = keypad(view, { name: 'start-lot', kind: 'code', label: say('work-start-lot'), after });
    const field = /** @type {HTMLInputElement} */ (pad.querySelector('input'));
    openLots(view).then((lots) => known.append(...lots.map((lot) => button(lot, () => {
      field.value = lot;
      field.dispatchEvent(new Event('input'));
    }, { 'data-lot': lot }))));
    return el('div', {}, known, pad);
  }

  /** @param {any} view @returns {Promise<string[]>} the lots that are at work on this device */
  async function openLots(view) {
    const { store } = view.work;
    /** @type {CopyHead[]} */
    const heads = store ? await store.copies().catch(() => []) : [];
    return [...new Set(heads.filter(({ ended, lot }) => ended === '' && lot !== '').map(({ lot }) => lot))];
  }

  /** @param {any} view @param {() => void} after @returns {HTMLElement | null} the bottles, where labels are changed to */
  function bottlePart(view, after) {
    const { sizes } = view.copy.script;
    if (sizes.length === 0) return null;
    return el('div', {}, el('p.work-label', {}, say('work-start-bottle')), tiles(view, {
      name: 'start-bottle', label: say('work-start-bottle'), options: sizes.map((/** @type {string} */ size) => [size, size]), after,
    }));
  }

  /** @param {any} view @returns {{lot: string, product: string, bottle: string, inputs: Inputs}} */
  function chosen(view) {
    const kept = drafts(view);
    /** @type {Inputs} */
    const inputs = {};
    for (const each of view.copy.script.inputs) {
      const text = chosenText(view, each);
      const [procedure, name] = each;
      if (text !== '') inputs[procedure] = { ...inputs[procedure], [name]: text };
    }
    return { lot: settled(kept.get('start-lot'), 'code'), product: productOf(view), bottle: kept.get('start-bottle'), inputs };
  }

  /** @param {[string, string, any]} input */
  const draftOf = ([procedure, name]) => `start-input-${procedure}-${name}`;
  /** @param {any} asked the unit in which an input is typed */
  const unitOf = ({ usual }) => /** @type {Quantity} */ (quantityOrNull(usual)).unit;

  /** @param {any} view @param {[string, string, any]} input @returns {string} its value with the unit, empty when it is none */
  function chosenText(view, input) {
    const number = settled(drafts(view).get(draftOf(input)), 'number');
    return number === '' ? '' : `${number} ${unitOf(input[2]).symbol}`;
  }

  /** @param {any} asked its usual value and those of its table, each once, as numbers in one unit */
  function usualNumbers(asked) {
    const unit = unitOf(asked);
    const values = [asked.usual, ...asked.table].map((text) => /** @type {Quantity} */ (quantityOrNull(text)));
    const sorted = values.sort((one, other) => tankside.rational.compare(one.value, other.value));
    return [...new Set(sorted.map(({ value }) => numberText({ value, unit })))];
  }

  /**
   * Return what is against a value of an input, in words; the same values pass as `refusal` lets pass.
   * @param {any} view
   * @param {[string, string, any]} input
   * @returns {string}
   */
  function fault(view, input) {
    const [, , asked] = input;
    const text = drafts(view).get(draftOf(input));
    if (text.trim() === '') return say('work-start-input-missing');
    const value = quantityOrNull(chosenText(view, input));
    if (value === null) return say(hasComma(text) ? 'work-number-comma' : 'work-number-none');
    const [low, high] = [quantityOrNull(asked.from), quantityOrNull(asked.to)];
    const isFine = like(value, /** @type {Quantity} */ (low)) && isInside(value.value, low, high);
    if (!isFine) return say('work-start-range', { low: asked.from, high: asked.to, value: chosenText(view, input) });
    return following(view, input).fault;
  }

  /**
   * Return the amounts that follow from an input.
   * @param {any} view
   * @param {[string, string, any]} input
   * @returns {{fault: string, lines: Array<[string, string]>}} titles with amounts
   */
  function following(view, [procedure, name, asked]) {
    const part = view.shown.parts.find((/** @type {any} */ each) => each.procedure === procedure);
    const value = quantityOrNull(chosenText(view, [procedure, name, asked]));
    if (!part || !part.live || part.live.input.name !== name || value === null) return { fault: '', lines: [] };
    try {
      const texts = amountTexts(part.live, value);
      return { fault: '', lines: part.live.amounts.map((/** @type {Amount} */ each) => [each.title, texts.get(each.name).both]) };
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      return { fault: say('work-start-not-measured', { why: error.message }), lines: [] };
    }
  }

  /** @param {any} view @param {() => void} after @returns {HTMLElement[]} how much, for each input */
  function inputParts(view, after) {
    return view.copy.script.inputs.map((/** @type {[string, string, any]} */ input) => inputPart(view, input, after));
  }

  /** @param {any} view @param {[string, string, any]} input @param {() => void} after */
  function inputPart(view, input, after) {
    const [procedure, name, asked] = input;
    const kept = drafts(view);
    const unit = unitOf(asked);
    const result = el('div', { 'aria-live': 'polite', 'data-amounts': `${procedure}/${name}` });
    const paint = () => {
      const isTyped = kept.get(draftOf(input)).trim() !== '';
      const words = isTyped ? fault(view, input) : '';
      const { lines } = words === '' ? following(view, input) : { lines: [] };
      result.replaceChildren(
        ...(words === '' ? [] : [el('p.work-missing', {}, words)]),
        ...(lines.length === 0 ? [] : [el('dl.work-amounts', {}, lines.map(([title, text]) => el('div', {}, el('dt', {}, title), el('dd', {}, text))))]));
      usual.forEach((each) => each.setAttribute('aria-pressed', String(each.dataset.size === settled(kept.get(draftOf(input)), 'number'))));
      after();
    };
    const pad = keypad(view, { name: draftOf(input), kind: 'number', label: say('work-start-size'), unit: unit.symbol, after: () => paint() });
    const field = /** @type {HTMLInputElement} */ (pad.querySelector('input'));
    const usual = usualNumbers(asked).map((number) => button(`${number} ${unit.symbol}`, () => {
      field.value = number;
      field.dispatchEvent(new Event('input'));
    }, { 'data-size': number }));
    paint();
    return el('div.work-input', {},
      el('p.work-label', {}, asked.asks),
      el('p', {}, say('work-start-usual', { low: asked.from, high: asked.to, usual: asked.usual })),
      el('div.work-tiles', { role: 'group', 'aria-label': asked.asks }, usual),
      fold(view, `${draftOf(input)}-other`, say('work-start-other'), [pad]), result);
  }

  return Object.freeze({ productOf, lotPart, bottlePart, inputParts, chosen, fault });
})();
