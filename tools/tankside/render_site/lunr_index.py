"""An index as lunr.js 2.3 loads it, for documents in which a word counts once.

The package `lunr` makes the same index, a test holds that, but looks at each character of each document anew: for
1,000 procedures it takes some twenty times as long. What makes terms of words is its own pipeline.
"""

import re
from collections.abc import Mapping, Sequence
from functools import cache
from itertools import chain
from math import log
from typing import Any

from lunr import get_default_builder
from lunr.pipeline import Pipeline

from tankside.memory import remembered

VERSION = "2.3.9"
#: where lunr.js, too, splits what is typed
SEPARATOR = re.compile(r"[\s-]+")
#: the free parameters of BM25 as lunr sets them: how soon another occurrence counts no more, and how much a long
#: field is marked down
K1, B = 1.2, 0.75
DIGITS = 3


@cache
def _pipeline() -> Pipeline:
    """Return what makes a term of a word by default: marks trimmed, common words left out, endings cut off."""
    return get_default_builder().pipeline


@cache
def _term(word: str) -> str | None:
    return next(iter(_pipeline().run_string(word)), None)


@remembered
def terms(text: str) -> tuple[str, ...]:
    """Return the terms of a text, each once, in the order of the text."""
    return tuple(dict.fromkeys(term for term in map(_term, SEPARATOR.split(text.lower())) if term))


def index(documents: Sequence[Mapping[str, str]], boosts: Mapping[str, float]) -> dict[str, Any]:
    """Return the index of some documents, each a text by field; one is found by its number, counted from 0.

    Args:
        documents: the texts, by field.
        boosts: field -> how much a word in it counts.

    Source: the formula is Okapi BM25 (Robertson and Zaragoza 2009) in lunr's form, read from the package.
    """
    found = [{field: terms(document[field]) for field in boosts} for document in documents]
    numbers: dict[str, int] = {}
    places: list[dict[str, list[str]]] = []
    for reference, document in enumerate(found):
        for field, words in document.items():
            for word in words:
                if word not in numbers:
                    numbers[word] = len(places)
                    places.append({each: [] for each in boosts})
                places[numbers[word]][field].append(str(reference))
    weights = [_weight(sum(map(len, each.values())), len(found)) for each in places]
    means = {field: sum(len(document[field]) for document in found) / len(found) for field in boosts}
    vectors = []
    for reference, document in enumerate(found):
        for field, words in document.items():
            share = _length_share(len(words), means[field]) * boosts[field]
            pairs = (
                (number, round(weights[number] * share, DIGITS)) for number in sorted(numbers[word] for word in words)
            )
            vectors.append([f"{field}/{reference}", list(chain.from_iterable(pairs))])
    return {
        "version": VERSION,
        "fields": list(boosts),
        "fieldVectors": vectors,
        "invertedIndex": [[word, _posting(numbers[word], places[numbers[word]])] for word in sorted(numbers)],
        "pipeline": ["stemmer"],
    }


def _posting(number: int, places: Mapping[str, Sequence[str]]) -> dict[str, Any]:
    """Return where a word stands, as lunr writes it."""
    return {"_index": number, **{field: dict.fromkeys(documents, _NOTHING) for field, documents in places.items()}}


#: what is known of a word in a document besides that it is there
_NOTHING: dict[str, Any] = {}


def _weight(places: int, count: int) -> float:
    """Return how much a word tells: the fewer places it stands in, the more."""
    return log(1 + abs((count - places + 0.5) / (places + 0.5)))


def _length_share(length: int, mean: float) -> float:
    return (K1 + 1) / (K1 * (1 - B + B * (length / mean if mean else 0)) + 1)
