"""A sound book of any size: the demo book, and beside its procedures any number of generated ones.

Their words mean nothing together; their shape, length, variety and links are those of a real book, and so is what they
do to the plant: the dry run has to follow them through valves, pumps, pails and locks. The same seed and number make
the same procedure in every book, so that a larger book begins with all of the smaller one.
"""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from random import Random
from typing import Any

from benchmark.writing import Author, Item, block
from demo_book import copy_book

READINGS = (
    ("conductivity-meter", "milk-line-cleaner.conductivity"),
    ("conductivity-meter", "rinse-water.conductivity"),
    ("chlorine-kit", "milk-line-cleaner.available-chlorine"),
    ("T1", "milk-line-cleaner.after-alkali"),
    ("hand-thermometer", "tap-water.eyewash-temperature"),
)
#: what any procedure may ask for; where it handles something, it asks for more
CONDITIONS = ("eyewash-clear", "spill-kit-complete", "waste-drum-has-room", "waste-pail-empty")
ALWAYS = ("exhaust-proved", "dressed")
TO_PAIL = ("tank-250", "V2", "P1", "cleaner-line", "V3", "N1", "waste-pail-20-l")
TO_TANK = ("softened-water-supply", "meter-1", "V1", "spray-ball", "tank-250")
#: of an addition of water
SUPPLIED = {"from": "softened-water-supply", "to": "tank-250"}
TO_DRUM = ("waste-pail-20-l", "waste-drum-alkaline")
#: how the cleaner side stands while nobody works at it: what a look finds, and what a safe stop leaves
AT_REST = ["P1 and M1 stopped", "V1, V2 and V3 shut", "hatch-250 shut"]
#: sources of energy of M1, as the demo book names them
ENERGY = "M1.mains, M1.drive-charge, M1.run-down, M1.liquid and M1.head-weight"
#: how often a look finds something of the plant, and does not only read a card or a label
FINDS = 0.5


@dataclass(frozen=True)
class Family:
    """What the procedures of a family are like."""

    #: where a reader looks for it
    situation: str
    #: what such a procedure is made of between its first and last sections
    parts: tuple[Callable[[Author], list[Item]], ...]
    #: conditions it asks for, beside those that any may ask for
    asks: tuple[str, ...] = ()
    #: claims that its first look finds
    finds: tuple[str, ...] = ()


def generate(folder: Path, count: int, seed: int = 1) -> Path:
    """Write a book into a new folder: the demo book and `count` generated procedures; return the folder."""
    copy_book(folder)
    for number in range(1, count + 1):
        written = procedure(number, seed)
        path = folder / "procedures" / written["family"] / f"{written['procedure']}.yaml"
        path.parent.mkdir(exist_ok=True)
        path.write_text("\n".join(block(written)) + "\n", encoding="utf-8", newline="\n")
    return folder


def procedure(number: int, seed: int) -> dict[str, Any]:
    """Return a procedure as its file says it."""
    draw = Random(f"{seed}/{number}")
    name = draw.choice(tuple(FAMILIES))
    by = Author(name, draw, Random(f"{seed}/{name}"))
    family = FAMILIES[name]
    title = by.say("title")
    steps = look(by, family.finds) + [item for part in (*family.parts, finish, not_ready) for item in part(by)]
    dates = sorted(by.date(2025) for _ in range(draw.randint(1, 4)))
    return {
        "procedure": f"{'-'.join(title.lower().split()[:3])}-{number}",
        "title": f"{title}, no. {number}",
        "family": name,
        "situation": family.situation,
        "revision": len(dates),
        "effective": by.date(2026),
        "review": by.date(2027),
        "approved": "workshop-lead",
        "purpose": by.say("purpose"),
        "scope": by.say("scope"),
        "done_by": draw.choice(("line-operator", "workshop-lead")),
        "second_person": "in the room",
        "wear": ("boots", "apron", "splash-goggles", "face-shield", "alkali-gloves"),
        "prerequisites": (*ALWAYS, *sorted({*family.asks, *draw.sample(CONDITIONS, 2)})),
        "stop_safely": by.say("stop"),
        "stop_leaves": AT_REST,
        **({"inputs": by.inputs} if by.inputs else {}),
        **({"amounts": by.amounts} if by.amounts else {}),
        "steps": steps,
        "if_it_goes_wrong": [
            *({"sign": each, "do": by.say("remedy")} for each in by.several("sign", 2, 4)),
            {"sign": "Liquid on your skin, or in your eyes", "do": "Water at once.", "go_to": "splash"},
        ],
        "waste": {"into": "waste-drum-alkaline", "note": by.say("waste")},
        "sources": by.several("source", 1, 3),
        "history": [{"revision": at, "date": date, "change": by.say("change")} for at, date in enumerate(dates, 1)],
    }


