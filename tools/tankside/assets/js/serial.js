'use strict';

var tankside = window.tankside || {};

/* The serial of a record sheet, typed in from paper: `serials.py`. Eight characters and a check character by
   ISO/IEC 7064, MOD 37-2, which notices every wrong character and every two that changed places. */
tankside.serial = (function () {
  /** the order of characters in MOD 37-2 */
  const VALUES = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*';
  const ALPHABET = '23456789CFHJKMNPRTVWXY';
  const [DRAWN, WHOLE, GROUP] = [8, 9, 3];

  /** @param {string} text @returns {string} the check character behind it, empty when one of its characters is unknown */
  function checkCharacter(text) {
    let total = 0;
    for (const character of text) {
      const value = VALUES.indexOf(character);
      if (value < 0 || value === 36) return '';
      total = ((total + value) * 2) % 37;
    }
    return VALUES[(38 - total) % 37];
  }

  /** @param {string} text as it was typed @returns {string} the serial as it is kept */
  function plain(text) {
    return text.toUpperCase().replace(/[ \t\u00a0-]/g, '');
  }

  /** @param {string} serial a plain one @returns {'' | 'length' | 'character' | 'check'} what is wrong with it */
  function fault(serial) {
    const characters = [...serial];
    if (characters.length !== WHOLE) return 'length';
    if (characters.some((each) => !ALPHABET.includes(each))) return 'character';
    return checkCharacter(serial.slice(0, DRAWN)) === serial.slice(DRAWN) ? '' : 'check';
  }

  /** @param {string} serial @returns {string} as it is printed and read out */
  function grouped(serial) {
    return (serial.match(new RegExp(`.{1,${GROUP}}`, 'g')) || []).join(' ');
  }

  return { checkCharacter, plain, fault, grouped };
})();
