"""Random plants, states and effects, and what Python and the page fold them into: each state on the way, as JSON."""

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from random import Random

from playwright.sync_api import Page

from tankside.plant.effects import FIELDS, Effect, Energy, Flows, Joins, Names, Sees, Wears, sets
from tankside.plant.fold import Held, Rules, folded
from tankside.plant.portable import portable_effect, portable_rules, portable_state
from tankside.plant.pressure import PressureRule, Way, settled
from tankside.plant.state import Piece, State
from tankside.plant.volumes import FAR, Contents, Interval, contents

VESSELS = ("tank", "pail", "drum", "bottles")
LINES = ("line", "hose")
#: what liquid only runs through, and what machines there are; one tag is a word that every object of a script knows
OTHERS = ("V1", "V2", "N1", "constructor")
MACHINES = ("P1", "P2")
POINTS = ("switch", "lock")
TAGS = (*VESSELS, *LINES, *OTHERS, *MACHINES, *POINTS, "tap", "drain")
MATERIALS = ("water", "rain", "acid", "product", "valueOf")
SOURCES = ("mains", "head")
WORN = ("apron", "boots", "goggles")
WORDS = {
    "wash": ("unknown", "dirty", "rinsed", "clean"),
    "label": ("unknown", "unlabelled", "in process", "released", "on hold"),
}
#: effects one after the other
LENGTH = 12

FOLD = """(sent) => JSON.stringify(JSON.parse(sent).map(({rules, before, effects}) => {
  let state = before;
  return effects.map((effect) => {
    state = tankside.fold.folded(rules, state, effect);
    return state;
  });
}))"""


@dataclass(frozen=True)
class Course:
    """A plant, how it stands, and what is done."""

    rules: Rules
    before: State
    effects: tuple[Effect, ...]

    def states(self) -> Iterator[State]:
        """Return the state after each effect."""
        state = self.before
        for effect in self.effects:
            state = folded(self.rules, state, effect)
            yield state


def compared_folds(page: Page, courses: Sequence[Course]) -> list[str]:
    """Fold courses here and in the page, which is one of `evaluator_page`; return where they differ."""
    sent = [
        {
            "rules": portable_rules(each.rules),
            "before": portable_state(each.before),
            "effects": list(map(portable_effect, each.effects)),
        }
        for each in courses
    ]
    answers = json.loads(page.evaluate(FOLD, json.dumps(sent)))
    return [
        f"{effect}: python {expected}, page {got}"
        for course, answer in zip(courses, answers, strict=True)
        for effect, expected, got in zip(course.effects, map(portable_state, course.states()), answer, strict=True)
        if expected != got
    ]


def random_courses(count: int, seed: int) -> list[Course]:
    """Return so many courses."""
    chance = Random(seed)
    return [random_course(chance) for _ in range(count)]


def random_course(chance: Random) -> Course:
    """Return a plant whose pressures are settled, and effects."""
    rules = _rules(chance)
    state = State({tag: _piece(chance, tag, rules) for tag in TAGS}, frozenset(_some(chance, WORN)))
    return Course(rules, settled(rules.pressure, state), tuple(_effect(chance) for _ in range(LENGTH)))


def _rules(chance: Random) -> Rules:
    held = {tag: Held(_volume(chance, 100) + 1, _volume(chance, 3)) for tag in (*VESSELS, *LINES)}
    return Rules(
        held={**held, "bottles": Held(None, Fraction(0))},
        lines=frozenset(LINES),
        supplies=frozenset({"tap"}),
        waters=frozenset(_some(chance, ("water", "rain"))),
        isolated_at={point: _isolated(chance) for point in POINTS},
        pressure=tuple(PressureRule(line, _ways(chance), _ways(chance)) for line in LINES),
    )


def _isolated(chance: Random) -> tuple[tuple[str, str], ...]:
    return tuple((machine, name) for machine in MACHINES for name in _some(chance, SOURCES))


def _ways(chance: Random) -> tuple[Way, ...]:
    return tuple(
        Way(
            chance.choice((None, *MACHINES)),
            tuple(_some(chance, ("V1", "V2"))),
            tuple((loose, chance.choice(VESSELS)) for loose in _some(chance, ("hose", "N1"))),
        )
        for _ in range(chance.randrange(3))
    )


def _piece(chance: Random, tag: str, rules: Rules) -> Piece:
    held = rules.held.get(tag)
    return Piece(
        is_open=chance.random() < 0.5,
        is_running=chance.random() < 0.5,
        is_locked=chance.random() < 0.5,
        is_under_pressure=chance.random() < 0.5,
        joined_to=chance.choice((None, *VESSELS)),
        contents=None if held is None or held.capacity is None else _contents(chance, held.capacity),
        traces=frozenset(_some(chance, MATERIALS)),
        wash=chance.choice(WORDS["wash"]),
        label=chance.choice(WORDS["label"]),
        dissipated=frozenset(_some(chance, SOURCES)),
        verified=frozenset(_some(chance, SOURCES)),
    )


def _contents(chance: Random, capacity: Fraction) -> Contents:
    whole = _interval(chance, capacity)
    return contents(whole, {name: _interval(chance, whole.high) for name in _some(chance, MATERIALS)})


def _interval(chance: Random, most: Fraction) -> Interval:
    """Return an interval in which nothing is above `most`; often a point, sometimes nothing at all."""
    low, high = sorted(min(_volume(chance, 100), most) for _ in range(2))
    return chance.choice((Interval(low, high), Interval(high, high), Interval(Fraction(0), high), Interval(low, low)))


def _volume(chance: Random, most: int) -> Fraction:
    return Fraction(chance.randint(0, most * 60), chance.choice((60, 60, 61, 1000)))


def _some(chance: Random, names: tuple[str, ...]) -> list[str]:
    return chance.sample(names, chance.randrange(len(names) + 1))


def _effect(chance: Random) -> Effect:
    kinds = ("sets", "sets", "joins", "energy", "wears", "names", "sees", "flows", "flows", "flows", "flows")
    kind = chance.choice(kinds)
    match kind:
        case "sets":
            field = chance.choice(FIELDS)
            return sets(chance.choice(TAGS), field, chance.choice(WORDS.get(field, (False, True))))
        case "joins":
            return Joins("joins", chance.choice(("hose", "N1", "P2")), chance.choice((None, *VESSELS)))
        case "energy":
            stage = chance.choice(("dissipated", "verified"))
            return Energy("energy", chance.choice(MACHINES), chance.choice(SOURCES), stage)
        case "wears":
            return Wears("wears", tuple(_some(chance, WORN)), chance.random() < 0.5)
        case "sees":
            return Sees("sees", chance.choice((*VESSELS, *LINES, "V1")), _interval(chance, Fraction(100)))
        case "names":
            return Names("names", chance.choice((*VESSELS, *LINES, "V1")), chance.choice(MATERIALS))
    amount = chance.choice((None, _interval(chance, Fraction(100)), Interval(Fraction(0), FAR)))
    source = chance.choice((None, "tap", "tank", "pail", "drum", "bottles", "line"))
    target = chance.choice((*VESSELS, "hose", "drain", "constructor"))
    through = tuple(_some(chance, tuple(tag for tag in (*LINES, *OTHERS) if tag not in (source, target))))
    return Flows("flows", source, chance.choice(MATERIALS), through, target, amount)
