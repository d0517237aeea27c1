'use strict';

var tankside = window.tankside || {};

/** @typedef {{code: string, detail?: string}} Outcome an empty code: it is done and kept */

/* A working copy at work: what somebody does is refused, or kept and then shown; never shown before it is kept. */
tankside.copyWork = (function () {
  const { sha256, canonical, chained } = tankside.chain;
  const { script } = tankside.copyScript;
  const { newCopy } = tankside.copyState;
  const { fold, followed } = tankside.copyFold;
  const { refusal } = tankside.copyRefusal;
  const { momentOf, randomName } = tankside.copyDevice;
  const { FROM_FILE } = tankside.copyStore;

  const BEAT = 2000;
  /** A tab that has not beaten for so long is gone [ms]. */
  const SILENCE = 2.5 * BEAT;
  const DONE = Object.freeze({ code: '' });

  /** One tab in which a working copy is looked at, and in one of them worked on. */
  class Work {
    /**
     * @param {any} store
     * @param {{edition: any, shown: any, build: string, device: string}} about
     */
    constructor(store, { edition, shown, build, device }) {
      Object.assign(this, { store, edition, shown, build, device });
      this.tab = randomName(8);
      this.script = script(edition);
      this.hash = shown.hash;
      /** @type {Copy} */
      this.copy = newCopy(this.script);
      /** @type {CopyHead | null} */
      this.head = null;
      this.isBusy = false;
      /** whether this tab has the work */
      this.isHere = false;
      /** it came by a file, and nobody has taken the work to this device */
      this.isFromFile = false;
      /** the code of why nothing can be written now, empty when it can */
      this.trouble = '';
      /** @type {Array<[number, string]>} where the chain that was read does not hold */
      this.broken = [];
      /** @type {Array<() => void>} */
      this.watchers = [];
    }

    /** @returns {CopyEvent | null} */
    get last() {
      return this.copy.events[this.copy.events.length - 1] || null;
    }

    /** @param {() => void} watcher is called after every change */
    watch(watcher) {
      this.watchers.push(watcher);
    }

    changed() {
      this.watchers.forEach((watcher) => watcher());
    }

    /**
     * Begin a working copy. A second touch while the first one is being kept begins no second copy.
     * @param {any} own who, role, lot, product, bottle, inputs, people, confirmed
     * @returns {Promise<Outcome>}
     */
    async start(own) {
      if (this.isBusy) return { code: 'busy' };
      const hash = sha256(canonical(this.shown));
      const event = this.proposed('start', { ...own, copy: randomName(8), shown: hash });
      return this.kept(event, () => this.store.begin(
        event, { hash, edition: this.edition, shown: this.shown }, this.tab));
    }

    /**
     * Do something.
     * @param {string} kind
     * @param {any} own what belongs to the kind, with `who` and `role`
     * @returns {Promise<Outcome>}
     */
    async act(kind, own) {
      if (this.isBusy) return { code: 'busy' };
      if (!this.isHere) return { code: 'store-other-tab' };
      if (this.trouble) return { code: this.trouble };
      if (own.paper !== undefined && !own.at) return { code: 'paper-time-missing' };
      const event = this.proposed(kind, own);
      return this.kept(event, () => this.store.append(event, this.tab));
    }

    /** @param {string} kind @param {any} own */
    proposed(kind, own) {
      const { last } = this;
      const part = this.script.parts[this.partOf(own)];
      const common = {
        copy: last === null ? own.copy : last.copy,
        edition: this.hash,
        procedure: part.procedure,
        revision: part.revision,
        step: own.step || this.stepOf(own),
        device: this.device,
        build: this.build,
      };
      return chained({ ...momentOf(own), ...common, ...own, kind }, last);
    }

    /** @param {any} own the part in which something is done */
    partOf({ visit }) {
      const found = this.copy.trail[visit] || this.copy.tip;
      return found === null || found === undefined ? 0 : found.part;
    }

    /** @param {any} own the step to which something is done, empty when to none */
    stepOf({ visit }) {
      const found = this.copy.trail[visit];
      return found === undefined || found.node < 0 ? '' : found.name;
    }

    /**
     * Write first, paint after; where something is against it, neither.
     * @param {CopyEvent} event
     * @param {() => Promise<any>} write
     * @returns {Promise<Outcome>}
     */
    async kept(event, write) {
      const against = refusal(this.copy, event);
      if (against) return { code: against };
      this.isBusy = true;
      this.changed();
      try {
        const head = await write();
        if (head !== undefined) this.head = head;
        fold(this.copy, event);
        this.isHere = true;
        return DONE;
      } catch (error) {
        return await this.failed(error);
      } finally {
        this.isBusy = false;
        this.changed();
      }
    }

    /** @param {any} error @returns {Promise<Outcome>} */
    async failed(error) {
      const code = error.code || 'store-failed';
      if (['store-other-tab', 'store-from-file', 'store-moved-on'].includes(code)) {
        Object.assign(this, { isHere: false, isFromFile: code === 'store-from-file' });
      } else this.trouble = code;
      this.changed();
      // Whether it was kept after all, the store knows.
      await this.again().catch(() => undefined);
      return { code, detail: error.detail || String(error) };
    }

    /** Try whether the store writes again. @returns {Promise<Outcome>} */
    async recover() {
      const code = await tankside.copyDevice.selfTest(this.store);
      if (code !== 'store-kept') return { code };
      this.trouble = '';
      // A chain that does not hold stays a trouble: reading it again says so.
      const outcome = await this.again().then(() => DONE, (/** @type {any} */ error) => this.failed(error));
      this.changed();
      return outcome;
    }

    /**
     * Read a working copy, to look at it.
     * @param {string} copy
     * @returns {Promise<boolean>} whether there is one
     */
    async read(copy) {
      const record = await this.store.record(copy);
      if (record === null) return false;
      this.taken(record);
      return true;
    }

    /** Read again what is kept, if it has changed: by another tab, or by a write whose answer was lost. */
    async again() {
      const { last } = this;
      const head = last === null ? null : await this.store.head(last.copy) || null;
      if (!last || !head || (head.hash === last.hash && head.saved === this.head?.saved)) return;
      // A long record takes a while to be read, and a file of it changes its head only.
      if (head.hash === last.hash) this.head = head;
      else await this.read(last.copy);
      this.changed();
    }

    /** @param {CopyRecord} record */
    taken({ head, edition, shown, events }) {
      // What cannot be followed to its end is not taken at all.
      const { copy, broken } = followed(edition, events);
      Object.assign(this, { head, edition, shown, hash: head.edition, script: copy.script, copy, broken });
      if (broken.length > 0) this.trouble = 'chain-broken';
    }

    /** Take the work into this tab, whichever has it. @returns {Promise<boolean>} false where there is none */
    async takeHere() {
      const { last } = this;
      if (last === null) return false;
      await this.store.take(last.copy, this.tab);
      await this.again();
      Object.assign(this, { isHere: true, isFromFile: false });
      this.changed();
      return true;
    }

    /**
     * Take the work into this tab unless another one lives that has it, or nobody has taken it to this device yet.
     * @returns {Promise<boolean>} whether it was taken now, and not by a press meanwhile
     */
    async claim() {
      const { copy } = /** @type {CopyEvent} */ (this.last);
      const before = await this.store.lease(copy);
      this.isFromFile = before !== undefined && before.tab === FROM_FILE;
      this.changed();
      if (this.isFromFile) return false;
      if (before !== undefined) {
        await new Promise((resolve) => { window.setTimeout(resolve, SILENCE); });
        const after = await this.store.lease(copy);
        if (after !== undefined && (after.tab !== before.tab || after.beat !== before.beat)) return false;
      }
      return this.isHere ? false : this.takeHere();
    }

    /** Let go of the work: the page is left, and whoever opens it next need not wait. */
    letGo() {
      if (!this.isHere || this.last === null) return;
      // A page that comes back as it was has to take the work anew, and to read what others did meanwhile.
      this.isHere = false;
      this.store.letGo(this.last.copy).catch(() => undefined);
    }

    /** Show that this tab lives, or see whether another one has gone on. */
    async beat() {
      const { last } = this;
      if (last === null || this.isBusy) return;
      if (this.isHere) {
        this.isHere = await this.store.beat(last.copy, this.tab);
        if (!this.isHere) this.changed();
      } else await this.again();
    }

    keepBeating() { window.setInterval(() => this.beat().catch(() => undefined), BEAT); }
  }

  return Object.freeze({ Work });
})();
