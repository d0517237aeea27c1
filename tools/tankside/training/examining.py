"""All that is found in one competence record: its shape, its chain, what it holds, and each entry judged."""

from collections.abc import Collection, Iterator
from dataclasses import replace

from tankside.problems import Problem, quoted
from tankside.quantities.portable import Portable
from tankside.records.document import Document
from tankside.records.linking import chain_of, usual
from tankside.records.shape import Misfit, misfits, name_of
from tankside.schema.records import EVENTS
from tankside.training.competence import Competence
from tankside.training.holding import holding
from tankside.training.judging import BEGIN, Judging

_DECIDES = "the events decide, they are chained; save the competence record from the device again"


def examine(document: Document) -> tuple[Competence | None, list[Problem]]:
    """Return a competence and what is wrong with its file; none when not even its beginning can be told."""
    wrong = list(misfits(document))
    problems = [each.problem for each in wrong]
    shaped = _shaped(document, wrong)
    if shaped is None:
        return None, problems
    held, chain = holding(shaped, wrong), chain_of(shaped)
    problems += [*held.problems, *chain.problems, *_about_frame(shaped)]
    events = shaped.value[EVENTS]
    places = [(place, events[place]) for place in chain.sound]
    # Of events of others the chain has said that they are left out.
    usually = {key: usual(events, key) for key in ("competence", "person")}
    own = [(place, event) for place, event in places if usually.items() <= event.items()]
    judging = Judging(shaped, held).through(own)
    problems += [*_without_beginning(shaped, own), *judging.problems]
    if not own:
        return None, problems
    return _competence(shaped, own, judging), problems


def _competence(document: Document, own: list[tuple[int, Portable]], judging: Judging) -> Competence:
    _, first = own[0]
    begun = first if first["kind"] == BEGIN else {}
    return Competence(
        document=document,
        name=first["competence"],
        person=first["person"].strip(),
        called=begun.get("name", ""),
        role=begun.get("role", ""),
        places=tuple(own),
        counting=frozenset(judging.counting),
        taught=judging.held.sound,
    )


def _shaped(document: Document, wrong: Collection[Misfit]) -> Document | None:
    """Return a file up to the first event that has not the shape of one; none when nothing can be made of it."""
    value = document.value
    events = value.get(EVENTS) if isinstance(value, dict) else None
    if not isinstance(events, list):
        return None
    count = min((each.event for each in wrong if each.event is not None), default=len(events))
    return replace(document, value={**value, EVENTS: events[:count]}) if count else None


def _about_frame(document: Document) -> Iterator[Problem]:
    """Return where the frame of a file says something else than its events."""
    value = document.value
    for key, code, what in (
        ("competence", "competence-record-differs", "competence record"),
        ("person", "competence-person-differs", "person"),
    ):
        own = usual(value[EVENTS], key)
        if isinstance(value.get(key), str) and value[key] != own:
            message = f"the file names the {what} {quoted(value[key])}, its events are of {quoted(own)}"
            yield document.error(code, message, _DECIDES, key)


def _without_beginning(document: Document, own: list[tuple[int, Portable]]) -> Iterator[Problem]:
    if own and own[0][1]["kind"] != BEGIN:
        place, event = own[0]
        message = f"{name_of(event, place)} is the first one, and none says whose competence this is and for which role"
        hint = "no page keeps it so; look for another copy of the file"
        yield document.error("competence-begin", message, hint, EVENTS, place)
