'use strict';

var tankside = window.tankside || {};

/* The database of the browser in which the records of a book are kept: opened, written in whole transactions, read. Each
   promise is kept once its transaction is complete, with strict durability: by then it is on disk. */
tankside.copyDatabase = (function () {
  /** What was added in which version; what is there already is left as it is. @type {Array<Object<string, string | string[]>>} */
  const LAID = [
    { editions: 'hash', copies: 'copy', events: ['copy', 'seq'], leases: 'copy', notes: 'name' },
    { competences: 'competence', entries: ['competence', 'seq'], taughts: 'hash' },
  ];
  const VERSION = LAID.length;
  const STRICT = { durability: 'strict' };
  /** A browser that has not answered after so long will not: nobody is left waiting without a word [ms]. */
  const PATIENCE = 8000;
  /** What the browser calls it -> what is said of it. */
  const FAILURES = {
    QuotaExceededError: 'store-full',
    InvalidStateError: 'store-closed',
    VersionError: 'store-newer',
  };

  /** Something was not kept, and why: a code whose words stand under `work-<code>`. */
  class NotKept extends Error {
    /** @param {string} code @param {string} [detail] what the browser says */
    constructor(code, detail = '') {
      super(`${code} ${detail}`);
      this.code = code;
      this.detail = detail;
    }
  }

  /**
   * Return the code for what the browser says.
   * @param {any} error null when it ended a transaction without a word, as it does when the database is taken away
   * @param {string} otherwise
   * @returns {string}
   */
  function failure(error, otherwise) {
    if (!error) return 'store-closed';
    return /** @type {Object<string, string>} */ (FAILURES)[error.name] || otherwise;
  }

  /**
   * Open the database of a book.
   * @param {string} book
   * @returns {Promise<IDBDatabase>}
   */
  function open(book) {
    return new Promise((resolve, reject) => {
      const request = asked(`tankside-${book}`);
      let isGivenUp = false;
      const refuse = (/** @type {string} */ code, detail = '') => {
        isGivenUp = true;
        reject(new NotKept(code, detail));
      };
      window.setTimeout(refuse, PATIENCE, 'store-silent');
      request.onupgradeneeded = ({ oldVersion }) => lay(request.result, oldVersion);
      request.onblocked = () => refuse('store-blocked');
      request.onerror = () => refuse(failure(request.error, 'store-none'), String(request.error));
      request.onsuccess = () => {
        const { result } = request;
        // Another tab of a newer site must be able to go on, also when this one has given up waiting.
        result.onversionchange = () => result.close();
        if (isGivenUp) result.close();
        resolve(result);
      };
    });
  }

  /** @param {string} name @returns {IDBOpenDBRequest} */
  function asked(name) {
    try {
      return window.indexedDB.open(name, VERSION);
    } catch (error) {
      throw new NotKept('store-none', String(error));
    }
  }

  /** @param {IDBDatabase} database @param {number} before the version that it had, 0 for an empty one */
  function lay(database, before) {
    for (const places of LAID.slice(before)) {
      for (const [name, keyPath] of Object.entries(places)) database.createObjectStore(name, { keyPath });
    }
  }

  /** @typedef {(stores: Object<string, IDBObjectStore>, stop: (code: string) => void, give: (value: any) => void) => void} Doing */

  /** A database, and what one does in it. */
  class Database {
    /** @param {IDBDatabase} database */
    constructor(database) {
      this.database = database;
    }

    /**
     * Do something in one transaction: all of it is kept, or nothing.
     * @param {string[]} names
     * @param {Doing} work
     * @param {number} [longer] how much longer than usual it may take [ms]
     * @returns {Promise<any>} what was given
     */
    write(names, work, longer = 0) {
      return this.transact(names, 'readwrite', work, longer);
    }

    /**
     * Look at several things as they are at one moment.
     * @param {string[]} names
     * @param {Doing} work
     * @returns {Promise<any>} what was given
     */
    look(names, work) {
      return this.transact(names, 'readonly', work);
    }

    /**
     * @param {string[]} names
     * @param {IDBTransactionMode} mode
     * @param {Doing} work
     * @param {number} [longer]
     * @returns {Promise<any>}
     */
    transact(names, mode, work, longer = 0) {
      return new Promise((resolve, reject) => {
        const transaction = this.begun(names, mode);
        /** @type {any} */
        let given;
        let code = '';
        const otherwise = mode === 'readonly' ? 'store-unread' : 'store-failed';
        const stop = (/** @type {string} */ found) => {
          code = found;
          transaction.abort();
        };
        const timer = window.setTimeout(() => {
          reject(new NotKept('store-silent'));
          try {
            transaction.abort();
          } catch (error) {
            // It has ended just now: whether it was kept, reading it again says.
          }
        }, PATIENCE + longer);
        transaction.oncomplete = () => {
          window.clearTimeout(timer);
          resolve(given);
        };
        transaction.onabort = () => {
          window.clearTimeout(timer);
          const { error } = transaction;
          reject(new NotKept(code || failure(error, otherwise), String(error || '')));
        };
        try {
          const stores = Object.fromEntries(names.map((name) => [name, transaction.objectStore(name)]));
          work(stores, stop, (value) => { given = value; });
        } catch (error) {
          stop(failure(error, otherwise));
        }
      });
    }

    /** @param {string[]} names @param {IDBTransactionMode} mode @returns {IDBTransaction} */
    begun(names, mode) {
      try {
        return this.database.transaction(names, mode, STRICT);
      } catch (error) {
        throw new NotKept('store-closed', String(error));
      }
    }

    /**
     * @param {string} name
     * @param {(store: IDBObjectStore) => IDBRequest} ask
     * @returns {Promise<any>}
     */
    read(name, ask) {
      return this.look([name], (stores, stop, give) => {
        ask(stores[name]).onsuccess = ({ target }) => give(/** @type {IDBRequest} */ (target).result);
      });
    }

    close() {
      this.database.close();
    }
  }

  return Object.freeze({ open, Database, NotKept });
})();
