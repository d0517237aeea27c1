"""What the screen of a working copy showed, held against what the store of its browser holds."""

from collections.abc import Mapping, Sequence
from typing import Any

from test_copy_files import chained

from tankside.records.copy import Copy

Event = dict[str, Any]
Painted = dict[str, Any]
Known = Mapping[str, Sequence[Event]]


def events_of(stored: Mapping[str, list[Event]]) -> dict[str, list[Event]]:
    """Return the events of each copy that a store holds; their chains and what stands beside them must agree."""
    found: dict[str, list[Event]] = {}
    for event in sorted(stored["events"], key=lambda each: int(each["seq"])):
        found.setdefault(event["copy"], []).append(event)
    heads = {each["copy"]: (each["seq"], each["hash"]) for each in stored["copies"]}
    assert heads == {copy: (events[-1]["seq"], events[-1]["hash"]) for copy, events in found.items()}
    return found


def assert_nothing_is_lost(known: Known, found: Known) -> None:
    """What was known is there as it was, and what has come is chained to it."""
    for copy, events in known.items():
        assert found[copy][: len(events)] == events
    for copy, events in found.items():
        if events != known.get(copy):
            assert events == chained(list(events))


def assert_is_shown(painted: Painted, state: Copy) -> None:
    """What is painted is what is kept, all of it, and nothing else."""
    about_steps = {str(each["seq"]): each for each in state.events if "visit" in each or "corrects" in each}
    assert painted["events"].keys() == about_steps.keys()
    for seq, (kind, text) in painted["events"].items():
        event = about_steps[seq]
        assert kind == event["kind"]
        assert event["who"] in text, text
        assert event["at"][11:16] in text, text
    assert wrong_rows(painted, state) == []
    assert painted["trouble"] == ""


def wrong_rows(painted: Painted, state: Copy) -> list[str]:
    """Return the rows that have a mark which is not that of their last visit; one that comes again has none."""
    last = {_row(state, place): visit.state for place, visit in enumerate(state.trail)}
    return [row for row, shown in painted["rows"].items() if shown not in ("not started", last.get(row))]


def _row(state: Copy, place: int) -> str:
    visit = state.trail[place]
    if visit.node < 0:
        return f"sent/{place}"
    return f"{visit.part}/{visit.name}{'?' if visit.kind == 'question' else ''}"
