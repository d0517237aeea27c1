"""The dry run against a naive simulator that shares no code with it, on random plants and procedures.

The simulator knows one concrete state and walks every path by itself. Whatever it comes to, the dry run must have
seen; whatever it finds wrong, the dry run must say.
"""

from collections.abc import Iterable, Sequence
from fractions import Fraction
from itertools import islice
from random import Random
from unittest.mock import patch

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from naive_paths import Path
from naive_plant import PIPES, NaivePlant, World
from random_mistakes import with_mistakes
from random_plants import HEAD, NAME, Case, Item, facts
from random_procedures import drawn

from tankside.catalogue import load
from tankside.plant import gathering
from tankside.plant.running import Run
from tankside.plant.state import State

#: more paths than this are not walked one by one
MOST_PATHS = 100
ZERO = Fraction(0)
#: what is known of a part is rounded outward to this [L]
GRAIN = Fraction(1, 10**6)
seeds = st.integers(0, 2**32 - 1)


def paths_of(case: Case, chance: Random, starts: int) -> list[Path]:
    found = [path for _ in range(starts) for path in islice(case.naive(chance).paths(), MOST_PATHS + 1)]
    assume(len(found) <= MOST_PATHS)
    return found


def differs(plant: NaivePlant, state: State, world: World) -> str:
    """Return where a world is not one of those that a state stands for; empty when it is one."""
    for tag in plant.pieces:
        piece = state[tag]
        if piece.is_open != (tag in world.open) or piece.is_running != (tag in world.running):
            return f"{tag} turned"
        if plant.kind(tag) in PIPES and piece.is_under_pressure != (tag in world.pressed):
            return f"{tag} pressure"
        if piece.joined_to != world.joined.get(tag):
            return f"{tag} joined"
        if not world.walls[tag] <= piece.traces | set(piece.contents.materials if piece.contents else ()):
            return f"{tag} walls {world.walls[tag]} {piece.traces}"
        if tag in world.inside:
            held = piece.contents
            if held is None or not held.volume.low <= world.volume(tag) <= held.volume.high:
                return f"{tag} volume {float(world.volume(tag))} {held}"
            for material, part in world.inside[tag].items():
                found = held.amount(material)
                if not found.low <= part <= found.high:
                    return f"{tag} {material} {float(part)} {held}"
    return ""


def uncovered(case: Case, run: Run, paths: Iterable[Path]) -> list[str]:
    """Return the steps after which a path is where the run has not been."""
    plant, found = case.plant(), []
    for path in paths:
        for taken in path.steps:
            found += _missed(plant, taken.step, run.after.get(taken.step, {}), taken.after)
        if path.is_whole and path.steps:
            found += _missed(plant, "the end", run.ends, path.steps[-1].after)
    return found


def _missed(plant: NaivePlant, step: str, states: Iterable[State], world: World) -> list[str]:
    why = [differs(plant, state, world) for state in states]
    return [] if "" in why else [f"{step}: {why or 'never'}"]


def refuted(run: Run) -> set[tuple[str, str]]:
    return {(finding.step, finding.fault.code) for finding in run.findings}


def unsaid(run: Run, paths: Iterable[Path]) -> set[tuple[str, str]]:
    """Return what went wrong on a path and is not a finding of the run; what is wrong at the end has no one step."""
    said = refuted(run)
    # A receiver that may run over is not said to be too full as well.
    said |= {(step, "receiver-too-full") for step, code in said if code == "overflow"}
    somewhere = {code for _, code in said}
    return {
        (path.wrong_at, code)
        for path in paths
        for code in path.codes
        if ((path.wrong_at, code) not in said if path.wrong_at and code != "stop-unsafe" else code not in somewhere)
    }


def volumes(tags: Sequence[str], state: State) -> tuple[Fraction, ...]:
    """Return the volume in each piece, which must be known to the last digit."""
    found = []
    for tag in tags:
        held = state[tag].contents
        assert held is not None
        assert held.volume.low == held.volume.high, f"{tag} {held.volume}"
        found.append(held.volume.low)
    return tuple(found)


@given(seeds)
def test_every_state_that_a_path_comes_to_is_covered(seed: int) -> None:
    chance = Random(seed)
    case = drawn(chance, is_exact=False)
    if chance.random() < 0.5:
        case = with_mistakes(chance, case)
    paths = paths_of(case, chance, starts=3)
    assert uncovered(case, case.rehearsal().of(NAME), paths) == []


