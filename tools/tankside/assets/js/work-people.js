'use strict';

var tankside = window.tankside || {};

/* Who works: tiles in view at all times, and forms for those who come, leave, give the work away and take it over. Nobody
   has to type with wet gloves: initials have large keys. */
tankside.workPeople = (function () {
  const { el, say, button, holdButton } = tankside.dom;
  const { keypad } = tankside.workKeys;
  const { tiles, peopleOf } = tankside.workPieces;
  const { drafts, settled } = tankside.workTyping;

  /** Roles that say nothing of what somebody may do. */
  const NO_ROLES = ['anyone'];

  /**
   * Return tiles of those who are here; the chosen one does what is done next.
   * @param {any} view
   */
  function whoWorks(view) {
    const people = [...view.copy.people];
    return el('div.who', { role: 'group', 'aria-label': say('work-who'), 'data-who': true }, people.map(([who, role]) => (
      button([el('b', {}, who), el('span', {}, view.roleName(role))], () => choose(view, who), {
        'data-tile': who, 'aria-pressed': String(who === view.worker),
      }))));
  }

  /** @param {any} view @param {string} who */
  function choose(view, who) {
    view.who = who;
    view.tell(say('work-who-chosen', { who, role: view.roleName(view.copy.people.get(who)) }));
  }

  /**
   * Return who is here, and the ways to come and to leave.
   * @param {any} view
   * @param {{role?: string}} panel a role that is asked for
   */
  function body(view, { role = '' }) {
    const here = peopleOf(view, () => true).map(([who, name]) => el('li', {}, el('b', {}, who), ` ${name} `,
      button(say('work-leaves', { who }), () => view.act('leave', { who }), { class: 'quiet', 'data-leaves': who })));
    const arriving = arrival(view, {
      name: 'join', role, confirm: say('work-joins'),
      act: (own) => view.act('join', own),
      then: () => view.close(),
    });
    return [el('h3', {}, say('work-comes')), ...arriving, el('h3', {}, say('work-people-here')), el('ul.people', {}, here)];
  }

  /**
   * Return a form for initials and role.
   * @param {any} view
   * @param {{
   *   name: string, role: string, confirm: string, act: (own: {who: string, role: string}) => Promise<boolean>,
   *   then?: () => void
   * }} about
   * @returns {Array<Node>}
   */
  function arrival(view, { name, role, confirm, act, then = () => {} }) {
    const kept = drafts(view);
    if (role !== '') kept.set(`${name}-role`, role);
    const own = () => ({ who: settled(kept.get(`${name}-who`), 'initials'), role: kept.get(`${name}-role`) });
    const missing = el('p.missing', {}, say('work-initials-first'));
    const go = holdButton(say('work-hold-to', { what: confirm }), async () => {
      const { who } = own();
      if (!await act(own())) return;
      kept.drop(`${name}-`);
      view.who = who;
      then();
    }, { class: 'held press', 'data-confirm': name });
    const paint = () => {
      const { who, role: chosen } = own();
      missing.hidden = who !== '' && chosen !== '';
      go.disabled = !missing.hidden;
    };
    const roles = Object.entries(view.around.roles).filter(([each]) => !NO_ROLES.includes(each));
    const form = el('div.work-form', {},
      keypad(view, { name: `${name}-who`, kind: 'initials', label: say('work-initials'), after: paint }),
      el('p.work-label', {}, say('work-role')),
      tiles(view, { name: `${name}-role`, label: say('work-role'), options: /** @type {any} */ (roles), after: paint }));
    paint();
    return [form, missing, go];
  }

  /**
   * Return the form by which somebody gives the work away.
   * @param {any} view
   */
  function giving(view) {
    const kept = drafts(view);
    const field = el('textarea', { id: 'given-text', rows: 3, maxlength: 500, 'data-give-text': true });
    field.value = kept.get('give-text');
    field.addEventListener('input', () => kept.set('give-text', field.value));
    const give = async () => {
      if (!await view.act('give', { text: field.value.trim() })) return;
      kept.drop('give-text');
      view.close();
    };
    return [
      el('p', {}, say('work-give-about')),
      el('label', { for: field.id }, say('work-give-text')), field,
      holdButton(say('work-hold-to', { what: say('work-give-confirm', { who: view.worker }) }), give, {
        class: 'held press', 'data-confirm': 'give',
      }),
    ];
  }

  /**
   * Return the form by which somebody takes the work over.
   * @param {any} view
   */
  function taking(view) {
    const known = peopleOf(view, (who) => who !== view.copy.givenBy).map(([who, role]) => (
      holdButton([el('b', {}, who), el('span', {}, role), el('span', {}, say('work-hold-receive'))], () => receive(view, { who }), {
        class: 'held press', 'data-hold': who,
      })));
    const other = arrival(view, {
      name: 'receive', role: '', confirm: say('work-receive'), act: (own) => receive(view, own),
    });
    return [...known, el('details.work-fold', { open: known.length === 0 }, el('summary', {}, say('work-receive-other')), other)];
  }

  /** @param {any} view @param {{who: string, role?: string}} own */
  async function receive(view, own) {
    const isDone = await view.act('receive', own);
    if (isDone) view.who = own.who;
    return isDone;
  }

  return Object.freeze({ whoWorks, body, giving, taking });
})();
