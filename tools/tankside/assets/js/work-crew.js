'use strict';

var tankside = window.tankside || {};

/** @typedef {{who: string, role: string}} Person */

/* Who begins a working copy: initials and roles, chosen before the gloves are on. They are claims, not signatures. */
tankside.workCrew = (function () {
  const { el, say, button } = tankside.dom;
  const { keypad } = tankside.workKeys;
  const { drafts, settled } = tankside.workTyping;
  const { tiles, roleName } = tankside.workPieces;

  /** A role for emergencies: nobody begins work as it. */
  const ANYONE = 'anyone';
  const NOTE = 'people';

  /** @param {any} view @returns {Person[]} who was named so far */
  function named(view) {
    return drafts(view).get('start-people', []);
  }

  /** @param {any} view @returns {string} who does the work: the first one unless another was chosen */
  function doer(view) {
    const people = named(view);
    const chosen = drafts(view).get('start-doer');
    return people.some(({ who }) => who === chosen) ? chosen : (people[0] || { who: '' }).who;
  }

  /**
   * Return the form in which people are named.
   * @param {any} view
   * @param {() => void} after
   * @returns {HTMLElement}
   */
  function crewPart(view, after) {
    const kept = drafts(view);
    const [here, before] = [el('div.work-crew', {}), el('div', {})];
    /** @type {Person[]} */
    let last = [];
    const set = (/** @type {Person[]} */ people) => {
      kept.set('start-people', people);
      paint();
      after();
    };
    const add = (/** @type {Person} */ person) => {
      if (named(view).some(({ who }) => who === person.who)) return;
      set([...named(view), person]);
      // Who was entered stands above the keys, and is seen.
      if (here.lastElementChild !== null) here.lastElementChild.scrollIntoView({ block: 'nearest' });
    };
    const paint = () => {
      here.replaceChildren(...named(view).map((person) => row(view, person, set)));
      before.replaceChildren(...known(view, last.filter(({ who }) => !named(view).some((each) => each.who === who)), add));
    };
    paint();
    lastCrew(view).then((people) => {
      last = people;
      paint();
    });
    return el('div', {}, here, before, newPerson(view, add));
  }

  /** @param {any} view @param {Person} person @param {(people: Person[]) => void} set */
  function row(view, person, set) {
    const isDoer = doer(view) === person.who;
    const does = button(say(isDoer ? 'work-crew-does' : 'work-crew-does-not'), () => {
      drafts(view).set('start-doer', person.who);
      set(named(view));
    }, { 'aria-pressed': String(isDoer), 'data-doer': person.who });
    const remove = button(say('work-crew-remove'), () => set(named(view).filter(({ who }) => who !== person.who)), {
      'data-remove': person.who,
    });
    return el('div.work-person', { 'data-person': person.who },
      el('p', {}, el('b', {}, person.who), ` ${roleName(view, person.role)}`), does, remove);
  }

  /** @param {any} view @param {Person[]} people those of the last copy on this device @param {(person: Person) => void} add */
  function known(view, people, add) {
    if (people.length === 0) return [];
    const made = people.map((person) => button([el('b', {}, person.who), ` ${roleName(view, person.role)}`], () => add(person), {
      'data-known': person.who,
    }));
    return [el('p.work-label', {}, say('work-crew-last')), el('div.work-tiles', {}, made)];
  }

  /** @param {any} view @param {(person: Person) => void} add */
  function newPerson(view, add) {
    const kept = drafts(view);
    const place = el('fieldset.work-new-person', {});
    const typed = () => ({ who: settled(kept.get('start-new-who'), 'initials'), role: kept.get('start-new-role') });
    const fill = () => {
      const enter = button('', () => {
        if (lacking(view, typed()) !== '') return;
        const person = typed();
        kept.drop('start-new');
        add(person);
        fill();
      }, { 'data-enter': 'person' });
      const paint = () => {
        const words = lacking(view, typed());
        enter.disabled = words !== '';
        enter.textContent = words || say('work-crew-add', { who: typed().who, role: roleName(view, typed().role) });
      };
      const roles = /** @type {Array<[string, string]>} */ (Object.entries(view.around.roles).filter(([id]) => id !== ANYONE));
      place.replaceChildren(
        el('legend', {}, say(named(view).length === 0 ? 'work-crew-first' : 'work-crew-new')),
        keypad(view, { name: 'start-new-who', kind: 'initials', label: say('work-crew-initials'), after: paint, done: () => enter.click() }),
        el('p.work-label', {}, say('work-crew-role')),
        tiles(view, { name: 'start-new-role', label: say('work-crew-role'), options: roles, after: paint }),
        enter);
      paint();
    };
    fill();
    return place;
  }

  /** @param {any} view @param {Person} person what is missing for a person, in words */
  function lacking(view, { who, role }) {
    if (who === '') return say('work-crew-initials-missing');
    if (named(view).some((each) => each.who === who)) return say('work-crew-twice', { who });
    return role === '' ? say('work-crew-role-missing') : '';
  }

  /** @param {any} view @returns {Promise<Person[]>} what was noted is a help: none is no harm */
  async function lastCrew(view) {
    const { store } = view.work;
    return (store ? await store.note(NOTE).catch(() => undefined) : undefined) || [];
  }

  /** @param {any} view @param {Person[]} people */
  async function remember(view, people) {
    await view.work.store.setNote(NOTE, people).catch(() => undefined);
  }

  return Object.freeze({ crewPart, named, doer, remember });
})();
