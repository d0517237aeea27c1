"""The serial of a record sheet: short, told apart without a register, read and typed without mistakes (``serial.js``).

Eight characters and a check character by ISO/IEC 7064, MOD 37-2: a pure system, which notices every wrong character and
every two that changed places. The check character may be any of 37; a serial whose own would not stand in the alphabet
is drawn again, so that all nine are of one sort. There are about 3 * 10**10 of them: among 10,000 sheets two are alike
with a chance of about 1 in 600 (10,000**2 / 2 / 3e10), and a file is never written over another one.
"""

from secrets import choice

#: the order of characters in ISO/IEC 7064, MOD 37-2
VALUES = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*"
#: no two of them look alike in print or pen, and none is a vowel, so that no word comes about by chance; common
#: practice, no source
ALPHABET = "23456789CFHJKMNPRTVWXY"
#: characters before the check character, and with it
DRAWN, WHOLE = 8, 9
#: characters in a group, as it is printed and read out
GROUP = 3
#: what people type between groups: a blank, a tab, a blank that does not break, a hyphen
BETWEEN = " \t\u00a0-"


def check_character(text: str) -> str:
    """Return the check character that belongs behind a text; empty when MOD 37-2 does not know one of its characters.

    Source:
        ISO/IEC 7064:2003, MOD 37-2.
    """
    total = 0
    for character in text:
        if character not in VALUES[:-1]:
            return ""
        total = (total + VALUES.index(character)) * 2 % 37
    return VALUES[(1 - total) % 37]


def new_serial() -> str:
    """Return a serial that nobody has drawn before, as far as chance can tell."""
    while True:
        drawn = "".join(choice(ALPHABET) for _ in range(DRAWN))
        if (check := check_character(drawn)) in ALPHABET:
            return drawn + check


def plain(text: str) -> str:
    """Return a serial as it is kept: what was typed in small letters, with blanks or hyphens, is the same one."""
    return "".join(character for character in text.upper() if character not in BETWEEN)


def fault(serial: str) -> str:
    """Return what is wrong with a plain serial: "length", "character", "check"; empty when nothing is."""
    if len(serial) != WHOLE:
        return "length"
    if any(character not in ALPHABET for character in serial):
        return "character"
    return "" if check_character(serial[:DRAWN]) == serial[DRAWN:] else "check"


def grouped(serial: str) -> str:
    """Return a serial as it is printed and read out: K7M 4P9 TXC."""
    return " ".join(serial[at : at + GROUP] for at in range(0, len(serial), GROUP))
