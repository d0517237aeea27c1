'use strict';

var tankside = window.tankside || {};

/**
 * What a procedure is in a path; `hash` is that of what is taught, `address` stands below the root of the site.
 * @typedef {{
 *   title: string, address: string, hash: string, taught: Taught, rules: {after: number, unused_for: number},
 *   questions: any[]
 * }} Lesson
 */

/* What the pages of training share: what is kept, who is trained, how something is entered, what is said of it. */
tankside.trainingPage = (function () {
  const { el, say, button } = tankside.dom;
  const { heads, record, append } = tankside.trainingStore;
  const { refusal, entry, counting } = tankside.trainingEntries;
  const { uses, standingOf } = tankside.trainingUses;
  const { trouble } = tankside.trainingWords;
  const { selfTest, deviceName } = tankside.copyDevice;

  /** A role for emergencies: nobody is trained for it or attests as it. */
  const ANYONE = 'anyone';

  /** @param {string} name @returns {HTMLElement} */
  const place = (name) => /** @type {HTMLElement} */ (document.querySelector(`[data-train-${name}]`));

  /** A page of training. */
  class Trained {
    /** @param {any} data of the page */
    constructor(data) {
      this.data = data;
      this.path = /** @type {any} */ (tankside).trainingPath;
      /** @type {any} null while what is kept cannot be read */
      this.store = null;
      this.device = '';
      /** @type {TrainingHead[]} */
      this.heads = [];
      /** @type {TrainingRecord | null} of who is trained on this page */
      this.record = null;
      /** @type {TrainingUse[]} */
      this.uses = [];
      this.isBusy = false;
      /** @type {Array<() => void>} */
      this.painters = [];
      /** what keeps the drafts of the forms */
      this.view = { copy: { events: [] }, around: data };
    }

    /** @returns {Array<[string, string]>} the roles that people have */
    get roles() {
      return /** @type {Array<[string, string]>} */ (Object.entries(this.data.roles).filter(([id]) => id !== ANYONE));
    }

    /** @param {string} role @returns {string} what people call it */
    roleName(role) {
      return this.data.roles[role] || role;
    }

    /** @returns {string} initials of who is trained */
    get person() {
      return this.record === null ? '' : this.record.head.person;
    }

    /** @param {string} address @returns {string} with who is trained */
    link(address) {
      return this.record === null ? address : `${address}#${this.record.head.competence}`;
    }

    /** @returns {Promise<boolean>} whether something can be kept */
    async start() {
      try {
        this.store = this.store || await tankside.copyStore.open(this.data.book);
        const code = await selfTest(this.store);
        if (code !== 'store-kept') throw Object.assign(new Error(code), { code });
        this.device = await deviceName(this.store);
        await this.read();
      } catch (error) {
        this.notKept(error);
        return false;
      }
      place('storage').replaceChildren(el('p.store-kept', {}, say('train-store-kept')));
      return true;
    }

    /** @param {any} error */
    notKept(error) {
      const again = button(say('work-list-try-again'), () => window.location.reload());
      place('storage').replaceChildren(el('div.not-kept', { role: 'alert' }, el('p', {}, trouble(error)), again));
    }

    async read() {
      const wanted = window.location.hash.replace('#', '');
      this.heads = await heads(this.store);
      this.record = this.heads.some(({ competence }) => competence === wanted) ? await record(this.store, wanted) : null;
      this.uses = await uses(this.store);
    }

    /** Read everything anew and show it. */
    async refresh() {
      if (this.store === null) return;
      try {
        await this.read();
        this.changed();
      } catch (error) {
        this.notKept(error);
      }
    }

    changed() {
      for (const paint of this.painters) paint();
    }

    /** @param {() => void} paint is called now and after each change */
    shows(paint) {
      this.painters.push(paint);
      paint();
    }

    /** @param {string} words */
    tell(words) {
      place('said').textContent = words;
    }

    /** @returns {TrainingEntry[]} the entries that count */
    get counting() {
      return this.record === null ? [] : counting(this.record.events);
    }

    /** @param {string} procedure @param {string} goal @returns {Standing} */
    standing(procedure, goal) {
      return standingOf(/** @type {TrainingRecord} */ (this.record), this.path.lessons[procedure], goal, this.uses);
    }

    /**
     * Enter something about who is trained here.
     * @param {any} own
     * @param {{lesson?: Lesson, critical?: string[], aside?: string[], first?: string[]}} [about]
     * @returns {Promise<boolean>} whether it is kept
     */
    async act(own, { lesson, critical = [], ...rest } = {}) {
      if (this.isBusy || this.record === null) return false;
      const { head, events } = this.record;
      const whole = { ...own, ...(lesson === undefined ? {} : naming(lesson)), person: head.person };
      const code = refusal(whole, events, { critical, ...rest });
      if (code !== '') {
        this.tell(say(`train-refused-${code}`));
        return false;
      }
      const made = entry(whole, head, events[events.length - 1], { device: this.device, build: this.data.build });
      return this.keep(made, lesson === undefined ? null : { hash: lesson.hash, taught: lesson.taught });
    }

    /**
     * @param {TrainingEntry} made
     * @param {{hash: string, taught: any} | null} taught
     */
    async keep(made, taught) {
      this.isBusy = true;
      try {
        await append(this.store, made, taught);
        this.tell(say('train-kept'));
        return true;
      } catch (error) {
        this.tell(trouble(error));
        return false;
      } finally {
        this.isBusy = false;
        await this.refresh();
      }
    }
  }

  /** @param {Lesson} lesson what an entry says of what it is about */
  function naming({ hash, taught }) {
    return { procedure: taught.procedure, revision: taught.revision, edition: taught.content, taught: hash };
  }

  return Object.freeze({ Trained, place });
})();
