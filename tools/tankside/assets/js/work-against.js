'use strict';

var tankside = window.tankside || {};

/* What the board has against a start: each reason with the pieces, since when, from which working copy, and what to do. */
tankside.workAgainst = (function () {
  const { say } = tankside.dom;
  const { followed } = tankside.copyFold;
  const { board } = tankside.board;
  const { contradictions } = tankside.boardStart;

  /**
   * Return what is against the start of the working copy that a page is about, and what cannot be told, in words.
   * @param {any} view
   * @returns {Promise<{reasons: string[], unread: string[], sheets: Object<string, string>}>} `sheets` are the serials of
   *   those that were taken over, with the copies that hold them
   */
  async function against(view) {
    const { store } = view.work;
    /** @type {CopyHead[]} */
    const heads = await store.copies();
    const copies = [];
    const unread = [];
    /** @type {Object<string, string>} */
    const sheets = {};
    const { rest, locks } = view.around;
    for (const { copy, title } of heads) {
      const record = await store.record(copy);
      const found = folded(record, rest);
      if (found === null) unread.push(say('work-against-unread', { title }));
      else copies.push(found);
      if (record !== null && record.events[0].paper !== undefined) sheets[record.events[0].paper] = copy;
    }
    const reasons = reasonTexts(view, contradictions(board(rest, copies), view.copy.script, copies, locks), heads);
    return { reasons, unread, sheets };
  }

  /**
   * Return what the events of a record lead to, as far as their chain holds.
   * @param {CopyRecord | null} record
   * @param {State} rest the plant while nobody works
   * @returns {Copy | null} null where they lead to nothing that this page understands
   */
  function folded(record, rest) {
    if (record === null) return null;
    try {
      const { copy } = followed(record.edition, record.events);
      // One that the board cannot follow must not keep all others from being told.
      board(rest, [copy]);
      return copy;
    } catch (error) {
      return null;
    }
  }

  /**
   * Return reasons in words; those that say the same of several pieces are said once.
   * @param {any} view
   * @param {StartReason[]} found
   * @param {CopyHead[]} heads
   * @returns {string[]}
   */
  function reasonTexts(view, found, heads) {
    /** @type {Map<string, {each: StartReason, tags: string[]}>} */
    const together = new Map();
    for (const each of found) {
      const key = JSON.stringify([each.code, each.condition, each.reference.copy, each.reference.seq]);
      const known = together.get(key) || { each, tags: [] };
      together.set(key, { each, tags: [...known.tags, each.tag] });
    }
    return [...together.values()].map(({ each, tags }) => reasonText(view, each, tags.join(', '), heads));
  }

  /** @param {any} view @param {StartReason} reason @param {string} tag one or several @param {CopyHead[]} heads */
  function reasonText(view, { code, condition, reference }, tag, heads) {
    const { title = reference.id, lot = '' } = heads.find(({ copy }) => copy === reference.copy) || {};
    const since = say('work-against-since', {
      day: reference.at.slice(0, 10), time: reference.at.slice(11, 16), what: lot === '' ? title : `${title}, ${lot}`,
    });
    return `${say(`work-against-${code}`, { tag, says: conditionText(view, condition) })} ${since} ${say(`work-against-${code}-do`, { tag })}`;
  }

  /** @param {any} view @param {string} condition */
  function conditionText(view, condition) {
    const found = view.copy.script.parts.map((/** @type {CopyPart} */ { edition }) => edition.conditions[condition]);
    return (found.find(Boolean) || { says: condition }).says;
  }

  return Object.freeze({ against });
})();
