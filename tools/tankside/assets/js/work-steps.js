'use strict';

var tankside = window.tankside || {};

/**
 * A line of a working copy in reading order. `key` names it: `0/open-v2` is a step of the first part, `0/stir?` the
 * question at the end of a pass, `0/which=1` the second answer of a choice, `sent/7` what follows the visit before it.
 * @typedef {{
 *   form: 'part' | 'section' | 'caution' | 'note' | 'step' | 'answer' | 'question' | 'sent', key: string, part: number,
 *   section: string, isSentTo: boolean, depth: number, under: Array<[string, number]>, entry: any, place: number
 * }} Line `under` are the answers that lead to it
 */
/**
 * Where a step stands: its visits in the pass at hand and in earlier ones, by their place in the trail.
 * @typedef {{
 *   current: number | null, earlier: number[], state: StepState, isNow: boolean, isMarkable: boolean,
 *   isOffTheWay: boolean
 * }} Standing
 */

/* What the page of a working copy shows of an edition, line by line, and where each step stands. */
tankside.workSteps = (function () {
  const { isMarkable, isOpen } = tankside.copyState;

  /**
   * Return every line that can be shown, in reading order.
   * @param {any} shown
   * @returns {Line[]}
   */
  function allLines(shown) {
    return shown.parts.flatMap((/** @type {any} */ each, /** @type {number} */ part) => {
      /** @type {any} */
      const common = { part, section: '', isSentTo: false, depth: 0, under: [], entry: null, place: -1 };
      const sections = each.sections.flatMap((/** @type {any} */ section) => sectionLines(section, common));
      return [{ ...common, form: 'part', key: `${part}`, entry: each }, ...sections];
    });
  }

  /** @param {any} section @param {any} common @returns {Line[]} */
  function sectionLines(section, common) {
    const { name = '', is_sent_to: isSentTo = false, entries = [] } = section;
    const own = { ...common, section: name, isSentTo };
    const heading = { ...own, form: 'section', key: `${common.part}#${name}`, entry: section };
    return [heading, ...entryLines(entries, own, heading.key)];
  }

  /** @param {any[]} entries @param {any} common @param {string} inside @returns {Line[]} */
  function entryLines(entries, common, inside) {
    return entries.flatMap((entry, place) => {
      if (entry.form !== 'step') return [{ ...common, form: entry.form, key: `${inside}:${place}`, entry }];
      const key = `${common.part}/${entry.name}`;
      const deeper = { ...common, depth: common.depth + 1 };
      const branches = (entry.branches || []).flatMap((/** @type {any} */ branch, /** @type {number} */ answer) => {
        const under = { ...deeper, under: [...common.under, [key, answer]] };
        const own = `${key}=${answer}`;
        return [{ ...under, form: 'answer', key: own, entry: branch }, ...entryLines(branch.entries || [], under, own)];
      });
      const passes = entryLines(entry.entries || [], deeper, key);
      const question = entry.kind === 'repeat' ? [{ ...deeper, form: 'question', key: `${key}?`, entry }] : [];
      return [{ ...common, form: 'step', key, entry }, ...branches, ...passes, ...question];
    });
  }

  /** @param {Visit} visit the key of its line, empty where one was sent away or decides */
  function keyOf({ part, node, kind, name }) {
    if (node < 0) return '';
    return kind === 'question' ? `${part}/${name}?` : `${part}/${name}`;
  }

  /** @param {Copy} copy @returns {Map<string, number[]>} the visits of each line, by their place in the trail */
  function visitsByKey(copy) {
    const found = new Map();
    copy.trail.forEach((visit, place) => {
      const key = keyOf(visit);
      if (!found.has(key)) found.set(key, []);
      found.get(key).push(place);
    });
    return found;
  }

  /**
   * Return the lines of a working copy: those of its own sections, those into which one was sent, and each sending away
   * behind the step that sent.
   * @param {any} shown
   * @param {Copy} copy
   * @returns {Line[]}
   */
  function linesOf(shown, copy) {
    const visits = visitsByKey(copy);
    const all = allLines(shown);
    const entered = new Set(all.filter(({ key }) => visits.has(key)).map(({ part, section }) => `${part}#${section}`));
    const own = all.filter(({ part, section, form }) => (
      form === 'part' || shown.parts[part].begins_in.includes(section) || entered.has(`${part}#${section}`)));
    return own.flatMap((line) => [line, ...sendings(copy, line, visits.get(line.key) || [])]);
  }

  /** @param {Copy} copy @param {Line} line @param {number[]} visits @returns {Line[]} */
  function sendings(copy, line, visits) {
    /** @type {Line[]} */
    const found = [];
    for (const place of visits) {
      for (let at = place + 1; at < copy.trail.length && copy.trail[at].node < 0; at += 1) {
        found.push({ ...line, form: 'sent', key: `sent/${at}`, entry: null, place: at });
      }
    }
    return found;
  }

  /**
   * Return where each step stands.
   * @param {Line[]} lines
   * @param {Copy} copy
   * @returns {Map<string, Standing>} by the key of its line
   */
  function standings(lines, copy) {
    const visits = visitsByKey(copy);
    const orders = new Map(lines.map(({ key }, order) => [key, order]));
    const reached = copy.trail.map((visit) => orders.get(keyOf(visit)));
    const now = copy.ended === '' ? copy.trail.find(isOpen) || null : null;
    const nowAt = now === null ? lines.length : lineOf(lines, copy, now);
    const found = new Map();
    lines.forEach((line, order) => {
      if (!['step', 'question', 'sent', 'answer'].includes(line.form)) return;
      const places = line.form === 'sent' ? [line.place] : visits.get(line.key) || [];
      const last = places.length === 0 ? null : places[places.length - 1];
      const isAgain = last !== null && line.form !== 'sent' && isToComeAgain(lines, copy, line, last, reached);
      const current = isAgain ? null : last;
      found.set(line.key, {
        current,
        earlier: isAgain ? places : places.slice(0, -1),
        state: current === null ? 'not started' : copy.trail[current].state,
        isNow: current !== null && copy.trail[current] === now,
        isMarkable: current !== null && copy.ended === '' && isMarkable(copy, copy.trail[current]),
        isOffTheWay: places.length === 0 && (isNotTaken(copy, line, visits) || (!isAnswered(line, visits) && isPassed(lines, order, nowAt))),
      });
    });
    return found;
  }

  /** @param {Line[]} lines @param {Copy} copy @param {Visit} visit */
  function lineOf(lines, copy, visit) {
    const place = copy.trail.indexOf(visit);
    const key = keyOf(visit) || `sent/${place}`;
    return lines.findIndex((line) => line.key === key);
  }

  /**
   * Return whether the way has gone back above a step since it was done: then it will be done once more.
   * @param {Line[]} lines
   * @param {Copy} copy
   * @param {Line} line
   * @param {number} last
   * @param {Array<number | undefined>} reached
   */
  function isToComeAgain(lines, copy, line, last, reached) {
    if (copy.isThrough || copy.ended !== '') return false;
    const order = lines.indexOf(line);
    return reached.some((at, place) => {
      if (place <= last || at === undefined || at >= order || lines[at].part !== line.part) return false;
      return !line.isSentTo || lines[at].section === line.section;
    });
  }

  /** @param {Copy} copy @param {Line} line @param {Map<string, number[]>} visits whether another answer was given */
  function isNotTaken(copy, { under }, visits) {
    return under.some(([choice, answer]) => {
      const places = visits.get(choice) || [];
      const visit = copy.trail[places[places.length - 1]];
      return visit !== undefined && !isOpen(visit) && visit.exit !== answer;
    });
  }

  /** @param {Line} line @param {Map<string, number[]>} visits whether it is an answer to what was asked */
  function isAnswered({ form, under }, visits) {
    return form === 'answer' && visits.has(under[under.length - 1][0]);
  }

  /** @param {Line[]} lines @param {number} order @param {number} nowAt whether the way has passed a line by */
  function isPassed(lines, order, nowAt) {
    if (nowAt === lines.length) return true;
    return nowAt >= 0 && order < nowAt && !lines[nowAt].isSentTo && !lines[order].isSentTo;
  }

  /**
   * Return the cautions that cover what is to be done now and do not stand right before it.
   * @param {Line[]} lines
   * @param {Map<string, Standing>} places
   * @returns {Line[]}
   */
  function cautionsAgain(lines, places) {
    const first = lines.findIndex(({ key }) => (places.get(key) || {}).isNow);
    if (first < 0) return [];
    const covered = lines.filter(({ key }) => (places.get(key) || {}).isMarkable);
    let before = first - 1;
    while (before >= 0 && ['caution', 'note'].includes(lines[before].form)) before -= 1;
    return lines.filter(({ form, part, entry }, order) => form === 'caution' && (order <= before || order > first)
      && covered.some((line) => line.part === part && (entry.covers || []).includes((line.entry || {}).name)));
  }

  /**
   * Return which section is at work, of those on the straight way.
   * @param {Line[]} lines
   * @param {Line | undefined} now
   * @returns {{at: number, of: number, title: string, isSentTo: boolean}} `at` counts from 1, 0 where it is none of them
   */
  function sectionAt(lines, now) {
    const headings = lines.filter(({ form, isSentTo }) => form === 'section' && !isSentTo);
    if (now === undefined) return { at: 0, of: headings.length, title: '', isSentTo: false };
    const own = lines.find(({ form, part, section }) => (
      form === 'section' && part === now.part && section === now.section));
    const title = own === undefined ? '' : own.entry.title || '';
    return { at: own === undefined ? 0 : headings.indexOf(own) + 1, of: headings.length, title, isSentTo: now.isSentTo };
  }

  return Object.freeze({ allLines, linesOf, standings, cautionsAgain, sectionAt, keyOf });
})();
