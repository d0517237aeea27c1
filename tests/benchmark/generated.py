"""A sound book of any size: the demo book, and beside its procedures any number of generated ones.

Their words mean nothing together; their shape, length, variety and links are those of a real book. The same seed and
number make the same procedure in every book, so that a larger book begins with all of the smaller one.
"""

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
CONDITIONS = ("exhaust-proved", "eyewash-clear", "spill-kit-complete", "waste-drum-has-room", "waste-pail-empty")
TO_PAIL = ("tank-250", "V2", "P1", "cleaner-line", "V3", "N1", "waste-pail-20-l")
TO_TANK = ("softened-water-supply", "meter-1", "V1", "spray-ball", "tank-250")


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
    family = draw.choice(tuple(FAMILIES))
    by = Author(family, draw, Random(f"{seed}/{family}"))
    situation, *parts = FAMILIES[family]
    title = by.say("title")
    steps = [item for part in (look, *parts, finish, not_ready) for item in part(by)]
    dates = sorted(by.date(2025) for _ in range(draw.randint(1, 4)))
    return {
        "procedure": f"{'-'.join(title.lower().split()[:3])}-{number}",
        "title": f"{title}, no. {number}",
        "family": family,
        "situation": situation,
        "revision": len(dates),
        "effective": by.date(2026),
        "review": by.date(2027),
        "approved": "workshop-lead",
        "purpose": by.say("purpose"),
        "scope": by.say("scope"),
        "done_by": draw.choice(("line-operator", "workshop-lead")),
        "second_person": "in the room",
        "wear": ("boots", "apron", "splash-goggles", "face-shield", "alkali-gloves"),
        "prerequisites": (*sorted(draw.sample(CONDITIONS, 3)), "dressed"),
        "stop_safely": by.say("stop"),
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


def look(by: Author) -> list[Item]:
    return [by.section(), *(by.step("check", each, if_not="not-ready") for each in by.several("check", 2, 4))]


def work_by_hand(by: Author) -> list[Item]:
    steps = [by.step("do", each) for each in by.several("do", 3, 5)]
    if by.draw.random() < 0.2:
        steps[0] |= {"picture": "glove-take-off.svg", "picture_says": by.say("note")}
    kind = by.draw.choice(("danger", "warning", "caution", "notice"))
    return [by.section(), by.caution(kind, steps[:2]), *steps]


def rinse(by: Author) -> list[Item]:
    moved = by.step("move", "softened-water", path=TO_TANK, amount=f"{by.draw.randint(5, 40)} L")
    return [by.section(), by.step("open", "V1", how=by.say("how")), moved, by.step("shut", "V1")]


def run_off(by: Author) -> list[Item]:
    remaining = f"{by.draw.randint(20, 200) / 10} %"
    pail = {"measure_in": "waste-pail-20-l", "tolerance": "0.5 L", "collect_in": "waste-pail-20-l"}
    most = by.amount("flush-volume", {"volume": "cleaner-line.hold-up", "remaining": remaining}, **pail)
    opened = [by.step("open", "V3", how=by.say("how")), by.step("open", "V2"), by.step("start", "P1")]
    moved = by.step("move", "milk-line-cleaner", path=TO_PAIL, until=f"{most} is in the pail")
    shut = [by.step("stop", "P1"), by.step("shut", "V2"), by.step("shut", "V3")]
    return [by.section(), by.caution("warning", [*opened, moved]), *opened, moved, *shut]


def make_wash(by: Author) -> list[Item]:
    share, make = by.draw.randint(10, 30) / 10, by.draw.choice((20, 25, 30))
    given = {"stock": "100 %v/v", "target": f"{share} %v/v", "make": f"{make} L"}
    water = by.amount("dilute", given, result="water_volume", measure_in="meter-1", tolerance="1 L")
    cleaner = by.amount("dilute", given, result="stock_volume", measure_in="jug-1-l", tolerance="0.05 L")
    filled = by.step("add", "softened-water", to="tank-250", amount=water, how=by.say("how"))
    poured = by.step("add", "milk-line-cleaner", to="tank-250", amount=cleaner, second_person="yes")
    valve = [by.step("open", "V1"), filled, by.step("shut", "V1")]
    return [by.section(), *valve, by.caution("warning", [poured]), poured]


def make_batch(by: Author) -> list[Item]:
    low, usual, high = (f"{size} L" for size in sorted(by.draw.sample(range(100, 201, 5), 3)))
    by.inputs["batch"] = {"asks": "How much is made?", "from": low, "to": high, "usual": usual, "table": (low, high)}
    given = {"product": "milk-line-cleaner", "make": "batch"}
    metered = {"result": "softened-water.volume", "measure_in": "meter-1", "tolerance": "4 L"}
    weighed = {"result": "scale-inhibitor.mass", "measure_in": "bench-scale", "tolerance": "0.02 kg"}
    filled = by.step("add", "softened-water", to="tank-250", amount=by.amount("scale-recipe", given, **metered))
    poured = by.step("add", "scale-inhibitor", to="tank-250", amount=by.amount("scale-recipe", given, **weighed))
    started = by.step("start", "M1")
    mixed = [by.caution("notice", [started]), started, wait(by), by.step("stop", "M1")]
    return [by.section(), by.step("open", "V1"), filled, by.step("shut", "V1"), by.step("do"), poured, *mixed]


def wait(by: Author) -> Item:
    return by.step("wait", f"{by.draw.randint(1, 45)} min", **{"for": by.say("for")}, if_late=by.say("late"))


def prove(by: Author) -> list[Item]:
    instrument, limits = by.draw.choice(READINGS)
    read = by.step("measure", by.say("record"), instrument=instrument, limits=limits, if_outside="not-ready")
    noted = by.step("record", where=by.say("where"))
    return [by.section(), {"note": by.say("note")}, read, noted, by.step("hold", released_by="second-person")]


def go_round(by: Author) -> list[Item]:
    inner = [wait(by), by.step("do"), by.step("record", where=by.say("where"))]
    times = by.draw.randint(2, 6)
    return [by.section(), by.step("repeat", until=by.say("until"), at_most=times, if_not="not-ready", steps=inner)]


def decide(by: Author) -> list[Item]:
    here = {"if": by.say("answer"), "steps": [by.step("do"), by.step("do")]}
    return [by.section(), by.step("choose", branches=[here, {"if": "Anything else", "go_to": "not-ready"}])]


def lock(by: Author) -> list[Item]:
    stopped = [by.step("stop", "M1"), by.step("shut", "V1")]
    return [by.section(), *stopped, by.step("lock", "M1-plug", how=by.say("how")), by.step("lock", "V1-lock")]


def unlock(by: Author) -> list[Item]:
    told = by.step("notify", "second-person", about=by.say("about"))
    return [by.section(), by.step("unlock", "V1-lock"), by.step("unlock", "M1-plug"), told]


def finish(by: Author) -> list[Item]:
    return [by.section(), by.step("do"), by.step("record", where=by.say("where"))]


def not_ready(by: Author) -> list[Item]:
    heading = {"section": "not-ready", "title": "Not ready", "entered": "when sent here"}
    told = by.step("notify", "workshop-lead", about=by.say("about"))
    return [heading, by.step("do"), told, by.step("hold", released_by="workshop-lead")]


#: family -> where a reader looks for it, and what such a procedure is made of between its first and last sections
FAMILIES: dict[str, tuple[Any, ...]] = {
    "batch": ("making", make_batch, prove),
    "filling": ("filling", run_off, prove, work_by_hand),
    "cleaning": ("after", make_wash, run_off),
    "rinsing": ("after", rinse, work_by_hand, go_round, prove),
    "lockout": ("machine-stopped", lock, work_by_hand, unlock),
    "upkeep": ("before", work_by_hand, decide, work_by_hand),
    "testing": ("checking", work_by_hand, prove, go_round, prove),
    "storage": ("learning", decide, work_by_hand, go_round),
}
