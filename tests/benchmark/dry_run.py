"""How many states a dry run looks at, and how long it takes, against the number of steps and of choices.

A procedure is generated on a plant of 21 pieces: water is drawn, pumped to and fro and poured, and again and again one
of two answers is given. The two answers lead

same      to the same state,
amounts   to states that differ in how much there is: 1 L or 2 L is poured,
joints    to states that differ in what is joined: four loose ends, each free or over a pail.

The reference is the naive simulator of the tests on the same procedure, in turn with the dry run: it walks one path in
one concrete state, and where there are not too many, every path. The ratio to one path counts, not the seconds: with n
choices there are 2 ** n paths, and the dry run speaks of all of them.
"""

import argparse
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import cycle, islice
from pathlib import Path
from random import Random
from time import perf_counter

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from benchmark.measuring import aligned, in_turn, machine
from random_plants import HEAD, NAME, Case, Item, facts

from tankside.compute.amounts import WorkedBook
from tankside.plant.rehearsal import Rehearsal

HEADINGS = (
    *("answers lead to", "steps", "choices", "states", "per step", "faults"),
    *("dry run", "a state", "one path", "ratio", "ratio to all paths"),
)
KINDS = ("same", "amounts", "joints")
GRID = ((10, 1), (30, 8), (60, 8), (120, 8), (240, 8), (240, 1), (240, 2), (240, 4), (240, 16), (240, 32), (240, 64))
#: more choices than this are not walked path by path
MOST_CHOICES = 8
#: a choice and a step for each answer
STEPS_OF_A_CHOICE = 3

MIXED = "mixed"
ENDS = ("N1", "N2", "N3", "N4")
PLANT: dict[str, Item] = {
    "S1": {"kind": "supply", "name": "Water", "holds": ["alpha"], "connects": ["M1"]},
    "M1": {"kind": "measure", "name": "Meter", "connects": ["V1"]},
    "V1": {"kind": "valve", "name": "Inlet", "connects": ["T1"]},
    "T1": {"kind": "tank", "name": "First tank", "capacity": "1000 L", "heel": "1 L", "holds": [MIXED, "alpha"]},
    "V2": {"kind": "valve", "name": "Outlet", "connects": ["T1"]},
    "P1": {"kind": "pump", "name": "Pump", "connects": ["V2", "L1"]},
    "L1": {"kind": "line", "name": "Line", "runs": [{"bore": "25 mm", "length": "4 m"}], "connects": ["V3"]},
    "V3": {"kind": "valve", "name": "Inlet", "connects": ["T2"]},
    "T2": {"kind": "tank", "name": "Second tank", "capacity": "1000 L", "heel": "1 L", "holds": [MIXED, "alpha"]},
    "V4": {"kind": "valve", "name": "Outlet", "connects": ["T2"]},
    "P2": {"kind": "pump", "name": "Pump", "connects": ["V4", "L2"]},
    "L2": {"kind": "line", "name": "Line", "runs": [{"bore": "25 mm", "length": "4 m"}], "connects": ["V5"]},
    "V5": {"kind": "valve", "name": "Inlet", "connects": ["T1"]},
    "V6": {"kind": "valve", "name": "Tap", "connects": ["T2", *ENDS]},
    "B1": {"kind": "pail", "name": "Pail", "capacity": "20 L"},
    "D1": {"kind": "drum", "name": "Drum", "capacity": "200 L"},
    **{tag: {"kind": "nozzle", "name": "Nozzle", "joins": ["B1"]} for tag in ENDS},
}
MEANS = ["T1 at least 300 L", "T1 at most 300 L", "T2 at least 300 L", "T2 at most 300 L"]
STOP = ["P1 and P2 stopped", "V1, V2, V3, V4, V5 and V6 shut"]


def drawn() -> list[Item]:
    """Return the steps that draw water."""
    return [{"open": "V1"}, {"move": "alpha", "path": ["S1", "M1", "V1", "T1"], "amount": "1 L"}, {"shut": "V1"}]


def pumped(source: str, outlet: str, pump: str, line: str, inlet: str, target: str) -> list[Item]:
    """Return the steps that pump something over."""
    moved = {"move": MIXED, "path": [source, outlet, pump, line, inlet, target], "amount": "5 L"}
    before: list[Item] = [{"open": inlet}, {"open": outlet}, {"start": pump}]
    return [*before, moved, {"stop": pump}, {"shut": outlet}, {"shut": inlet}]


def work(count: int) -> list[Item]:
    """Return so many steps of work, each piece of it whole; what is left over is written down."""
    there = pumped("T1", "V2", "P1", "L1", "V3", "T2")
    back = pumped("T2", "V4", "P2", "L2", "V5", "T1")
    written: list[Item] = []
    for piece in cycle((drawn(), there, [{"record": "The time"}], back)):
        if len(written) + len(piece) > count:
            return [*written, *([{"record": "The time"}] * (count - len(written)))]
        written += piece
    raise AssertionError("work never ends")


