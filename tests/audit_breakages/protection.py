"""What is broken for the rules of the family `protection`."""

import re
from collections.abc import Iterator
from functools import cache
from pathlib import PurePosixPath

from audit_breakages.breakage import Breakage, Harmless, procedure_paths, text_of

BOOK = "procedures/plant/book.yaml"
EQUIPMENT = "procedures/plant/equipment.yaml"
MATERIALS = "procedures/plant/materials.yaml"
CLOSING = "checklists/close-the-workshop.yaml"
DRESSING = "procedures/safety/protective-equipment.yaml"
WEAR = re.compile(r"^wear: \[(.*)\]\n", re.MULTILINE)
#: pieces that a material of every side asks for
ASKED_FOR = 5
#: procedure -> the step of it that first exposes; `dressed` is asked for before
DRESSED_BEFORE = {
    "bleed-cleaner-line": "pail-in-place",
    "blend-milk-line-cleaner": "open-bung",
    "change-over-cleaner-degreaser": "wipe-bench",
    "clean-mixing-tank": "hose-to-drum",
    "fill-by-hand": "pail-in-place",
    "hold-a-lot": "open-hatch-again",
    "lock-out-mixer": "do-the-work",
    "lock-out-transfer-pump": "tail-into-pail",
}
#: the same, where a step `dress` puts it on; behind a check that cannot be so, what steps say of themselves counts
DRESSED_INSIDE = {
    "bleed-descaler-line": "pail-in-place",
    "blend-degreaser": "add-alkali",
    "blend-descaler": "add-citric",
    "clean-degreaser-tank": "hose-to-drum",
    "clean-descaler-tank": "hose-to-drum",
}
#: procedure -> a step of it that exposes, with exposing steps before
STILL_EXPOSING = {
    "bleed-cleaner-line": "bung-in",
    "bleed-descaler-line": "pour-pail",
    "blend-degreaser": "pour-sample",
    "blend-descaler": "pour-sample",
    "blend-milk-line-cleaner": "dip-sample",
    "change-over-cleaner-degreaser": "cloths-away",
    "clean-degreaser-tank": "hose-in-clip",
    "clean-descaler-tank": "look-inside",
    "clean-mixing-tank": "last-reading",
    "fill-by-hand": "rinse-pail",
    "lock-out-mixer": "do-the-work",
    "lock-out-transfer-pump": "joints-dry",
    "protective-equipment": "rinse-apron",
}


@cache
def path_of(name: str) -> str:
    """Return the file of a procedure."""
    return next(path for path in procedure_paths() if PurePosixPath(path).stem == name)


def without(listed: str, name: str) -> str:
    """Return a list in brackets without one of its names."""
    names = [each for each in re.findall(r"[\w-]+", listed) if each != name]
    return f"[{', '.join(names)}]"


def part(text: str, start: str, end: str) -> str:
    """Return the part of a text from the line that is `start` to the end of the next that begins with `end`."""
    found = re.search(rf"^{re.escape(start)}\n(?:.*\n)*?{re.escape(end)}.*\n", text, re.MULTILINE)
    assert found is not None, (start, end)
    return found[0]


def step_of(text: str, name: str) -> str:
    """Return the lines of a step from its first one to its name."""
    lines = text[: text.index(f"    step: {name}\n")].splitlines(keepends=True)
    first = max(number for number, line in enumerate(lines) if line.startswith("  - "))
    return "".join((*lines[first:], f"    step: {name}\n"))


# --- procedures


def not_worn() -> Iterator[Breakage]:
    """Take one piece in turn from each procedure in which liquid is handled."""
    turn = 0
    for path in procedure_paths():
        listed = WEAR.search(text_of(path))
        names = listed[1].split(", ") if listed else []
        if listed and len(names) == ASKED_FOR:
            name = names[turn % ASKED_FOR]
            turn += 1
            what = f"{name} is not worn in {PurePosixPath(path).stem}"
            new = f"wear: {without(listed[1], name)}\n"
            yield Breakage(what, path, listed[0], new, "wear-not-for-material", "wear: [")


