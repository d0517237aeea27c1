'use strict';

var tankside = window.tankside || {};

/**
 * What is kept of somebody's competence beside the entries: the last one, and how many a file has held.
 * @typedef {{
 *   competence: string, person: string, name: string, role: string, begun: string, last: string, seq: number,
 *   hash: string, exported: number, saved: string
 * }} TrainingHead
 * @typedef {{head: TrainingHead, events: TrainingEntry[], taught: Object<string, any>}} TrainingRecord
 */

/* Where competence is kept: in the database of the working copies, in places of its own. Entries are only added. */
tankside.trainingStore = (function () {
  const { compared } = tankside.copyHead;
  const BOUND = [Infinity];
  const PLACES = ['competences', 'entries', 'taughts'];
  /** So long may it take to keep an entry of a file, on the slowest device [ms]. */
  const SLOWEST = 10;

  /** @param {any} store @returns {Promise<TrainingHead[]>} in the order of initials */
  async function heads(store) {
    const found = await store.read('competences', (/** @type {IDBObjectStore} */ place) => place.getAll());
    return found.sort((/** @type {TrainingHead} */ one, /** @type {TrainingHead} */ other) => one.person.localeCompare(other.person));
  }

  /** @param {any} store @param {string} competence @returns {Promise<TrainingRecord | null>} as it is at one moment */
  function record(store, competence) {
    return store.look(PLACES, ({ competences, entries, taughts }, /** @type {any} */ stop, /** @type {any} */ give) => {
      give(null);
      then(competences.get(competence), (head) => {
        if (head === undefined) return;
        then(entries.getAll(all(competence)), (events) => {
          const found = { head, events, taught: /** @type {Object<string, any>} */ ({}) };
          give(found);
          for (const hash of named(events)) {
            then(taughts.get(hash), (kept) => {
              if (kept === undefined) stop('store-unread');
              else found.taught[hash] = kept.taught;
            });
          }
        });
      });
    });
  }

  /** @param {any} store @returns {Promise<TrainingRecord[]>} of everybody */
  async function records(store) {
    const found = [];
    for (const { competence } of await heads(store)) found.push(await record(store, competence));
    return /** @type {TrainingRecord[]} */ (found.filter((each) => each !== null));
  }

  /** @param {TrainingEntry[]} events @returns {string[]} the hashes of all that was taught */
  function named(events) {
    return [...new Set(events.map(({ taught }) => taught).filter((each) => each !== undefined))];
  }

  /**
   * Keep the next entry, the first one too, with what was taught. Refused with `store-moved-on` when another tab has
   * gone on.
   * @param {any} store
   * @param {TrainingEntry} event
   * @param {{hash: string, taught: any} | null} taught
   * @returns {Promise<void>}
   */
  function append(store, event, taught) {
    return store.write(PLACES, ({ competences, entries, taughts }, /** @type {any} */ stop) => {
      then(competences.get(event.competence), (head) => {
        const expected = head === undefined ? { hash: '', seq: -1 } : head;
        if (expected.hash !== event.previous || expected.seq + 1 !== event.seq) {
          stop('store-moved-on');
          return;
        }
        if (taught !== null) taughts.put(taught);
        entries.add(event);
        competences.put(head === undefined ? headOf(event) : { ...head, ...lastOf(event) });
      });
    });
  }

  /** @param {TrainingEntry} event the first one @returns {TrainingHead} */
  function headOf(event) {
    const { competence, person, name, role, at } = event;
    return { competence, person, name, role, begun: at, exported: 0, saved: '', ...lastOf(event) };
  }

  /** @param {TrainingEntry} event */
  const lastOf = ({ seq, hash, at }) => ({ seq, hash, last: at });

  /**
   * Keep what a file holds: all of it, or the entries that are new. Nothing is changed when it differs from what is here.
   * @param {any} store
   * @param {{events: TrainingEntry[], taught: Object<string, any>, exported: string}} file whose chain holds
   * @returns {Promise<Brought>}
   */
  function bring(store, { events, taught, exported }) {
    const [{ competence }] = events;
    return store.write(PLACES, (/** @type {any} */ places, /** @type {any} */ stop, /** @type {any} */ give) => {
      then(places.entries.getAll(all(competence)), (here) => {
        const found = compared(here, /** @type {any} */ (events));
        give(found);
        if (found.added === 0) return;
        events.slice(here.length).forEach((event) => places.entries.add(event));
        for (const hash of named(events)) places.taughts.put({ hash, taught: taught[hash] });
        const head = { ...headOf(events[0]), ...lastOf(events[events.length - 1]) };
        places.competences.put({ ...head, exported: events.length, saved: exported });
      });
    }, events.length * SLOWEST);
  }

  /**
   * Note that a file with so many entries has left the device.
   * @param {any} store
   * @param {string} competence
   * @param {number} count
   * @param {string} saved when
   * @returns {Promise<void>}
   */
  function exported(store, competence, count, saved) {
    return store.write(['competences'], (/** @type {any} */ { competences }) => {
      then(competences.get(competence), (head) => {
        if (head !== undefined && count >= head.exported) competences.put({ ...head, exported: count, saved });
      });
    });
  }

  /** @param {IDBRequest} request @param {(result: any) => void} next */
  function then(request, next) {
    request.onsuccess = () => next(request.result);
  }

  /** @param {string} competence */
  function all(competence) {
    return IDBKeyRange.bound([competence], [competence, BOUND]);
  }

  return Object.freeze({ heads, record, records, append, bring, exported });
})();
