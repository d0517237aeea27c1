'use strict';

var tankside = window.tankside || {};

/**
 * What is taught of an edition, as far as it is compared; whoever keeps it for a file has its words beside that.
 * @typedef {{key: string, critical: boolean, facts: string, words: string, says?: string}} TaughtElement
 * @typedef {{procedure: string, revision: number, content: string, same_since: number, elements: TaughtElement[]}} Taught
 */
/**
 * What is asked: entries of a person about a procedure, oldest first and without those that were struck out; days on
 * which it was done (what was done after it lapsed brings nothing back); what was taught by its hash, and what is now;
 * after how many days it lapses; a day; what is wanted.
 * @typedef {{
 *   entries: any[], uses: string[], taught: Object<string, Taught>, now: Taught,
 *   rules: {after: number, unused_for: number}, today: string, goal: string
 * }} StandingAsked
 * @typedef {{code: string, day: string, key: string}} StandingReason
 * @typedef {{word: string, since: string, lapses_on: string, reasons: StandingReason[]}} Standing
 */

/* How somebody's competence in a procedure stands on a day, and why: `training/standing.py` and `training/changes.py`. */
tankside.trainingStanding = (function () {
  const METHODS = ['read', 'shown', 'supervised', 'alone'];
  const WATCHED = ['supervised', 'alone'];
  /** What an entry is about that is not about a single step. */
  const WHOLE = 'whole';
  const [READ] = METHODS;
  const DAY = 24 * 3600 * 1000;
  const LAST_DAY = '9999-12-31';
  const LAST = Date.parse(`${LAST_DAY}T00:00:00Z`);
  const MOVES = /** @type {Array<[boolean, string]>} */ ([[true, 'observe'], [false, 'show']]);

  /** @typedef {{key: string, what: string, follows: string}} Change */

  /**
   * Return what differs between two that were taught, in the order of the newer one; what was taken out stands last.
   * @param {Taught} before
   * @param {Taught} now
   * @returns {Change[]}
   */
  function changes(before, now) {
    if (before.content === now.content) return [];
    const [old, fresh] = [before, now].map(({ elements }) => new Map(elements.map((each) => [each.key, each])));
    const isWordingAlone = now.same_since <= before.revision && before.revision < now.revision;
    const gone = [...old].filter(([key]) => !fresh.has(key)).map(([, each]) => change(each, 'removed'));
    return [...changed(old, fresh, isWordingAlone), ...gone, ...moved(old, fresh)];
  }

  /** @param {TaughtElement} element @param {string} what @returns {Change} */
  function change({ key, critical }, what) {
    return { key, what, follows: critical ? 'observe' : 'show' };
  }

  /** @param {Map<string, TaughtElement>} old @param {Map<string, TaughtElement>} fresh @param {boolean} isWordingAlone */
  function changed(old, fresh, isWordingAlone) {
    return [...fresh].flatMap(([key, element]) => {
      const was = old.get(key);
      if (was === undefined) return [change(element, 'added')];
      const isSame = was.facts === element.facts && (was.words === element.words || isWordingAlone);
      return isSame ? [] : [change(element, 'changed')];
    });
  }

  /** @param {Map<string, TaughtElement>} old @param {Map<string, TaughtElement>} fresh the first that stands in another order */
  function moved(old, fresh) {
    for (const [isCritical, follows] of MOVES) {
      const counts = (/** @type {string} */ key) => (
        old.has(key) && fresh.has(key) && (/** @type {TaughtElement} */ (fresh.get(key)).critical || !isCritical));
      const was = [...old.keys()].filter(counts);
      const became = [...fresh.keys()].filter(counts);
      const at = became.findIndex((key, place) => key !== was[place]);
      if (at >= 0) return [{ key: became[at], what: 'moved', follows }];
    }
    return [];
  }

  /**
   * Return how it stands. Entries count up to that day; one about a single step makes nobody competent in the whole, but
   * it may find somebody wanting.
   * @param {StandingAsked} asked
   * @returns {Standing}
   */
  function standing(asked) {
    const signed = asked.entries.filter((each) => each.kind === 'signed' && dayOf(each) <= asked.today);
    const last = lastOf(signed, (each) => reaches(each, asked.goal));
    if (last < 0) return { word: onTheWay(signed), since: '', lapses_on: '', reasons: [] };
    const since = signed.slice(last);
    const day = dayOf(since[0]);
    if (asked.goal === READ) return { word: 'valid', since: day, lapses_on: '', reasons: [] };
    const ends = endsOf(asked, day);
    const over = ends.filter((end) => asked.today >= end.day);
    const reasons = [...foundWanting(since), ...over, ...differing(asked, since)];
    if (reasons.some(({ code }) => code !== 'show')) return { word: 'lapsed', since: day, lapses_on: '', reasons };
    const [first] = ends.map((end) => end.day).sort();
    return { word: reasons.length > 0 ? 'show-first' : 'valid', since: day, lapses_on: first, reasons };
  }

  /** @param {any[]} entries @param {(entry: any) => boolean} isIt @returns {number} the place of the last one, -1 for none */
  function lastOf(entries, isIt) {
    for (let place = entries.length - 1; place >= 0; place -= 1) if (isIt(entries[place])) return place;
    return -1;
  }

  /** @param {any} entry @returns {string} the day on which it was made, where it was made */
  const dayOf = ({ at }) => at.slice(0, 10);

  /** @param {any} entry @param {string} goal one about a single step makes nobody competent in the whole */
  function reaches({ task, method, result }, goal) {
    if (task !== WHOLE || METHODS.indexOf(method) < METHODS.indexOf(goal)) return false;
    return WATCHED.includes(method) ? result === 'competent' : result !== 'needs-more';
  }

  /** @param {any[]} signed */
  function onTheWay(signed) {
    if (signed.length > 0 && signed[signed.length - 1].result === 'needs-more') return 'needs-more';
    const done = signed.filter((each) => reaches(each, each.method));
    const furthest = Math.max(-1, ...done.map(({ method }) => METHODS.indexOf(method)));
    return furthest < 0 ? 'never' : METHODS[furthest];
  }

  /** @param {any[]} since @returns {StandingReason[]} the last day of what needs more, and was not seen done well after it */
  function foundWanting(since) {
    const wanting = new Map();
    for (const each of since) {
      const { task, method, result } = each;
      if (!WATCHED.includes(method) || result === 'not-seen') continue;
      if (result === 'needs-more') wanting.set(task, dayOf(each));
      else if (task === WHOLE) wanting.clear();
      else wanting.delete(task);
    }
    const last = [...wanting.values()].sort().pop();
    return last === undefined ? [] : [{ code: 'needs-more', day: last, key: '' }];
  }

  /** @param {StandingAsked} asked @param {string} day @returns {StandingReason[]} the first days on which it has lapsed */
  function endsOf(asked, day) {
    const found = [{ code: 'date', day: later(day, asked.rules.after), key: '' }];
    return WATCHED.includes(asked.goal) ? [...found, { code: 'unused', day: unused(asked, day), key: '' }] : found;
  }

  /** @param {StandingAsked} asked @param {string} day the first day on which it had not been done for too long */
  function unused({ rules, uses, today }, day) {
    let end = later(day, rules.unused_for);
    for (const used of uses.filter((each) => day < each && each <= today).sort()) {
      if (used >= end) break;
      end = later(used, rules.unused_for);
    }
    return end;
  }

  /** @param {string} day @param {number} days the last one of the calendar, where it would lie behind that */
  function later(day, days) {
    const found = Date.parse(`${day}T00:00:00Z`) + days * DAY;
    return found > LAST ? LAST_DAY : new Date(found).toISOString().slice(0, 10);
  }

  /** @param {StandingAsked} asked @param {any[]} since @returns {StandingReason[]} */
  function differing(asked, since) {
    const isWatched = WATCHED.includes(asked.goal);
    const seen = isWatched ? differences(asked, since, 'supervised', ['observe']) : [];
    const shown = differences(asked, since, 'shown', isWatched ? ['show'] : ['show', 'observe']);
    return [
      ...seen.map((key) => ({ code: 'observe', day: '', key })),
      ...shown.map((key) => ({ code: 'show', day: '', key })),
    ];
  }

  /** @param {StandingAsked} asked @param {any[]} since @param {string} method @param {string[]} wanted */
  function differences({ taught, now }, since, method, wanted) {
    const last = since[lastOf(since, (each) => reaches(each, method))];
    return changes(taught[last.taught], now).filter(({ follows }) => wanted.includes(follows)).map(({ key }) => key);
  }

  return Object.freeze({ METHODS, WATCHED, changes, standing });
})();
