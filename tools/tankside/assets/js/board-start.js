'use strict';

var tankside = window.tankside || {};

/**
 * Something that is against a start. `field` is empty where the whole piece is in use; `condition` is the prerequisite
 * that is contradicted.
 * @typedef {{code: 'contradicted' | 'out-of-order' | 'locked' | 'on-hold' | 'in-use', tag: string, field: string,
 *   reference: EventReference, condition: string}} StartReason
 */
/** @typedef {(effect: Effect) => boolean} Asks whether an effect is of a certain sort */

/* Why a working copy may not begin now, as far as the board knows (`records/board_start.py`, `reach.py`). What nobody
   recorded is no reason: then people only look. */
tankside.boardStart = (function () {
  const { read, compare, ZERO } = tankside.rational;
  const { isSome, within, readInterval } = tankside.volumes;
  const { pieceOf, contentsOf, own } = tankside.plantState;
  const { isOpen } = tankside.copyState;
  const { canonical } = tankside.chain;
  const { asked, effectsIn, effectsOf, seenAt, rulesIn, referenceTo } = tankside.boardDeeds;
  const { touched } = tankside.board;

  /** Procedures that are begun because something is wrong with what others are at. */
  const SOMETHING_WRONG = 'something-wrong';

  /**
   * Return what is against a start of a script.
   * @param {Board} board
   * @param {CopyScript} script
   * @param {Copy[]} copies all other working copies that are recorded
   * @param {Object<string, string[]>} locks the points of locks of each piece
   * @returns {StartReason[]}
   */
  function contradictions(board, script, copies, locks) {
    const found = contradicted(board, script);
    const spokenOf = new Set(found.map(({ tag, field }) => `${tag} ${field}`));
    const known = [...outOfOrder(board, script), ...locked(board, script, locks), ...onHold(board, script)];
    const others = known.filter(({ tag, field }) => !spokenOf.has(`${tag} ${field}`));
    const all = [...found, ...others, ...inUse(script, copies)];
    return [...new Map(all.map((each) => [canonical(each), each])).values()];
  }

  /**
   * @param {StartReason['code']} code
   * @param {string} tag
   * @param {string} field
   * @param {EventReference} reference
   * @returns {StartReason}
   */
  function reason(code, tag, field, reference, condition = '') {
    return { code, tag, field, reference, condition };
  }

  /** @param {Board} board @param {string} tag @param {string} field @returns {EventReference | undefined} */
  function known({ since }, tag, field) {
    return own(own(since, tag) || {}, field);
  }

  /** @param {Board} board @param {CopyScript} script */
  function contradicted(board, script) {
    return asked(script).flatMap(([number, name]) => {
      const part = script.parts[number];
      return seenAt(part, name).flatMap((effect) => {
        const { tag } = /** @type {Sets} */ (effect);
        const held = own(rulesIn(part).held, tag);
        const field = disagreeing(board, effect, held === undefined ? ZERO : read(held.heel));
        const since = known(board, tag, field);
        // Where nobody is sure any more, people look.
        if (since === undefined || own(board.unsure, tag) !== undefined) return [];
        return [reason('contradicted', tag, field, since, name)];
      });
    });
  }

  /**
   * Return the field of a piece that is not as an effect sees it, empty where all agrees.
   * @param {Board} board
   * @param {Effect} effect
   * @param {Rational} heel
   * @returns {string}
   */
  function disagreeing({ state }, effect, heel) {
    const { tag } = /** @type {Sets} */ (effect);
    if (own(state.pieces, tag) === undefined) return '';
    const piece = /** @type {any} */ (pieceOf(state, tag));
    switch (effect.kind) {
      case 'sets': {
        const isCleaner = effect.to === 'rinsed' && piece[effect.field] === 'clean';
        return piece[effect.field] === effect.to || isCleaner ? '' : effect.field;
      }
      case 'joins': return piece.joined_to === (effect.to || null) ? '' : 'joined_to';
      case 'sees': {
        if (piece.contents === null) return '';
        return within(contentsOf(state, tag).volume, readInterval(effect.volume)) === null ? 'contents' : '';
      }
      case 'names': {
        if (piece.contents === null) return '';
        // What is no more than the heel was left over; it does not decide the name.
        const others = [...contentsOf(state, tag).parts].filter(([name]) => name !== effect.material);
        return others.some(([, { low, high }]) => isSome(low) && compare(high, heel) > 0) ? 'contents' : '';
      }
      default: return '';
    }
  }

  /**
   * @param {Board} board
   * @param {string} field
   * @param {(piece: Required<Piece>) => boolean} isSo
   * @returns {Array<{tag: string, since: EventReference}>}
   */
  function allKnown(board, field, isSo) {
    const tags = Object.keys(board.since).sort().filter((tag) => own(board.since[tag], field) !== undefined);
    const found = tags.filter((tag) => isSo(pieceOf(board.state, tag)));
    return found.map((tag) => ({ tag, since: board.since[tag][field] }));
  }

  /** @param {Board} board @param {CopyScript} script */
  function outOfOrder(board, script) {
    return allKnown(board, 'is_in_order', (piece) => !piece.is_in_order)
      .filter(({ tag }) => comesTo(script, (effect) => turned(effect).includes(tag)
        || (effect.kind === 'flows' && [effect.source, ...effect.through, effect.target].includes(tag)),
      setting(tag, 'is_in_order', true)))
      .map(({ tag, since }) => reason('out-of-order', tag, 'is_in_order', since));
  }

  /** @param {Board} board @param {CopyScript} script @param {Object<string, string[]>} locks */
  function locked(board, script, locks) {
    const all = script.parts.flatMap(allDone).flatMap(turned);
    return allKnown(board, 'is_locked', (piece) => piece.is_locked)
      .filter(({ tag: point }) => {
        const kept = all.filter((tag) => tag === point || (own(locks, tag) || []).includes(point));
        const uses = (/** @type {Effect} */ effect) => turned(effect).some((tag) => kept.includes(tag));
        return comesTo(script, uses, setting(point, 'is_locked', false));
      })
      .map(({ tag, since }) => reason('locked', tag, 'is_locked', since));
  }

  /** @param {Board} board @param {CopyScript} script */
  function onHold(board, script) {
    return allKnown(board, 'label', (piece) => piece.label === 'on hold')
      .filter(({ tag }) => comesTo(
        script, (effect) => effect.kind === 'flows' && effect.source === tag, setting(tag, 'label', 'released')))
      .map(({ tag, since }) => reason('on-hold', tag, 'label', since));
  }

  /** @param {string} tag @param {string} field @param {boolean | string} to @returns {Asks} */
  function setting(tag, field, to) {
    return (effect) => effect.kind === 'sets' && effect.tag === tag && effect.field === field && effect.to === to;
  }

  /** @param {Effect} effect @returns {string[]} what it opens or starts */
  function turned(effect) {
    const isTurned = effect.kind === 'sets' && ['is_open', 'is_running'].includes(effect.field) && effect.to === true;
    return isTurned ? [/** @type {Sets} */ (effect).tag] : [];
  }

  /**
   * Return whether some way of a script leads to an effect that `uses` before one that `ends`, done or seen.
   * @param {CopyScript} script
   * @param {Asks} uses
   * @param {Asks} ends
   */
  function comesTo(script, uses, ends) {
    const todo = entry(script, 0);
    const walked = new Set();
    for (let place = todo.pop(); place !== undefined; place = todo.pop()) {
      const [number, at] = place;
      if (walked.has(`${number} ${at}`)) continue;
      walked.add(`${number} ${at}`);
      const part = script.parts[number];
      const first = effectsOf(part, part.nodes[at].step).find((effect) => uses(effect) || ends(effect));
      if (first !== undefined && !ends(first)) return true;
      if (first === undefined) todo.push(...onward(script, number, part.nodes[at], ends));
    }
    return false;
  }

  /** @param {CopyScript} script @param {number} number @param {CopyNode} node @param {Asks} ends */
  function onward(script, number, { exits }, ends) {
    const ways = exits.filter(({ to, away, seen }) => !away && to !== 'decides' && !effectsIn(seen).some(ends));
    return ways.flatMap(({ to }) => (to === 'ends' ? entry(script, number + 1) : [[number, Number(to)]]));
  }

  /** Where a part begins, or the next one that has a step. @param {CopyScript} script @param {number} number */
  function entry({ parts }, number) {
    const at = parts.findIndex(({ start }, place) => place >= number && start !== 'ends');
    return at < 0 ? [] : [[at, Number(parts[at].start)]];
  }

  /** @param {CopyPart} part all that it may do */
  function allDone(part) {
    return part.nodes.flatMap(({ step }) => effectsOf(part, step));
  }

  /** @param {CopyScript} script the pieces that it may change @returns {Set<string>} */
  function piecesOf({ parts }) {
    return new Set(parts.flatMap((part) => allDone(part).flatMap((effect) => touched(rulesIn(part), effect))));
  }

  /** @param {CopyScript} script @param {Copy[]} copies */
  function inUse(script, copies) {
    if (script.edition.written.situation === SOMETHING_WRONG) return [];
    const mine = piecesOf(script);
    return copies.filter((copy) => copy.events.length > 0 && !copy.ended && !isSent(copy, script)).flatMap((copy) => {
      const last = referenceTo(copy, copy.events.length - 1);
      const both = [...piecesOf(copy.script)].filter((tag) => mine.has(tag)).sort();
      return both.map((tag) => reason('in-use', tag, '', last));
    });
  }

  /** @param {Copy} copy @param {CopyScript} script whether the copy waits for what it has sent people to */
  function isSent(copy, script) {
    const now = copy.trail.find(isOpen);
    return now !== undefined && now.kind === 'away' && now.name === script.id;
  }

  return Object.freeze({ contradictions });
})();
