'use strict';

var tankside = window.tankside || {};

/** @typedef {{capacity?: string, heel: string}} Held how much a piece holds [L]; no capacity: without end */
/** @typedef {{driver?: string, open: string[], joined: Array<[string, string]>}} Way */
/** @typedef {{line: string, fed: Way[], relieved: Way[]}} PressureRule */
/**
 * What a fold must know of the plant beside the state.
 * @typedef {{held: Object<string, Held>, lines: string[], supplies: string[], waters: string[],
 *   isolated_at: Object<string, Array<[string, string]>>, pressure: PressureRule[]}} Rules
 */
/** @typedef {{kind: 'sets', tag: string, field: string, to: boolean | string}} Sets */
/** @typedef {{kind: 'joins', tag: string, to?: string}} Joins to nothing, when `to` is left out */
/** @typedef {{kind: 'energy', tag: string, source: string, stage: 'dissipated' | 'verified'}} Energy */
/** @typedef {{kind: 'wears', what: string[], is_on: boolean}} Wears */
/**
 * @typedef {{kind: 'flows', source?: string, material: string, through: string[], target: string,
 *   amount?: IntervalText}} Flows from outside, without `source`; until only the heel is left, without `amount`
 */
/** @typedef {{kind: 'names', tag: string, material: string}} Names */
/** @typedef {{kind: 'sees', tag: string, volume: IntervalText}} Sees */
/** @typedef {Sets | Joins | Energy | Wears | Flows | Names | Sees} Effect */

