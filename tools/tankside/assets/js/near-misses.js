'use strict';

var tankside = window.tankside || {};

/* Words that are nearly another one: `difflib.get_close_matches` of Python, which says what a wrong unit is told.
   The likeness of two words is twice the letters that match over the letters of both (Ratcliff and Obershelp 1988). */
tankside.nearMisses = (function () {
  const LEAST = 0.6;
  const MOST = 3;

  /**
   * Return the known words most like a word, the most alike first.
   * @param {string} word
   * @param {string[]} known
   */
  function nearMisses(word, known) {
    const letters = [...word];
    return known.map((each) => ({ each, likeness: likeness([...each], letters) }))
      .filter((found) => found.likeness >= LEAST)
      .sort((a, b) => b.likeness - a.likeness || (a.each < b.each ? 1 : -1))
      .slice(0, MOST).map((found) => found.each);
  }

  /** @param {string[]} a @param {string[]} b */
  function likeness(a, b) {
    return a.length + b.length === 0 ? 1 : 2 * matching(a, b) / (a.length + b.length);
  }

  /**
   * Return how many letters stand in matching blocks: the longest one, then those before and after it.
   * @param {string[]} a
   * @param {string[]} b
   * @returns {number}
   */
  function matching(a, b) {
    const { size, inA, inB } = longest(a, b);
    if (size === 0) return 0;
    return size + matching(a.slice(0, inA), b.slice(0, inB)) + matching(a.slice(inA + size), b.slice(inB + size));
  }

  /**
   * Return the longest block that stands in both, the first of several.
   * @param {string[]} a
   * @param {string[]} b
   */
  function longest(a, b) {
    let best = { size: 0, inA: 0, inB: 0 };
    for (let inA = 0; inA < a.length; inA += 1) {
      for (let inB = 0; inB < b.length; inB += 1) {
        let size = 0;
        while (inA + size < a.length && inB + size < b.length && a[inA + size] === b[inB + size]) size += 1;
        if (size > best.size) best = { size, inA, inB };
      }
    }
    return best;
  }

  return nearMisses;
})();
