"""Words without their spelling: two texts that differ only in it come to the same."""

import re
import unicodedata

#: numbers with their sign, words, and signs that have a meaning of their own
_PIECES = re.compile(r"-?\d+(?:[.,]\d+)*|[^\W_]+|[<>≤≥=±%°]")
_DOUBLED = re.compile(r"(.)\1+")
#: shorter words are taken letter by letter: to, no, on, off, shut
LEAST_LETTERS = 5


def without_spelling(text: str) -> str:
    """Return what a text comes to without capitals, punctuation, blanks, letters swapped or letters doubled.

    Of a longer word there remain its first letter, its last, and in any order those between, doubled ones once: so
    `clenaer` is `cleaner` and `carefull` is `careful`. A letter put in place of another counts, because a sulfate is no
    sulfite and a chlorite no chloride; so does one that is missing altogether. That two words of the same letters mean
    different things (`filed` and `filled`) is not seen.
    """
    folded = unicodedata.normalize("NFKC", text).casefold()
    return " ".join(map(_word, _PIECES.findall(folded)))


def _word(piece: str) -> str:
    if len(piece) < LEAST_LETTERS or not piece.isalpha():
        return piece
    once = _DOUBLED.sub(r"\1", piece)
    return f"{once[0]}{''.join(sorted(once[1:-1]))}{once[-1]}" if len(once) > 1 else once
