'use strict';

var tankside = window.tankside || {};

/**
 * What is done with a reason: `act` does it, and says whether it was done and kept. Without `then` the steps come back.
 * @typedef {{
 *   name: string, kind: string, title: string, about: string[], offered: string[], confirm: string, isHeld?: boolean,
 *   body?: Node, act: (reason: string) => Promise<boolean>, then?: () => void
 * }} ReasonPanel
 */

/* Something that needs a reason: one that is often the right one by a press, or words of one's own; then it is confirmed.
   Two deliberate actions, so that a brush of a sleeve changes no record. */
tankside.workReason = (function () {
  const { el, say, button, holdButton } = tankside.dom;
  const { reasonField } = tankside.workPieces;
  const { drafts } = tankside.workTyping;

  /**
   * Return the form for a reason.
   * @param {any} view
   * @param {ReasonPanel} panel
   * @returns {Array<Node>}
   */
  function body(view, panel) {
    const { kind, about, offered, confirm, isHeld = false, body: own = null } = panel;
    const name = `why-${kind}`;
    const kept = drafts(view);
    const reason = () => kept.get(name).trim();
    const doIt = async () => {
      if (!await panel.act(reason())) return;
      kept.drop(name);
      if (panel.then === undefined) view.close();
      else panel.then();
    };
    const missing = el('p.missing', {}, say('work-reason-first'));
    const make = isHeld ? holdButton : button;
    const go = make(confirm, doIt, { class: isHeld ? 'held press' : 'press', 'data-confirm': kind });
    const paint = () => {
      missing.hidden = reason() !== '';
      go.disabled = reason() === '';
    };
    const field = reasonField(view, { name, label: say('work-reason-why'), offered, after: paint });
    paint();
    return [...about.map((each) => el('p', {}, each)), own, el('div.work-form', {}, field), missing, go].filter((each) => each !== null);
  }

  return Object.freeze({ body });
})();
