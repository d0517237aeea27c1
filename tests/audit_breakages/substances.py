"""What is broken for the rules of the family `substances`."""

import re
from collections.abc import Iterator

from book_blocks import EQUIPMENT, MATERIALS, PRODUCTS, Block, materials, pieces, products
from breakages import MATERIALS_THAT_MEET, ORDER

from audit_breakages.breakage import Breakage, Harmless, procedure_paths, text_of

CLEANER = "procedures/batch/blend-milk-line-cleaner.yaml"
DESCALER = "procedures/batch/blend-descaler.yaml"
DEGREASER = "procedures/batch/blend-degreaser.yaml"
HOLD = "procedures/batch/hold-a-lot.yaml"
#: of a dry run, the fault that has a rule of its own in the audit
OWN_RULES = ("shared-part", "stop-unsafe")
#: what no rinse makes safe beside what each side is for
FOREIGN = {"milk-line-cleaner": "acid-descaler", "acid-descaler": "milk-line-cleaner"}


def _refuted() -> Iterator[Breakage]:
    for each in (*MATERIALS_THAT_MEET, *ORDER):
        if not set(each.codes.split()) & set(OWN_RULES):
            yield Breakage(each.what, each.path, each.old, each.new, "dry-run-refuted", each.at, each.at_path)


def _shared() -> Iterator[Breakage]:
    for each in pieces():
        held = (each.value("holds") or "").strip("[]").split(", ")
        for own, foreign in FOREIGN.items():
            if own in held and each.value("kind") in ("pail", "drum", "bottles"):
                line = f"holds: [{', '.join((*held, foreign))}]"
                yield _of_piece(each, f"{foreign} in", line, "separate-equipment")


def _joined() -> Iterator[Breakage]:
    ends = (
        ("blue line", "connects: [D-P1, D-V3]", "connects: [D-P1, D-V3, V3]"),
        ("striped line", "connects: [G-P1, G-V3]", "connects: [G-P1, G-V3, cleaner-line]"),
        (
            "red nozzle",
            "joins: [waste-pail-20-l, waste-drum-alkaline]",
            "joins: [waste-drum-acid, waste-drum-alkaline]",
        ),
        ("blue nozzle", "joins: [D-pail-10-l, waste-drum-acid]", "joins: [D-pail-10-l, waste-drum-degreaser]"),
    )
    for what, old, new in ends:
        yield Breakage(f"{what} led to another side", EQUIPMENT, old, new, "separate-equipment", new)


def _section(text: str, name: str) -> str:
    """Return a section of a procedure, with all that stands in it."""
    begin = text.index(f"  - section: {name}\n")
    return text[begin : text.index("  - section: ", begin + 1)]


def _between(text: str, first: str, last: str) -> str:
    """Return what stands behind one section and before another."""
    begin = text.index(_section(text, first)) + len(_section(text, first))
    return text[begin : text.index(f"  - section: {last}\n")]


def _water_late() -> Iterator[Breakage]:
    for path, before, strong, found in (
        (DEGREASER, "cool", "add-alkali", ("add-alkali", "add-water")),
        (DESCALER, "test", "add-lactic", ("add-lactic",)),
        (CLEANER, "cool", "add-alkali", ("add-alkali", "add-first-water")),
    ):
        text = text_of(path)
        section, rest = _section(text, "water-in"), _between(text, "water-in", before)
        for step in found:
            what = f"water after the concentrate, {step} of {path}"
            yield Breakage(what, path, section + rest, rest + section, "acid-into-water", f"step: {step}")
        beside = re.sub(r"to: tank-(?=60|100|250)\w+", {DESCALER: "to: D-jug-5-l"}.get(path, "to: jug-5-l"), section)
        what = f"water beside the tank, {strong} of {path}"
        yield Breakage(what, path, section, beside, "acid-into-water", f"step: {strong}")