@given(seeds)
def test_no_state_is_lost_where_many_are_taken_together(seed: int) -> None:
    chance = Random(seed)
    case = drawn(chance, is_exact=chance.random() < 0.3, is_branched=True)
    paths = paths_of(case, chance, starts=2)
    with (
        patch.object(gathering, "APART", chance.choice((1, 2))),
        patch.object(gathering, "GROWTHS", chance.choice((0, 1, 2))),
    ):
        run = case.rehearsal().of(NAME)
    assert uncovered(case, run, paths) == []


@given(seeds)
def test_exact_volumes_are_the_same_after_each_step(seed: int) -> None:
    chance = Random(seed)
    case = drawn(chance, is_exact=True, is_branched=chance.random() < 0.3)
    paths = paths_of(case, chance, starts=1)
    assume(not any(path.codes for path in paths))
    with patch.object(gathering, "APART", MOST_PATHS):
        run = case.rehearsal().of(NAME)
    tags = sorted(case.plant().capacity)
    by_step: dict[str, set[tuple[Fraction, ...]]] = {}
    for path in paths:
        for taken in path.steps:
            by_step.setdefault(taken.step, set()).add(tuple(map(taken.after.volume, tags)))
    assert {step: {volumes(tags, state) for state in states} for step, states in run.after.items()} == by_step


@given(seeds)
def test_volume_is_conserved_to_the_last_digit(seed: int) -> None:
    chance = Random(seed)
    is_closed = chance.random() < 0.5
    case = drawn(chance, is_exact=True, is_closed=is_closed)
    paths = paths_of(case, chance, starts=1)
    assume(not any(path.codes for path in paths))
    with patch.object(gathering, "APART", MOST_PATHS):
        run = case.rehearsal().of(NAME)
    tags, start = sorted(case.plant().capacity), case.naive(chance).start().whole()
    there = {step: {sum(volumes(tags, state)) for state in states} for step, states in run.after.items()}
    known: dict[str, set[Fraction]] = {}
    for path in paths:
        for taken in path.steps:
            known.setdefault(taken.step, set()).add(start + taken.after.came - taken.after.went)
    assert there == known
    assert not is_closed or {whole for found in there.values() for whole in found} <= {start}


@given(seeds)
def test_what_is_known_of_a_mixture_agrees_with_its_volume(seed: int) -> None:
    chance = Random(seed)
    run = drawn(chance, is_exact=False, is_branched=True).rehearsal().of(NAME)
    for states in run.after.values():
        for state in states:
            for piece in state.pieces.values():
                if piece.contents is not None:
                    low, high = piece.contents.volume
                    parts = [part for _, part in piece.contents.parts]
                    assert ZERO <= low <= high
                    assert all(ZERO <= part.low <= part.high <= high for part in parts)
                    assert sum((part.low for part in parts), ZERO) <= high + len(parts) * GRAIN
                    assert sum((part.high for part in parts), ZERO) >= low


@given(seeds)
def test_what_is_legal_is_not_refuted(seed: int) -> None:
    chance = Random(seed)
    case = drawn(chance, is_exact=chance.random() < 0.5)
    paths = paths_of(case, chance, starts=1)
    assume(not any(path.codes for path in paths))
    assert refuted(case.rehearsal().of(NAME)) == set()


@given(seeds)
def test_what_goes_wrong_on_a_path_is_found(seed: int) -> None:
    chance = Random(seed)
    case = with_mistakes(chance, drawn(chance, is_exact=False))
    # Where much may be so, what is looked at and is not so ends the path: the dry run goes on with the rest.
    paths = [path for path in paths_of(case, chance, starts=3) if path.codes != {"not-as-believed"}]
    assert unsaid(case.rehearsal().of(NAME), paths) == set()


@given(seeds)
def test_where_all_is_exact_as_much_is_found_as_goes_wrong(seed: int) -> None:
    chance = Random(seed)
    case = with_mistakes(chance, drawn(chance, is_exact=True), is_sure=True)
    paths = paths_of(case, chance, starts=1)
    run = case.rehearsal().of(NAME)
    assert unsaid(run, paths) == set()
    looked_at, was_so = (
        frozenset().union(*(getattr(path, name) for path in paths)) for name in ("looked_at", "was_so")
    )
    assert {(step, "not-as-believed") for step in looked_at - was_so} <= refuted(run)
    if looked_at == was_so and not any(path.codes for path in paths):
        assert refuted(run) == set()
    if len(paths) == 1:
        before = {taken.step for taken in paths[0].steps}
        assert {step for step, _ in refuted(run)} & (before - {paths[0].wrong_at}) == set() or not paths[0].wrong_at


