"""Record files as a device saves them, of working copies of the demonstration book; and ways to falsify them."""

import json
from collections.abc import Mapping
from copy import deepcopy
from datetime import timedelta
from functools import cache
from pathlib import Path
from typing import Any

from followed_editions import demo_editions
from small_copies import small_editions
from straight_copies import DOER, SECOND, Straight

from tankside.edition.canonical import canonical_json
from tankside.records.chain import chained, content_hash
from tankside.records.worth import entered, is_inside, limits, number_in, target

Record = dict[str, Any]
#: a procedure with a second person, a reading and a hold; one with amounts, waits and choices; one with labels
SHORT, BATCH, LABELS = "bleed-cleaner-line", "blend-descaler", "fill-cleaner-bottles"
#: what is answered so that a copy of LABELS comes to its end
ONE_CARTON = {"another-carton": "no"}
#: what a mark takes in `straight_copies`, so that every wait is over [min]
LONG = 240


class Kept(Straight):
    """A working copy at which people work without hurry; each event holds all that the page writes into it."""

    def enter(self, kind: str, by: tuple[str, str] = DOER, minutes: int = 1, **own: Any) -> Any:
        """Enter an event; only waits take long."""
        visit = self.copy.trail[own["visit"]] if "visit" in own and self.copy.is_started else None
        if minutes == LONG and (visit is None or visit.kind != "wait"):
            minutes = 1
        if kind == "mark" and own.get("answer") == "":
            del own["answer"]
        return super().enter(kind, by, minutes, **self._named(own), **self._figures(kind, own))

    def _named(self, own: Mapping[str, Any]) -> dict[str, Any]:
        place = own.get("visit", -1)
        visit = self.copy.trail[place] if 0 <= place < len(self.copy.trail) else self.copy.tip
        part = self.copy.script.parts[0 if visit is None else visit.part]
        is_step = visit is not None and "visit" in own and visit.node >= 0
        about = {"procedure": part.procedure, "revision": part.revision, "step": visit.name if is_step else ""}
        return {**about, **own}

    def _figures(self, kind: str, own: Mapping[str, Any]) -> dict[str, Any]:
        """Return what the page copies from the edition into an event (`work-figures.js`)."""
        if kind not in ("pour", "read"):
            return {}
        visit, value = self.copy.trail[own["visit"]], entered(own)
        part, step = self.copy.part_of(visit), self.copy.step_of(visit)
        assert value is not None
        if kind == "read":
            low, high = limits(part, step)
            texts = ["" if end is None else number_in(end.value, value.unit) for end in (low, high)]
            return {"low": texts[0], "high": texts[1], "inside": is_inside(value.value, low, high)}
        wanted, low, high = target(part, step, self.copy.inputs)
        total = visit.total + value.value
        figures = {"target": wanted.value, "low": low.value, "high": high.value, "total": total}
        texts = {name: number_in(each, value.unit) for name, each in figures.items()}
        return {**texts, "inside": is_inside(total, low, high)}


def kept(id_: str = SHORT, **own: Any) -> Kept:
    """Return a working copy of the demonstration book that was just begun."""
    working = Kept(demo_editions()[id_], **own)
    working.start()
    return working


def record_of(working: Straight) -> Record:
    """Return the record that a device saves of a working copy."""
    edition = working.edition
    exported = (working.now + timedelta(minutes=1)).isoformat(timespec="milliseconds")
    return deepcopy(
        {
            "layout": "tankside-record-1",
            "book": edition["book"],
            "site": edition["book"],
            "copy": working.name,
            "edition": edition,
            "shown": working.shown,
            "events": list(working.events),
            "exported": exported,
        }
    )


def rewritten(record: Record) -> Record:
    """Return a record whose chain was made anew over everything that it holds, as only its owner can."""
    hash_, before = content_hash(record["edition"]), None
    shown = {**record["shown"], "hash": hash_}
    first, *others = record["events"]
    events = []
    for event in ({**first, "shown": content_hash(shown)}, *others):
        before = chained({**event, "edition": hash_}, before)
        events.append(before)
    return {**record, "events": events, "shown": shown}


def text_of(record: Record) -> str:
    """Return a record as the page writes it: canonical JSON."""
    return canonical_json(record)


def written(folder: Path, record: Record | str | bytes, name: str = "record.json") -> Path:
    """Write a file and return its path."""
    data = record if isinstance(record, bytes) else (record if isinstance(record, str) else text_of(record)).encode()
    path = folder / name
    path.write_bytes(data)
    return path


@cache
def finished_text(name: str = SHORT) -> str:
    """Return the file of a working copy that was carried out straight ahead."""
    return text_of(record_of(kept(name).through()))


def finished(name: str = SHORT) -> Record:
    """Return a record of a working copy that was carried out straight ahead; it is changed freely."""
    found: Record = json.loads(finished_text(name))
    return found


#: who else is there when much happens
LEAD, OTHER = ("EF", "lead"), ("GH", "other")
PAPER = {"paper": "K7M4P9TXC", "session": "s2", "entered_at": "2026-12-01T16:27:30.000+00:00"}


def eventful() -> Kept:
    """Return a working copy of a small book in which much happened; it is not finished."""
    working = Kept(small_editions()["everything"], name="00000000000000ee", answers={"what-for": "Bottles"})
    working.start(people=[{"who": who, "role": role} for who, role in (DOER, SECOND, LEAD, OTHER)])
    working.step()
    working.enter("pause", reason="the phone rang")
    working.enter("resume", by=SECOND, sure="no", reason="looked once more")
    _put_in_with_a_slip(working)
    _read_outside(working)
    working.enter("redline", about="near-miss", text="The hose slipped off V3.", step="labels-out", **PAPER)
    working.before("tap-once")
    working.enter("skip", reason="no bubbles are there", **_now(working))
    working.enter("give", text="P1 still runs.")
    working.enter("receive", by=OTHER)
    _count_one_too_few(working)
    # A text may try to speak to a terminal or to a spreadsheet.
    working.enter("note", text="=1+1 \x1b[2J here")
    return working


def _now(working: Straight) -> dict[str, int]:
    assert working.copy.now is not None, "there is something to do"
    return {"visit": working.copy.trail.index(working.copy.now)}


def _put_in_with_a_slip(working: Kept) -> None:
    working.before("add-acid")
    at = _now(working)
    working.enter("look", says="vinegar", lot="V-1", **at)
    working.enter("look", says="acid", lot="B-1", **at)
    poured = working.enter("pour", value="5.4", unit="kg", **at)
    working.enter(
        "correct", corrects=poured["seq"], value="4.5", unit="kg", reason="two digits changed places", second="CD"
    )
    working.enter("pour", value="1.5", unit="kg", **at)
    working.enter("second", by=SECOND, **at)


def _read_outside(working: Kept) -> None:
    working.before("read-tank")
    reading = {"instrument": "T1", "due": "2027-01-31"}
    working.enter("checked", **reading)
    working.enter("read", value="31", unit="degC", **reading, **_now(working))
    working.enter("take", **_now(working))
    working.step()
    working.enter("decide", then="again", reason="it has cooled", **_now(working))
    working.enter("read", value="24.5", unit="degC", **reading, **_now(working))
    at = _now(working)
    working.enter("read", value="65", unit="degC", **reading, **at)
    working.enter("alone", reason="CD was called away", **at)


def _count_one_too_few(working: Kept) -> None:
    working.before("labels-in")
    at = _now(working)
    working.enter("count", used=90, spoiled=4, left=5, **at)
    working.enter("allow", by=LEAD, reason="one lies under the belt", **at)
