"""Words without their spelling: two texts that differ only in it come to the same."""

import re
import unicodedata

#: numbers with their sign, words, and signs that have a meaning of their own
_PIECES = re.compile(r"-?\d+(?:[.,]\d+)*|[^\W_]+|[<>≤≥=±%°]")
#: shorter words are taken letter by letter: to, no, on, off, shut
LEAST_LETTERS = 5


def without_spelling(text: str) -> str:
    """Return what a text comes to without capitals, punctuation, blanks, letters swapped or letters doubled.

    Of a longer word there remain its first letter and which others stand in it, so `clenaer` is `cleaner` and
    `carefull` is `careful`. A letter put in place of another counts, because a sulfate is no sulfite and a chlorite no
    chloride; so does one that is missing altogether.
    """
    folded = unicodedata.normalize("NFKC", text).casefold()
    return " ".join(map(_word, _PIECES.findall(folded)))


def _word(piece: str) -> str:
    if len(piece) < LEAST_LETTERS or not piece.isalpha():
        return piece
    return piece[0] + "".join(sorted(set(piece[1:])))
