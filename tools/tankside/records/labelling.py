"""The procedure, revision and step that an event names for its readers, compared with what it is about."""

from collections.abc import Collection, Iterator, Mapping

from tankside.problems import Problem, quoted
from tankside.quantities.portable import Portable
from tankside.records.copy import Copy, Visit
from tankside.records.document import Document
from tankside.records.shape import name_of
from tankside.schema.records import EVENTS

_VISIT = "what it is about is said by 'visit' and the edition; if it was entered on a page, it was changed since"


def misnamed(document: Document, copy: Copy, place: int, visit: Visit | None) -> Iterator[Problem]:
    """Return where an event names another procedure, revision or step than it is about."""
    event = document.value[EVENTS][place]
    for key, allowed in _allowed(copy, event, visit).items():
        if key in event and event[key] not in allowed:
            is_one = len(allowed) == 1
            right = f"it is about {quoted(next(iter(allowed)))}" if is_one else "there is none such in the edition"
            message = f"{name_of(event, place)} names the {key} {quoted(event[key])}; {right}"
            yield document.error("record-misnamed", message, _VISIT, EVENTS, place, key)


def _allowed(copy: Copy, event: Portable, visit: Visit | None) -> Mapping[str, Collection[str]]:
    if visit is not None and "visit" in event:
        part = copy.part_of(visit)
        return {
            "procedure": (part.procedure,),
            "revision": (part.revision,),
            "step": (visit.name if visit.node >= 0 else "",),
        }
    parts = copy.script.parts
    meant = [part for part in parts if part.procedure == event.get("procedure", parts[0].procedure)]
    names = {name for part in meant for name in part.steps}
    return {
        "procedure": {part.procedure for part in parts},
        # Of a procedure that is not here nothing more is said.
        "revision": {part.revision for part in meant} or {event.get("revision", "")},
        "step": {"", *names} if meant else {event.get("step", "")},
    }
