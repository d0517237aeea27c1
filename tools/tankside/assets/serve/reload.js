'use strict';

/* Reload this page when the book that is served has changed. The policy of a page allows no other way to hear of it
   than a script: the answer comes when there is news, or is empty after a while. */
(function () {
  const version = /** @type {HTMLScriptElement} */ (document.currentScript).dataset.version;
  const PAUSE_MS = 1000;
  let isAsking = false;

  function ask() {
    // A page that nobody sees would keep a connection busy that others need.
    if (isAsking || document.hidden) return;
    isAsking = true;
    const question = document.createElement('script');
    question.src = '/tankside-serve/news.js?n=' + version;
    for (const end of ['load', 'error']) question.addEventListener(end, () => rest(question));
    document.head.append(question);
  }

  /** @param {HTMLScriptElement} question */
  function rest(question) {
    question.remove();
    setTimeout(() => {
      isAsking = false;
      ask();
    }, PAUSE_MS);
  }

  document.addEventListener('visibilitychange', ask);
  // Not earlier: a page counts as loading for as long as a script that it asked for before is outstanding.
  if (document.readyState === 'complete') ask();
  else addEventListener('load', () => setTimeout(ask));
})();