def look(by: Author, finds: tuple[str, ...]) -> list[Item]:
    checks = [by.step("check", each, if_not="not-ready") for each in by.several("check", max(2, len(finds)), 4)]
    for check, claim in zip(checks, finds, strict=False):
        check["finds"] = [claim]
    for check in checks[len(finds) :]:
        if by.draw.random() < FINDS:
            check["finds"] = [by.draw.choice(AT_REST)]
    return [by.section(), *checks]


def work_by_hand(by: Author) -> list[Item]:
    steps = [by.step("do", each) for each in by.several("do", 3, 5)]
    if by.draw.random() < 0.2:
        steps[0] |= {"picture": "glove-take-off.svg", "picture_says": by.say("note")}
    kind = by.draw.choice(("danger", "warning", "caution", "notice"))
    return [by.section(), by.caution(kind, steps[:2]), *steps]


def rinse(by: Author) -> list[Item]:
    return [by.section(), *water_in(by, by.draw.randint(5, 40))]


def water_in(by: Author, litres: int) -> list[Item]:
    moved = by.step("move", "softened-water", path=TO_TANK, amount=f"{litres} L")
    return [by.step("open", "V1", how=by.say("how")), moved, by.step("shut", "V1")]


def run_off(by: Author) -> list[Item]:
    return run("milk-line-cleaner", by)


def run_wash_off(by: Author) -> list[Item]:
    return run("wash-solution", by)


def run(material: str, by: Author) -> list[Item]:
    remaining = f"{by.draw.randint(20, 200) / 10} %"
    pail = {"measure_in": "waste-pail-20-l", "tolerance": "0.5 L", "collect_in": "waste-pail-20-l"}
    most = by.amount("flush-volume", {"volume": "cleaner-line.hold-up", "remaining": remaining}, **pail)
    under = by.step("do", leaves=["N1 joined to waste-pail-20-l"])
    opened = [by.step("open", "V3", how=by.say("how")), by.step("open", "V2"), by.step("start", "P1")]
    moved = by.step("move", material, path=TO_PAIL, until=f"{most} is in the pail")
    shut = [by.step("stop", "P1"), by.step("shut", "V2"), by.step("shut", "V3")]
    return [by.section(), under, by.caution("warning", [*opened, moved]), *opened, moved, *shut]


def empty_pail(by: Author) -> list[Item]:
    away = by.step("do", exposes=("milk-line-cleaner",), leaves=["N1 joined to nothing"])
    poured = by.step("move", "waste-alkaline-bleach", path=TO_DRUM, how=by.say("how"), leaves=["waste-pail-20-l empty"])
    noted = by.step("record", where=by.say("where"))
    return [by.section(), by.caution("warning", [away, poured]), away, poured, noted]


def make_wash(by: Author) -> list[Item]:
    share, make = by.draw.randint(10, 30) / 10, by.draw.choice((25, 28, 30))
    given = {"stock": "100 %v/v", "target": f"{share} %v/v", "make": f"{make} L"}
    water = by.amount("dilute", given, result="water_volume", measure_in="meter-1", tolerance="1 L")
    cleaner = by.amount("dilute", given, result="stock_volume", measure_in="jug-1-l", tolerance="0.05 L")
    filled = by.step("add", "softened-water", **SUPPLIED, amount=water, how=by.say("how"))
    poured = by.step("add", "milk-line-cleaner", to="tank-250", **{"with": "jug-1-l"}, amount=cleaner)
    valve = [by.step("open", "V1"), filled, by.step("shut", "V1")]
    hatch = [by.step("open", "hatch-250"), poured | {"second_person": "yes"}, by.step("shut", "hatch-250")]
    return [by.section(), *valve, by.caution("warning", hatch), *hatch]


def make_batch(by: Author) -> list[Item]:
    low, usual, high = (f"{size} L" for size in sorted(by.draw.sample(range(100, 201, 5), 3)))
    by.inputs["batch"] = {"asks": "How much is made?", "from": low, "to": high, "usual": usual, "table": (low, high)}
    given = {"product": "milk-line-cleaner", "make": "batch"}
    metered = {"result": "softened-water.volume", "measure_in": "meter-1", "tolerance": "4 L"}
    weighed = {"result": "scale-inhibitor.mass", "measure_in": "bench-scale", "tolerance": "0.02 kg"}
    label = by.step("do", leaves=["tank-250 in process"])
    filled = by.step("add", "softened-water", **SUPPLIED, amount=by.amount("scale-recipe", given, **metered))
    inhibitor = {"to": "tank-250", "with": "jug-5-l", "amount": by.amount("scale-recipe", given, **weighed)}
    hatch = [by.step("open", "hatch-250"), by.step("add", "scale-inhibitor", **inhibitor), by.step("shut", "hatch-250")]
    water = [by.section(), label, by.step("open", "V1"), filled, by.step("shut", "V1")]
    started = by.step("start", "M1")
    mixed = [by.caution("notice", [started]), started, wait(by), by.step("stop", "M1")]
    return [*water, by.section(), by.step("do"), *hatch, *mixed]