def never_put_on() -> Iterator[Breakage]:
    """Take away what says that people are dressed."""
    for name, step in DRESSED_BEFORE.items():
        found = re.search(r"^prerequisites: \[(.*)\]\n", text_of(path_of(name)), re.MULTILINE)
        assert found is not None
        new = f"prerequisites: {without(found[1], 'dressed')}\n"
        what = f"{name} does not ask whether one is dressed"
        yield Breakage(what, path_of(name), found[0], new, "wear-after-exposure", f"step: {step}")
    for name, step in DRESSED_INSIDE.items():
        on = re.search(r"    leaves:\n      - \w+-gloves off\n      - wear on\n", text_of(path_of(name)))
        assert on is not None
        what = f"{name} does not say that it is on"
        new = on[0].replace("      - wear on\n", "")
        yield Breakage(what, path_of(name), on[0], new, "wear-after-exposure", f"step: {step}")
    for piece in ("boots", "apron", "splash-goggles", "face-shield", "alkali-gloves"):
        what = f"nothing puts {piece} on"
        on_ = f"    leaves:\n      - {piece} on\n"
        yield Breakage(what, DRESSING, on_, "", "wear-after-exposure", "step: rinse-gloves")


def off_too_early() -> Iterator[Breakage]:
    """Let the gloves come off before a step that exposes."""
    for name, step in STILL_EXPOSING.items():
        text = text_of(path_of(name))
        glove = "acid-gloves" if "acid-gloves]" in text else "alkali-gloves"
        old = step_of(text, step)
        early = f"  - do: Take the gloves off.\n    step: too-early\n    leaves:\n      - {glove} off\n"
        what = f"gloves come off before {step} in {name}"
        yield Breakage(what, path_of(name), old, early + old, "wear-off-before-end", "step: too-early")


def never_taken_off() -> Iterator[Breakage]:
    """Leave a piece on at the end of the day."""
    for piece in ("apron", "boots", "face-shield", "alkali-gloves"):
        off = f"    leaves:\n      - {piece} off\n"
        what = f"{piece} stays on at the end of the day"
        place = ("wear-not-taken-off", "section: cleaner-side", CLOSING)
        yield Breakage(what, DRESSING, off, "", *place)


# --- materials


def materials_with(*codes: str) -> Iterator[tuple[str, str, str]]:
    """Return the materials whose label has one of the codes, with their lines down to `wear`, and what that lists."""
    for each in re.split(r"^  (?=[a-z-]+:\n    name: )", text_of(MATERIALS), flags=re.MULTILINE)[1:]:
        name = each.partition(":")[0]
        if any(f"      - code: {code}\n" in each for code in codes):
            whole = part(text_of(MATERIALS), f"  {name}:", "    wear: [")
            yield name, whole, whole.rpartition("wear: ")[2].strip()


def unprotected() -> Iterator[Breakage]:
    """Take eye protection from every material that harms eyes, gloves from every one that harms skin."""
    for name, whole, listed in materials_with("H314", "H318", "H319"):
        bare = without(without(listed, "splash-goggles"), "face-shield")
        new = whole.replace(listed, bare)
        what = f"{name} asks for nothing over the eyes"
        yield Breakage(what, MATERIALS, whole, new, "eye-protection-missing", f"wear: {bare}")
        if "face-shield" in listed:
            alone = without(listed, "splash-goggles")
            shield = whole.replace(listed, alone)
            what = f"{name} asks for a shield alone"
            yield Breakage(what, MATERIALS, whole, shield, "goggles-missing-under-shield", f"wear: {alone}")
    for name, whole, listed in materials_with("H314", "H315"):
        bare = without(without(listed, "alkali-gloves"), "acid-gloves")
        what = f"{name} asks for no gloves"
        yield Breakage(what, MATERIALS, whole, whole.replace(listed, bare), "gloves-missing", f"wear: {bare}")


# --- gloves


