'use strict';

var tankside = window.tankside || {};

/* The trail of a working copy: what was done in order, and what comes next (`records/trail.py`). */
tankside.copyTrail = (function () {
  const { visitTo, partOf, nodeOf, sectionOf, isOpen, firstOpen, isLoose } = tankside.copyState;

  /** @param {Copy} copy @param {Visit} visit @param {any} event @param {StepState} state */
  function complete(copy, visit, event, state) {
    Object.assign(visit, { state, done: event.seq });
    const answers = visit.node < 0 ? [] : nodeOf(copy, visit).exits.map(({ answer }) => answer);
    visit.exit = Math.max(answers.indexOf(visit.answer), 0);
    if (visit.exit === 0) return;
    cut(copy, visit);
    copy.tip = visit;
  }

  /**
   * Drop what lay ahead on the way that is not taken; what was begun there already stays to be seen as it is.
   * @param {Copy} copy
   * @param {Visit} visit
   */
  function cut(copy, visit) {
    const after = copy.trail.lastIndexOf(visit) + 1;
    const kept = copy.trail.slice(after).filter((each) => each.state !== 'not started');
    for (const each of kept) each.isAside = true;
    copy.trail.splice(after, Infinity, ...kept);
  }

  /** Lead the trail on, to what is to be done next. @param {Copy} copy */
  function extend(copy) {
    while (!copy.isThrough && !copy.ended) {
      if (copy.trail.length === 0) go(copy, 0, copy.script.parts[0].start);
      else if (firstOpen(copy) === copy.trail.length) follow(copy, /** @type {Visit} */ (copy.tip));
      else if (!lookAhead(copy)) return;
    }
  }

  /** @param {Copy} copy @param {Visit} visit */
  function follow(copy, visit) {
    if (visit.node >= 0) {
      const { to, away } = nodeOf(copy, visit).exits[/** @type {number} */ (visit.exit)];
      go(copy, visit.part, to, away);
    } else if (visit.answer === 'end') {
      Object.assign(copy, { isThrough: true, isCutShort: true });
    } else {
      const { part, node, kind, name } = /** @type {Visit} */ (visit.sender);
      put(copy, visitTo(part, node, kind, name));
    }
  }

  /** @param {Copy} copy @param {Visit} visit */
  function put(copy, visit) {
    copy.trail.push(visit);
    copy.tip = visit;
  }

  /** @param {Copy} copy @param {number} part @param {string} to @param {string} [away] */
  function go(copy, part, to, away = '') {
    if (away) {
      put(copy, visitTo(part, -1, 'away', away, copy.tip));
    } else if (to === 'decides') {
      put(copy, visitTo(part, -1, 'decide', '', lastOnTheWay(copy, part) || copy.tip));
    } else if (to !== 'ends') {
      const { kind, step } = copy.script.parts[part].nodes[Number(to)];
      put(copy, visitTo(part, Number(to), kind, step));
    } else if (part + 1 < copy.script.parts.length) {
      go(copy, part + 1, copy.script.parts[part + 1].start);
    } else {
      copy.isThrough = true;
    }
  }

  /** @param {Copy} copy @param {number} part its last step that stands in no section into which one is only sent */
  function lastOnTheWay(copy, part) {
    const steps = copy.trail.filter((each) => each.part === part && each.node >= 0 && !each.isAside);
    return steps.reverse().find((each) => !partOf(copy, each).apart.has(sectionOf(copy, each) || '')) || null;
  }

  /** @param {Copy} copy whether the trail could be led on past a step that is not done yet */
  function lookAhead(copy) {
    const last = copy.trail[copy.trail.length - 1];
    if (!copy.script.isLoose || !isOpen(last) || !isLoose(copy, last)) return false;
    const { to, away } = nodeOf(copy, last).exits[0];
    if (away || to === 'ends' || to === 'decides') return false;
    const { nodes, sections } = partOf(copy, last);
    if (sections.get(nodes[Number(to)].step) !== sectionOf(copy, last)) return false;
    go(copy, last.part, to);
    return true;
  }

  return Object.freeze({ complete, extend });
})();