def _something_after_hypochlorite() -> Iterator[Breakage]:
    text = text_of(CLEANER)
    for name, before, step in (
        ("alkali-in", "to-the-mark", "add-alkali"),
        ("inhibitor-in", "to-the-mark", "add-scale-inhibitor"),
        ("alkali-in", "test", "add-alkali"),
    ):
        section, rest = _section(text, name), _between(text, name, before)
        at = f"step: {step}" if step == "add-alkali" else "add: scale-inhibitor"
        what = f"{name} after the hypochlorite, before {before}"
        yield Breakage(what, CLEANER, section + rest, rest + section, "hypochlorite-last", at)


def _still_warm() -> Iterator[Breakage]:
    reading, other = "milk-line-cleaner.before-hypochlorite", "milk-line-cleaner.conductivity"
    whole = _step(text_of(CLEANER), "still-cool")
    for what, new in (
        ("no temperature read", ""),
        ("another reading than a temperature", whole.replace(reading, other)),
        ("a look in place of a reading", "  - check: T1 reads 25 °C or less.\n    if_not: too-hot\n"),
    ):
        yield Breakage(what, CLEANER, whole, new, "hypochlorite-warm", "step: add-hypochlorite")
    old = "      before-hypochlorite:\n        from: 5 degC\n        to: 25 degC\n"
    new = "      before-hypochlorite:\n        from: 5 degC\n"
    at = "step: add-hypochlorite"
    yield Breakage("no upper limit of the temperature", MATERIALS, old, new, "hypochlorite-warm", at, CLEANER)


def _step(text: str, name: str) -> str:
    """Return a step on the first level of a procedure."""
    named = text.index(f"    step: {name}\n")
    begin = text.rindex("\n  - ", 0, named) + 1
    return text[begin : text.index("\n  - ", named) + 1]


def _eaten() -> Iterator[Breakage]:
    attacking = {each.key for each in materials() if each.value("attacks")}
    for each in pieces():
        held = (each.value("holds") or "").strip("[]").split(", ")
        if attacking & set(held) and each.value("kind") in ("tank", "drum", "pump", "pail"):
            yield _of_piece(each, "brass in", "made_of: Brass, polished", "material-of-construction")
    unsaid = ("hypochlorite-drum", "N1", "V4", "G-P2", "D-jug-5-l")
    for each in (piece for piece in pieces() if piece.key in unsaid):
        what = f"nobody says what {each.key} is made of"
        new = each.without("made_of")
        yield Breakage(what, EQUIPMENT, each.text, new, "material-of-construction", f"{each.key}:")
    for key, old, new in (
        ("M1", "no bare metal in the liquid", "a shaft seal of stainless steel"),
        ("tank-250", "No nickel, copper", "A flange of steel. No nickel, copper"),
        ("G1", "PTFE, no metal in the liquid", "nickel"),
        ("G-T1", "PP sheath", "Sheath of galvanised steel"),
    ):
        (piece,) = (each for each in pieces() if each.key == key)
        made = f"made_of: {(piece.value('made_of') or '').replace(old, new)}"
        yield _of_piece(piece, "metal in", made, "material-of-construction")


def _unsaid() -> Iterator[Breakage]:
    for each in materials():
        if each.value("kind") not in ("raw", "product"):
            continue
        if each.value("attacks") and ("H290" in each.text or "hypochlorites" in (each.value("groups") or "")):
            what = f"nobody says what {each.key} attacks"
            yield Breakage(what, MATERIALS, each.text, each.without("attacks"), "attacks-not-stated", f"{each.key}:")
        if each.value("gives_off_gas") == "yes":
            what = f"no word of the gas of {each.key}"
            yield Breakage(what, MATERIALS, each.text, each.without("gives_off_gas"), "gas-not-stated", f"{each.key}:")
            line = 'gives_off_gas: "no"'
            new = each.having("gives_off_gas", '"no"')
            yield Breakage(f"no gas from {each.key}", MATERIALS, each.text, new, "gas-not-stated", line)


def _tight() -> Iterator[Breakage]:
    for each in pieces():
        if each.value("vented") == "yes":
            yield _of_piece(each, "tight", 'vented: "no"', "container-not-vented")
            what = f"nobody says whether {each.key} is vented"
            yield Breakage(what, EQUIPMENT, each.text, each.without("vented"), "container-not-vented", f"{each.key}:")
    for each in products():
        if each.value("cap") == "vented":
            new = each.having("cap", '"tight"')
            yield Breakage(f"tight caps on {each.key}", PRODUCTS, each.text, new, "cap-not-vented", 'cap: "tight"')


