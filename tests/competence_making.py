"""Competence files as a device saves them, made by hand; and ways to falsify them. Only the hash is the code's own."""

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from tankside.records.chain import chained, content_hash

Event = dict[str, Any]
File = dict[str, Any]
#: a procedure as it is taught: a safe stop, two steps that are watched, an amount
TAUGHT: dict[str, Any] = {
    "layout": "tankside-taught-1",
    "procedure": "bleed-cleaner-line",
    "title": "Bleed the filling line",
    "revision": 3,
    "content": "c3" * 32,
    "same_since": 3,
    "elements": [
        {"key": "stop", "critical": True, "says": "Pump off.", "facts": "0" * 16, "words": "0" * 16},
        {"key": "amount:most", "critical": False, "says": "Most: 11 L", "facts": "0" * 16, "words": "0" * 16},
        {"key": "step:open-v2", "critical": True, "says": "Open V2", "facts": "0" * 16, "words": "0" * 16},
        {"key": "step:start-p1", "critical": True, "says": "Start P1", "facts": "0" * 16, "words": "0" * 16},
        {"key": "step:note-it", "critical": False, "says": "Note it", "facts": "0" * 16, "words": "0" * 16},
    ],
}
BOOK = "cafe-cleaning-workshop"
LEAD = {"assessor": "WL", "assessor_role": "workshop-lead"}
#: what was seen of TAUGHT by who signs it
SEEN = {"stop": "competent", "step:open-v2": "competent", "step:start-p1": "competent"}


class Making:
    """The chain of one person, an event behind the other."""

    def __init__(
        self,
        person: str = "TA",
        name: str = "",
        role: str = "line-operator",
        *,
        book: str = BOOK,
        begun: str = "2026-05-01",
    ) -> None:
        """Begin the competence record of a person."""
        self.person, self.book = person, book
        self.name = name or f"{person.encode().hex():0>16}"
        self.taught: dict[str, Any] = {}
        self.events: list[Event] = []
        self.enter("begin", begun, name=f"Trainee {person[-1]}", role=role)

    def enter(self, kind: str, day: str, **own: Any) -> Event:
        """Enter an event; those of one day follow each other by a minute."""
        at = f"{day}T10:{len(self.events) % 60:02}:00.000+00:00"
        event = {
            **{"competence": self.name, "person": self.person, "who": own.get("assessor", self.person), "at": at},
            **{"device": "d1", "build": "b1", "kind": kind, **own},
        }
        self.events.append(chained(event, self.events[-1] if self.events else None))
        return self.events[-1]

    def about(self, taught: Mapping[str, Any]) -> dict[str, Any]:
        """Return what names a procedure in an event, and keep what was taught of it."""
        hash_ = content_hash(taught)
        self.taught[hash_] = taught
        own = {"procedure": taught["procedure"], "revision": taught["revision"], "edition": taught["content"]}
        return {**own, "taught": hash_}

    def read(self, day: str, taught: Mapping[str, Any] = TAUGHT) -> Event:
        """Say that one has read it."""
        own = {"task": "whole", "method": "read", "result": "not-seen"}
        return self.enter("signed", day, **self.about(taught), **own, assessor=self.person, assessor_role="new-hire")

    def signed(self, day: str, method: str = "alone", taught: Mapping[str, Any] = TAUGHT, **own: Any) -> Event:
        """Sign something off: competent where somebody was watched, and everything seen."""
        is_watched = method in ("supervised", "alone")
        keys = [each["key"] for each in taught["elements"] if each["critical"]]
        seen = {key: "competent" for key in keys if key == "stop" or key.startswith("step:")}
        usual = {"task": "whole", "method": method, "result": "competent" if is_watched else "not-seen", **LEAD}
        own = {**usual, **({"seen": seen} if is_watched else {}), **own}
        return self.enter("signed", day, **self.about(taught), **own)

    def other(self, day: str, **own: Any) -> Event:
        """Sign something off in another way than usual."""
        usual = {"task": "whole", "method": "alone", "result": "competent", "seen": SEEN, **LEAD}
        return self.enter("signed", day, **self.about(TAUGHT), **{**usual, **own})

    def drill(self, day: str, taught: Mapping[str, Any] = TAUGHT, **own: Any) -> Event:
        """Practise something."""
        return self.enter("drill", day, **self.about(taught), **{**LEAD, **own})

    def went(self, day: str, item: str, path: str = "line-operator") -> Event:
        """Go through something of a path."""
        return self.enter("went", day, path=path, item=item, **LEAD)

    def appointed(self, day: str, role: str, **own: Any) -> Event:
        """Appoint somebody."""
        return self.enter("appointed", day, role=role, **{**LEAD, **own})

    def struck(self, day: str, corrects: int) -> Event:
        """Strike an event out."""
        return self.enter("struck", day, corrects=corrects, reason="entered for the wrong person")

    @property
    def file(self) -> File:
        """The file that a device saves; it may be changed freely."""
        whole = json.dumps(
            {
                "layout": "tankside-competence-1",
                **{"book": self.book, "site": self.book, "competence": self.name, "person": self.person},
                **{"taught": self.taught, "events": self.events, "exported": "2026-12-01T08:00:00.000+00:00"},
            }
        )
        found: File = json.loads(whole)
        return found


def usual(person: str = "TA") -> Making:
    """Return somebody who read it, was shown it and signed off, who drilled it and was appointed."""
    making = Making(person)
    making.read("2026-05-02")
    making.signed("2026-05-03", "shown")
    making.signed("2026-05-04", "supervised")
    making.signed("2026-05-25")
    making.enter(
        *("answered", "2026-05-26"), **making.about(TAUGHT), question="open-v2.next", choice="Start P1", right=True
    )
    making.drill("2026-06-01")
    making.went("2026-06-02", "tell-0123abcd")
    making.appointed("2026-06-03", "second-person")
    return making


def rechained(file: File) -> File:
    """Return a file whose chain was made anew over its events, as only its owner can."""
    before = None
    events = []
    for event in file["events"]:
        before = chained(event, before)
        events.append(before)
    return {**file, "events": events}


def several(*files: File) -> File:
    """Return a file of several."""
    return {"layout": "tankside-competences-1", "competences": list(files)}


def written(folder: Path, file: File | str | bytes, name: str = "TA.json") -> Path:
    """Write a file and return its path."""
    text = file if isinstance(file, (str, bytes)) else json.dumps(file, ensure_ascii=False, separators=(",", ":"))
    path = folder / name
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return path
