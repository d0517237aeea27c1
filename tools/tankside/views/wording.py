"""Sentences of the book as runs: plain words, amounts filled in, tags that can be found on the equipment."""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from tankside.catalogue.links import PLACEHOLDER, WORD


@dataclass(frozen=True)
class Run:
    """Some words of a sentence that are set in one way."""

    text: str
    #: plain, amount, tag or link
    kind: str = "plain"
    #: of a link: ("section" or "procedure", its id)
    target: tuple[str, str] | None = None
    #: of an amount that follows the input of its procedure: "procedure/amount"
    follows: str | None = None


Sentence = tuple[Run, ...]
#: how units are written by authors and in the table -> how people read them
DEGREES = {"degC": "°C", "degF": "°F"}
_DEGREES = re.compile(r"\bdeg[CF]\b")
_PART = re.compile(rf"(?P<amount>{PLACEHOLDER.pattern})|(?P<tag>{WORD.pattern})")


def sentence(text: str, amount: Callable[[str], Run], tags: frozenset[str]) -> Sentence:
    """Return a text of the book as runs; `amount` gives the words for the name of an amount."""
    return tuple(_joined(_runs(with_degrees(text), amount, tags)))


def with_degrees(text: str) -> str:
    """Return a text with its degrees as people read them."""
    return _DEGREES.sub(lambda match: DEGREES[match.group()], text)


def plain_text(words: Sentence) -> str:
    """Return the words of a sentence without the way they are set."""
    return "".join(run.text for run in words)


def _runs(text: str, amount: Callable[[str], Run], tags: frozenset[str]) -> Iterator[Run]:
    at = 0
    for match in _PART.finditer(text):
        if match["amount"] is None and match["tag"] not in tags:
            continue
        yield Run(text[at : match.start()])
        if match["amount"] is None:
            yield Run(match["tag"], "tag")
        else:
            yield amount(match["amount"][1:-1])
        at = match.end()
    yield Run(text[at:])


def _joined(runs: Iterator[Run]) -> Iterator[Run]:
    return (run for run in runs if run.text)
