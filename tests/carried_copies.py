"""A working copy that a test carries out: events of this moment, by people whose roles its edition asks for."""

from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from functools import cached_property
from random import Random
from typing import Any

from tankside.records.chain import chained
from tankside.records.copy import Copy
from tankside.records.folding import fold
from tankside.records.refusing import refusal
from tankside.records.script import Script

MORNING = datetime(2026, 12, 1, 8, 0, tzinfo=UTC)
#: what each event must carry beside what is its own
COMMON = {"copy": "0123456789abcdef", "device": "d1", "build": "b1"}
#: initials of the people there are, in the order in which they get the roles
INITIALS = ("AB", "CD", "EF", "GH", "JK", "LM")

Person = tuple[str, str]


@dataclass
class Carried:
    """A working copy that is being carried out, with every action that was tried on it."""

    copy: Copy
    chance: Random
    tried: list[dict[str, Any]] = field(default_factory=list)
    #: why each was refused, or the hash of the event that it became
    codes: list[str] = field(default_factory=list)
    #: time that has passed, and when the page was loaded [ms]
    passed: int = 0
    loaded: int = 0
    loads: int = 1

    @cached_property
    def people(self) -> tuple[Person, ...]:
        """Somebody for each role that the edition names, and somebody else."""
        parts = self.copy.script.parts
        held = (step["released_by"] for part in parts for step in part.steps.values() if step["kind"] == "hold")
        roles = dict.fromkeys([parts[0].edition["written"]["done_by"], "second-person", *held, parts[0].approver])
        return tuple(zip(INITIALS, roles, strict=False))

    @property
    def here(self) -> tuple[Person, ...]:
        """Who is there now."""
        return tuple(self.copy.people.items()) or self.people

    def with_role(self, role: str) -> Person:
        """Return somebody with a role who is there, or who could be."""
        found = [each for each in (*self.here, *self.people) if each[1] == role]
        return found[0] if found else self.people[0]

    def wait(self, milliseconds: int) -> None:
        """Let time pass."""
        self.passed += milliseconds

    def reload(self) -> None:
        """Load the page anew, so that its own clock begins again."""
        self.loaded, self.loads = self.passed, self.loads + 1

    def propose(self, kind: str, **own: Any) -> dict[str, Any]:
        """Return an event of this moment, by somebody who is there unless it says by whom."""
        who, role = own.pop("by", None) or self.chance.choice(self.here)
        at = (MORNING + timedelta(milliseconds=self.passed)).isoformat(timespec="milliseconds")
        moment = {"at": at, "clock": self.passed - self.loaded, "session": f"s{self.loads}"}
        return {**COMMON, "edition": self.copy.script.hash, **moment, "kind": kind, "who": who, "role": role, **own}

    def attempt(self, event: dict[str, Any]) -> str:
        """Do what an event says unless it is refused; return why it is, empty when it is not."""
        linked = chained(event, self.copy.events[-1] if self.copy.events else None)
        code = refusal(self.copy, linked)
        self.tried.append(event)
        self.codes.append(code or linked["hash"])
        if not code:
            fold(self.copy, linked)
        return code


def carried(edition: Any, seed: int) -> Carried:
    """Return a working copy on which nothing has been done yet."""
    return Carried(Copy(Script(edition)), Random(seed))


def start_of(carrying: Carried) -> dict[str, Any]:
    """Return a start to which nothing can be said."""
    script = carrying.copy.script
    inputs: dict[str, dict[str, str]] = {}
    for procedure, name, asked in script.inputs():
        inputs.setdefault(procedure, {})[name] = carrying.chance.choice([asked["usual"], *asked["table"]])
    people = [{"who": who, "role": role} for who, role in carrying.people]
    said = {"lot": "L-7", "product": "", "bottle": (*script.sizes, "")[0], "inputs": inputs, "confirmed": []}
    return carrying.propose("start", by=carrying.people[0], people=people, **said)
