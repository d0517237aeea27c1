'use strict';

var tankside = window.tankside || {};

/**
 * An entry of a competence file. Beside these keys it has those of its kind; see `competence.schema.json`.
 * @typedef {{
 *   seq: number, competence: string, previous: string, hash: string, kind: string, person: string, who: string,
 *   at: string, device: string, build: string
 * } & Object<string, any>} TrainingEntry
 */

/* What may be entered into somebody's competence, and what was entered that still counts; `training/rules.py`. */
tankside.trainingEntries = (function () {
  const { chained } = tankside.chain;
  const { WATCHED } = tankside.trainingStanding;

  const COMPETENT = 'competent';
  const FINE = '';
  const STOP = 'stop';
  /** Kinds that somebody else stands for. */
  const ATTESTED = ['signed', 'drill', 'went', 'appointed'];
  /** What nobody strikes out: the beginning, and a line through another entry. */
  const STAYS = ['begin', 'struck'];

  /** @param {string} one @param {string} other whether two initials are those of one person */
  function isSame(one, other) {
    const [some, others] = [one, other].map((each) => each.trim().toLowerCase());
    return some === others;
  }

  /**
   * Return why an entry is refused: a code whose words stand under `train-refused-`; empty when it is not.
   * @param {any} event
   * @param {TrainingEntry[]} before
   * @param {{critical: string[], aside?: string[], first?: string[]}} about keys that must have been looked at; those that
   *   are not on the way every time; what must be learnt before, and is not
   * @returns {string}
   */
  function refusal(event, before, { critical, aside = critical, first = [] }) {
    if (event.kind === 'struck') return striking(event, before);
    if (!ATTESTED.includes(event.kind)) return FINE;
    const isRead = event.kind === 'signed' && event.method === 'read';
    if (event.assessor.trim() === '') return 'assessor-missing';
    if (!isRead && isSame(event.assessor, event.person)) return 'own-assessor';
    if (event.assessor_role === '') return 'assessor-role-missing';
    return event.kind === 'signed' ? signing(event, critical, aside, first) : FINE;
  }

  /** @param {any} event @param {TrainingEntry[]} before */
  function striking({ corrects, reason }, before) {
    const found = before.find(({ seq }) => seq === corrects);
    if (found === undefined || STAYS.includes(found.kind)) return 'nothing-to-strike';
    if (struck(before).has(corrects)) return 'struck-already';
    return reason.trim() === '' ? 'reason-missing' : FINE;
  }

  /** @param {any} event @param {string[]} critical @param {string[]} aside @param {string[]} first */
  function signing({ method, result, seen = {} }, critical, aside, first) {
    if (result !== COMPETENT) return result === '' ? 'result-missing' : FINE;
    if (!WATCHED.includes(method)) return 'competent-unwatched';
    if (Object.values(seen).includes('needs-more')) return 'needs-more-seen';
    if (method !== 'alone') return FINE;
    const steps = critical.filter((key) => key !== STOP);
    const isWhole = steps.every((key) => seen[key] === COMPETENT || (seen[key] === 'not-seen' && aside.includes(key)));
    const isSeen = steps.length === 0 || steps.some((key) => seen[key] === COMPETENT);
    if (seen[STOP] !== COMPETENT || !isWhole || !isSeen) return 'not-all-seen';
    return first.length > 0 ? 'first-missing' : FINE;
  }

  /**
   * Return the numbers of the entries that were struck out, each with the entry that did it.
   * @param {TrainingEntry[]} entries
   * @returns {Map<number, TrainingEntry>}
   */
  function struck(entries) {
    const lines = entries.filter(({ kind }) => kind === 'struck');
    return new Map(lines.map((each) => [each.corrects, each]));
  }

  /**
   * Return the entries that count: nothing that was struck out, and no line through one.
   * @param {TrainingEntry[]} entries
   */
  function counting(entries) {
    const gone = struck(entries);
    return entries.filter(({ seq, kind }) => kind !== 'struck' && !gone.has(seq));
  }

  /**
   * Return an event behind those that are here.
   * @param {any} own kind and what belongs to it
   * @param {{competence: string, person: string}} head
   * @param {TrainingEntry | null} last
   * @param {{device: string, build: string}} made on which device and by which program
   * @returns {TrainingEntry}
   */
  function entry(own, { competence, person }, last, { device, build }) {
    const { at } = tankside.copyDevice.now();
    return /** @type {any} */ (chained({ competence, person, at, device, build, ...own }, /** @type {any} */ (last)));
  }

  /**
   * Return the keys of what must have been looked at before somebody is competent alone.
   * @param {Taught} taught
   */
  function critical({ elements }) {
    return elements.filter(({ key, critical: isCritical }) => isCritical && (key === STOP || key.startsWith('step:')))
      .map(({ key }) => key);
  }

  return Object.freeze({ isSame, refusal, struck, counting, entry, critical });
})();
