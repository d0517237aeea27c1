'use strict';

/* Find pages of the book as words are typed. The index is made when the site is built. */
(function () {
  /** @type {HTMLFormElement | null} */
  const form = document.querySelector('[data-search]');
  if (form === null) return;
  const field = /** @type {HTMLInputElement} */ (form.querySelector('[data-search-field]'));
  const found = /** @type {HTMLElement} */ (form.querySelector('[data-search-found]'));
  const MOST = 12;
  const INDEX = found.dataset.base + '/tankside/search-index.js';
  /** @type {lunr.Index | null} */
  let index = null;
  let isAskedFor = false;

  /**
   * Return what fits the words typed, the best first; a word may be unfinished.
   * @param {string} typed
   * @returns {string[][]} address, kind, title and a line about each
   */
  function search(typed) {
    const words = lunr.tokenizer(typed).map(String).filter(Boolean);
    if (words.length === 0) return [];
    const fits = index.query(function (query) {
      words.forEach(function (word) {
        query.term(word, { boost: 10 });
        query.term(word, { wildcard: lunr.Query.wildcard.TRAILING, usePipeline: false });
      });
    });
    const tag = typed.trim().toLowerCase() + ':';
    // Who types a whole tag wants that piece, and V2-lock is another.
    /** @param {string[]} entry */
    const isTagged = (entry) => Number(entry[2].toLowerCase().startsWith(tag));
    const documents = fits.map((fit) => tankside.documents[Number(fit.ref)]);
    return documents.sort((one, other) => isTagged(other) - isTagged(one)).slice(0, MOST);
  }

  /**
   * Return an element with text in it.
   * @param {string} name
   * @param {string} text
   */
  function element(name, text) {
    const made = document.createElement(name);
    made.textContent = text;
    return made;
  }

  /** @param {string[]} fit address, kind, title and a line about it */
  function line(fit) {
    const link = document.createElement('a');
    link.href = found.dataset.base + '/' + fit[0];
    link.append(element('b', fit[2]), element('span', fit[1]), element('small', fit[3]));
    return link;
  }

  /** Get the index when somebody is about to search: it grows with the book, and most pages are only read. */
  function askForIndex() {
    if (isAskedFor) return;
    isAskedFor = true;
    const script = document.createElement('script');
    script.src = INDEX;
    script.addEventListener('load', function () {
      index = lunr.Index.load(tankside.index);
      show();
    });
    script.addEventListener('error', function () {
      isAskedFor = false;
    });
    document.head.append(script);
  }

  function show() {
    askForIndex();
    if (index === null) return;
    const fits = search(field.value);
    const isAsked = field.value.trim() !== '';
    found.replaceChildren(...fits.map(line));
    if (isAsked && fits.length === 0) found.append(element('p', found.dataset.none));
    found.hidden = !isAsked;
  }

  function close() {
    found.hidden = true;
  }

  field.addEventListener('input', show);
  field.addEventListener('focus', show);
  form.addEventListener('submit', function (event) {
    event.preventDefault();
    const first = found.querySelector('a');
    if (first !== null) first.click();
  });
  form.addEventListener('keydown', function (event) {
    if (event.key !== 'Escape') return;
    field.focus();
    close();
  });
  document.addEventListener('click', function (event) {
    if (!form.contains(/** @type {Node} */ (event.target))) close();
  });
  form.hidden = false;
  document.querySelector('[data-search-off]').remove();
})();
