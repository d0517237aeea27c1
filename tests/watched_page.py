"""The page of a working copy as it is watched from outside: what it has painted, and what its store holds."""

#: Before the scripts of the page: get hold of what it works with, tell of every writing transaction on events as it
#: begins, and of whatever is painted as it appears. What stands on the page was in the store before, or is a lie.
WATCH = """(() => {
  const report = (name, what) => window.reportToTest(JSON.stringify([name, what]));
  const begin = IDBDatabase.prototype.transaction;
  IDBDatabase.prototype.transaction = function (names, mode, ...rest) {
    const begun = begin.call(this, names, mode, ...rest);
    if (mode === 'readwrite' && [...begun.objectStoreNames].includes('events')) report('begun', '');
    return begun;
  };
  window.tankside = { set workView(given) {
    const { get } = Object.getOwnPropertyDescriptor(given.View.prototype, 'shown');
    Object.defineProperty(given.View.prototype, 'shown', { get() { window.held = this; return get.call(this); } });
    Object.defineProperty(window.tankside, 'workView', { value: given });
  } };
  const textOf = (found) => found.textContent.trim();
  window.painted = () => ({
    events: Object.fromEntries([...document.querySelectorAll('[data-event]')].map((one) => (
      [one.dataset.event, [one.dataset.kind, textOf(one)]]))),
    rows: Object.fromEntries([...document.querySelectorAll('[data-row]')].map((one) => (
      [one.dataset.row, one.dataset.state]))),
    told: [...document.querySelectorAll('[data-foot-said]:not(.is-refused)')].map(textOf).join(''),
    isBegun: document.querySelector('[data-steps]:not([hidden])') !== null,
    trouble: [...document.querySelectorAll('[data-kept=no], .stopped-word, .is-refused')].map(textOf).join(' '),
  });
  let last = '';
  const look = () => {
    const now = JSON.stringify(window.painted());
    if (now !== last) report('painted', JSON.parse(now));
    last = now;
  };
  new MutationObserver(look).observe(document, {
    subtree: true, childList: true, characterData: true, attributes: true,
  });
})()"""

#: Wait until the page has opened a copy that another tab had when it was killed, or offers to begin one.
OPENED = """async () => {
  const pause = () => new Promise((done) => { setTimeout(done, 4); });
  while (!document.querySelector('[data-take-here], [data-start] *, [data-head-section]:not(:empty)')) await pause();
}"""

#: Take the work here, as somebody does who does not want to wait, and say that the last step is done.
TAKEN = """async () => {
  const found = async (selector) => {
    for (;;) {
      const one = document.querySelector(selector);
      if (one !== null) return one;
      await new Promise((done) => { setTimeout(done, 4); });
    }
  };
  (await found('[data-take-here]')).click();
  if (window.held.copy.givenBy === '') (await found('[data-sure=yes]')).click();
  while (window.held.hindrance !== '' && window.held.hindrance !== 'given') {
    await new Promise((done) => { setTimeout(done, 4); });
  }
}"""

#: Do something on the page as its presses do; the first thing is the start.
ACT = """async ([kind, own]) => {
  const { work } = window.held;
  const done = kind === 'start' ? (await work.start(own)).code === '' : await window.held.act(kind, own);
  window.reportToTest(JSON.stringify(['answered', done]));
}"""

#: What is painted now.
PAINTED = "() => window.painted()"

#: All that the store holds, read without any script of the page.
STORED = """async (name) => {
  const answer = (request) => new Promise((done, failed) => {
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
  });
  const database = await answer(indexedDB.open(name));
  const names = [...database.objectStoreNames];
  const reading = database.transaction(names);
  const found = await Promise.all(names.map((each) => answer(reading.objectStore(each).getAll())));
  database.close();
  return Object.fromEntries(names.map((each, place) => [each, found[place]]));
}"""
