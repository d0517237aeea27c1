"""Small plants drawn at random: the files of a whole book, as YAML says them.

The package loads them as it loads any book, and the naive simulator reads the same.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from itertools import pairwise
from random import Random
from typing import Any

import yaml
from naive_paths import NaiveRun
from naive_plant import NaivePlant, litres

from tankside.catalogue import Book, load
from tankside.compute.amounts import WorkedBook
from tankside.loading.sources import File
from tankside.plant.rehearsal import Rehearsal
from tankside.quantities.calculation import calculate
from tankside.quantities.registry import HELPERS
from tankside.units import parse_quantity, unit_named

Item = dict[str, Any]
MATERIALS = ("alpha", "beta", "mixed")
NAME = "work"
QUARTER = Fraction(1, 4)
RUNS = (("20 mm", "3 m"), ("25 mm", "2 m"), ("32 mm", "5 m"))


#: what a procedure says beside its steps
HEAD: Item = {
    "procedure": NAME,
    "title": "Work",
    "family": "any",
    "situation": "making",
    "revision": "1",
    "effective": "2026-01-01",
    "review": "2027-01-01",
    "approved": "lead",
    "purpose": "None",
    "scope": "Everything",
    "done_by": "lead",
    "second_person": "not needed",
    "stop_safely": "Stop what runs, shut what is open.",
    "if_it_goes_wrong": [{"sign": "Something leaks", "do": "Stop what runs."}],
    "sources": ["Drawn at random."],
    "history": [{"revision": "1", "date": "2026-01-01", "change": "First issue."}],
}


def facts(pieces: Mapping[str, Item], means: Sequence[str]) -> dict[str, Any]:
    """Return the files of a plant whose materials all may meet; `means` is what is so before the start."""
    glove = {"name": "Gloves", "sign": "M009", "made_of": "Rubber", "look_for": "Holes"}
    ready: Item = {"says": "It is ready", **({"means": list(means)} if means else {})}
    jug = {"kind": "measure", "name": "Jug", "capacity": "100 L", "graduation": "0.25 L"}
    kinds = dict.fromkeys(MATERIALS, "raw") | {"mixed": "waste", "product": "product"}
    return {
        "book": {
            "book": "drawn",
            "title": "Drawn",
            "jurisdiction": "US",
            "units": "metric",
            "languages": ["en"],
            "paper": "Letter",
            "live_copy": "Nowhere",
            "emergency_number": "911",
            "meeting_point": "Outside",
            "address": "Here",
        },
        "roles": {"roles": {"lead": {"name": "Lead", "does": "Everything"}}},
        "equipment": {
            "equipment": {**pieces, "jug": jug},
            "protective_equipment": {"gloves": glove},
            "conditions": {"ready": ready},
        },
        "materials": {
            "materials": {
                name: {"name": name, "kind": kind, "look": "Clear", "density": "1 kg/L", "groups": ["plain"]}
                for name, kind in kinds.items()
            },
            "groups": {"plain": {"name": "Plain"}, "one": {"name": "One"}, "other": {"name": "Other"}},
            "never_meet": [{"groups": ["one", "other"], "consequence": "Harm", "source": "None"}],
        },
        "products": {
            "products": {
                "product": {
                    "name": "Product",
                    "material": "product",
                    "made_in": ["T1"],
                    "bottles": ["1 L"],
                    "cap": "tight",
                    "recipe": [{"ingredient": "alpha", "share": "100 %w/w"}],
                }
            }
        },
    }


class _Dumper(yaml.CSafeDumper):
    """Writes what stands in two places twice; a book has no aliases."""

    def ignore_aliases(self, data: object) -> bool:
        return True


@dataclass(frozen=True)
class Case:
    """A book with one procedure."""

    #: by name: the files of procedures/plant
    facts: Mapping[str, Any]
    procedure: Item

    def files(self) -> Iterator[File]:
        """Return the files of the book."""
        said = {f"plant/{name}": content for name, content in self.facts.items()} | {f"any/{NAME}": self.procedure}
        for path, content in sorted(said.items()):
            yield File(f"procedures/{path}.yaml", yaml.dump(content, Dumper=_Dumper, sort_keys=False).encode("utf-8"))

    def pictures(self) -> frozenset[str]:
        """Return nothing."""
        return frozenset()

    def picture_bytes(self, names: Collection[str]) -> Mapping[str, bytes]:
        """Return nothing."""
        return {}

    def book(self) -> Book:
        """Return the book as the package loads it."""
        loaded = load(self)
        assert loaded.book is not None, loaded.problems
        return loaded.book

    def rehearsal(self) -> Rehearsal:
        """Return its rehearsal."""
        return Rehearsal(WorkedBook(self.book()))

    def plant(self) -> NaivePlant:
        """Return its plant as the naive simulator knows it."""
        equipment = self.facts["equipment"]["equipment"]
        return NaivePlant(equipment, hold_ups(equipment))

    def naive(self, chance: Random) -> NaiveRun:
        """Return its procedure as the naive simulator walks it."""
        return NaiveRun(self.facts, self.procedure, self.plant(), chance)


def hold_ups(equipment: Mapping[str, Any]) -> dict[str, Fraction]:
    """Return what each line with runs holds [L]; what a cylinder holds is tested elsewhere."""
    return {
        tag: sum((_cylinder(run["bore"], run["length"]) for run in piece["runs"]), litres(piece.get("extra", "0 L")))
        for tag, piece in equipment.items()
        if "runs" in piece
    }


@cache
def _cylinder(bore: str, length: str) -> Fraction:
    given = {"bore": parse_quantity(bore, ["length"]), "length": parse_quantity(length, ["length"])}
    return unit_named("L").from_base(calculate(HELPERS["line-volume"], given).results["volume"].value)


def said(amount: Fraction) -> str:
    """Return a volume as a book says it."""
    return f"{float(amount):g} L"


class Fitter:
    """Puts a plant together."""

    def __init__(self, chance: Random, *, is_closed: bool = False) -> None:
        """Begin with nothing; what is closed has nothing that liquid comes in by or goes out by."""
        self.chance, self.is_closed = chance, is_closed
        self.pieces: dict[str, Item] = {}
        self.numbers: dict[str, int] = {}

    def add(self, letter: str, kind: str, **facts: Any) -> str:
        """Add a piece and return its tag."""
        number = self.numbers[letter] = self.numbers.get(letter, 0) + 1
        tag = f"{letter}{number}"
        self.pieces[tag] = {"kind": kind, "name": f"{kind} {number}", **facts}
        return tag

    def join(self, *tags: str) -> str:
        """Join pieces in a row, for good, upstream first; return the last."""
        for first, second in pairwise(tags):
            self.pieces[first].setdefault("connects", []).append(second)
        return tags[-1]

    def likely(self, chances: float) -> bool:
        """Return True so often."""
        return self.chance.random() < chances

    def vessels(self) -> list[str]:
        """Add one to four vessels, tanks first."""
        tanks = [self._tank() for _ in range(self.chance.randint(1, 3))]
        if self.likely(0.4):
            self.add("D", "drum", capacity="60 L", holds=list(MATERIALS))
        if self.likely(0.5):
            self.add("B", "pail", capacity="20 L", **self._holds())
        if self.likely(0.3) and not self.is_closed:
            self.add("C", "bottles")
        if self.likely(0.4) and not self.is_closed:
            self.add("W", "drain")
        return tanks

    def _holds(self) -> Item:
        return {"holds": list(MATERIALS)} if self.likely(0.7) else {}

    def _tank(self) -> str:
        heel = self.chance.choice(({}, {"heel": "1 L"}, {"heel": "2.5 L"}))
        capacity = said(Fraction(self.chance.choice((40, 60, 100))))
        tag = self.add("T", "tank", capacity=capacity, holds=list(MATERIALS), **heel)
        if self.likely(0.4):
            self.join(self.add("H", "port"), tag)
        return tag

    def line(self) -> str:
        """Add a line."""
        bore, length = self.chance.choice(RUNS)
        extra = self.chance.choice(({}, {"extra": "0.5 L"}))
        runs = {} if self.likely(0.2) else {"runs": [{"bore": bore, "length": length}], **extra, **self._holds()}
        return self.add("L", "line", **runs)

    def receivers(self) -> list[str]:
        """Return what a nozzle can be put over."""
        return [tag for tag, piece in self.pieces.items() if piece["kind"] in ("pail", "drum", "bottles")]

    def outlet(self, start: str, tanks: list[str]) -> None:
        """Lead on from a piece, over a valve, to a vessel, a drain or a nozzle; nowhere when there is none."""
        drains = [tag for tag, piece in self.pieces.items() if piece["kind"] == "drain"]
        ends = [*(tank for tank in tanks if tank != start), *drains]
        if not ends and not self.receivers():
            return
        valve = self.join(start, self.add("V", "valve"))
        nozzles = [tag for tag, piece in self.pieces.items() if piece["kind"] == "nozzle" and "joins" in piece]
        if nozzles and self.likely(0.2):
            self.join(valve, self.chance.choice(nozzles))
        elif self.receivers() and (not ends or self.likely(0.5)):
            self.join(valve, self.add("N", "nozzle", joins=self.receivers()))
        else:
            self.join(valve, self.chance.choice(ends))

    def supply(self, tanks: list[str]) -> None:
        """Let something be drawn into a tank."""
        supply = self.add("S", "supply", holds=["alpha"])
        last = self.join(supply, self.add("M", "measure")) if self.likely(0.4) else supply
        last = self.join(last, self.add("V", "valve"))
        if self.likely(0.3):
            last = self.join(last, self.line())
            if self.likely(0.5):
                last = self.join(last, self.add("V", "valve"))
        if self.likely(0.3):
            last = self.join(last, self.add("N", "nozzle"))
        self.join(last, self.chance.choice(tanks))

    def pump(self, tanks: list[str]) -> None:
        """Let something be pumped out of one or two vessels."""
        sources = self.chance.sample(tanks, min(len(tanks), self.chance.choice((1, 1, 2))))
        pump = self.add("P", "pump")
        last = self.line() if len(sources) > 1 or self.likely(0.2) else None
        for source in sources:
            valve = self.add("V", "valve")
            self.join(source, valve, *filter(None, (last,)))
        # What a pump is joined to first is what it draws from.
        self.pieces[pump]["connects"] = [last or valve]
        start = self.join(pump, self.line()) if self.likely(0.7) else pump
        for _ in range(self.chance.randint(1, 3)):
            self.outlet(start, tanks)

    def fitted(self) -> dict[str, Item]:
        """Return the pieces of a plant."""
        tanks = self.vessels()
        for _ in range(0 if self.is_closed else self.chance.choice((0, 1, 1, 2))):
            self.supply(tanks)
        for _ in range(self.chance.choice((0, 1, 1, 1, 2))):
            self.pump(tanks)
        for tank in tanks:
            if self.likely(0.4):
                self.outlet(tank, tanks)
        if "D1" in self.pieces and self.likely(0.5):
            self.add("P", "pump", connects=["D1"], joins=[self.chance.choice(tanks)])
        return self.pieces
