'use strict';

/* Where a page of training begins. */
(function () {
  const { el, say } = tankside.dom;
  const { Trained, place } = tankside.trainingPage;
  const { who } = tankside.trainingPeople;

  /** @type {Object<string, (trained: any) => void>} what each page does, by its name */
  const PAGES = {
    people: tankside.trainingList.start,
    path: tankside.trainingPathPage.start,
    lesson: tankside.trainingLesson.start,
  };

  /** @param {string} what parts of the page that need it are shown */
  function show(what) {
    for (const each of document.querySelectorAll(`[data-train-needs-${what}]`)) each.removeAttribute('hidden');
  }

  async function boot() {
    const data = JSON.parse(String(/** @type {Element} */ (document.querySelector('[data-train-data]')).textContent));
    const trained = new Trained(data);
    if (!await trained.start()) return;
    show('store');
    if (trained.record !== null) show('person');
    if (data.page !== 'people') trained.shows(() => place('who').replaceChildren(...who(trained)));
    for (const way of document.querySelectorAll('[data-train-way]')) way.setAttribute('href', trained.link(String(way.getAttribute('href'))));
    PAGES[data.page](trained);
    // Coming back to it from another page, from another tab, or after the night.
    window.addEventListener('pageshow', ({ persisted }) => { if (persisted) trained.refresh(); });
    document.addEventListener('visibilitychange', () => { if (document.visibilityState === 'visible') trained.refresh(); });
    window.addEventListener('hashchange', () => window.location.reload());
  }

  boot().catch((error) => {
    place('storage').replaceChildren(el('p.not-kept', { role: 'alert' }, say('work-fault')));
    throw error;
  });
})();
