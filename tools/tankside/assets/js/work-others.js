'use strict';

var tankside = window.tankside || {};

/* What only somebody else may do: look at a step as the second person, release a hold. And what follows when one was sent
   to another procedure, or has done what one was sent to. */
tankside.workOthers = (function () {
  const { el, say, mark, button, holdButton } = tankside.dom;
  const { partOf, stepOf } = tankside.copyState;
  const { numberOf } = tankside.workSaid;

  /**
   * Return tiles of those who may look as the second person: never one who had a hand in it.
   * @param {any} view
   * @param {Visit} visit
   * @returns {Array<Node>}
   */
  function others(view, visit) {
    const place = view.copy.trail.indexOf(visit);
    const people = [...view.copy.people].filter(([who]) => !visit.hands.includes(who));
    const tiles = people.map(([who, role]) => hold(view, 'work-hold-second', who, role, () => (
      view.act('second', { visit: place, who }))));
    const none = people.length > 0 ? [] : [el('p', {}, say('work-second-nobody')), comes(view, '')];
    return [
      el('p.awaited', { 'data-awaits': 'second' }, mark('second-person'), say('work-second-awaited', { who: visit.doer })),
      ...tiles, ...none,
      el('div.quiet-line', {}, button(say('work-alone'), () => alone(view, visit), { class: 'quiet', 'data-alone': true })),
    ];
  }

  /** @param {any} view @param {string} key @param {string} who @param {string} role @param {() => any} action */
  function hold(view, key, who, role, action) {
    return holdButton([el('b', {}, who), el('span', {}, view.roleName(role)), el('span', {}, say(key))], action, {
      class: 'held press', 'data-hold': who,
    });
  }

  /** @param {any} view @param {string} role a way for somebody to come in, with a role that is asked for */
  function comes(view, role) {
    return button(say('work-comes'), () => view.open({ name: 'people', role }), { class: 'quiet', 'data-comes': role });
  }

  /** @param {any} view @param {Visit} visit there is no second person: it goes on, and says so for ever */
  function alone(view, visit) {
    view.open({
      name: 'reason',
      kind: 'alone',
      title: say('work-alone'),
      about: [say('work-alone-about')],
      offered: [say('work-alone-left'), say('work-alone-nobody'), say('work-alone-needed')],
      confirm: say('work-alone-confirm'),
      act: (/** @type {string} */ reason) => view.act('alone', { visit: view.copy.trail.indexOf(visit), reason }),
    });
  }

  /**
   * Return tiles of those who may release a hold.
   * @param {any} view
   * @param {Visit} visit
   * @returns {Array<Node>}
   */
  function release(view, visit) {
    const place = view.copy.trail.indexOf(visit);
    const role = stepOf(view.copy, visit).released_by;
    const name = view.roleName(role);
    const people = [...view.copy.people].filter(([, each]) => each === role);
    const tiles = people.map(([who]) => hold(view, 'work-hold-release', who, role, () => (
      view.act('release', { visit: place, who }))));
    const none = people.length > 0 ? [] : [el('p', {}, say('work-release-nobody', { role: name })), comes(view, role)];
    return [el('p.awaited', { 'data-awaits': 'release' }, mark('hold'), say('work-release-awaited', { role: name })), ...tiles, ...none];
  }

  /**
   * Return what follows where one was sent away, or has done all that one was sent to.
   * @param {any} view
   * @param {Visit} visit
   * @returns {Array<Node>}
   */
  function sent(view, visit) {
    const back = visit.sender === null ? '' : numberOf(view, visit.sender);
    const again = say('work-sent-again', { number: back });
    const end = say('work-sent-end');
    return [
      ...(visit.kind === 'away' ? away(view, visit) : [el('p.action', {}, say('work-sent-decide'))]),
      button(again, () => decide(view, visit, 'again', again), { class: 'press', 'data-press': true, 'data-then': 'again' }),
      button(end, () => decide(view, visit, 'end', end), { class: 'press press-no', 'data-press': true, 'data-then': 'end' }),
    ];
  }

  /** @param {any} view @param {Visit} visit */
  function away(view, visit) {
    const title = partOf(view.copy, visit).edition.procedures[visit.name] || visit.name;
    return [
      el('p.action', {}, say('work-sent', { title })),
      el('a.press.press-away', { href: view.addressOf(visit.name), 'data-away': visit.name }, say('work-sent-open', { title })),
      el('p', {}, say('work-sent-back')),
    ];
  }

  /** @param {any} view @param {Visit} visit @param {'again' | 'end'} then @param {string} title */
  function decide(view, visit, then, title) {
    view.open({
      name: 'reason',
      kind: 'decide',
      title,
      about: then === 'end' ? [say('work-sent-end-about')] : [],
      offered: then === 'end'
        ? [say('work-decide-lead'), say('work-decide-unsafe')] : [say('work-decide-right'), say('work-decide-lead')],
      confirm: title,
      act: (/** @type {string} */ reason) => view.act('decide', { visit: view.copy.trail.indexOf(visit), then, reason }),
    });
  }

  return Object.freeze({ others, release, sent });
})();
