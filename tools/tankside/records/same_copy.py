"""The same chain of events in several files: counted once, and said; what contradicts is a problem."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Protocol, TypeVar

from tankside.problems import Problem
from tankside.quantities.portable import Portable
from tankside.records.document import Document
from tankside.records.shape import name_of
from tankside.schema.records import EVENTS


class Chained(Protocol):
    """What is read of a chain of events in a file."""

    @property
    def document(self) -> Document:
        """Where it stands."""

    @property
    def name(self) -> str:
        """The name of the chain."""

    @property
    def path(self) -> str:
        """The file."""

    @property
    def hashes(self) -> Sequence[str]:
        """The hashes of its events."""

    @property
    def places(self) -> Sequence[tuple[int, Portable]]:
        """Its events, each with its place in the file."""


C = TypeVar("C", bound=Chained)


def beside_each_other(found: Iterable[C]) -> tuple[list[C], list[Problem]]:
    """Return each chain once, from the file that has most of it, and what there is to say of the others."""
    by_name: dict[str, list[C]] = {}
    for each in found:
        by_name.setdefault(each.name, []).append(each)
    counted: list[C] = []
    problems: list[Problem] = []
    for same in by_name.values():
        longest, *others = sorted(same, key=lambda each: -len(each.hashes))
        counted.append(longest)
        problems += [problem for each in others for problem in _compared(each, longest)]
    return counted, problems


def _compared(chain: Chained, longest: Chained) -> Iterator[Problem]:
    difference = _first_difference(chain, longest)
    document = chain.document
    sort = document.sort
    if difference is not None:
        place, event = chain.places[difference]
        message = f"{name_of(event, place)} differs from the same event in {longest.path}"
        hint = (
            "somebody went on from an old file on another device, or one of the two was rewritten; keep both, ask who "
            "was there; the longer one counts here"
        )
        yield document.error(sort.code("contradicts"), message, hint, EVENTS, place)
    elif len(chain.hashes) < len(longest.hashes):
        count, more = len(chain.hashes), len(longest.hashes)
        message = f"this is the beginning of {longest.path}: {count} of its {more} events"
        yield document.remark(sort.code("shorter"), message, "the longer one counts")
    else:
        message = f"this is the same {sort.thing} as in {longest.path}, event by event"
        yield document.remark(sort.code("same"), message, "it counts once")


def _first_difference(chain: Chained, other: Chained) -> int | None:
    pairs = zip(chain.hashes, other.hashes, strict=False)
    return next((place for place, (own, theirs) in enumerate(pairs) if own != theirs), None)