def gloves() -> Iterator[Breakage]:
    """Take away, and make short, what each pair of gloves states of the liquids that it is for."""
    for glove in ("alkali-gloves", "acid-gloves"):
        states = part(text_of(EQUIPMENT), f"  {glove}:", "    look_for: ")
        for entry, name, time in re.findall(r"(      - material: (.+)\n        for: (.+)\n)", states):
            what = f"{glove} do not state how long they hold against {name}"
            yield Breakage(what, EQUIPMENT, entry, "", "glove-not-proved", f"{glove}:")
            short = entry.replace(time, "45 min")
            what = f"{glove} hold against {name} for 45 min"
            yield Breakage(what, EQUIPMENT, entry, short, "glove-too-short", "for: 45 min")


# --- hazard assessments


def assessments() -> Iterator[tuple[str, str]]:
    """Return the hazard assessments of the book, with their lines."""
    whole = text_of(BOOK).partition("\nhazard_assessments:\n")[2]
    for name in re.findall(r"^  ([a-z-]+):\n    place: ", whole, re.MULTILINE):
        yield name, part(text_of(BOOK), f"  {name}:", "    date: ")


def in_assessments() -> Iterator[Breakage]:
    """Break each assessment in every way that a rule looks for."""
    for name, whole in assessments():
        listed = re.search(r"    procedures:\s+\[([^\]]*)\]\n", whole)
        worn = re.search(r"    wear: \[(.*)\]\n", whole)
        kinds = re.findall(r"      - kind: .+\n        says: .+\n", whole)
        assert listed is not None
        assert worn is not None
        first = listed[1].split(", ")[0]
        at_first = f"[{first}" if "\n" in listed[0].strip() else f"procedures: [{first}"
        less = whole.replace(worn[0], f"    wear: {without(worn[1], 'splash-goggles')}\n")
        yield Breakage(f"{name} knows no goggles", BOOK, whole, less, "assessment-wear-differs", at_first)
        said = whole.replace("certifies: This certifies that the hazards", "certifies: The hazards")
        yield Breakage(f"{name} is not certified", BOOK, whole, said, "assessment-uncertified", "certifies: The")
        weak = whole.replace("".join(kinds), kinds[-1])
        yield Breakage(f"{name} has rules only", BOOK, whole, weak, "controls-missing", f"{name}:")
        turned = whole.replace("".join(kinds), "".join((kinds[-1], *kinds[:-1])))
        strong = kinds[0].strip().splitlines()[-1].strip()
        yield Breakage(f"{name} begins with rules", BOOK, whole, turned, "controls-out-of-order", strong)
        old = re.sub(r"date: .*\n", "date: 2023-11-30\n", whole)
        yield Breakage(f"{name} is three years old", BOOK, whole, old, "assessment-old", "date: 2023-11-30")


def in_no_assessment() -> Iterator[Breakage]:
    """Take each procedure in which something is worn out of its assessment."""
    for name, whole in assessments():
        listed = re.search(r"    procedures:\s+\[([^\]]*)\]\n", whole)
        assert listed is not None
        for each in re.split(r",\s+", listed[1]):
            if WEAR.search(text_of(path_of(each))):
                # A list cannot be empty: an emergency without protective equipment takes the place.
                other = without(listed[1], each) if ", " in listed[1] else "[splash]"
                new = whole.replace(f"[{listed[1]}]", other)
                what = f"{each} is in no assessment any more, out of {name}"
                place = ("assessment-missing", "wear: [", path_of(each))
                yield Breakage(what, BOOK, whole, new, *place)