def _corrected() -> Iterator[Breakage]:
    for path in procedure_paths():
        text = text_of(path)
        if re.search(r"^handles: .*(?:milk-line-cleaner|waste-alkaline-bleach|hypochlorite)", text, re.MULTILINE):
            step = "do: Lower the pH to 11 with citric acid."
            end = "if_it_goes_wrong:\n"
            yield Breakage(f"pH lowered in {path}", path, end, f"  - {step}\n{end}", "trimmed-with-acid", step)
    for line, new in (
        ("  - add: scale-inhibitor\n", "  - add: lactic-acid-solution\n"),
        (
            "    how: with all four clamps\n  - section: alkali-ready",
            "    how: adjust the pH with acid first\n  - section: alkali-ready",
        ),
        ("    do: Let the trigger go, step back. M1 stays on", "    do: Correct it with vinegar. M1 stays on"),
    ):
        at = new.partition("\n")[0].strip(" -")
        yield Breakage(f"acid: {at}", CLEANER, line, new, "trimmed-with-acid", at)


def _of_piece(block: Block, what: str, line: str, code: str) -> Breakage:
    field, _, value = line.partition(": ")
    return Breakage(f"{what} {block.key}", EQUIPMENT, block.text, block.having(field, value), code, line)


BREAKAGES: tuple[Breakage, ...] = (
    *_refuted(),
    *_shared(),
    *_joined(),
    *_water_late(),
    *_something_after_hypochlorite(),
    *_still_warm(),
    *_eaten(),
    *_unsaid(),
    *_tight(),
    *_corrected(),
)
HARMLESS: tuple[Harmless, ...] = (
    Harmless(
        "what a tank is made of in other words",
        EQUIPMENT,
        "made_of: HDPE, welded. No nickel, copper, cobalt, iron or aluminium touches the liquid",
        "made_of: Welded from HDPE sheet, nickel-free, and without copper, cobalt, iron or aluminium",
    ),
    Harmless(
        "a pump with one more word on its motor",
        EQUIPMENT,
        "made_of: PP with ceramic shaft and EPDM seals, magnetic drive, no metal in the liquid",
        "made_of: PP with ceramic shaft and EPDM seals. Magnetic drive, so that no steel of the motor gets wet",
    ),
    Harmless(
        "steel where only alkali is",
        EQUIPMENT,
        "made_of: Shaft and impeller of stainless steel",
        "made_of: Shaft of stainless steel, impeller of PP",
    ),
    Harmless(
        "one more metal that hypochlorite eats",
        MATERIALS,
        "    gives_off_gas: yes\n    limits:\n      available-chlorine:\n        from: 11.0",
        "    gives_off_gas: yes\n    limits:\n      available-chlorine:\n        from: 11.5",
    ),
    Harmless(
        "rinse water that gives off no gas",
        MATERIALS,
        "    spill: Mineral absorbent, vented lid. Never acid. Kept from the drain.\n",
        "    spill: Mineral absorbent, vented lid. Never acid. Kept from the drain.\n    gives_off_gas: no\n",
    ),
    Harmless(
        "a cooler limit before the hypochlorite",
        MATERIALS,
        "      before-hypochlorite:\n        from: 5 degC\n        to: 25 degC\n",
        "      before-hypochlorite:\n        from: 10 degC\n        to: 20 degC\n",
    ),
    Harmless(
        "a warning of acid in other words",
        HOLD,
        "avoid: Nothing goes into the tank while the lot is on hold. Never acid.",
        "avoid: Lot on hold, hatch shut. No acid to correct the pH, ever.",
    ),
    Harmless(
        "a reason in the recipe with more in it",
        PRODUCTS,
        "why: Last, and only into cool alkaline liquid. It breaks up milk protein.",
        "why: Last, and only into cool alkaline liquid. Acid never corrects it. It breaks up milk protein.",
    ),
)