@given(seeds)
def test_random_books_are_sound_but_for_what_nobody_uses(seed: int) -> None:
    problems = load(drawn(Random(seed), is_exact=False)).problems
    assert {problem.code for problem in problems} <= {"name-unused", "section-long"}


#: T1 -> V1 -> L2 -> P1 -> L1 -> V2 -> T3, L1 empty; P1 may also draw from T2 through V3 and press into T4 through V4;
#: T1 -> V7 -> L3 -> T3 without a pump; T1 and T4 have taps on one nozzle
PIECES: dict[str, Item] = {
    "T1": {"kind": "tank", "name": "First", "capacity": "50 L", "holds": ["mixed"], "connects": ["V1", "V5", "V7"]},
    "T2": {"kind": "tank", "name": "Second", "capacity": "50 L", "holds": ["mixed"]},
    "V1": {"kind": "valve", "name": "Outlet", "connects": ["L2"]},
    "V3": {"kind": "valve", "name": "Outlet", "connects": ["T2", "L2"]},
    "L2": {"kind": "line", "name": "Suction"},
    "P1": {"kind": "pump", "name": "Pump", "connects": ["L2", "L1", "V4"]},
    "L1": {"kind": "line", "name": "Line", "runs": [{"bore": "20 mm", "length": "10 m"}], "connects": ["V2"]},
    "V2": {"kind": "valve", "name": "Inlet", "connects": ["T3"]},
    "V4": {"kind": "valve", "name": "Inlet", "connects": ["T4"]},
    "T3": {"kind": "tank", "name": "Third", "capacity": "50 L"},
    "T4": {"kind": "tank", "name": "Fourth", "capacity": "50 L"},
    "V5": {"kind": "valve", "name": "Tap", "connects": ["N1"]},
    "V6": {"kind": "valve", "name": "Tap", "connects": ["T4", "N1"]},
    "V7": {"kind": "valve", "name": "Drop", "connects": ["L3"]},
    "L3": {"kind": "line", "name": "Line", "runs": [{"bore": "20 mm", "length": "10 m"}], "connects": ["T3"]},
    "N1": {"kind": "nozzle", "name": "Nozzle", "joins": ["D1"]},
    "D1": {"kind": "drum", "name": "Drum", "capacity": "60 L"},
}
WAY = ["T1", "V1", "L2", "P1", "L1", "V2", "T3"]
SOURCE = ["T1 at least 20 L", "T1 at most 20 L"]
OPENED: list[Item] = [{"open": "V2"}, {"open": "V1"}, {"start": "P1"}]
CLOSED: list[Item] = [{"stop": "P1"}, {"shut": "V1"}, {"shut": "V2"}]
MISTAKES: dict[str, tuple[list[str], list[Item], str]] = {
    "pump that is stopped after something else is done, its tank empty": (
        SOURCE,
        [*OPENED, {"move": "mixed", "path": WAY, "leaves": ["T1 empty"]}, {"shut": "V1", "step": "here"}, *CLOSED],
        "runs-dry",
    ),
    # 20 mm * 20 mm * pi / 4 * 10 m = 3.14 L fill the line first: 17 L of 20 L cannot arrive
    "line that takes what was to arrive": (
        SOURCE,
        [{"open": "V7"}, {"move": "mixed", "path": ["T1", "V7", "L3", "T3"], "amount": "17 L", "step": "here"}],
        "runs-dry",
    ),
    "pump that is started on a tank that may be empty": (
        ["T1 at most 20 L"],
        [*OPENED[:2], {"start": "P1", "step": "here"}, *CLOSED],
        "runs-dry",
    ),
    "pump that presses into another tank, too": (
        SOURCE,
        [{"open": "V4"}, *OPENED, {"move": "mixed", "path": WAY, "amount": "5 L", "step": "here"}, *CLOSED],
        "path-branches",
    ),
    "pump that draws from another tank, too": (
        SOURCE,
        [{"open": "V3"}, *OPENED, {"move": "mixed", "path": WAY, "amount": "5 L", "step": "here"}, *CLOSED],
        "path-branches",
    ),
    "nozzle on two taps with nothing under it": (
        SOURCE,
        [{"open": "V5", "step": "here"}, {"shut": "V5"}],
        "open-end",
    ),
    "drum that is left joined": (
        SOURCE,
        [{"do": "Join it", "leaves": ["N1 joined to D1"]}, {"record": "x", "step": "here"}],
        "left-joined",
    ),
}