def answers(kind: str, number: int) -> tuple[Item, Item]:
    """Return the step of each of two answers."""
    if kind == "amounts":
        return {"add": "alpha", "to": "T2", "amount": "1 L"}, {"add": "alpha", "to": "T2", "amount": "2 L"}
    if kind == "joints":
        end = ENDS[number % len(ENDS)]
        return {"do": "Off", "leaves": [f"{end} joined to nothing"]}, {"do": "Over", "leaves": [f"{end} joined to B1"]}
    return {"record": "One"}, {"record": "Other"}


def procedure(kind: str, steps: int, choices: int) -> list[Item]:
    """Return the steps, those within answers counted too; the choices stand evenly among the work."""
    plain = work(steps - STEPS_OF_A_CHOICE * choices)
    written: list[Item] = []
    for number in range(choices):
        written += plain[len(plain) * number // choices : len(plain) * (number + 1) // choices]
        both = [{"if": name, "steps": [step]} for name, step in zip(("yes", "no"), answers(kind, number), strict=True)]
        written.append({"choose": "Which one", "branches": both})
    return _named(written)


def _named(steps: Sequence[Item]) -> list[Item]:
    count = iter(range(10**6))

    def named(step: Item) -> Item:
        branches = [{**each, "steps": [named(inner) for inner in each["steps"]]} for each in step.get("branches", ())]
        return {**step, "step": f"s{next(count)}", **({"branches": branches} if branches else {})}

    return [named(step) for step in steps]


def case(kind: str, steps: int, choices: int) -> Case:
    """Return the book with the procedure."""
    says = {"steps": procedure(kind, steps, choices), "stop_leaves": STOP, "prerequisites": ["ready"]}
    return Case(facts(PLANT, MEANS), HEAD | says)


@dataclass(frozen=True)
class Row:
    """What was measured of one procedure."""

    kind: str
    steps: int
    choices: int
    visited: int
    #: what is said to be wrong; nothing is, but amounts that are widened may be anything
    faults: int
    #: median seconds of the dry run and of one path walked
    ours: float
    one_path: float
    #: seconds of every path walked, None when there are too many
    every_path: float | None

    def as_cells(self) -> tuple[str, ...]:
        """Return the row as it is printed."""
        every = "-" if self.every_path is None else f"{self.ours / self.every_path:.3f}"
        return (
            self.kind,
            str(self.steps),
            str(self.choices),
            str(self.visited),
            f"{self.visited / self.steps:.1f}",
            str(self.faults),
            f"{self.ours * 1000:.1f} ms",
            f"{self.ours / self.visited * 1e6:.0f} us",
            f"{self.one_path * 1000:.1f} ms",
            f"{self.ours / self.one_path:.2f}",
            every,
        )


def measured(kind: str, steps: int, choices: int, seconds: float) -> Row:
    """Measure the dry run of one procedure and the walks in turn."""
    written = case(kind, steps, choices)
    book = written.book()
    run = Rehearsal(WorkedBook(book)).of(NAME)

    def walk(most: int | None) -> None:
        for _ in islice(written.naive(Random(1)).paths(), most):
            pass

    ours, one_path, _ = in_turn(timed(lambda: Rehearsal(WorkedBook(book)).of(NAME)), timed(lambda: walk(1)), seconds)
    every_path = timed(lambda: walk(None))() if choices <= MOST_CHOICES else None
    return Row(kind, steps, choices, run.visited, len(run.findings), ours, one_path, every_path)


def timed(done: Callable[[], object]) -> Callable[[], float]:
    """Return what does something and returns the seconds it took."""

    def once() -> float:
        started = perf_counter()
        done()
        return perf_counter() - started

    return once


def main(arguments: Sequence[str] | None = None) -> None:
    """Measure, and print what was found."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--most-steps", type=int, default=240, help="leave out longer procedures")
    parser.add_argument("--seconds", type=float, default=2, help="how long rounds are repeated; at least two are made")
    asked = parser.parse_args(arguments)
    rows = []
    for kind in KINDS:
        for steps, choices in GRID:
            if steps <= asked.most_steps:
                print(f"{kind}: {steps} steps, {choices} choices ...", file=sys.stderr, flush=True)
                rows.append(measured(kind, steps, choices, asked.seconds).as_cells())
    about = ", ".join(f"{name} {value}" for name, value in machine().items())
    print("\n".join((about, "", *aligned((HEADINGS, *rows)))))


if __name__ == "__main__":
    main()
