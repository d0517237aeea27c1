"""The same working copy in several files: counted once, and said; what contradicts is a problem."""

from collections.abc import Iterable, Iterator

from tankside.problems import Problem
from tankside.records.record import Record
from tankside.records.shape import name_of
from tankside.schema.records import EVENTS


def beside_each_other(records: Iterable[Record]) -> tuple[list[Record], list[Problem]]:
    """Return each working copy once, from the file that has most of it, and what there is to say of the others."""
    by_name: dict[str, list[Record]] = {}
    for record in records:
        by_name.setdefault(record.name, []).append(record)
    counted: list[Record] = []
    problems: list[Problem] = []
    for same in by_name.values():
        longest, *others = sorted(same, key=lambda each: -len(each.entries))
        counted.append(longest)
        problems += [problem for each in others for problem in _compared(each, longest)]
    return counted, problems


def _compared(record: Record, longest: Record) -> Iterator[Problem]:
    place = _first_difference(record, longest)
    document = record.document
    if place is not None:
        event = record.entries[place]
        message = f"{name_of(event.event, event.place)} differs from the same event in {longest.path}"
        hint = (
            "somebody went on from an old file on another device, or one of the two was rewritten; keep both, ask who "
            "was there; the longer one counts here"
        )
        yield document.error("record-contradicts", message, hint, EVENTS, event.place)
    elif len(record.entries) < len(longest.entries):
        count, more = len(record.entries), len(longest.entries)
        message = f"this is the beginning of {longest.path}: {count} of its {more} events"
        yield document.remark("record-shorter", message, "the longer one counts")
    else:
        message = f"this is the same working copy as in {longest.path}, event by event"
        yield document.remark("record-same", message, "it counts once")


def _first_difference(record: Record, other: Record) -> int | None:
    pairs = zip(record.hashes, other.hashes, strict=False)
    return next((place for place, (own, theirs) in enumerate(pairs) if own != theirs), None)