def small(means: Sequence[str], steps: Sequence[Item]) -> Case:
    """Return a procedure on `PIECES`; its steps are named by their numbers where they have no name."""
    named = [
        step if "step" in step or "section" in step else {**step, "step": f"s{at}"} for at, step in enumerate(steps)
    ]
    return Case(facts(PIECES, means), HEAD | {"prerequisites": ["ready"], "steps": named})


@pytest.mark.parametrize("name", MISTAKES)
def test_mistake_is_found_where_it_is_made(name: str) -> None:
    means, steps, code = MISTAKES[name]
    assert ("here", code) in refuted(small(means, steps).rehearsal().of(NAME))


def test_what_is_moved_until_it_is_enough_may_be_nothing() -> None:
    run = small(SOURCE, [*OPENED, {"move": "mixed", "path": WAY, "step": "here"}, *CLOSED]).rehearsal().of(NAME)
    (state,) = run.after["here"]
    # nothing, or all of the 20 L; the line holds 3.14 L
    held = {tag: piece.contents.volume for tag, piece in state.pieces.items() if piece.contents is not None}
    assert held["T1"] == (0, 20)
    assert held["L1"].low == 0
    assert held["T3"].low == 0


def test_loose_end_that_is_found_joined_may_be_joined_to_whatever_it_can() -> None:
    section: Item = {"section": "not-ready", "title": "Not ready", "entered": "when sent here"}
    check: Item = {"check": "It hangs free", "finds": ["N1 joined to nothing"], "if_not": "not-ready"}
    run = small(SOURCE, [check, section, {"record": "x", "step": "here"}]).rehearsal().of(NAME)
    assert {state["N1"].joined_to for state in run.after["here"]} == {"D1"}


TANK_AND_DRAIN: dict[str, Item] = {
    "T1": {"kind": "tank", "name": "Tank", "capacity": "1000 L"},
    "V1": {"kind": "valve", "name": "Valve", "connects": ["T1", "W1"]},
    "W1": {"kind": "drain", "name": "Drain"},
}


def visited(steps: Sequence[Item]) -> int:
    """Return how many states the run of a procedure looks at, from an empty tank on."""
    return Case(facts(TANK_AND_DRAIN, ()), HEAD | {"steps": list(steps)}).rehearsal().of(NAME).visited


def choices(count: int, *answers: Sequence[Item]) -> list[Item]:
    """Return steps in which one of the answers is given, again and again."""
    chosen: list[Item] = []
    for number in range(count):
        branches = [
            {"if": f"Answer {at}", "steps": [step | {"step": f"s{number}-{at}-{i}"} for i, step in enumerate(steps)]}
            for at, steps in enumerate(answers)
        ]
        chosen.append({"choose": "Which one", "step": f"choose-{number}", "branches": branches})
    return [*chosen, {"record": "The time", "step": "last"}]


@pytest.mark.parametrize("count", [1, 10, 60])
def test_branches_that_lead_to_the_same_state_are_looked_at_once(count: int) -> None:
    turned: list[Item] = [{"open": "V1"}, {"shut": "V1"}]
    # each choice, its three steps, and the last step: one state each; not 2 ** count
    assert visited(choices(count, turned, [{"record": "The time"}])) == 4 * count + 1


@pytest.mark.parametrize("count", [10, 20, 40])
def test_branches_that_lead_to_other_amounts_stay_bounded(count: int) -> None:
    poured: list[list[Item]] = [[{"add": "alpha", "to": "T1", "amount": f"{amount} L"}] for amount in (1, 2)]
    most = gathering.APART * (gathering.GROWTHS + 2)
    # after n choices n to 2 n L: n + 1 states, and never more than are kept apart and grow until they are widened
    assert visited(choices(count, *poured)) <= (3 * count + 1) * min(count + 1, most)


def test_checks_that_send_to_one_section_visit_it_once_for_each_way_to_be_wrong() -> None:
    def looked_at(count: int) -> int:
        checks: list[Item] = [
            {"check": "It is shut", "finds": ["V1 shut"], "if_not": "not-ready", "step": f"check-{number}"}
            for number in range(count)
        ]
        section: Item = {"section": "not-ready", "title": "Not ready", "entered": "when sent here"}
        return visited([*checks, section, {"do": "Shut it", "leaves": ["V1 shut"], "step": "shut"}])

    # each check in one state; the section in the one in which V1 is found open
    assert [looked_at(count) for count in (1, 2, 30)] == [2, 3, 31]
