'use strict';

var tankside = window.tankside || {};

/**
 * What was recorded of the plant; a field of a piece that has no `since` is not known.
 * @typedef {{state: State, since: Object<string, Object<string, EventReference>>,
 *   unsure: Object<string, EventReference>}} Board
 */

/* The board: what is in each tank, line and drum now, as far as it was recorded (`records/board.py`). It says what
   somebody entered. It never replaces looking. */
tankside.board = (function () {
  const { pieceOf, own } = tankside.plantState;
  const { folded } = tankside.fold;
  const { canonical } = tankside.chain;
  const { orderedDeeds } = tankside.boardDeeds;

  /** What stands in a piece of which nothing is known, not even what it may hold. */
  const UNKNOWN_MATERIAL = 'unknown';

  /**
   * Return what working copies say of the plant.
   * @param {State} rest the plant while nobody works; a piece that it does not know is a new one
   * @param {Copy[]} copies in any order
   * @returns {Board}
   */
  function board(rest, copies) {
    /** @type {Board} */
    let found = { state: { pieces: rest.pieces, worn: [] }, since: {}, unsure: {} };
    for (const deed of orderedDeeds(copies)) found = after(found, deed);
    return found;
  }

  /** What was done, what nobody can be sure of, what was seen in the end. @param {Board} before @param {Deed} deed */
  function after(before, deed) {
    const { done, doubted, seen, rules } = deed;
    const whole = { ...before, state: withAll(before.state, rules, [...done, ...doubted, ...seen]) };
    const unsure = doubt(done.reduce((found, effect) => taken(found, deed, effect), whole), deed);
    return seen.reduce((found, effect) => sure(taken(found, deed, effect), touched(rules, effect)), unsure);
  }

  /** @param {Board} before @param {Deed} deed @param {Effect} effect @returns {Board} */
  function taken({ state, since, unsure }, { rules, reference }, effect) {
    const made = folded(rules, state, effect);
    const said = { ...since };
    for (const [tag, field] of [...setBy(made, effect), ...changed(state, made)]) {
      said[tag] = { ...own(said, tag), [field]: reference };
    }
    return { state: made, since: said, unsure };
  }

  /**
   * Make unsure what effects name, and what they would change by the way: pressure that rises or goes.
   * @param {Board} before
   * @param {Deed} deed
   * @returns {Board}
   */
  function doubt(before, { rules, reference, doubted }) {
    const ifDone = doubted.reduce((state, effect) => folded(rules, state, effect), before.state);
    const tags = [
      ...doubted.flatMap((effect) => touched(rules, effect)),
      ...changed(before.state, ifDone).map(([tag]) => tag),
    ];
    return { ...before, unsure: { ...before.unsure, ...Object.fromEntries(tags.map((tag) => [tag, reference])) } };
  }

  /** @param {Board} before @param {string[]} tags @returns {Board} */
  function sure(before, tags) {
    const left = Object.entries(before.unsure).filter(([tag]) => !tags.includes(tag));
    return { ...before, unsure: Object.fromEntries(left) };
  }

  /**
   * Return the pieces that an effect is about; a supply stays as it is.
   * @param {Rules} rules
   * @param {Effect} effect
   * @returns {string[]}
   */
  function touched(rules, effect) {
    return tagsOf(effect).filter((tag) => effect.kind !== 'flows' || !rules.supplies.includes(tag));
  }

  /** @param {Effect} effect @returns {string[]} */
  function tagsOf(effect) {
    if (effect.kind === 'wears') return [];
    if (effect.kind !== 'flows') return [effect.tag];
    return [...(effect.source === undefined ? [] : [effect.source]), ...effect.through, effect.target];
  }

  /** What an effect says outright, whether or not it was so before. @param {State} state @param {Effect} effect */
  function setBy(state, effect) {
    switch (effect.kind) {
      case 'sets': return [[effect.tag, effect.field]];
      case 'joins': return [[effect.tag, 'joined_to']];
      case 'energy': return [[effect.tag, effect.stage]];
      case 'names':
      case 'sees': return pieceOf(state, effect.tag).contents === null ? [] : [[effect.tag, 'contents']];
      default: return [];
    }
  }

  /** @param {State} before @param {State} now @returns {string[][]} tag and field */
  function changed(before, now) {
    return Object.keys(now.pieces).flatMap((tag) => {
      if (now.pieces[tag] === before.pieces[tag]) return [];
      const [was, is] = [pieceOf(before, tag), pieceOf(now, tag)];
      return Object.keys(is).filter((field) => canonical(valueOf(was, field)) !== canonical(valueOf(is, field)))
        .map((field) => [tag, field]);
    });
  }

  /** @param {any} piece @param {string} field */
  function valueOf(piece, field) {
    return piece[field];
  }

  /**
   * Return the state with every piece that these effects, and the rules for them, are about.
   * @param {State} state
   * @param {Rules} rules
   * @param {Effect[]} effects
   * @returns {State}
   */
  function withAll(state, rules, effects) {
    const named = new Set([
      ...effects.flatMap(tagsOf),
      ...Object.keys(rules.held),
      ...rules.pressure.flatMap(under),
      ...Object.values(rules.isolated_at).flatMap((sources) => sources.map(([machine]) => machine)),
    ]);
    const pieces = { ...state.pieces };
    for (const tag of named) pieces[tag] = own(pieces, tag) || {};
    for (const [tag, { capacity }] of Object.entries(rules.held)) {
      if (capacity === undefined || (pieces[tag].contents || null) !== null) continue;
      const volume = /** @type {IntervalText} */ (['0', capacity]);
      pieces[tag] = { ...pieces[tag], contents: { volume, parts: { [UNKNOWN_MATERIAL]: volume } } };
    }
    return { ...state, pieces };
  }

  /** @param {PressureRule} rule */
  function under({ line, fed, relieved }) {
    return [line, ...[...fed, ...relieved].flatMap(({ driver, open, joined }) => [
      ...open, ...joined.map(([loose]) => loose), ...(driver === undefined ? [] : [driver]),
    ])];
  }

  return Object.freeze({ board, touched });
})();
