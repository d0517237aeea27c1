'use strict';

var tankside = window.tankside || {};

/** @typedef {{edition: any, events: CopyEvent[]}} Recorded a working copy as it was kept */
/** @typedef {{title: string, tags: string[], svg: string}} BoardSide a side of the plant, drawn */

/* The board on the home page: nothing is shown, and nothing more is loaded, until something was recorded here. */
tankside.boardPage = (function () {
  /**
   * Load scripts one after the other: each uses those before it.
   * @param {string[]} addresses
   * @returns {Promise<void>}
   */
  async function load(addresses) {
    const loads = addresses.map((address) => new Promise((resolve, reject) => {
      const script = document.createElement('script');
      script.async = false;
      script.src = address;
      script.addEventListener('load', resolve);
      script.addEventListener('error', () => reject(new Error(`${address} is missing`)));
      document.head.append(script);
    }));
    await Promise.all(loads);
  }

  /**
   * Return what is kept on this device.
   * @param {string} book
   * @returns {Promise<Recorded[]>}
   */
  async function kept(book) {
    const store = await tankside.copyStore.open(book);
    try {
      const heads = await store.copies();
      const records = await Promise.all(heads.map(({ copy }) => store.record(copy)));
      return records.flatMap((each) => (each === null ? [] : [each]));
    } finally {
      store.close();
    }
  }

  /**
   * Fold a record; one whose chain is broken, up to where it breaks.
   * @param {Recorded} record
   * @returns {{copy: Copy | null, trouble: string}} words on what is left out, empty when nothing is
   */
  function folded({ edition, events }) {
    const { title } = edition.written;
    try {
      const { copy, broken: [first] } = tankside.copyFold.followed(edition, events);
      const trouble = first === undefined ? '' : tankside.dom.say('board-damaged', { number: first[0] + 1, title });
      return { copy, trouble };
    } catch (error) {
      return { copy: null, trouble: tankside.dom.say('board-unread', { title }) };
    }
  }

  /**
   * Show what records say.
   * @param {HTMLElement} section
   * @param {Recorded[]} records
   */
  function show(section, records) {
    const { boardData: book } = tankside;
    const found = records.map(folded);
    const copies = found.flatMap(({ copy }) => (copy === null ? [] : [copy]));
    const board = tankside.board.board(book.rest, copies);
    const begun = copies.filter(({ events }) => events.length > 0);
    const titles = new Map(begun.map(({ events, script }) => [events[0].copy, script.edition.written.title]));
    const { el } = tankside.dom;
    const { recorded, unrecorded } = tankside.boardList;
    const troubles = found.map(({ trouble }) => trouble).filter(Boolean);
    place(section, 'troubles', troubles.map((trouble) => el('li', {}, trouble)));
    for (const [name, lines] of Object.entries(recorded(board, book, titles))) place(section, name, lines);
    place(section, 'unrecorded', unrecorded(board, book));
    place(section, 'last', [lastText(begun)]);
    drawings(section, board, book);
    hide(section, '[data-board-whole]', false);
    hide(section, '[data-board-failed]', true);
    reveal(section);
  }

  /** @param {HTMLElement} section @param {string} name @param {Array<Node | string>} found */
  function place(section, name, found) {
    const element = /** @type {HTMLElement} */ (section.querySelector(`[data-board-${name}]`));
    element.replaceChildren(...found);
    const hides = /** @type {HTMLElement | null} */ (element.closest('[data-board-hides]'));
    (hides || element).hidden = found.length === 0;
  }

  /** @param {Copy[]} copies */
  function lastText(copies) {
    const lasts = copies.map(({ events, script }) => ({ at: events[events.length - 1].at, script }));
    const last = lasts.reduce((one, other) => (Date.parse(other.at) > Date.parse(one.at) ? other : one), lasts[0]);
    if (last === undefined) return '';
    const time = tankside.boardList.timeText(last.at);
    return tankside.dom.say('board-last', { time, title: last.script.edition.written.title });
  }

  /**
   * Draw each side of the plant of which something is known.
   * @param {HTMLElement} section
   * @param {Board} board
   * @param {any} book
   */
  function drawings(section, board, book) {
    /** @type {{sides: BoardSide[], patterns: Object<string, MaterialPattern>, key: string}} */
    const { sides, patterns, key } = tankside.boardDrawing;
    const known = new Set([...Object.keys(board.since), ...Object.keys(board.unsure)]);
    const shown = sides.filter(({ tags }) => tags.some((tag) => known.has(tag)));
    const drawn = shown.map(({ title, svg }) => {
      const label = tankside.dom.say('board-drawing', { side: title });
      const frame = tankside.dom.el('div.scroll.line-diagram', { tabindex: 0, role: 'group', 'aria-label': label });
      frame.append(element(svg));
      tankside.boardDiagram.show(frame, board, book, patterns);
      return [tankside.dom.el('h3', {}, title), frame];
    });
    place(section, 'drawings', drawn.flat());
    place(section, 'key', shown.length === 0 ? [] : [element(key)]);
  }

  /** @param {string} svg of our own build @returns {Element} */
  function element(svg) {
    return document.importNode(new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement, true);
  }

  /** @param {HTMLElement} section */
  function reveal(section) {
    section.hidden = false;
    hide(document, '[data-board-jump]', false);
  }

  /** @param {ParentNode} within @param {string} wanted @param {boolean} isHidden */
  function hide(within, wanted, isHidden) {
    for (const each of within.querySelectorAll(wanted)) /** @type {HTMLElement} */ (each).hidden = isHidden;
  }

  /** @param {HTMLElement} section @param {any} error */
  function failed(section, error) {
    // Where a browser keeps nothing at all, nothing was recorded.
    if (error.code === 'store-none') return;
    hide(section, '[data-board-whole]', true);
    hide(section, '[data-board-failed]', false);
    reveal(section);
  }

  /** @type {Promise<void> | null} */
  let loaded = null;

  /** @param {HTMLElement} section */
  async function begin(section) {
    const { book = '', scripts = '[]' } = section.dataset;
    const records = await kept(book);
    if (records.length === 0) return;
    loaded = loaded || load(JSON.parse(scripts));
    await loaded;
    show(section, records);
  }

  /** @type {HTMLElement | null} */
  const section = document.querySelector('[data-board]');
  if (section !== null) {
    // A page that is come back to may be older than what was recorded since.
    window.addEventListener('pageshow', () => { begin(section).catch((error) => failed(section, error)); });
  }

  return Object.freeze({ show });
})();