/* Effects folded into a state: `fold.py` and `settled` of `pressure.py`, with all as `portable.py` writes it. */
tankside.fold = (function () {
  const { ZERO, read, subtract } = tankside.rational;
  const { pieceOf, withPiece, contentsOf, own, union, without } = tankside.plantState;
  const { NOTHING, contents, interval, isSome, plus, less, within, poured, together, divided, flushed,
    readInterval, contentsText } = tankside.volumes;

  /** Fields that change what presses on the lines. */
  const PRESSING = ['is_open', 'is_running', 'is_under_pressure'];
  /** A label no longer says what is there once something has been put in. */
  const OUTDATED = ['released', 'unlabelled'];

  /**
   * Return the state after an effect; the one before stays as it is.
   * @param {Rules} rules
   * @param {State} state
   * @param {Effect} effect
   * @returns {State}
   */
  function folded(rules, state, effect) {
    switch (effect.kind) {
      case 'sets': return set(rules, state, effect);
      case 'joins': return settled(rules, withPiece(state, effect.tag, { joined_to: effect.to || null }));
      case 'energy': {
        const before = pieceOf(state, effect.tag)[effect.stage];
        return withPiece(state, effect.tag, { [effect.stage]: union(before, [effect.source]) });
      }
      case 'wears': {
        const worn = effect.is_on ? union(state.worn, effect.what) : without(state.worn, effect.what);
        return { ...state, worn };
      }
      case 'names': return named(state, effect);
      case 'flows': return flow(rules, state, effect);
      case 'sees': return seen(state, effect);
      default: throw new RangeError(`no kind of effect '${/** @type {any} */ (effect).kind}'`);
    }
  }

  /** @param {Rules} rules @param {State} state @param {Sets} effect */
  function set(rules, state, { tag, field, to }) {
    /** @type {Piece} */
    const changes = { [field]: to };
    // What starts has energy again, and what air a stopped exhaust moved is no longer shown.
    if (field === 'is_running') Object.assign(changes, to ? { dissipated: [], verified: [] } : { is_proved: false });
    if (field === 'wash' && to === 'clean') changes.traces = [];
    let after = withPiece(state, tag, changes);
    if (field === 'is_locked' && !to) {
      for (const [machine, source] of own(rules.isolated_at, tag) || []) {
        after = withPiece(after, machine, { verified: without(pieceOf(after, machine).verified, [source]) });
      }
    }
    return PRESSING.includes(field) ? settled(rules, after) : after;
  }

  /** Believe the eyes. @param {State} state @param {Sees} effect */
  function seen(state, { tag, volume }) {
    if (pieceOf(state, tag).contents === null) return state;
    const [held, sees] = [contentsOf(state, tag), readInterval(volume)];
    const agreed = contents(within(held.volume, sees) || sees, held.parts);
    return withPiece(state, tag, { contents: contentsText(agreed) });
  }

  /** @param {State} state @param {Names} effect */
  function named(state, { tag, material }) {
    if (pieceOf(state, tag).contents === null) return state;
    return withPiece(state, tag, { contents: contentsText(poured(material, contentsOf(state, tag).volume)) });
  }

  /**
   * Take from the source, lead through each line, put into the target.
   * @param {Rules} rules
   * @param {State} state
   * @param {Flows} effect
   */
  function flow(rules, state, effect) {
    const { source, through, target } = effect;
    if (source === target) return wetted(state, through, materialsOf(contentsOf(state, target)));
    let [running, after] = taken(rules, state, effect);
    let touched = materialsOf(running);
    for (const tag of through) {
      if (rules.lines.includes(tag)) {
        [after, running] = ledOn(rules, after, tag, running, effect);
        touched = union(touched, materialsOf(running));
      } else {
        after = wetted(after, [tag], touched);
      }
    }
    return put(rules, after, target, running);
  }

  /** @param {Rules} rules @param {State} state @param {Flows} effect @returns {[Contents, State]} */
  function taken(rules, state, { source, material, through, amount }) {
    const wanted = amount === undefined ? null : withFilling(rules, state, through, readInterval(amount));
    if (source === undefined || rules.supplies.includes(source)) return [poured(material, wanted || NOTHING), state];
    const piece = pieceOf(state, source);
    const held = contentsOf(state, source);
    const [out, left] = divided(held, wanted, read(heldBy(rules, source).heel));
    const isWatery = materialsOf(held).some((each) => rules.waters.includes(each));
    const after = withPiece(state, source, {
      contents: contentsText(left),
      traces: union(piece.traces, materialsOf(held)),
      wash: wanted === null && isWatery && piece.wash === 'dirty' ? 'rinsed' : piece.wash,
    });
    return [out, after];
  }

  /**
   * Return what must run so that a volume arrives behind these tags: it fills the lines on its way. Where it is not
   * known whether anything arrives, it may be that nothing has run.
   * @param {Rules} rules
   * @param {State} state
   * @param {string[]} tags
   * @param {Interval} volume
   */
  function withFilling(rules, state, tags, volume) {
    const lines = tags.filter((tag) => rules.lines.includes(tag));
    const wanted = lines.reduce((sum, line) => plus(sum, room(rules, state, line)), volume);
    return isSome(volume.high) && !isSome(volume.low) ? interval(ZERO, wanted.high) : wanted;
  }

  /** @param {Rules} rules @param {State} state @param {string} line */
  function room(rules, state, line) {
    const [full, { volume }] = [capacityOf(rules, line), contentsOf(state, line)];
    return interval(subtract(full, volume.high), subtract(full, volume.low));
  }

  /**
   * @param {Rules} rules
   * @param {State} state
   * @param {string} line
   * @param {Contents} incoming
   * @param {Flows} effect
   * @returns {[State, Contents]}
   */
  function ledOn(rules, state, line, incoming, { through, amount }) {
    const [piece, before] = [pieceOf(state, line), contentsOf(state, line)];
    let passed = less(incoming.volume, room(rules, state, line));
    if (amount !== undefined) {
      // What arrives is measured, so what passes each line is known from the end.
      const later = through.slice(through.indexOf(line) + 1);
      passed = within(passed, withFilling(rules, state, later, readInterval(amount))) || passed;
    }
    const [inside, out] = flushed(before, capacityOf(rules, line), incoming, passed);
    const after = withPiece(state, line, {
      contents: contentsText(inside),
      traces: union(piece.traces, materialsOf(before), materialsOf(incoming)),
      wash: washAfter(rules, piece, incoming),
    });
    return [after, out];
  }

  /** @param {Rules} rules @param {State} state @param {string} target @param {Contents} incoming */
  function put(rules, state, target, incoming) {
    const materials = materialsOf(incoming);
    if (own(rules.held, target) === undefined) return wetted(state, [target], materials);
    const piece = pieceOf(state, target);
    const changes = { traces: union(piece.traces, materials), wash: washAfter(rules, piece, incoming) };
    if (heldBy(rules, target).capacity === undefined) return withPiece(state, target, changes);
    const isOutdated = isSome(incoming.volume.high) && OUTDATED.includes(piece.label);
    return withPiece(state, target, {
      ...changes,
      contents: contentsText(together(contentsOf(state, target), incoming)),
      label: isOutdated ? 'unlabelled' : piece.label,
    });
  }

  /** @param {Rules} rules @param {Piece} piece @param {Contents} incoming */
  function washAfter(rules, piece, incoming) {
    return materialsOf(incoming).every((each) => rules.waters.includes(each)) ? piece.wash : 'dirty';
  }

  /** @param {State} state @param {string[]} tags @param {string[]} materials */
  function wetted(state, tags, materials) {
    return tags.reduce(
      (after, tag) => withPiece(after, tag, { traces: union(pieceOf(after, tag).traces, materials) }), state);
  }

  /**
   * Return the state with the pressure that its lines come to.
   * @param {Rules} rules
   * @param {State} state
   */
  function settled(rules, state) {
    return rules.pressure.reduce((after, { line, fed, relieved }) => {
      const isOpen = (/** @type {Way} */ way) => isOpenNow(after, way);
      const isKept = pieceOf(after, line).is_under_pressure && !relieved.some(isOpen);
      return withPiece(after, line, { is_under_pressure: fed.some(isOpen) || isKept });
    }, state);
  }

  /** @param {State} state @param {Way} way */
  function isOpenNow(state, { driver, open, joined }) {
    return (driver === undefined || pieceOf(state, driver).is_running)
      && open.every((valve) => pieceOf(state, valve).is_open)
      && joined.every(([loose, other]) => pieceOf(state, loose).joined_to === other);
  }

  /** @param {Contents} held */
  function materialsOf(held) {
    return [...held.parts.keys()];
  }

  /** @param {Rules} rules @param {string} tag */
  function heldBy(rules, tag) {
    const held = own(rules.held, tag);
    if (held === undefined) throw new RangeError(`nothing stands in '${tag}'`);
    return held;
  }

  /** @param {Rules} rules @param {string} line */
  function capacityOf(rules, line) {
    return read(/** @type {string} */ (heldBy(rules, line).capacity));
  }

  return Object.freeze({ folded });
})();
