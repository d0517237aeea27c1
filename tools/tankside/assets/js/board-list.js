'use strict';

var tankside = window.tankside || {};

/* The board as a list, piece by piece: what is known and since when, what is not sure, what is not known. */
tankside.boardList = (function () {
  const { el, say } = tankside.dom;
  const { own, pieceOf } = tankside.plantState;
  const { facts } = tankside.boardWords;

  /**
   * Return a line for each piece of which something was recorded: those that are at work or want a look, those in which
   * something may stand, and all others.
   * @param {Board} board
   * @param {BoardBook} book
   * @param {Map<string, string>} titles of the procedures and checklists, by copy
   * @returns {{first: HTMLElement[], held: HTMLElement[], quiet: HTMLElement[]}}
   */
  function recorded(board, book, titles) {
    const found = { first: [], held: [], quiet: [] };
    for (const tag of tagsOf(board, book).filter((each) => isRecorded(board, book, each))) {
      /** @type {any} */ (found)[groupOf(board, book, tag)].push(line(board, book, tag, titles));
    }
    return found;
  }

  /** @param {Board} board @param {BoardBook} book @param {string} tag @param {Map<string, string>} titles */
  function line(board, book, tag, titles) {
    const unsure = own(board.unsure, tag);
    const known = facts(board, book, tag);
    const open = asked(book, tag).filter((field) => known.every((fact) => fact.field !== field));
    return el('li', { 'data-board-piece': tag },
      el('b', {}, nameOf(book, tag)),
      unsure === undefined ? null : el('p.board-unsure', {}, unsureText(unsure, titles)),
      el('ul', {},
        ...together(known).map(({ words, since }) => el('li', {}, sinceText(words, since, titles))),
        ...open.map((field) => el('li', {}, notKnown(field)))));
  }

  /** Put what is known from one event into one line. @param {BoardFact[]} known @returns {BoardFact[]} */
  function together(known) {
    /** @type {Map<string, BoardFact>} */
    const found = new Map();
    for (const fact of known) {
      const key = `${fact.since.copy} ${fact.since.seq}`;
      const before = found.get(key);
      found.set(key, before === undefined ? fact : { ...before, words: `${before.words}; ${fact.words}` });
    }
    return [...found.values()];
  }

  /** @param {Board} board @param {BoardBook} book @param {string} tag @returns {'first' | 'held' | 'quiet'} */
  function groupOf(board, book, tag) {
    const known = own(board.since, tag) || {};
    const isSo = (/** @type {string} */ field, /** @type {any} */ value) => (
      own(known, field) !== undefined && /** @type {any} */ (pieceOf(board.state, tag))[field] === value);
    const rest = own(book.rest.pieces, tag) || {};
    const isAtWork = (isSo('is_open', true) && !rest.is_open) || (isSo('is_running', true) && !rest.is_running)
      || isSo('is_locked', true) || isSo('is_under_pressure', true) || isSo('is_in_order', false)
      || isSo('label', 'on hold') || (own(known, 'joined_to') !== undefined && !isSo('joined_to', null));
    if (isAtWork || own(board.unsure, tag) !== undefined) return 'first';
    return asked(book, tag).includes('contents') ? 'held' : 'quiet';
  }

  /**
   * Return a line for each piece that one asks about, and of which nothing was recorded.
   * @param {Board} board
   * @param {BoardBook} book
   * @returns {HTMLElement[]}
   */
  function unrecorded(board, book) {
    const tags = tagsOf(board, book).filter((tag) => asked(book, tag).length > 0 && !isRecorded(board, book, tag));
    return tags.map((tag) => el('li', {}, nameOf(book, tag)));
  }

  /** Those of the book in its order, then those that it does not know. @param {Board} board @param {BoardBook} book */
  function tagsOf(board, book) {
    const tags = [...Object.keys(board.since), ...Object.keys(board.unsure)];
    return [...new Set([...Object.keys(book.pieces), ...tags.sort()])];
  }

  /** @param {Board} board @param {BoardBook} book @param {string} tag */
  function isRecorded(board, book, tag) {
    return own(board.unsure, tag) !== undefined || facts(board, book, tag).length > 0;
  }

  /** @param {BoardBook} book @param {string} tag @returns {string[]} */
  function asked(book, tag) {
    const piece = own(book.pieces, tag);
    return piece === undefined ? [] : piece.asks;
  }

  /** @param {BoardBook} book @param {string} tag */
  function nameOf(book, tag) {
    const piece = own(book.pieces, tag);
    return piece === undefined ? tag : say('diagram-piece', { tag, name: piece.name });
  }

  /** @param {string} field */
  function notKnown(field) {
    return say('board-not-known', { what: say(`board-asks-${field.replace('_', '-')}`) });
  }

  /** @param {string} fact @param {EventReference} since @param {Map<string, string>} titles */
  function sinceText(fact, since, titles) {
    const gaps = { fact, lot: since.lot, title: titleOf(since, titles) };
    return timed(since.lot === '' ? 'board-since' : 'board-since-lot', gaps, since.at);
  }

  /** @param {EventReference} since @param {Map<string, string>} titles */
  function unsureText(since, titles) {
    return timed('board-unsure', { title: titleOf(since, titles) }, since.at);
  }

  /**
   * Return a sentence in which the time stays on one line.
   * @param {string} key
   * @param {Object<string, string>} gaps
   * @param {string} at
   * @returns {Array<Node | string>}
   */
  function timed(key, gaps, at) {
    const [before, after] = say(key, { ...gaps, time: '\n' }).split('\n');
    return [before, el('time', { datetime: at }, timeText(at)), after];
  }

  /** @param {EventReference} since @param {Map<string, string>} titles */
  function titleOf({ copy, id }, titles) {
    return titles.get(copy) || id;
  }

  /**
   * Return the time of an event as it was there; the day, too, unless it is today's.
   * @param {string} at
   */
  function timeText(at) {
    const [day, time] = [at.slice(0, 10), at.slice(11, 16)];
    const now = new Date();
    const today = [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((each) => String(each).padStart(2, '0'));
    return day === today.join('-') ? time : `${day} ${time}`;
  }

  return Object.freeze({ recorded, unrecorded, timeText });
})();
