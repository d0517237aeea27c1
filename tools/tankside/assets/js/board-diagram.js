'use strict';

var tankside = window.tankside || {};

/** @typedef {{number: number, d: string, width: string}} MaterialPattern strokes round the middle of a piece */

/* The board over the line diagram: of each piece the look that is known is shown, its liquid as high as it is known to
   stand, and words under its tag. What a drawing holds, `drawing/board_diagram.py` says. */
tankside.boardDiagram = (function () {
  const { say } = tankside.dom;
  const { read, compare } = tankside.rational;
  const { isSome } = tankside.volumes;
  const { pieceOf, contentsOf, own } = tankside.plantState;
  const { isAnything, inside, volumeText } = tankside.boardWords;

  /** So many materials are told apart in one piece; of more, the first. */
  const MOST_TOLD = 3;
  const NOT_KNOWN = '?';
  const PIPES = ['line', 'hose'];
  const PLAIN = ['meter', 'instrument', 'nozzle'];
  const WASHED = [...PIPES, 'tank', 'drum', 'pail', 'jug'];

  /**
   * Show a board on a drawing.
   * @param {Element} svg
   * @param {Board} board
   * @param {BoardBook} book
   * @param {Object<string, MaterialPattern>} patterns by material
   */
  function show(svg, board, book, patterns) {
    for (const group of svg.querySelectorAll('[data-tag]')) {
      const tag = group.getAttribute('data-tag') || '';
      showPiece(group, known(board, tag), board, { book, patterns, tag });
    }
    for (const group of svg.querySelectorAll('[data-joint]')) {
      const [first, second] = (group.getAttribute('data-joint') || '').split(' ');
      const isJoined = isJoinedTo(board, first, second) || isJoinedTo(board, second, first);
      look(group, isJoined ? 'joined' : 'joinable');
    }
  }

  /** @param {Board} board @param {string} tag @param {string} other */
  function isJoinedTo(board, tag, other) {
    return known(board, tag).joined_to === other;
  }

  /**
   * Return the fields of a piece that are known; none of one of which nobody is sure.
   * @param {Board} board
   * @param {string} tag
   * @returns {any}
   */
  function known({ state, since, unsure }, tag) {
    if (own(unsure, tag) !== undefined || own(state.pieces, tag) === undefined) return {};
    const piece = /** @type {any} */ (pieceOf(state, tag));
    return Object.fromEntries(Object.keys(own(since, tag) || {}).map((field) => [field, piece[field]]));
  }

  /**
   * @param {Element} group
   * @param {any} piece what is known of it
   * @param {Board} board
   * @param {{book: BoardBook, patterns: Object<string, MaterialPattern>, tag: string}} about
   */
  function showPiece(group, piece, board, { book, patterns, tag }) {
    look(group, lookOf(piece));
    sign(group, 'pressure', piece.is_under_pressure === true);
    sign(group, 'locked', piece.is_locked === true);
    sign(group, 'out-of-order', piece.is_in_order === false);
    const contents = piece.contents ? contentsOf(board.state, tag) : null;
    const materials = contents === null || isAnything(contents, book, tag) ? [] : [...contents.parts.keys()];
    const found = materials.map((name) => patterns[name]).filter((each) => each !== undefined);
    const isUnsure = own(board.unsure, tag) !== undefined;
    const lines = isUnsure ? [say('board-not-sure')] : linesOf(piece, contents, found, own(book.pieces, tag), book);
    group.querySelectorAll('[data-info]').forEach((line, at) => { line.textContent = lines[at] || ''; });
    fill(group, contents, found, own(book.pieces, tag));
  }

  /** @param {any} piece @returns {string} */
  function lookOf({ is_open: isOpen, is_running: isRunning, is_locked: isLocked }) {
    if (isOpen !== undefined) return isOpen ? 'open' : 'shut';
    if (isRunning !== undefined) return isRunning ? 'running' : 'stopped';
    return isLocked ? 'locked' : '';
  }

  /** Show one way to draw it, the first where it has no such way. @param {Element} group @param {string} name */
  function look(group, name) {
    const looks = [...group.querySelectorAll('[data-look]')];
    const shown = looks.find((each) => each.getAttribute('data-look') === name) || looks[0];
    looks.forEach((each) => display(each, each === shown));
  }

  /** @param {Element} group @param {string} name @param {boolean} isShown */
  function sign(group, name, isShown) {
    group.querySelectorAll(`[data-sign="${name}"]`).forEach((each) => display(each, isShown));
  }

  /** @param {Element} element @param {boolean} isShown */
  function display(element, isShown) {
    if (isShown) element.removeAttribute('display');
    else element.setAttribute('display', 'none');
  }

  /**
   * Return what stands under a tag; the words say what the form says.
   * @param {any} piece
   * @param {Contents | null} contents
   * @param {MaterialPattern[]} found
   * @param {BoardPiece | undefined} about
   * @param {BoardBook} book
   * @returns {string[]}
   */
  function linesOf(piece, contents, found, about, book) {
    const { symbol = '' } = about || {};
    const fault = piece.is_in_order === false ? [say('state-out-of-order')] : [];
    if (piece.is_open !== undefined) return [say(piece.is_open ? 'state-open' : 'state-shut'), ...fault];
    if (piece.is_running !== undefined) return [say(piece.is_running ? 'diagram-running' : 'state-stopped'), ...fault];
    if (PLAIN.includes(symbol)) return fault;
    if (!WASHED.includes(symbol)) return [NOT_KNOWN, ...fault];
    const units = PIPES.includes(symbol) ? '' : book.units;
    const lines = contents === null ? [NOT_KNOWN] : heldLines(inside(contents.volume, about), found, units);
    if (piece.is_under_pressure) lines.push(say('diagram-pressure'));
    if (piece.label) lines.push(say(`state-label-${piece.label.replace(' ', '-')}`));
    if (piece.wash) lines.push(say(`state-wash-${piece.wash}`));
    return [...lines, ...fault];
  }

  /** @param {Interval} volume @param {MaterialPattern[]} found @param {string} units empty: without the volume */
  function heldLines(volume, found, units) {
    if (!isSome(volume.high)) return [say('state-empty')];
    const numbers = found.map(({ number }) => number).sort((one, other) => one - other);
    const told = numbers.slice(0, MOST_TOLD).join('+') + (numbers.length > MOST_TOLD ? '…' : '');
    return [told || NOT_KNOWN, ...(units === '' ? [] : [volumeText(volume, units)])];
  }

  /**
   * Draw what stands in a piece: as wide as it up to the least, half as wide from there to the most.
   * @param {Element} group
   * @param {Contents | null} contents
   * @param {MaterialPattern[]} found
   * @param {BoardPiece | undefined} about
   */
  function fill(group, contents, found, about) {
    for (const place of group.querySelectorAll('[data-inside]')) {
      place.replaceChildren();
      if (contents === null || about === undefined || about.capacity === undefined) continue;
      const [left, top, right, bottom] = (place.getAttribute('data-inside') || '').split(' ').map(Number);
      const full = PIPES.includes(about.symbol) ? null : read(about.capacity);
      const [low, high] = [contents.volume.low, contents.volume.high].map((each) => share(each, full));
      const [least, most] = [low, high].map((each) => bottom - each * (bottom - top));
      level(place, { left, right, top: least, bottom }, found, 'none');
      level(place, { left, right: (left + right) / 2, top: most, bottom: least }, found, '4 3');
    }
  }

  /** @param {Rational} volume @param {Rational | null} full null where a line is full once something is in it */
  function share(volume, full) {
    if (full === null || compare(volume, full) >= 0) return isSome(volume) ? 1 : 0;
    return Number(volume.numerator * full.denominator * 10000n / (volume.denominator * full.numerator)) / 10000;
  }

  /**
   * @param {Element} place
   * @param {{left: number, top: number, right: number, bottom: number}} box
   * @param {MaterialPattern[]} found
   * @param {string} dashes
   */
  function level(place, { left, top, right, bottom }, found, dashes) {
    const [width, height] = [right - left, bottom - top];
    if (width <= 0 || height <= 0) return;
    const told = found.slice(0, MOST_TOLD);
    const one = width / Math.max(told.length, 1);
    told.forEach((material, at) => column(place, { x: left + at * one, y: top, width: one, height }, material));
    const walls = told.slice(1).map((_, at) => `M${left + (at + 1) * one} ${top}V${bottom}`).join('');
    const outline = { d: `M${left} ${top}H${right}V${bottom}H${left}Z${walls}`, fill: 'none', stroke: '#000' };
    add(place, 'path', { ...outline, 'stroke-width': '1.5', 'stroke-dasharray': dashes });
  }

  /**
   * Draw the pattern of a material, cut to a box.
   * @param {Element} place
   * @param {{x: number, y: number, width: number, height: number}} box
   * @param {MaterialPattern} material
   */
  function column(place, { x, y, width, height }, { d, width: stroke }) {
    const cut = add(place, 'svg', { x, y, width, height, viewBox: `${x} ${y} ${width} ${height}`, overflow: 'hidden' });
    add(cut, 'path', { d, fill: 'none', stroke: '#000', 'stroke-width': stroke, 'stroke-linecap': 'round' });
  }

  /** @param {Element} within @param {string} name @param {Object<string, string | number>} attributes */
  function add(within, name, attributes) {
    const element = document.createElementNS(within.namespaceURI, name);
    Object.entries(attributes).forEach(([key, value]) => element.setAttribute(key, String(value)));
    within.append(element);
    return element;
  }

  return Object.freeze({ show });
})();
