'use strict';

var tankside = window.tankside || {};

/**
 * Something entered that is put right. `own` is what the correction holds beside its reason, null while it is not whole;
 * `missing` says what is missing then, `said` what it comes to.
 * @typedef {{
 *   name: string, title: string, fields: (after: () => void) => Array<Node | null>, own: () => any, missing: string,
 *   said: (own: any) => string, offered: string[]
 * }} PutRight
 */

/* Ways out of a step that has stopped: something was entered wrong, which somebody else has to have seen too; and what
   only the role that approved the procedure may let go on. */
tankside.workWays = (function () {
  const { el, say, button } = tankside.dom;
  const { keypad, unitText } = tankside.workKeys;
  const { drafts, settled } = tankside.workTyping;
  const { partOf, countedWith } = tankside.copyState;
  const { valuesOf } = tankside.workFigures;
  const { entered, tiles, fold, reasonField, holds, peopleOf, roleName } = tankside.workPieces;

  /** @param {Unit} unit @returns {Typing} */
  function typingOf({ kind }) {
    return kind === 'temperature' ? 'signed' : 'number';
  }

  /** @param {{value: string, unit: string}} entered as people read it */
  function valueText({ value, unit }) {
    return `${value} ${unitText(unit)}`;
  }

  /**
   * Return a form by which something entered is put right. What was entered first stays to be seen.
   * @param {any} view
   * @param {Visit} visit
   * @param {PutRight} about
   * @returns {HTMLElement}
   */
  function puttingRight(view, visit, { name, title, fields, own, missing, said, offered }) {
    const kept = drafts(view);
    const reason = () => kept.get(`${name}-reason`).trim();
    const witnesses = peopleOf(view, (who) => who !== view.worker && !handsIn(view, visit).includes(who));
    const hold = holds(witnesses, 'work-correct-seen', (second) => (
      entered(view, name, 'correct', { ...own(), reason: reason(), second })));
    const [as, lacks] = [el('p.work-correct-as', { 'aria-live': 'polite' }), el('p.work-missing')];
    const paint = () => {
      const found = own();
      as.textContent = found === null ? '' : said(found);
      lacks.textContent = found === null ? missing : reason() === '' ? say('work-reason-missing') : '';
      hold.hidden = lacks.textContent !== '';
    };
    const nobody = witnesses.length > 0 ? null : el('p.work-missing', {}, say('work-correct-nobody'));
    const made = fold(view, `${name}-open`, title, [
      el('p', {}, say('work-correct-about')),
      el('div.work-beside', {},
        el('div', {}, fields(paint)),
        reasonField(view, { name: `${name}-reason`, label: say('work-reason'), after: paint, offered })),
      as, lacks, nobody, nobody === null ? hold : comes(view, ''),
    ]);
    paint();
    return made;
  }

  /** @param {any} view @param {Visit} visit who had a hand in it: none of them can be who has seen it, too */
  function handsIn({ copy }, visit) {
    return countedWith(copy, visit).flatMap(({ hands }) => hands);
  }

  /** @param {any} view @param {string} role a way for somebody to come in */
  function comes(view, role) {
    return button(say('work-comes'), () => view.open({ name: 'people', role }), { 'data-comes': role });
  }

  /**
   * Return a form for a value that was typed wrong, null while there is none.
   * @param {any} view
   * @param {Visit} visit
   * @param {Unit} unit
   * @returns {HTMLElement | null}
   */
  function correction(view, visit, unit) {
    const values = valuesOf(view.copy, visit);
    if (values.length === 0) return null;
    const kept = drafts(view);
    const name = `correct-${view.copy.trail.indexOf(visit)}`;
    const [kind, last] = [typingOf(unit), values[values.length - 1].event.seq];
    const own = () => {
      const value = settled(kept.get(`${name}-value`), kind);
      return value === '' ? null : { corrects: Number(kept.get(`${name}-which`, last)), value, unit: unit.symbol };
    };
    const choosing = (/** @type {() => void} */ after) => (values.length < 2 ? [] : [
      el('p.work-label', {}, say('work-correct-which')),
      tiles(view, {
        name: `${name}-which`, label: say('work-correct-which'), after,
        options: values.map(({ event }) => [String(event.seq), valueText(event)]),
      })]);
    return puttingRight(view, visit, {
      name, own, title: say('work-correct-open'), missing: say('work-correct-value-missing'),
      said: (found) => say('work-correct-as', { first: valueText(view.copy.events[found.corrects]), value: valueText(found) }),
      offered: [say('work-reason-slip'), say('work-reason-point'), say('work-reason-misread')],
      fields: (after) => [...choosing(after), keypad(view, {
        name: `${name}-value`, kind, label: say('work-correct-value'), unit: unit.symbol, after,
      })],
    });
  }

  /**
   * Return what only the role that approved the procedure may let go on, with a reason.
   * @param {any} view
   * @param {Visit} visit
   * @param {string[]} offered reasons
   * @returns {HTMLElement}
   */
  function allowing(view, visit, offered) {
    const { approver } = partOf(view.copy, visit);
    const role = roleName(view, approver);
    const people = peopleOf(view, (who, each) => each === approver);
    if (people.length === 0) {
      return el('div.work-allow', {}, el('p.work-missing', {}, say('work-allow-nobody', { role })), comes(view, approver));
    }
    const [kept, place] = [drafts(view), view.copy.trail.indexOf(visit)];
    const name = `allow-${place}`;
    const reason = () => kept.get(`${name}-reason`).trim();
    const hold = holds(people, 'work-allow-hold', (who) => (
      entered(view, name, 'allow', { visit: place, reason: reason(), who, role: approver })));
    const lacks = el('p.work-missing', {}, say('work-reason-missing'));
    const paint = () => {
      lacks.hidden = reason() !== '';
      hold.hidden = !lacks.hidden;
    };
    const made = fold(view, `${name}-open`, say('work-allow-open', { role }), [
      el('p', {}, say('work-allow-about', { role })),
      reasonField(view, { name: `${name}-reason`, label: say('work-reason'), offered, after: paint }), lacks, hold,
    ]);
    paint();
    return made;
  }

  /** @param {any} view @param {Visit} visit what was entered first and then corrected, struck through as on paper */
  function struck({ copy }, visit) {
    return visit.values.filter((seq) => copy.corrected.has(seq)).map((seq) => {
      const chain = [copy.events[seq]];
      for (let next = copy.corrected.get(seq); next !== undefined; next = copy.corrected.get(next)) chain.push(copy.events[next]);
      const { value, unit, who, second = '', reason } = chain[chain.length - 1];
      return el('p.work-struck', {}, chain.slice(0, -1).map((each) => [el('s', {}, valueText(each)), ' ']).flat(),
        say('work-corrected', { value: valueText({ value, unit }), who, second, reason }));
    });
  }

  return Object.freeze({ puttingRight, correction, allowing, struck, typingOf, valueText });
})();
