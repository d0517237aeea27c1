'use strict';

var tankside = window.tankside || {};

/* The people whose competence is kept on this device: the list of them, their files, and a form for somebody new. */
tankside.trainingList = (function () {
  const { el, say, button } = tankside.dom;
  const { keypad } = tankside.workKeys;
  const { tiles } = tankside.workPieces;
  const { drafts, settled } = tankside.workTyping;
  const { moment, age } = tankside.workShown;
  const { isSame, entry } = tankside.trainingEntries;
  const { save } = tankside.trainingFile;
  const { bring, MOST } = tankside.trainingBring;
  const { trouble } = tankside.trainingWords;
  const { nameOf } = tankside.trainingPeople;
  const { place } = tankside.trainingPage;

  /** @param {any} trained */
  function start(trained) {
    trained.shows(() => place('people').replaceChildren(...people(trained)));
    place('begin').replaceChildren(beginning(trained));
    place('bring').replaceChildren(bringing(trained));
  }

  /** @param {any} trained @returns {Node[]} */
  function people(trained) {
    const { heads } = trained;
    if (heads.length === 0) return [el('p', {}, say('train-people-none'))];
    const all = button(say('train-save-all'), () => keep(trained, heads), { 'data-train-save-all': true });
    const list = el('ul.copies', {}, heads.map((/** @type {TrainingHead} */ head) => person(trained, head)));
    return heads.length > 1 ? [list, el('p.doing', {}, all)] : [list];
  }

  /** @param {any} trained @param {TrainingHead} head */
  function person(trained, head) {
    const { person: who, role, competence, begun } = head;
    const named = nameOf(head);
    const { paths } = trained.data;
    const own = paths.filter((/** @type {any} */ path) => path.role === role);
    const ways = (own.length > 0 ? [...own, ...paths.filter((/** @type {any} */ path) => path.role !== role)] : paths)
      .map((/** @type {any} */ { id, title, address }) => el('a.button', {
        href: `${address}#${competence}`, 'data-train-go': id, 'aria-label': `${who}: ${title}`,
      }, title));
    const saving = button(say('train-save'), () => keep(trained, [head]), {
      'data-train-save': who, 'aria-label': `${say('train-save')}: ${who}`,
    });
    return el('li.copy', { 'data-train-person': who }, el('h3', {}, named),
      el('p', {}, say('train-person-about', { role: trained.roleName(role), begun: moment(begun), last: moment(head.last) })),
      el(head.exported <= head.seq ? 'p.in-no-file' : 'p', {}, inFile(head)),
      el('p.doing', {}, ways, saving));
  }

  /** @param {TrainingHead} head */
  function inFile({ exported, seq, saved }) {
    if (exported === 0) return say('train-never-saved');
    return say(exported <= seq ? 'train-since-saved' : 'train-all-saved', { age: age(saved), count: seq + 1 - exported });
  }

  /** @param {any} trained @param {TrainingHead[]} heads */
  async function keep(trained, heads) {
    let words;
    try {
      const name = await save(trained.store, trained.data.book, heads.map(({ competence }) => competence));
      words = say('work-list-saved-as', { names: name });
    } catch (error) {
      words = trouble(error);
    }
    await trained.refresh();
    trained.tell(words);
  }

  /** @param {any} trained @returns {HTMLElement} the form for somebody new */
  function beginning(trained) {
    const kept = drafts(trained.view);
    const name = el('input', { type: 'text', id: 'train-name', maxlength: 100, autocomplete: 'off', 'data-train-name': true });
    const missing = el('p', { 'aria-live': 'polite' });
    const own = () => ({ person: settled(kept.get('new-who'), 'initials'), role: kept.get('new-role') });
    const go = button(say('train-begin-now'), async () => {
      const competence = await begin(trained, { ...own(), name: name.value.trim() });
      if (competence !== '') window.location.assign(`${addressFor(trained, own().role)}#${competence}`);
    }, { 'data-train-begin-now': true, 'data-enter': true });
    const paint = () => {
      missing.textContent = lacking(trained, own());
      go.disabled = missing.textContent !== '';
    };
    const roles = trained.roles;
    trained.shows(paint);
    return el('div.work-form', {},
      keypad(trained.view, { name: 'new-who', kind: 'initials', label: say('train-initials'), after: paint }),
      el('p.work-label', {}, say('train-for-role')),
      tiles(trained.view, { name: 'new-role', label: say('train-for-role'), options: roles, after: paint }),
      el('p.train-field', {}, el('label', { for: 'train-name' }, say('train-name')), name),
      missing, go);
  }

  /** @param {any} trained @param {string} role @returns {string} the path of a role, or the first one */
  function addressFor({ data }, role) {
    return (data.paths.find((/** @type {any} */ path) => path.role === role) || data.paths[0]).address;
  }

  /** @param {any} trained @param {{person: string, role: string}} own */
  function lacking({ heads }, { person: who, role }) {
    if (who === '') return say('work-crew-initials-missing');
    if (heads.some((/** @type {TrainingHead} */ head) => isSame(head.person, who))) return say('train-initials-taken', { who });
    return role === '' ? say('work-crew-role-missing') : '';
  }

  /** @param {any} trained @param {{person: string, role: string, name: string}} own @returns {Promise<string>} '' when it was not kept */
  async function begin(trained, { person: who, role, name }) {
    const head = { competence: tankside.copyDevice.randomName(8), person: who };
    const made = { device: trained.device, build: trained.data.build };
    tankside.copyDevice.askToKeep().catch(() => undefined);
    const isKept = await trained.keep(entry({ kind: 'begin', who, name, role }, head, null, made), null);
    return isKept ? head.competence : '';
  }

  /** @param {any} trained @returns {HTMLElement} the place where files are chosen */
  function bringing(trained) {
    const says = el('ul.brought', { 'data-train-brought': true });
    const field = el('input', { type: 'file', multiple: true, accept: '.json,application/json', 'data-train-file': true });
    field.addEventListener('change', async () => {
      const lines = [];
      for (const file of field.files) lines.push(...await brought(trained, file));
      await trained.refresh();
      says.replaceChildren(...lines.map((line) => el('li', {}, line)));
      // The same file can be chosen again.
      field.value = '';
    });
    return el('div', {}, el('p', {}, say('train-bring-about')),
      el('label.choose', {}, say('train-bring-choose'), field), el('div', { role: 'status' }, says));
  }

  /** @param {any} trained @param {File} file @returns {Promise<string[]>} */
  async function brought({ store, data }, file) {
    const text = file.size > MOST ? '' : await file.text().catch(() => '');
    const found = await bring(store, data.book, text);
    return found.map(({ code, why, who, at, added }) => {
      const reason = why === '' ? '' : say(`train-refused-${why}`);
      return say('work-list-bring-line', { file: file.name, says: say(`train-${code}`, { who, at, added, why: reason }) });
    });
  }

  return Object.freeze({ start });
})();