def wait(by: Author) -> Item:
    return by.step("wait", f"{by.draw.randint(1, 45)} min", **{"for": by.say("for")}, if_late=by.say("late"))


def prove(by: Author) -> list[Item]:
    instrument, limits = by.draw.choice(READINGS)
    read = by.step("measure", by.say("record"), instrument=instrument, limits=limits, if_outside="not-ready")
    if limits.startswith("milk-line-cleaner."):
        read["exposes"] = ("milk-line-cleaner",)
    noted = by.step("record", where=by.say("where"))
    return [by.section(), {"note": by.say("note")}, read, noted, by.step("hold", released_by="second-person")]


def go_round(by: Author) -> list[Item]:
    return around(by, [wait(by), by.step("do"), by.step("record", where=by.say("where"))])


def rinse_round(by: Author) -> list[Item]:
    return around(by, [by.step("do"), *water_in(by, by.draw.randint(2, 8))])


def around(by: Author, inner: list[Item]) -> list[Item]:
    times = by.draw.randint(2, 6)
    return [by.section(), by.step("repeat", until=by.say("until"), at_most=times, if_not="not-ready", steps=inner)]


def decide(by: Author) -> list[Item]:
    level = by.draw.choice(("at most", "at least"))
    here = {"if": by.say("answer"), "finds": [f"tank-250 {level} 100 L"], "steps": [by.step("do"), by.step("do")]}
    return [by.section(), by.step("choose", branches=[here, {"if": "Anything else", "go_to": "not-ready"}])]


def lock(by: Author) -> list[Item]:
    off = [by.step("stop", "M1"), by.step("shut", "V1")]
    locked = [by.step("lock", "M1-plug", how=by.say("how")), by.step("lock", "V1-lock")]
    gone = [by.step("do", leaves=[f"{ENERGY} dissipated"]), by.step("do", leaves=[f"{ENERGY} verified"])]
    tried = by.step("check", finds=[f"{ENERGY} verified"], if_not="not-ready", second_person="yes")
    held = by.step("hold", finds=["M1-plug and V1-lock locked"], released_by="second-person")
    return [by.section(), *off, *locked, by.section(), *gone, tried, held]


def hands_in(by: Author) -> list[Item]:
    worked = by.step("do", works_on=("M1",))
    return [
        by.section(),
        by.caution("danger", [worked]),
        worked,
        *(by.step("do") for _ in range(by.draw.randint(1, 4))),
    ]


def unlock(by: Author) -> list[Item]:
    told = by.step("notify", "second-person", about=by.say("about"))
    return [by.section(), by.step("unlock", "V1-lock"), by.step("unlock", "M1-plug"), told]


def finish(by: Author) -> list[Item]:
    return [by.section(), by.step("do"), by.step("record", where=by.say("where"))]


def not_ready(by: Author) -> list[Item]:
    heading = {"section": "not-ready", "title": "Not ready", "entered": "when sent here"}
    told = by.step("notify", "workshop-lead", about=by.say("about"))
    # Where P1 ran against a shut valve, pressure is left; a hold may name the line that has it.
    held = by.step("hold", f"{by.say('hold')[:-1]}, and no joint of cleaner-line is open.", released_by="workshop-lead")
    return [heading, by.step("do", leaves=AT_REST), told, held]


FAMILIES: dict[str, Family] = {
    "batch": Family("making", (make_batch, prove), asks=("tank-clean",)),
    "filling": Family(
        "filling",
        (run_off, empty_pail, prove, work_by_hand),
        asks=("tank-lot-released", "waste-drum-has-room"),
        finds=("tank-250 at least 40 L", "waste-pail-20-l empty"),
    ),
    "cleaning": Family(
        "after",
        (make_wash, run_wash_off, empty_pail),
        asks=("tank-clean", "waste-pail-empty", "waste-drum-has-room"),
    ),
    "rinsing": Family("after", (rinse, work_by_hand, rinse_round, prove), finds=("tank-250 at most 150 L",)),
    "lockout": Family("machine-stopped", (lock, hands_in, unlock), finds=("tank-250 empty",)),
    "upkeep": Family("before", (work_by_hand, decide, work_by_hand)),
    "testing": Family("checking", (work_by_hand, prove, go_round, prove)),
    "storage": Family("learning", (decide, work_by_hand, go_round)),
}
