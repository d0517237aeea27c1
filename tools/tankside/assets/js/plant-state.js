'use strict';

var tankside = window.tankside || {};

/**
 * What is known of a piece of equipment; what is as it is of every new piece is left out.
 * @typedef {{is_open?: boolean, is_running?: boolean, is_locked?: boolean, is_in_order?: boolean,
 *   is_under_pressure?: boolean, is_proved?: boolean, joined_to?: string | null, contents?: ContentsText | null,
 *   traces?: string[], wash?: string, label?: string, dissipated?: string[], verified?: string[]}} Piece
 */
/** @typedef {{readonly pieces: Object<string, Piece>, readonly worn: string[]}} State */

/* The state of the plant and of the person at one moment: `state.py`, as `portable.py` writes it. */
tankside.plantState = (function () {
  const { EMPTY, readContents } = tankside.volumes;

  const NEW = Object.freeze({
    is_open: false, is_running: false, is_locked: false, is_in_order: true, is_under_pressure: false, is_proved: false,
    joined_to: null, contents: null, traces: [], wash: 'unknown', label: 'unknown', dissipated: [], verified: [],
  });

  /**
   * Return all that is known of a piece.
   * @param {State} state
   * @param {string} tag
   * @returns {Required<Piece>}
   */
  function pieceOf(state, tag) {
    const piece = own(state.pieces, tag);
    if (piece === undefined) throw new RangeError(`nothing is known of '${tag}'`);
    return { ...NEW, ...piece };
  }

  /**
   * Return the state with something else known of one piece.
   * @param {State} state
   * @param {string} tag
   * @param {Piece} changes
   * @returns {State}
   */
  function withPiece(state, tag, changes) {
    const known = Object.entries({ ...pieceOf(state, tag), ...changes });
    const piece = Object.fromEntries(known.filter(([name, value]) => !isNew(name, value)));
    return { ...state, pieces: { ...state.pieces, [tag]: piece } };
  }

  /** @param {string} name @param {any} value */
  function isNew(name, value) {
    return Array.isArray(value) ? value.length === 0 : value === /** @type {any} */ (NEW)[name];
  }

  /**
   * Return what stands in a piece.
   * @param {State} state
   * @param {string} tag
   */
  function contentsOf(state, tag) {
    const { contents } = pieceOf(state, tag);
    return contents === null ? EMPTY : readContents(contents);
  }

  /**
   * Return what a table has of its own: a tag may be a word that every object knows.
   * @template T
   * @param {Object<string, T>} table
   * @param {string} name
   * @returns {T | undefined}
   */
  function own(table, name) {
    return Object.prototype.hasOwnProperty.call(table, name) ? table[name] : undefined;
  }

  /**
   * Return the names of all, sorted.
   * @param {...string[]} sets
   */
  function union(...sets) {
    return [...new Set(sets.flat())].sort();
  }

  /**
   * Return the names that are not among others.
   * @param {string[]} names
   * @param {string[]} others
   */
  function without(names, others) {
    return names.filter((name) => !others.includes(name));
  }

  return Object.freeze({ pieceOf, withPiece, contentsOf, own, union, without });
})();
