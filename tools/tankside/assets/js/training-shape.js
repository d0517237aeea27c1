'use strict';

var tankside = window.tankside || {};

/* What a competence file must look like, as far as `competence.schema.json` says it: nothing else is let in. */
tankside.trainingShape = (function () {
  /** @typedef {(value: any) => boolean} Claim */

  /** @param {any} value */
  const isText = (value) => typeof value === 'string';
  /** @param {any} value */
  const isTable = (value) => value instanceof Object && !Array.isArray(value);
  /** @param {number} most @param {number} [least] @returns {Claim} */
  const text = (most, least = 0) => (value) => isText(value) && [...value].length >= least && [...value].length <= most;
  /** @param {RegExp} pattern @returns {Claim} */
  const like = (pattern) => (value) => isText(value) && pattern.test(value);
  /** @param {...string} allowed @returns {Claim} */
  const oneOf = (...allowed) => (value) => allowed.includes(value);
  /** @param {number} least @returns {Claim} */
  const whole = (least) => (value) => Number.isSafeInteger(value) && value >= least;
  /** @type {Claim} */
  const truth = (value) => typeof value === 'boolean';

  const [id, hash, digest] = [like(/^[a-z0-9]+(-[a-z0-9]+)*$/), like(/^[0-9a-f]{64}$/), like(/^[0-9a-f]{16}$/)];
  const [who, seq, one] = [text(40, 1), whole(0), whole(1)];
  const time = like(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}(Z|[+-]\d\d:\d\d)$/);
  /** @type {Claim} */
  const moment = (value) => time(value) && !Number.isNaN(Date.parse(value));
  const result = oneOf('competent', 'needs-more', 'not-seen');
  /** @type {Claim} */
  const seen = (value) => isTable(value) && Object.entries(value).every(([key, each]) => text(200)(key) && result(each));

  /** What each entry has. @type {Object<string, Claim>} */
  const COMMON = {
    seq, competence: digest, previous: like(/^([0-9a-f]{64})?$/), hash, person: who, who, at: moment, device: text(64, 1),
    build: text(100), kind: isText,
  };
  const ATTESTED = { assessor: who, assessor_role: id };
  const ABOUT = { procedure: id, revision: one, edition: hash, taught: hash };
  /** What entries of a kind have beside that. @type {Object<string, Object<string, Claim>>} */
  const OWN = {
    begin: { name: text(100), role: id },
    signed: { ...ABOUT, ...ATTESTED, task: id, method: oneOf('read', 'shown', 'supervised', 'alone'), result },
    answered: { ...ABOUT, question: text(200), choice: text(1000), right: truth },
    drill: { ...ABOUT, ...ATTESTED },
    went: { ...ATTESTED, path: id, item: like(/^(find|pairs|tell)-[0-9a-f]{8}$/) },
    appointed: { ...ATTESTED, role: id },
    struck: { corrects: seq, reason: text(1000, 1) },
  };
  /** What entries of a kind may have. @type {Object<string, Object<string, Claim>>} */
  const MAY = { signed: { seen, remark: text(1000) } };
  const FILE = {
    layout: isText, book: id, site: id, competence: digest, person: who, taught: isTable, events: Array.isArray,
    exported: moment,
  };
  const ELEMENT = { key: text(2000), critical: truth, says: text(10000), facts: digest, words: digest };
  const TAUGHT = {
    layout: oneOf('tankside-taught-1'), procedure: id, title: text(1000), revision: one, content: hash, same_since: one,
    elements: (/** @type {any} */ value) => Array.isArray(value) && value.every((each) => fits(each, ELEMENT)),
  };

  /**
   * @param {any} value
   * @param {Object<string, Claim>} needed
   * @param {Object<string, Claim>} [allowed]
   */
  function fits(value, needed, allowed = {}) {
    const claims = new Map(Object.entries({ ...needed, ...allowed }));
    return isTable(value) && Object.keys(needed).every((key) => Object.hasOwn(value, key))
      && Object.entries(value).every(([key, each]) => (claims.get(key) || (() => false))(each));
  }

  /** @param {any} value @returns {boolean} whether its kind is one that this page knows */
  const isKnown = (value) => isTable(value) && isText(value.kind) && Object.hasOwn(OWN, value.kind);

  /** @param {any} value of a kind that is known */
  const isEntry = (value) => fits(value, { ...COMMON, ...OWN[value.kind] }, MAY[value.kind]);

  /** @param {any} value */
  const isFile = (value) => fits(value, FILE);

  /** @param {any} value */
  const isTaught = (value) => fits(value, TAUGHT);

  return Object.freeze({ isTable, isKnown, isEntry, isFile, isTaught });
})();
