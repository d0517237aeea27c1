'use strict';

var tankside = window.tankside || {};

/**
 * An event of a working copy. Beside these keys it has those of its kind.
 * @typedef {{
 *   seq: number, copy: string, previous: string, hash: string, edition: string, kind: string, who: string,
 *   role: string, at: string, clock: number, session: string
 * } & Object<string, any>} CopyEvent
 */

/* Canonical JSON, SHA-256, and the chain of events: `canonical.py` and `chain.py`. The hash that browsers have works on
   secure addresses only, and a tablet may get its pages over plain HTTP. */
tankside.chain = (function () {
  /** The first 32 bits of the fractional parts of the cube roots of the first 64 primes (FIPS 180-4, 4.2.2). */
  const ROUNDS = roots(64, 3);
  /** The same of the square roots of the first 8 primes (FIPS 180-4, 5.3.3). */
  const FIRST = roots(8, 2);
  const BLOCK = 64;
  /** Each byte in two digits. */
  const BYTES = Array.from({ length: 256 }, (each, byte) => byte.toString(16).padStart(2, '0'));
  const HALF = /[\ud800-\udfff]/;
  /** Tables with at most so many keys are told again and again: thousands of events have the same ones. */
  const FEW = 40;
  /** @type {Map<string, Array<[string, string]>>} see `written` */
  const WRITTEN = new Map();

  /** @param {number} count @param {2 | 3} power */
  function roots(count, power) {
    const primes = [];
    for (let each = 2; primes.length < count; each += 1) {
      if (primes.every((prime) => each % prime !== 0)) primes.push(each);
    }
    return Int32Array.from(primes, (prime) => Number(wholeRoot(BigInt(prime) << BigInt(32 * power), power) & 0xffffffffn));
  }

  /** @param {bigint} value @param {2 | 3} power the largest whole number whose power is not above the value */
  function wholeRoot(value, power) {
    let [low, high] = [0n, 1n << 40n];
    while (low < high) {
      const middle = (low + high + 1n) >> 1n;
      if (middle ** BigInt(power) <= value) low = middle;
      else high = middle - 1n;
    }
    return low;
  }

  const ENCODER = new TextEncoder();
  /** One room for all texts, and one for the words of a block: a long record has ten thousand texts. */
  let room = new Uint8Array(64 * BLOCK);
  let view = new DataView(room.buffer);
  const WORDS = new Int32Array(64);

  /** @param {string} text is put into the room @returns {number} its bytes with the padding of FIPS 180-4, 5.1.1 */
  function padded(text) {
    // Each half of a character takes at most three bytes.
    const most = text.length * 3 + 2 * BLOCK;
    if (room.length < most) {
      room = new Uint8Array(most);
      view = new DataView(room.buffer);
    }
    const { written: length } = ENCODER.encodeInto(text, room);
    const end = Math.ceil((length + 9) / BLOCK) * BLOCK;
    room.fill(0, length, end);
    room[length] = 0x80;
    view.setUint32(end - 8, Math.floor(length / 0x20000000));
    view.setUint32(end - 4, length << 3);
    return end;
  }

  /** @param {number} at where the block begins */
  function schedule(at) {
    for (let place = 0; place < 16; place += 1) WORDS[place] = view.getUint32(at + place * 4);
    for (let place = 16; place < 64; place += 1) {
      const early = WORDS[place - 15];
      const late = WORDS[place - 2];
      const small = ((early >>> 7) | (early << 25)) ^ ((early >>> 18) | (early << 14)) ^ (early >>> 3);
      const large = ((late >>> 17) | (late << 15)) ^ ((late >>> 19) | (late << 13)) ^ (late >>> 10);
      WORDS[place] = (WORDS[place - 16] + small + WORDS[place - 7] + large) | 0;
    }
  }

  /**
   * Return the SHA-256 of a text in UTF-8, as hexadecimal text (FIPS 180-4, 6.2.2).
   * @param {string} text
   */
  function sha256(text) {
    const end = padded(text);
    const sum = Int32Array.from(FIRST);
    for (let at = 0; at < end; at += BLOCK) {
      schedule(at);
      // One by one: taken apart as a list, they cost as much as the rounds.
      let a = sum[0]; let b = sum[1]; let c = sum[2]; let d = sum[3];
      let e = sum[4]; let f = sum[5]; let g = sum[6]; let h = sum[7];
      for (let place = 0; place < 64; place += 1) {
        const turned = ((e >>> 6) | (e << 26)) ^ ((e >>> 11) | (e << 21)) ^ ((e >>> 25) | (e << 7));
        const one = (h + turned + ((e & f) ^ (~e & g)) + ROUNDS[place] + WORDS[place]) | 0;
        const other = ((a >>> 2) | (a << 30)) ^ ((a >>> 13) | (a << 19)) ^ ((a >>> 22) | (a << 10));
        const two = (other + ((a & b) ^ (a & c) ^ (b & c))) | 0;
        h = g; g = f; f = e; e = (d + one) | 0; d = c; c = b; b = a; a = (one + two) | 0;
      }
      sum[0] += a; sum[1] += b; sum[2] += c; sum[3] += d; sum[4] += e; sum[5] += f; sum[6] += g; sum[7] += h;
    }
    let digits = '';
    for (let place = 0; place < 8; place += 1) {
      const word = sum[place];
      digits += BYTES[word >>> 24] + BYTES[(word >>> 16) & 255] + BYTES[(word >>> 8) & 255] + BYTES[word & 255];
    }
    return digits;
  }

  /**
   * Sort by the numbers of the characters, as Python does: a text here is a row of their halves.
   * @param {string} one
   * @param {string} other
   */
  function byCharacter(one, other) {
    const [some, others] = [[...one], [...other]].map((signs) => signs.map((sign) => Number(sign.codePointAt(0))));
    const at = some.findIndex((sign, place) => sign !== others[place]);
    return at < 0 || at >= others.length ? some.length - others.length : some[at] - others[at];
  }

  /**
   * Return the keys of a table in their order, each with what is written of it.
   * @param {string[]} keys
   * @returns {Array<[string, string]>}
   */
  function written(keys) {
    const name = JSON.stringify(keys);
    const known = WRITTEN.get(name);
    if (known !== undefined) return known;
    // Halves of characters stand in hardly any key, and without them the order of the browser is the same, and fast.
    const sorted = keys.some((key) => HALF.test(key)) ? [...keys].sort(byCharacter) : [...keys].sort();
    const made = sorted.map((key) => /** @type {[string, string]} */ ([key, `${JSON.stringify(key)}:`]));
    if (keys.length <= FEW) WRITTEN.set(name, made);
    return made;
  }

  /**
   * Return a value as JSON with sorted keys and no blanks. What is not given is left out, as it is in a file.
   * @param {any} value texts, whole numbers, truths, lists and tables
   * @returns {string}
   */
  function canonical(value) {
    if (Array.isArray(value)) return `[${value.map(canonical).join(',')}]`;
    return value instanceof Object ? table(value) : JSON.stringify(value);
  }

  /** @param {any} value @param {string} [except] the key that is left out @returns {string} */
  function table(value, except) {
    let text = '';
    for (const [key, label] of written(Object.keys(value))) {
      const own = value[key];
      if (own !== undefined && key !== except) text += `${text === '' ? '' : ','}${label}${canonical(own)}`;
    }
    return `{${text}}`;
  }

  /** @param {CopyEvent} event */
  function eventHash(event) {
    return sha256(table(event, 'hash'));
  }

  /**
   * Return an event behind another one, with its number, the hash of the one before, and its own.
   * @param {any} event
   * @param {CopyEvent | null} before
   * @returns {CopyEvent}
   */
  function chained(event, before) {
    const linked = {
      ...event,
      seq: before === null ? 0 : before.seq + 1,
      previous: before === null ? event.edition || '' : before.hash,
    };
    return { ...linked, hash: eventHash(linked) };
  }

  /**
   * Return the place of each event that is not what was chained there, and what is wrong with it.
   * @param {CopyEvent[]} events
   * @returns {Array<[number, string]>}
   */
  function brokenLinks(events) {
    return events.flatMap((event, place) => {
      const expected = place === 0 ? event.edition || '' : events[place - 1].hash;
      /** @type {Array<[number, string]>} */
      const found = [];
      if (event.seq !== place) found.push([place, 'number']);
      if (event.previous !== expected) found.push([place, 'previous']);
      if (event.hash !== eventHash(event)) found.push([place, 'hash']);
      return found;
    });
  }

  return Object.freeze({ sha256, canonical, eventHash, chained, brokenLinks });
})();
