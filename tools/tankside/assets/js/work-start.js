'use strict';

var tankside = window.tankside || {};

/* The form before the first step: what it is about, who works, what must be so. It says what is missing until nothing is,
   and then it is one press. */
tankside.workStart = (function () {
  const { el, say, button } = tankside.dom;
  const { drafts } = tankside.workTyping;
  const { refusal } = tankside.copyRefusal;
  const { refused } = tankside.workView;
  const { selfTest, askToKeep } = tankside.copyDevice;
  const { stopped, fold, roleName } = tankside.workPieces;
  const { crewPart, named, doer, remember } = tankside.workCrew;
  const { lotPart, bottlePart, inputParts, chosen, fault, productOf } = tankside.workBatch;
  const { readyPart, toBeSeen, confirmed } = tankside.workReady;
  const { against } = tankside.workAgainst;
  const { startFields, startFrom } = tankside.workPaper;
  const { trainedHere, warnings } = tankside.workTrained;

  const KEPT = 'store-kept';
  /** What is missing above the people. */
  const BATCH = ['lot-missing', 'bottle-missing'];

  /**
   * Return the form that begins a working copy.
   * @param {any} view
   * @param {() => void} begun is called once it is begun and kept
   * @returns {HTMLElement}
   */
  function form(view, begun) {
    const made = el('section.work-start', { 'data-start-form': true, 'aria-label': say('work-start') });
    if (view.draft) {
      made.append(stopped(say('work-start-draft'), [say('work-start-draft-do')]));
      return made;
    }
    /** @type {{store: string, reasons: string[], unread: string[], sheets: Object<string, string>, here: TrainedHere}} */
    const known = { store: '', reasons: [], unread: [], sheets: {}, here: { records: [], uses: [], isUnread: false } };
    const end = el('div.work-start-end', {});
    const paint = () => end.replaceChildren(...ending(view, known, begun, look));
    const look = async () => {
      try {
        known.store = await storeState(view);
        if (known.store === KEPT) Object.assign(known, await against(view), { here: await trainedHere(view.work.store) });
      } catch (error) {
        known.store = /** @type {any} */ (error).code || 'store-unread';
      }
      paint();
    };
    made.append(...chapters(view, paint), paperFold(view, paint), end);
    paint();
    look();
    return made;
  }

  /** @param {any} view @returns {Promise<string>} 'store-kept', or why nothing can be kept */
  async function storeState(view) {
    const { store, trouble } = view.work;
    return store ? selfTest(store) : trouble || 'store-none';
  }

  /** @param {any} view @param {() => void} paint @returns {HTMLElement[]} */
  function chapters(view, paint) {
    const product = productOf(view);
    const about = [
      product === '' ? null : el('p', {}, say('work-start-product', { product: view.around.products[product] || product })),
      lotPart(view, paint), bottlePart(view, paint), ...inputParts(view, paint),
    ].filter((each) => each !== null);
    /** @type {Array<[string, Array<Node | string>]>} */
    const found = [
      ['work-start-what', about],
      ['work-start-who', [...whoFor(view).map((words) => el('p', {}, words)), crewPart(view, paint)]],
      ['work-start-ready', toBeSeen(view).length === 0 ? [] : [el('p', {}, say('work-start-ready-about')), readyPart(view, paint)]],
      ['work-start-way', [el('p', {}, say(view.copy.script.isLoose ? 'work-start-loose' : 'work-start-strict'))]],
    ];
    return found.filter(([, body]) => body.length > 0)
      .map(([key, body]) => el('section.work-chapter', {}, el('h2', {}, say(key)), body));
  }

  /** @param {any} view @returns {string[]} who does it, and for whom the work waits on the way */
  function whoFor(view) {
    const { script } = view.copy;
    const written = script.parts.map((/** @type {CopyPart} */ { edition }) => edition.written);
    const doing = [...new Set(written.map(({ done_by: role }) => roleName(view, role)))].join(', ');
    const releasing = script.parts.flatMap((/** @type {CopyPart} */ { nodes, steps }) => (
      nodes.filter(({ kind }) => kind === 'hold').map(({ step }) => roleName(view, steps.get(step).released_by))));
    const waits = [...new Set(releasing)].join(', ');
    return [
      say('work-start-done-by', { roles: doing }),
      script.needsSecondPerson ? say('work-start-second') : '',
      waits === '' ? '' : say('work-start-waits', { roles: waits }),
      say('work-start-claims'),
    ].filter(Boolean);
  }

  /** @param {any} view whether a sheet is taken over */
  function isFromPaper(view) {
    return drafts(view).get('start-paper-open', false);
  }

  /** @param {any} view @param {() => void} paint the quieter way: the work was written on a sheet already */
  function paperFold(view, paint) {
    const made = fold(view, 'start-paper-open', say('work-start-paper'), [startFields(view, paint)]);
    made.addEventListener('toggle', paint);
    return made;
  }

  /** @param {any} view @returns {any} all that a start holds */
  function proposal(view) {
    const who = doer(view);
    const people = named(view);
    const { role = '' } = people.find((each) => each.who === who) || {};
    return { ...chosen(view), who, role, people, confirmed: confirmed(view) };
  }

  /** @param {any} view @param {any} known @returns {string[]} what is missing, in words, in the order of the form */
  function missing(view, known) {
    const own = proposal(view);
    const found = view.copy.script.inputs.map((/** @type {any} */ input) => fault(view, input)).filter(Boolean);
    const codes = refusals(view, own);
    const batch = codes.filter((code) => BATCH.includes(code));
    const rest = codes.filter((code) => !BATCH.includes(code));
    const unseen = toBeSeen(view).length - own.confirmed.length;
    return [
      ...(isFromPaper(view) ? startFrom(view, known.sheets).missing : []),
      ...batch.map((code) => refused(code)), ...found, ...rest.map((code) => refused(code)),
      ...(unseen > 0 ? [say('work-start-unseen', { count: unseen })] : []),
    ];
  }

  /** @param {any} view @param {any} own @returns {string[]} all that is against a start, not only what is against it first */
  function refusals(view, own) {
    const { sizes } = view.copy.script;
    const [role] = Object.keys(view.around.roles);
    const crew = { who: 'A', role, people: [{ who: 'A', role }, { who: 'B', role }] };
    /** @type {Object<string, any>} what would cure each */
    const cures = {
      'people-missing': crew, 'person-twice': crew, 'second-person-missing': crew, 'lot-missing': { lot: 'A' },
      'bottle-missing': { bottle: sizes[0] },
    };
    const found = /** @type {string[]} */ ([]);
    let cured = { ...own, kind: 'start' };
    let code = refusal(view.copy, cured);
    while (cures[code] !== undefined && !found.includes(code)) {
      found.push(code);
      cured = { ...cured, ...cures[code] };
      code = refusal(view.copy, cured);
    }
    return found;
  }

  /** @param {any} view @param {any} known @param {() => void} begun @param {() => void} look @returns {Node[]} */
  function ending(view, known, begun, look) {
    if (known.store === '') return [el('p', {}, say('work-start-testing'))];
    if (known.store !== KEPT) return [nothingKept(known.store, look)];
    const kept = el('p.work-kept', {}, say('work-store-kept'));
    const unread = known.unread.map((/** @type {string} */ each) => el('p', {}, each));
    const refusing = known.reasons.length === 0 ? [] : [el('div', {},
      stopped(say('work-against'), known.reasons), button(say('work-against-again'), look, { 'data-look-again': true }))];
    // What a sheet says has happened already: it is taken over whatever the board says now.
    if (refusing.length > 0 && !isFromPaper(view)) return [kept, ...unread, ...refusing];
    const lacking = missing(view, known);
    const list = el('div', { 'aria-live': 'polite', 'data-missing': lacking.length },
      lacking.length === 0 ? [] : [el('p.work-label', {}, say('work-start-missing')), el('ul.work-lacking', {}, lacking.map((each) => el('li', {}, each)))]);
    const words = isFromPaper(view) ? say('work-start-begin-paper') : say('work-start-begin');
    const begin = button(words, () => start(view, known, begun), { 'data-begin': true, disabled: lacking.length > 0 });
    begin.classList.add('work-begin');
    return [kept, ...unread, ...refusing, list, ...warnings(view, named(view), known.here), begin];
  }

  /** @param {string} code @param {() => void} again where nothing can be kept, paper is what remains */
  function nothingKept(code, again) {
    return stopped(say('work-start-not-kept'), [say(`work-${code}`), say('work-start-not-kept-do')],
      button(say('work-start-try-again'), again, { 'data-try-again': true }));
  }

  /** @param {any} view @param {any} known @param {() => void} begun */
  async function start(view, known, begun) {
    const { own } = isFromPaper(view) ? startFrom(view, known.sheets) : { own: {} };
    askToKeep().catch(() => undefined);
    const { code, detail } = await view.work.start({ ...proposal(view), ...own });
    // A second touch while the first one is being kept says nothing new.
    if (code === 'busy') return;
    view.tell(code === '' ? '' : refused(code, detail));
    if (code !== '') return;
    await remember(view, view.copy.events[0].people);
    if ('paper' in own) view.paper = { paper: own.paper, at: '' };
    drafts(view).drop('start-');
    begun();
  }

  return Object.freeze({ form, proposal });
})();
