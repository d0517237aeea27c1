'use strict';

var tankside = window.tankside || {};

/** @typedef {{text: string, kind?: string, target?: [string, string], follows?: string}} Run */

/* Elements, words, marks, and the way a touch with a wet glove counts: on release, once, never two rows at a time. */
tankside.dom = (function () {
  /** A touch on something else so soon after the last one is a slip [ms]. */
  const SLIP = 400;
  /** What asks for a deliberate press asks for so long a one [ms]. */
  const LONG = 800;
  /** What a press says that was let go too soon. */
  const TOO_SHORT = 'too-short';
  let lastPress = -Infinity;
  /** @type {Element | null} */
  let lastPressed = null;
  /** Whether the finger that held a press until it acted still lies on the glass. */
  let isHeldOn = false;

  /**
   * Return a new element.
   * @param {string} name of the tag, with classes: `p.signal`
   * @param {Object<string, any>} [attributes] true for one without a value; false and null are left out
   * @param {...(Node | string | null | Array<Node | string>)} children
   * @returns {any}
   */
  function el(name, attributes = {}, ...children) {
    const [tag, ...classes] = name.split('.');
    const made = document.createElement(tag);
    if (classes.length > 0) made.className = classes.join(' ');
    for (const [key, value] of Object.entries(attributes)) {
      if (value !== false && value !== null && value !== undefined) made.setAttribute(key, value === true ? '' : String(value));
    }
    made.append(...children.flat().filter((child) => child !== null && child !== undefined));
    return made;
  }

  /**
   * Return a word of the interface with its gaps filled.
   * @param {string} key
   * @param {Object<string, string | number>} [gaps]
   * @returns {string}
   */
  function say(key, gaps = {}) {
    const words = /** @type {any} */ (tankside).words[key];
    if (words === undefined) throw new RangeError(`no words under '${key}'`);
    return words.replace(/\{(\w+)\}/g, (/** @type {string} */ _, /** @type {string} */ gap) => String(gaps[gap]));
  }

  /**
   * Return a place-keeping mark, or another small drawing, as the page holds it; it takes the colour of its text.
   * @param {string} name
   * @returns {Node}
   */
  function mark(name) {
    const drawn = /** @type {HTMLTemplateElement | null} */ (document.querySelector(`template[data-mark="${name}"]`));
    return el('span.mark', { 'data-drawn': name }, drawn === null ? '' : drawn.content.cloneNode(true));
  }

  /**
   * Return a button that acts when the touch ends on it; sliding off cancels, and a slip onto it is not counted.
   * @param {string | Node | Array<Node | string>} label
   * @param {(event: Event) => void} action
   * @param {Object<string, any>} [attributes]
   * @returns {HTMLButtonElement}
   */
  function button(label, action, attributes = {}) {
    const made = el('button', { type: 'button', ...attributes }, label);
    made.addEventListener('click', (/** @type {MouseEvent} */ event) => {
      // A click without a pointer comes from a keyboard, on which no glove slips.
      if (event.detail > 0 && isSlip(made, event.timeStamp)) return;
      action(event);
    });
    onceAPress(made);
    return made;
  }

  /** @param {Element} element @param {number} time */
  function isSlip(element, time) {
    const isSoon = time - lastPress < SLIP && lastPressed !== element;
    if (!isSoon) [lastPress, lastPressed] = [time, element];
    return isSoon;
  }

  /** What has come up under the finger of a hold is not touched by lifting it. */
  function lifted(/** @type {Event} */ { timeStamp }) {
    if (isHeldOn) [isHeldOn, lastPress, lastPressed] = [false, timeStamp, null];
  }

  /** @param {MouseEvent} event what a finger does that was only lifted */
  function swallow(event) {
    if (lastPressed !== null || event.detail === 0 || event.timeStamp - lastPress >= SLIP) return;
    lastPress = -Infinity;
    event.preventDefault();
    event.stopPropagation();
  }

  document.addEventListener('pointerdown', () => { isHeldOn = false; }, { capture: true });
  for (const each of ['pointerup', 'pointercancel']) document.addEventListener(each, lifted, { capture: true });
  document.addEventListener('click', swallow, { capture: true });

  /** @param {HTMLElement} made a key that is kept down acts once: the next button has the focus by then */
  function onceAPress(made) {
    made.addEventListener('keydown', (event) => {
      if (event.repeat && (event.key === 'Enter' || event.key === ' ')) event.preventDefault();
    });
  }

  /**
   * Return a button that acts only when it is held: nobody releases a hold point by brushing against it.
   * @param {string | Node | Array<Node | string>} label
   * @param {() => void} action
   * @param {Object<string, any>} [attributes]
   * @returns {HTMLButtonElement}
   */
  function holdButton(label, action, attributes = {}) {
    const made = el('button.held', { type: 'button', ...attributes }, label);
    let timer = 0;
    const end = () => {
      window.clearTimeout(timer);
      timer = 0;
      made.classList.remove('holding');
    };
    const begin = (/** @type {boolean} */ isTouched) => {
      if (timer !== 0 || made.disabled) return;
      made.classList.add('holding');
      timer = window.setTimeout(() => {
        end();
        // What was painted anew under the finger is held no more: nobody sees what this one would do.
        if (!made.isConnected || made.disabled) return;
        isHeldOn = isTouched;
        action();
      }, LONG);
    };
    made.addEventListener('pointerdown', ({ pointerId, button: which }) => {
      if (which !== 0) return;
      // A finger is kept to what it touched first, so that sliding off would not be noticed.
      if (made.hasPointerCapture(pointerId)) made.releasePointerCapture(pointerId);
      begin(true);
    });
    for (const each of ['pointerup', 'keyup']) {
      made.addEventListener(each, () => timer !== 0 && made.dispatchEvent(new CustomEvent(TOO_SHORT, { bubbles: true })));
    }
    for (const each of ['pointerup', 'pointerleave', 'pointercancel', 'blur', 'keyup']) made.addEventListener(each, end);
    made.addEventListener('contextmenu', (event) => event.preventDefault());
    made.addEventListener('keydown', (event) => {
      if (event.key !== 'Enter' && event.key !== ' ') return;
      event.preventDefault();
      if (!event.repeat) begin(false);
    });
    return made;
  }

  return Object.freeze({ TOO_SHORT, el, say, mark, button, holdButton });
})();
