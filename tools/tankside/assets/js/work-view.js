'use strict';

var tankside = window.tankside || {};

/**
 * What stands in place of the steps for a while: a name of `workPanels`, and what that panel needs.
 * @typedef {{name: string} & Object<string, any>} Panel
 */

/* What the parts of a working copy's page share: the copy, who works, what is said, and how something is done. */
tankside.workView = (function () {
  const { el, say } = tankside.dom;
  const { amountTexts } = tankside.amounts;
  const { quantityOrNull } = tankside.copyWorth;
  const { refusal } = tankside.copyRefusal;
  const { now } = tankside.copyDevice;

  /** The page of one working copy. */
  class View {
    /**
     * @param {any} work see `copyWork.Work`
     * @param {{around: any, emergencies: string[], draft: boolean, trained?: any}} about
     */
    constructor(work, { around, emergencies, draft, trained = {} }) {
      Object.assign(this, { work, around, emergencies, draft, trained });
      /** who does what is done now: initials, empty before somebody was chosen */
      this.who = '';
      /** what was said last, for the line that is read aloud, and whether it was a refusal */
      this.said = '';
      this.isRefused = false;
      /** what events carry while a record on paper is taken over: `paper`, `at`; nothing else at other times */
      this.paper = {};
      /** the work is being taken here: nothing is marked before it was looked where one was */
      this.isEntering = false;
      /** @type {Panel | null} */
      this.panel = null;
      /** @type {Line[]} the lines that stand on the page */
      this.lines = [];
      /** @type {Copy | null} */
      this.known = null;
      this.readings = 0;
      /** @type {Map<number, {chosen: string, texts: Map<string, any>}>} */
      this.worked = new Map();
    }

    get shown() {
      return this.work.shown;
    }

    get copy() {
      return this.work.copy;
    }

    /** @returns {number} another one whenever the copy was read anew: what was made of the old one is old */
    get reading() {
      if (this.copy !== this.known) Object.assign(this, { known: this.copy, readings: this.readings + 1 });
      return this.readings;
    }

    /** @returns {string} initials of who works now */
    get worker() {
      const { people, events } = this.copy;
      if (people.has(this.who)) return this.who;
      return people.has((events[0] || {}).who) ? events[0].who : [...people.keys()][0] || '';
    }

    /** @returns {string} why nothing can be marked in this tab now: a code, empty when something can */
    get hindrance() {
      const { ended, givenBy, isPaused } = this.copy;
      if (ended !== '') return 'ended';
      if (this.work.trouble !== '') return this.work.trouble;
      if (this.work.isFromFile) return 'store-from-file';
      if (this.isEntering) return 'entering';
      if (!this.work.isHere) return 'store-other-tab';
      if (givenBy !== '') return 'given';
      return isPaused ? 'paused' : '';
    }

    /** @param {string} role @returns {string} what people call it */
    roleName(role) {
      return this.around.roles[role] || role;
    }

    /** @param {Visit} visit @returns {Line | undefined} the line on which it stands */
    lineOf(visit) {
      const wanted = tankside.workSteps.keyOf(visit) || `sent/${this.copy.trail.indexOf(visit)}`;
      return this.lines.find(({ key }) => key === wanted);
    }

    /** @param {any} own @returns {any} with who does it, and as what */
    byWhom(own) {
      const who = own.who || this.worker;
      return { ...this.paper, ...own, who, role: own.role || this.copy.people.get(who) || '' };
    }

    /**
     * Return what is against something now, without doing it.
     * @param {string} kind
     * @param {any} [own]
     * @returns {string} a code, empty when nothing is
     */
    against(kind, own = {}) {
      return refusal(this.copy, { ...now(), ...this.byWhom(own), kind });
    }

    /**
     * Do something as who works now, or as somebody else; say why when it is refused or not kept.
     * @param {string} kind
     * @param {any} [own]
     * @returns {Promise<boolean>} whether it is done and kept
     */
    async act(kind, own = {}) {
      const { code, detail } = await this.work.act(kind, this.byWhom(own));
      // A second touch while the first one is being kept says nothing new.
      if (code === 'busy') return false;
      if (code === '') this.tell(tankside.workSaid.kept(this, this.work.last));
      else this.refuse(refused(code, detail));
      return code === '';
    }

    /** @param {string} words said where it is seen and read aloud */
    tell(words) {
      this.said = words;
      this.isRefused = false;
      this.work.changed();
    }

    /** @param {string} words why something was not done, and what to do */
    refuse(words) {
      this.said = words;
      this.isRefused = words !== '';
      this.work.changed();
    }

    /** @param {Panel} panel */
    open(panel) {
      this.panel = panel;
      this.tell('');
    }

    close() {
      this.panel = null;
      this.work.changed();
    }

    /** @param {number} part the amounts of a part for what was chosen, by name; see `amounts.js` */
    amounts(part) {
      const { live, procedure } = this.shown.parts[part];
      if (live === null) return new Map();
      const chosen = (this.copy.inputs[procedure] || {})[live.input.name] || '';
      const before = this.worked.get(part);
      if (before !== undefined && before.chosen === chosen) return before.texts;
      const quantity = chosen === '' ? null : quantityOrNull(chosen);
      const texts = quantity === null ? new Map() : amountTexts(live, quantity);
      this.worked.set(part, { chosen, texts });
      return texts;
    }

    /** @param {string} id the address of another procedure, from this page */
    addressOf(id) {
      const file = `${encodeURIComponent(id)}.html`;
      return this.emergencies.includes(id) ? `../emergency/${file}` : file;
    }

    /**
     * Return a sentence of the book as nodes; amounts follow what was chosen.
     * @param {Run[]} sentence
     * @param {number} part
     * @returns {Node[]}
     */
    words(sentence, part) {
      return sentence.map(({ text, kind, target, follows }) => {
        if (kind === undefined || kind === 'plain') return document.createTextNode(text);
        if (kind === 'link' && target !== undefined && target[0] === 'procedure') {
          return el('a', { href: this.addressOf(target[1]) }, text);
        }
        const amount = follows === undefined ? undefined : this.amounts(part).get(follows.split('/')[1]);
        return el(`b.${kind}`, {}, amount === undefined ? text : amount.inside);
      });
    }
  }

  /** @param {string} code @param {string} [detail] the sentence for something that was not done */
  function refused(code, detail = '') {
    const { words } = /** @type {any} */ (tankside);
    if (words[`refused-${code}`] !== undefined) return say(`refused-${code}`);
    return `${say(words[`work-${code}`] === undefined ? 'work-store-failed' : `work-${code}`)} ${detail}`.trim();
  }

  return Object.freeze({ View, refused });
})();
