'use strict';

var tankside = window.tankside || {};

/**
 * What a page must know of a piece; volumes are exact text [L].
 * @typedef {{symbol: string, name: string, where?: string, asks: string[], heel: string, capacity?: string}} BoardPiece
 */
/**
 * What a page must know of a book.
 * @typedef {{
 *   units: string, rest: State, pieces: Object<string, BoardPiece>, materials: Object<string, string>
 * }} BoardBook
 */
/** @typedef {{field: string, words: string, since: EventReference}} BoardFact */

/* What is known of a piece, in words: as pages of the dry run say it (`views/states.py`, `views/numbers.py`). */
tankside.boardWords = (function () {
  const { say } = tankside.dom;
  const { rational, read, compare, multiply } = tankside.rational;
  const { pieceOf, contentsOf, own } = tankside.plantState;
  const { isSome, interval } = tankside.volumes;
  const { unitOf } = tankside.units;
  const { rangeText } = tankside.numberText;

  /** Fields that are told, in this order; what has touched a wall is folded and not told. */
  const TOLD = ['contents', 'label', 'wash', 'is_open', 'is_running', 'is_locked', 'joined_to', 'is_under_pressure',
    'is_in_order', 'is_proved', 'dissipated', 'verified'];
  const YES_NO = /** @type {Object<string, [string, string]>} */ ({
    is_open: ['open', 'shut'],
    is_running: ['runs', 'stopped'],
    is_locked: ['locked', 'unlocked'],
    is_in_order: ['in-order', 'out-of-order'],
    is_under_pressure: ['pressure', 'no-pressure'],
    is_proved: ['proved', 'not-proved'],
  });
  /** Gaps that are filled later. */
  const GAP = { value: '{value}', low: '{low}', high: '{high}' };
  /** What is at most this part of the whole is told with how much it may be. */
  const LITTLE = rational(2n);

  /**
   * Return what is known of a piece.
   * @param {Board} board
   * @param {BoardBook} book
   * @param {string} tag
   * @returns {BoardFact[]}
   */
  function facts(board, book, tag) {
    const since = own(board.since, tag) || {};
    return TOLD.filter((field) => own(since, field) !== undefined)
      .map((field) => ({ field, words: words(board, book, tag, field), since: since[field] }))
      .filter((fact) => fact.words !== '');
  }

  /** @param {Board} board @param {BoardBook} book @param {string} tag @param {string} field @returns {string} */
  function words({ state }, book, tag, field) {
    const piece = /** @type {any} */ (pieceOf(state, tag));
    const value = piece[field];
    if (YES_NO[field] !== undefined) return say(`state-${YES_NO[field][value ? 0 : 1]}`);
    switch (field) {
      case 'joined_to': return value === null ? say('state-not-joined') : say('state-joined', { other: value });
      case 'wash':
      case 'label': return say(`state-${field}-${value.replace(' ', '-')}`);
      case 'contents': return value === null ? '' : held(contentsOf(state, tag), book, tag);
      default: return value.length === 0 ? '' : `${value.join(', ')} ${say(`state-${field}`)}`;
    }
  }

  /** @param {Contents} contents @param {BoardBook} book @param {string} tag */
  function held(contents, book, tag) {
    const { volume, parts } = contents;
    if (!isSome(volume.high)) return say('state-empty');
    const much = volumeText(inside(volume, own(book.pieces, tag)), book.units);
    if (isAnything(contents, book, tag)) return say('state-holds-anything', { volume: much });
    const told = say('state-holds', { volume: much, materials: materialsText(parts, volume, book) });
    const piece = own(book.pieces, tag);
    const isHeel = piece !== undefined && compare(volume.high, read(piece.heel)) <= 0;
    return isHeel ? say('state-heel', { held: told }) : told;
  }

  /**
   * Return whether nothing is known of what stands in a piece.
   * @param {Contents} contents
   * @param {BoardBook} book
   * @param {string} tag
   */
  function isAnything({ parts }, { rest }, tag) {
    const piece = own(rest.pieces, tag);
    const may = piece === undefined || !piece.contents ? [] : Object.keys(piece.contents.parts);
    const isSure = [...parts.values()].some(({ low }) => isSome(low));
    return may.length > 1 && !isSure && may.every((name) => parts.has(name));
  }

  /** @param {ReadonlyMap<string, Interval>} parts @param {Interval} volume @param {BoardBook} book @returns {string} */
  function materialsText(parts, volume, book) {
    const named = [...parts].map(([id, part]) => ({ name: own(book.materials, id) || id, ...part }));
    const sure = named.filter(({ low }) => isSome(low));
    const perhaps = named.filter(({ low }) => !isSome(low));
    if (sure.length === 0) return either(perhaps);
    const isMuch = (/** @type {{high: Rational}} */ { high }) => compare(multiply(high, LITTLE), volume.high) > 0;
    const [much, little] = [perhaps.filter(isMuch), perhaps.filter((each) => !isMuch(each))];
    let found = sure.map(({ name }) => name).join(say('state-and'));
    if (much.length > 0) found = say('state-perhaps', { sure: found, perhaps: either(much) });
    if (little.length === 0) return found;
    const most = little.map(({ high }) => high).reduce((one, other) => (compare(one, other) < 0 ? other : one));
    const bound = volumeText(interval(most, most), book.units);
    return say('state-little', { sure: found, most: bound, little: either(little) });
  }

  /** @param {Array<{name: string}>} found */
  function either(found) {
    const names = found.map(({ name }) => name);
    const last = names.pop() || '';
    return names.length === 0 ? last : `${names.join(', ')}${say('state-or')}${last}`;
  }

  /**
   * Return a volume no larger than a piece can hold: who saw how much there is at least said nothing of the most.
   * @param {Interval} volume
   * @param {BoardPiece | undefined} piece
   */
  function inside({ low, high }, piece) {
    if (piece === undefined || piece.capacity === undefined) return interval(low, high);
    const full = read(piece.capacity);
    // An overflow that was recorded is told.
    return interval(low, compare(low, full) <= 0 && compare(high, full) > 0 ? full : high);
  }

  /** @param {Interval} volume [L] @param {string} units the book's first system */
  function volumeText({ low, high }, units) {
    return rangeText(litres(low), litres(high), units, { about: say('about', GAP), both: say('limits-both', GAP) });
  }

  /** @param {Rational} volume [L] @returns {Quantity} */
  function litres(volume) {
    const unit = unitOf('L');
    return { value: multiply(volume, unit.factor), unit };
  }

  return Object.freeze({ facts, volumeText, inside, isAnything });
})();
