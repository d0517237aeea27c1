'use strict';

var tankside = window.tankside || {};

/* Changing to the labels of a product: the code is read back and the labels are counted out; afterwards what was used,
   spoiled and left must come to what was taken. */
tankside.workLabels = (function () {
  const { el, say, button } = tankside.dom;
  const { keypad, keypads } = tankside.workKeys;
  const { drafts, settled } = tankside.workTyping;
  const { stepOf, partOf, labelOf, needsSecond } = tankside.copyState;
  const { issued, takenOut, lastLook, valuesOf } = tankside.workFigures;
  const { panel, entered, refilled, stopped } = tankside.workPieces;
  const { puttingRight, allowing } = tankside.workWays;

  const OUT = ['issued'];
  const IN = ['used', 'spoiled', 'left'];

  /**
   * Return the form of a step that changes to labels or counts what became of them.
   * @param {any} view
   * @param {Visit} visit
   * @returns {HTMLElement}
   */
  function labels(view, visit) {
    const isOut = stepOf(view.copy, visit).counted === 'out';
    const parts = isOut ? [codePart(view, visit), outPart(view, visit)] : [inPart(view, visit)];
    if (needsSecond(view.copy, visit)) {
      parts.push({
        title: say('work-second'), state: visit.isInside ? 'now' : 'later', body: [el('p', {}, say('work-labels-second'))],
      });
    }
    const made = panel(view, visit, {
      kind: 'labels', label: say(isOut ? 'work-labels-out' : 'work-labels-in'), parts: parts.filter((each) => each !== null),
    });
    made.prepend(el('p.work-add-what', {}, whatFor(view, visit)));
    return made;
  }

  /** @param {any} view @param {Visit} visit the product and its bottle, in words */
  function whatFor(view, visit) {
    const { name } = partOf(view.copy, visit).edition.labels[stepOf(view.copy, visit).product];
    return say('work-labels-for', { product: name, bottle: view.copy.events[0].bottle || '' });
  }

  /** @param {any} view @param {Visit} visit @returns {any} none where the book knows no code for these bottles */
  function codePart(view, visit) {
    const right = labelOf(view.copy, visit);
    if (right === '') return null;
    const title = say('work-code');
    if (visit.isLabelled) return { title, state: 'done', says: lastLook(view.copy, visit).says };
    const look = lastLook(view.copy, visit);
    const name = `code-${view.copy.trail.indexOf(visit)}`;
    return { title, state: 'now', body: [refilled((again) => {
      const isStopped = look !== null && drafts(view).get(`${name}-again`, -1) !== look.seq;
      return isStopped ? [wrongCode(view, visit, look, again)] : codeAsked(view, visit, name);
    })] };
  }

  /** @param {any} view @param {Visit} visit @param {any} look @param {() => void} again */
  function wrongCode(view, visit, look, again) {
    const [what, name] = [whatFor(view, visit), `code-${view.copy.trail.indexOf(visit)}`];
    return stopped(say('work-code-wrong', { what }), [
      say('work-code-says', { says: look.says }), say('work-code-back', { what }), say('work-look-kept'),
    ], button(say('work-code-again'), () => {
      drafts(view).drop(name);
      drafts(view).set(`${name}-again`, look.seq);
      again();
    }, { 'data-again': true }));
  }

  /** @param {any} view @param {Visit} visit @param {string} name @returns {Node[]} */
  function codeAsked(view, visit, name) {
    const kept = drafts(view);
    const code = () => settled(kept.get(`${name}-typed`), 'code');
    const enter = button('', () => (
      entered(view, name, 'look', { visit: view.copy.trail.indexOf(visit), says: code(), lot: '' })
    ), { 'data-enter': 'look' });
    const paint = () => {
      enter.disabled = code() === '';
      enter.textContent = code() === '' ? say('work-code-missing') : say('work-code-enter', { code: code() });
    };
    const pad = keypad(view, {
      name: `${name}-typed`, kind: 'code', label: say('work-code-ask'), after: paint, done: () => enter.click(),
    });
    paint();
    return [pad, enter];
  }

  /** @param {any} view @param {Visit} visit @returns {any} */
  function outPart(view, visit) {
    const title = say('work-labels-count');
    if (labelOf(view.copy, visit) !== '' && !visit.isLabelled) return { title, state: 'later' };
    if (visit.values.length > 0) {
      return { title, state: 'done', says: say('work-labels-taken', { count: issued(view.copy, visit) }) };
    }
    return { title, state: 'now', body: counting(view, visit, OUT) };
  }

  /** @param {any} view @param {Visit} visit @returns {any} */
  function inPart(view, visit) {
    const title = say('work-labels-add-up');
    const [last] = valuesOf(view.copy, visit).slice(-1);
    if (last === undefined) return { title, state: 'now', body: counting(view, visit, IN) };
    if (visit.isInside) return { title, state: 'done', says: countsText(last.event) };
    return { title, state: 'now', says: countsText(last.event), body: offBy(view, visit, last.event) };
  }

  /** @param {any} event */
  function countsText({ used, spoiled, left }) {
    return say('work-labels-counts', { used, spoiled, left });
  }

  /** @param {any} view @param {Visit} visit @param {any} event the ways out when they do not add up */
  function offBy(view, visit, event) {
    const off = issued(view.copy, visit) - event.used - event.spoiled - event.left;
    return [
      stopped(differenceText(off), [say('work-labels-off-look'), say('work-labels-off-do')]),
      again(view, visit, event, IN, say('work-labels-recount')),
      ...takenOut(view.copy, visit).map((each) => again(view, visit, each, OUT, say('work-labels-issued-wrong'))),
      allowing(view, visit, [say('work-labels-reason-destroyed'), say('work-labels-reason-roll')]),
    ];
  }

  /**
   * Return a form by which a count is put right.
   * @param {any} view
   * @param {Visit} visit
   * @param {any} event the count
   * @param {string[]} asked
   * @param {string} title
   */
  function again(view, visit, event, asked, title) {
    const name = `recount-${event.seq}`;
    const counts = () => countsTyped(view, name, asked);
    return puttingRight(view, visit, {
      name, title, missing: say('work-labels-first'), offered: [say('work-labels-counted-again'), say('work-reason-slip')],
      own: () => (counts() === null ? null : { corrects: event.seq, ...counts() }),
      said: (own) => (asked === OUT ? say('work-labels-taken', { count: own.issued }) : differenceText(offWith(view, visit, own))),
      fields: (after) => [keypads(view, fieldsOf(name, asked), { kind: 'whole', after })],
    });
  }

  /** @param {number} off */
  function differenceText(off) {
    if (off === 0) return say('work-labels-even');
    return off > 0 ? say('work-labels-missing', { count: off }) : say('work-labels-too-many', { count: -off });
  }

  /** @param {string} name @param {string[]} asked */
  function fieldsOf(name, asked) {
    return asked.map((each) => ({ name: `${name}-${each}`, label: say(`work-labels-${each}`) }));
  }

  /** @param {any} view @param {string} name @param {string[]} asked the counts that were typed, null while one is none */
  function countsTyped(view, name, asked) {
    const texts = asked.map((each) => [each, settled(drafts(view).get(`${name}-${each}`), 'whole')]);
    return texts.some(([, text]) => text === '') ? null : Object.fromEntries(texts.map(([each, text]) => [each, Number(text)]));
  }

  /** @param {any} view @param {Visit} visit @param {any} counts how many are missing, below 0 when there are too many */
  function offWith(view, visit, { used, spoiled, left }) {
    return issued(view.copy, visit) - used - spoiled - left;
  }

  /**
   * Return fields for counts, with what is missing worked out while they are typed.
   * @param {any} view
   * @param {Visit} visit
   * @param {string[]} asked
   * @returns {Array<Node | null>}
   */
  function counting(view, visit, asked) {
    const place = view.copy.trail.indexOf(visit);
    const name = `count-${place}`;
    const counts = () => countsTyped(view, name, asked);
    const said = el('p.work-said', { 'aria-live': 'polite', 'data-said': true });
    const enter = button(say('work-labels-enter'), () => entered(view, name, 'count', { visit: place, ...counts() }), {
      'data-enter': 'count',
    });
    const paint = () => {
      const own = counts();
      enter.disabled = own === null;
      said.textContent = asked === OUT || own === null ? '' : differenceText(offWith(view, visit, own));
    };
    const pad = keypads(view, fieldsOf(name, asked), { kind: 'whole', after: paint, done: () => enter.click() });
    paint();
    const taken = asked === OUT ? null : el('p.work-label', {}, say('work-labels-taken', { count: issued(view.copy, visit) }));
    return [el('div.work-counts', {}, taken, pad, said, enter)];
  }

  return Object.freeze({ labels });
})();

tankside.workForms = Object.freeze({ ...tankside.workForms, labels: tankside.workLabels.labels });
