'use strict';

var tankside = window.tankside || {};

/** @typedef {{hash: string, edition: any, shown: any}} EditionKept `hash` is the one of what is shown: its start names it */
/** @typedef {{head: CopyHead, edition: any, shown: any, events: CopyEvent[]}} CopyRecord */

/* Where working copies are kept: a database of the browser, one for each book. Nothing in it is ever changed or cleared
   but heads, leases and small notes; events are only added. */
tankside.copyStore = (function () {
  const { Database, NotKept } = tankside.copyDatabase;
  const { headOf, headAfter, headOver, compared } = tankside.copyHead;
  const BOUND = [Infinity];
  /** So long may it take to keep an event of a file, on the slowest device [ms]. */
  const SLOWEST = 10;
  /** In the place of a tab: what came by a file is looked at, until somebody takes the work to this device. */
  const FROM_FILE = 'file';

  /** The working copies of one book on this device. */
  class Store extends Database {
    /** @returns {Promise<CopyHead[]>} the last begun first */
    async copies() {
      /** @type {CopyHead[]} */
      const heads = await this.read('copies', (store) => store.getAll());
      return heads.sort((one, other) => Date.parse(other.started) - Date.parse(one.started));
    }

    /** @param {string} copy @returns {Promise<CopyHead | undefined>} */
    head(copy) {
      return this.read('copies', (store) => store.get(copy));
    }

    /** @param {string} hash of what is shown @returns {Promise<EditionKept | undefined>} */
    edition(hash) {
      return this.read('editions', (store) => store.get(hash));
    }

    /** @param {string} copy @returns {Promise<CopyRecord | null>} all of it as it is at one moment */
    record(copy) {
      return this.look(['copies', 'editions', 'events'], ({ copies, editions, events }, stop, give) => {
        give(null);
        then(copies.get(copy), (head) => {
          if (head === undefined) return;
          then(editions.get(head.shown), (kept) => {
            if (kept === undefined) stop('store-unread');
            else then(events.getAll(all(copy)), (found) => give({ head, edition: kept.edition, shown: kept.shown, events: found }));
          });
        });
      });
    }

    /** @param {string} copy @returns {Promise<CopyEvent[]>} */
    events(copy) {
      return this.read('events', (store) => store.getAll(all(copy)));
    }

    /** @returns {Promise<Array<{copy: string, tab: string, beat: number}>>} who has the work on which copy */
    leases() {
      return this.read('leases', (store) => store.getAll());
    }

    /**
     * Keep the first event of a working copy, with the edition that it follows.
     * @param {CopyEvent} event
     * @param {EditionKept} kept
     * @param {string} tab
     * @returns {Promise<CopyHead>}
     */
    begin(event, kept, tab) {
      const head = headOf(event, kept.shown);
      return this.write(['editions', 'copies', 'events', 'leases'], ({ editions, copies, events, leases }, stop, give) => {
        editions.put(kept);
        copies.add(head);
        events.add(event);
        leases.put({ copy: event.copy, tab, beat: Date.now() });
        give(head);
      });
    }

    /**
     * Keep the next event. Refused with `store-other-tab` when another tab has the work, with `store-from-file` when
     * nobody has taken it to this device, and with `store-moved-on` when there are events that this tab has not seen.
     * @param {CopyEvent} event
     * @param {string} tab
     * @returns {Promise<void>}
     */
    append(event, tab) {
      return this.write(['copies', 'events', 'leases'], ({ copies, events, leases }, stop) => {
        then(leases.get(event.copy), (lease) => {
          if (lease !== undefined && lease.tab !== tab) {
            stop(lease.tab === FROM_FILE ? 'store-from-file' : 'store-other-tab');
            return;
          }
          then(copies.get(event.copy), (head) => {
            if (head === undefined || head.hash !== event.previous || head.seq + 1 !== event.seq) {
              stop('store-moved-on');
              return;
            }
            events.add(event);
            copies.put(headAfter(head, event));
          });
        });
      });
    }

    /** @param {string} copy @returns {Promise<{tab: string, beat: number} | undefined>} */
    lease(copy) {
      return this.read('leases', (store) => store.get(copy));
    }

    /**
     * Take the work on a copy, whoever has it. Its beats go on from the time of day: who takes it twice is not mistaken
     * for a tab that has been silent since.
     * @param {string} copy
     * @param {string} tab
     * @returns {Promise<void>}
     */
    take(copy, tab) {
      return this.write(['leases'], ({ leases }) => { leases.put({ copy, tab, beat: Date.now() }); });
    }

    /**
     * Let go of the work on a copy: whoever opens it next has it.
     * @param {string} copy
     * @returns {Promise<void>}
     */
    release(copy) {
      return this.write(['leases'], ({ leases }) => { leases.delete(copy); });
    }

    /**
     * Let go of the work on a copy that this tab has, while its page goes away: nothing is waited for.
     * @param {string} copy
     * @returns {Promise<void>}
     */
    letGo(copy) {
      return this.write(['leases'], ({ leases }) => {
        leases.delete(copy);
        leases.transaction.commit();
      });
    }

    /**
     * Show other tabs that this one is alive.
     * @param {string} copy
     * @param {string} tab
     * @returns {Promise<boolean>} whether it still has the work
     */
    beat(copy, tab) {
      return this.write(['leases'], ({ leases }, stop, give) => {
        then(leases.get(copy), (lease) => {
          // A tab that has gone may have let go of more than was its own.
          const isOurs = lease === undefined || lease.tab === tab;
          give(isOurs);
          if (isOurs) leases.put({ copy, tab, beat: lease === undefined ? Date.now() : lease.beat + 1 });
        });
      });
    }

    /**
     * Note that a file with so many events of a copy has left the device.
     * @param {string} copy
     * @param {number} count
     * @param {string} saved when
     * @returns {Promise<void>}
     */
    exported(copy, count, saved) {
      return this.write(['copies'], ({ copies }) => {
        then(copies.get(copy), (head) => {
          if (head !== undefined && count >= head.exported) copies.put({ ...head, exported: count, saved });
        });
      });
    }

    /**
     * Keep what a file holds: a new copy whole, or the events that are new of a copy that is here. Nothing is changed
     * when there are none, or when the file differs from what is here.
     * @param {EditionKept} kept
     * @param {CopyEvent[]} events all of the file, in a chain that holds
     * @param {string} saved when the file was made
     * @returns {Promise<Brought>}
     */
    bring(kept, events, saved) {
      const [{ copy }] = events;
      return this.write(['editions', 'copies', 'events', 'leases'], (stores, stop, give) => {
        then(stores.events.getAll(all(copy)), (here) => {
          const found = compared(here, events);
          give(found);
          if (found.added === 0) return;
          events.slice(here.length).forEach((event) => stores.events.add(event));
          stores.editions.put(kept);
          stores.copies.put({ ...headOver(events, kept.shown), exported: events.length, saved });
          stores.leases.put({ copy, tab: FROM_FILE, beat: 0 });
        });
      }, events.length * SLOWEST);
    }

    /** @param {string} name @returns {Promise<any>} undefined when there is none */
    async note(name) {
      const found = await this.read('notes', (store) => store.get(name));
      return found === undefined ? undefined : found.value;
    }

    /** @param {string} name @param {any} value @returns {Promise<void>} */
    setNote(name, value) {
      return this.write(['notes'], ({ notes }) => { notes.put({ name, value }); });
    }

    /** @param {string} name @returns {Promise<void>} */
    dropNote(name) {
      return this.write(['notes'], ({ notes }) => { notes.delete(name); });
    }
  }

  /**
   * Return the store of a book.
   * @param {string} book
   */
  async function open(book) {
    return new Store(await tankside.copyDatabase.open(book));
  }

  /**
   * Go on when the browser has answered, within its transaction.
   * @param {IDBRequest} request
   * @param {(result: any) => void} next
   */
  function then(request, next) {
    request.onsuccess = () => next(request.result);
  }

  /** @param {string} copy */
  function all(copy) {
    return IDBKeyRange.bound([copy], [copy, BOUND]);
  }

  return Object.freeze({ open, FROM_FILE, NotKept });
})();