CREAMED = "  - do: Rub cream into your hands.\n    step: wash-hands\n"
BREAKAGES: tuple[Breakage, ...] = (
    *not_worn(),
    *never_put_on(),
    *off_too_early(),
    *never_taken_off(),
    *unprotected(),
    *gloves(),
    *in_assessments(),
    *in_no_assessment(),
    Breakage(
        "the spill is taken up with the gloves of the cleaner side",
        "procedures/safety/small-spill.yaml",
        "wear: [boots, apron, splash-goggles, face-shield, kit-gloves]\n",
        "wear: [boots, apron, splash-goggles, face-shield, alkali-gloves]\n",
        "wear-not-for-material",
        "wear: [",
    ),
    Breakage(
        "the gloves of the kit are not proved against descaler",
        EQUIPMENT,
        "      - material: acid-descaler\n        for: 180 min\n",
        "",
        "wear-not-for-material",
        "wear: [",
        "procedures/safety/small-spill.yaml",
    ),
    Breakage(
        "the mixer asks for something more at its shaft",
        EQUIPMENT,
        "or two persons lift the head off and lay it down.\n"
        "        verify: The head does not move when it is pushed by hand from the side.\n    wear: [boots]\n",
        "or two persons lift the head off and lay it down.\n"
        "        verify: The head does not move when it is pushed by hand from the side.\n"
        "    wear: [boots, kit-gloves]\n",
        "wear-not-for-material",
        "wear: [",
        "procedures/lockout/lock-out-mixer.yaml",
    ),
    Breakage(
        "a solvent asks for gloves that nobody wears on its side",
        MATERIALS,
        "    keep: Behind the striped line, closed, on its own tray. Never near hypochlorite.\n"
        "    spill: Mineral absorbent, striped pail. Never onto hypochlorite.\n",
        "    wear: [acid-gloves]\n"
        "    keep: Behind the striped line, closed, on its own tray. Never near hypochlorite.\n"
        "    spill: Mineral absorbent, striped pail. Never onto hypochlorite.\n",
        "wear-not-for-material",
        "wear: [",
        "procedures/batch/blend-degreaser.yaml",
    ),
    Breakage(
        "nobody dresses for the spill",
        "procedures/safety/small-spill.yaml",
        "    step: dress-first\n    leaves:\n      - wear on\n",
        "    step: dress-first\n",
        "wear-after-exposure",
        "wear: [",
    ),
    Breakage(
        "a shield alone is worn at the pump",
        EQUIPMENT,
        "        verify: G1 stands at 0 with V3 open.\n    wear: [splash-goggles, face-shield]\n",
        "        verify: G1 stands at 0 with V3 open.\n    wear: [face-shield]\n",
        "goggles-missing-under-shield",
        "wear: [face-shield]",
    ),
    Breakage(
        "a shield alone is worn while a line is bled",
        "procedures/filling/bleed-cleaner-line.yaml",
        "wear: [boots, apron, splash-goggles, face-shield, alkali-gloves]\n",
        "wear: [boots, apron, face-shield, alkali-gloves]\n",
        "goggles-missing-under-shield",
        "wear: [",
    ),
    Breakage(
        "what alkali gloves are made of is not said",
        EQUIPMENT,
        "    made_of: >-\n"
        "      Neoprene, 0.75 mm, at least 35 cm long; ASTM F739 or EN ISO 374-1 type A. "
        "A pair with a red cuff for the\n"
        "      cleaner side, a pair with a striped cuff for the degreaser side. Neither crosses over\n",
        "    made_of: Rubber that stands chemicals, at least 35 cm long\n",
        "glove-without-material",
        "made_of: Rubber that stands",
    ),
    Breakage(
        "the apron has become a respirator",
        EQUIPMENT,
        "    name: Chemical apron\n    sign: M026\n",
        "    name: Half mask with filter\n    sign: M017\n",
        "respirator-without-programme",
        "wear: [",
        "procedures/batch/blend-descaler.yaml",
    ),
    Breakage(
        "the boots have become a mask",
        EQUIPMENT,
        "    name: Rubber boots\n    sign: M008\n",
        "    name: Mask\n    sign: M016\n",
        "respirator-without-programme",
        "wear: [",
        "procedures/filling/bleed-cleaner-line.yaml",
    ),
    Breakage(
        "an assessment is older than a procedure that it is for",
        BOOK,
        "    certifies: This certifies that the hazards of emergencies were assessed.\n"
        "    certified_by: workshop-lead\n    date: 2026-11-26\n",
        "    certifies: This certifies that the hazards of emergencies were assessed.\n"
        "    certified_by: workshop-lead\n    date: 2026-11-20\n",
        "assessment-old",
        "date: 2026-11-20",
    ),
    Breakage(
        "the day ends without taking anything off",
        CLOSING,
        "  - procedure: protective-equipment\n    section: take-off\n"
        "    why: Gloves last, so that no drop reaches the skin.\n",
        "",
        "wear-not-taken-off",
        "section: cleaner-side",
    ),
    Breakage(
        "the day ends without washing",
        CLOSING,
        "  - procedure: protective-equipment\n    section: wash-up\n    why: From here on hands are clean and dry.\n",
        "",
        "wear-not-taken-off",
        "section: take-off",
    ),
    Breakage(
        "hands are creamed and not washed",
        DRESSING,
        "  - do: Wash hands, wrists and face with soap.\n    step: wash-hands\n",
        CREAMED,
        "wear-not-taken-off",
        "section: take-off",
        CLOSING,
    ),
    Breakage(
        "the gloves of the blue side stay on",
        "procedures/filling/bleed-descaler-line.yaml",
        "    step: gloves-stay\n    leaves:\n      - acid-gloves off\n",
        "    step: gloves-stay\n",
        "wear-not-taken-off",
        "procedure: bleed-descaler-line",
        "checklists/make-descaler.yaml",
    ),
)
HARMLESS: tuple[Harmless, ...] = (
    Harmless(
        "the same list in another order",
        "procedures/filling/bleed-cleaner-line.yaml",
        "wear: [boots, apron, splash-goggles, face-shield, alkali-gloves]\n",
        "wear: [alkali-gloves, face-shield, splash-goggles, apron, boots]\n",
    ),
    Harmless(
        "more is worn than is asked for",
        "procedures/safety/last-look.yaml",
        "wear: [splash-goggles]\n",
        "wear: [boots, splash-goggles]\n",
    ),
    Harmless(
        "the kit serves for one more liquid, which its gloves are proved against",
        "procedures/plant/equipment.yaml",
        "      - material: waste-acid\n        for: 180 min\n",
        "      - material: waste-acid\n        for: 2 h\n      - material: glycol-ether\n        for: 2 h\n",
    ),
    Harmless(
        "a new hire learns of one more liquid",
        "procedures/safety/two-sides.yaml",
        "acid-descaler, waste-acid, grill-degreaser]\n",
        "acid-descaler, waste-acid, lactic-acid-solution, grill-degreaser]\n",
    ),
    Harmless(
        "hands are washed in other words",
        DRESSING,
        "  - do: Wash hands, wrists and face with soap.\n",
        "  - do: Wash both hands, the wrists and the face, with soap.\n",
    ),
    Harmless(
        "a time in hours",
        EQUIPMENT,
        "      - material: lactic-acid-solution\n        for: 360 min\n",
        "      - material: lactic-acid-solution\n        for: 6 h\n",
    ),
    Harmless(
        "gloves of another material",
        EQUIPMENT,
        "      Nitrile, 0.4 mm, at least 35 cm long, blue cuff; ASTM F739 or EN ISO 374-1 type A.\n",
        "      Butyl, 0.5 mm, at least 35 cm long, blue cuff; ASTM F739 or EN ISO 374-1 type A.\n",
    ),
    Harmless(
        "an assessment that is certified in other words",
        BOOK,
        "    certifies: This certifies that the hazards of the packing bench were assessed.\n",
        "    certifies: Certification of the assessment of the hazards at the packing bench.\n",
    ),
    Harmless(
        "an assessment that knows one more hazard",
        BOOK,
        "      - Dust of citric acid irritates the eyes and the airways.\n",
        "      - Dust of citric acid irritates the eyes and the airways.\n"
        "      - Crystals on the floor are slippery.\n",
    ),
    Harmless(
        "an assessment that names a procedure of another place as well",
        BOOK,
        "    procedures: [start-of-day, last-look, two-sides]\n",
        "    procedures: [start-of-day, last-look, two-sides, end-of-day]\n",
    ),
    Harmless(
        "the gloves come off in other words",
        "procedures/cleaning/clean-descaler-tank.yaml",
        "  - do: Take the blue-cuffed gloves off, last of all. They stay behind the blue line.\n",
        "  - do: Take the blue-cuffed gloves off, last of all. They never leave the blue side.\n",
    ),
)
