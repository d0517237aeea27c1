"""What a reader of a sound record should know: nothing is wrong with the record, but something happened."""

from collections.abc import Callable, Iterator
from datetime import datetime
from itertools import groupby, pairwise

from tankside.problems import Problem, quoted
from tankside.quantities.portable import Portable
from tankside.records.document import Document
from tankside.records.judging import Entry, Judged
from tankside.records.shape import name_of
from tankside.records.spans import range_in_words, time_in_words
from tankside.records.worth import entered, is_inside, limits
from tankside.schema.records import EVENTS

Remark = Callable[[Document, Judged], Iterator[Problem]]
_ENDED = "no chain can show that an end is missing; if there was more, save the record from the device again"


def remarks(document: Document, judged: Judged, *, is_whole: bool) -> Iterator[Problem]:
    """Return what happened that a reader should know; of the end nothing is said where events could not be judged."""
    for remark in (_backwards, _from_paper, _not_independent, _outside):
        yield from remark(document, judged)
    if is_whole:
        yield from _ending(document, judged)


def _backwards(document: Document, judged: Judged) -> Iterator[Problem]:
    for before, entry in pairwise(judged.entries):
        ran = _ran(before.event, entry.event)
        if ran < 0:
            message = f"was entered {time_in_words(-ran)} before the event that it follows: the clock ran backwards"
            hint = "the order of the chain counts; somebody set the clock, or the work went on on another device"
            yield _said(document, entry, "record-clock", message, hint)


def _ran(before: Portable, after: Portable) -> int:
    """Return the time between two events [ms], the smaller one where two clocks differ."""
    by_day = datetime.fromisoformat(_entered(after)) - datetime.fromisoformat(_entered(before))
    found = [round(by_day.total_seconds() * 1000)]
    if before["session"] == after["session"]:
        found.append(after["clock"] - before["clock"])
    return min(found)


def _entered(event: Portable) -> str:
    """Return when an event was typed in."""
    return str(event.get("entered_at", event["at"]))


def _from_paper(document: Document, judged: Judged) -> Iterator[Problem]:
    for serial, group in groupby(judged.entries, lambda entry: entry.event.get("paper")):
        if serial is None:
            continue
        first, *others = group
        more = f" and {len(others)} more behind it were" if others else " was"
        message = f"{name_of(first.event, first.place)}{more} taken over from paper, sheet {quoted(serial)}"
        hint = f"keep the sheet with the record; it was typed in at {_entered(first.event)}"
        yield document.remark("record-from-paper", message, hint, EVENTS, first.place)


def _not_independent(document: Document, judged: Judged) -> Iterator[Problem]:
    for entry in judged.entries:
        if entry.event["kind"] == "alone" and entry.visit is not None:
            message = f"says that nobody looked a second time at '{entry.visit.name}': {quoted(entry.event['reason'])}"
            hint = "the check is NOT INDEPENDENT; whoever approves decides whether that will do"
            yield _said(document, entry, "record-not-independent", message, hint)


def _outside(document: Document, judged: Judged) -> Iterator[Problem]:
    for entry in judged.entries:
        event, visit = entry.event, entry.visit
        if event["kind"] not in ("read", "correct") or visit is None or visit.kind != "measure":
            continue
        low, high = limits(judged.copy.part_of(visit), judged.copy.step_of(visit))
        value = entered(event)
        if value is not None and not is_inside(value.value, low, high):
            does = "reads" if event["kind"] == "read" else "corrects the reading to"
            found = f"{event['value']} {event['unit']} at '{visit.name}', the limits are {range_in_words(low, high)}"
            hint = "what was read first stays; 'tankside records show' says what was done then"
            yield _said(document, entry, "record-reading-outside", f"{does} {found}", hint)


def _ending(document: Document, judged: Judged) -> Iterator[Problem]:
    copy, last = judged.copy, judged.entries[-1]
    if copy.ended == "abandon":
        entry = next(each for each in judged.entries if each.event["kind"] == "abandon")
        message = f"gives the work up: {quoted(entry.event['reason'])}"
        yield _said(document, entry, "record-abandoned", message, "the steps that are still open were not done")
    elif not copy.ended:
        message = "is the last one, and the work is not finished"
        yield _said(document, last, "record-not-finished", message, _ENDED)
    elif copy.is_cut_short:
        entry = next(each for each in judged.entries if each.event.get("then") == "end")
        message = f"ends the work before its last step: {quoted(entry.event['reason'])}"
        yield _said(document, entry, "record-cut-short", message, "the steps behind it were not done")


def _said(document: Document, entry: Entry, code: str, message: str, hint: str) -> Problem:
    named = name_of(entry.event, entry.place)
    return document.remark(code, f"{named} {message}", hint, EVENTS, entry.place)
