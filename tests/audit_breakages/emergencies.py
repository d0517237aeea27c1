"""What is broken for the rules of the family `emergencies`: water, ways out, spills, drills, trays, tanks."""

import re
from collections.abc import Iterator, Mapping
from pathlib import PurePosixPath

from audit_breakages.breakage import Breakage, Harmless, procedure_paths, text_of

BOOK = "procedures/plant/book.yaml"
EQUIPMENT = "procedures/plant/equipment.yaml"
MATERIALS = "procedures/plant/materials.yaml"
SHEETS = "procedures/plant/sheets.yaml"
START = "procedures/safety/start-of-day.yaml"
LEAVE = "procedures/safety/leave-now.yaml"
SPILL = "procedures/safety/small-spill.yaml"
SPLASH = "procedures/safety/splash.yaml"
CAUGHT = "procedures/safety/caught-or-shock.yaml"
EMERGENCIES = (LEAVE, SPILL, SPLASH, CAUGHT)
MIXING = "procedures/cleaning/clean-mixing-tank.yaml"
DESCALER = "procedures/cleaning/clean-descaler-tank.yaml"
DEGREASER = "procedures/cleaning/clean-degreaser-tank.yaml"
#: tanks, drums, pails, jugs and bottles that may hold what damages eyes, and whether it burns skin as well
VESSELS: Mapping[str, bool] = {
    "tank-250": True,
    "potassium-hydroxide-drum": True,
    "hypochlorite-drum": True,
    "jug-1-l": True,
    "waste-pail-20-l": True,
    "waste-drum-alkaline": True,
    "red-bottles": True,
    "tank-60": True,
    "D-jug-5-l": True,
    "D-pail-10-l": False,
    "waste-drum-acid": False,
    "tank-100": True,
    "G-alkali-drum": True,
    "G-jug-5-l": False,
    "G-pail-10-l": True,
    "waste-drum-degreaser": True,
}
#: what is no vessel -> procedure and first step at which a corrosive may reach a person there
PLACES: Mapping[str, tuple[str, str]] = {
    "N1": ("procedures/filling/bleed-cleaner-line.yaml", "pail-in-place"),
    "N2": ("procedures/breakdown/fill-by-hand.yaml", "pail-in-place"),
    "D-N1": ("procedures/filling/bleed-descaler-line.yaml", "pail-in-place"),
    "G-P2": ("procedures/batch/blend-degreaser.yaml", "clip-hose"),
    "M1": ("procedures/lockout/lock-out-mixer.yaml", "do-the-work"),
    "P1": ("procedures/lockout/lock-out-transfer-pump.yaml", "do-the-work"),
}
#: procedure -> the first step at which a corrosive may reach the person
FIRST_MET: Mapping[str, str] = {
    "batch/blend-degreaser": "clip-hose",
    "batch/blend-descaler": "open-hatch-for-citric",
    "batch/blend-milk-line-cleaner": "open-bung",
    "batch/hold-a-lot": "open-hatch-again",
    "breakdown/fill-by-hand": "pail-in-place",
    "cleaning/change-over-cleaner-degreaser": "wipe-bench",
    "cleaning/clean-degreaser-tank": "hose-to-drum",
    "cleaning/clean-descaler-tank": "hose-to-drum",
    "cleaning/clean-mixing-tank": "hose-to-drum",
    "filling/bleed-cleaner-line": "pail-in-place",
    "filling/bleed-descaler-line": "pail-in-place",
    "lockout/lock-out-degreaser-side": "hose-up",
    "lockout/lock-out-descaler-pump": "tail-into-pail",
    "lockout/lock-out-drum-pumps": "hose-p2-up",
    "lockout/lock-out-mixer": "do-the-work",
    "lockout/lock-out-transfer-pump": "tail-into-pail",
    "safety/end-of-day": "n1-into-pail",
    "safety/protective-equipment": "rinse-gloves",
}


def stem(path: str) -> str:
    return PurePosixPath(path).stem


def block(tag: str) -> str:
    """Return a piece of equipment with its tag, as it stands in the file."""
    (found,) = re.findall(rf"^  {tag}:\n(?:    .*\n)+", text_of(EQUIPMENT), re.MULTILINE)
    return str(found)


def without(tag: str, text: str) -> str:
    """Return a list in brackets without a tag."""
    left = re.sub(rf",\s+{tag}(?=[,\]])|(?<=\[){tag},\s+", "", text)
    assert left != text, tag
    return left


def unserved() -> Iterator[Breakage]:
    eyewash, shower = block("eyewash-1"), block("shower-1")
    for tag, burns_skin in VESSELS.items():
        what = f"the eyewash does not serve {tag}"
        yield Breakage(what, EQUIPMENT, eyewash, without(tag, eyewash), "eyewash-missing", f"{tag}:")
        if burns_skin:
            what = f"the shower does not serve {tag}"
            yield Breakage(what, EQUIPMENT, shower, without(tag, shower), "shower-missing", f"{tag}:")
    for tag, (path, step) in PLACES.items():
        what = f"the eyewash does not serve {tag}"
        new = without(tag, eyewash)
        yield Breakage(what, EQUIPMENT, eyewash, new, "eyewash-missing", f"step: {step}", path)


def unchecked() -> Iterator[Breakage]:
    for name, step in FIRST_MET.items():
        path = f"procedures/{name}.yaml"
        (old,) = re.findall(r"^prerequisites: \[.*\]\n", text_of(path), re.MULTILINE)
        new = "" if old == "prerequisites: [eyewash-clear]\n" else without("eyewash-clear", old)
        what = f"{stem(path)} does not ask for the eyewash"
        yield Breakage(what, path, old, new, "eyewash-not-checked", f"step: {step}")


def inspections() -> Iterator[Breakage]:
    for tag, code in (("eyewash-1", "eyewash"), ("shower-1", "eyewash"), ("exhaust-1", "exhaust")):
        whole = block(tag)
        (old,) = re.findall(r"    inspection_due: .*\n", whole)
        for what, day in (("was to be inspected", "2026-11-30"), ("is not inspected for years", "2028-01-31")):
            new = whole.replace(old, f"    inspection_due: {day}\n")
            at = f"inspection_due: {day}"
            yield Breakage(f"{tag} {what}", EQUIPMENT, whole, new, f"{code}-inspection-due", at)
        what = f"{tag} is never inspected"
        yield Breakage(what, EQUIPMENT, whole, whole.replace(old, ""), f"{code}-inspection-due", f"{tag}:")


def reaches() -> Iterator[Breakage]:
    for tag in ("eyewash-1", "shower-1"):
        whole = block(tag)
        far = whole.replace("reach: 9 s", "reach: 12 s")
        yield Breakage(f"{tag} is far away", EQUIPMENT, whole, far, "eyewash-out-of-reach", "reach: 12 s")
        unsaid = whole.replace("    reach: 9 s\n", "")
        yield Breakage(f"nobody walked to {tag}", EQUIPMENT, whole, unsaid, "eyewash-out-of-reach", f"{tag}:")


def unhandled() -> Iterator[Breakage]:
    (listed,) = re.findall(r"^handles:\n((?:  - .*\n)+)", text_of(SPILL), re.MULTILINE)
    for name in re.findall(r"  - (.*)\n", listed):
        what = f"no procedure is for spills of {name}"
        new = listed.replace(f"  - {name}\n", "")
        yield Breakage(what, SPILL, listed, new, "spill-procedure-missing", f"{name}:", MATERIALS)
    only = "handles: [rinse-water, citric-acid]\nneeds: [eyewash-1, shower-1]"
    for name in ("potassium-hydroxide-solution", "acid-descaler", "grill-degreaser"):
        what = f"no procedure is for splashes of {name}"
        needs = "needs: [eyewash-1, shower-1]"
        yield Breakage(what, SPLASH, needs, only, "splash-procedure-missing", f"{name}:", MATERIALS)


def by_volume() -> Iterator[Breakage]:
    (questions,) = re.findall(r"  any_of:\n((?:    - .*\n)+)", text_of(SPILL))
    asked = ("Is it more than 5 L?", "Is it a gallon or more?", "Are more than 2 US gal out?", "Is it over 500 mL?")
    for question, new in zip(re.findall(r"    - .*\n", questions), asked, strict=False):
        what = f"a spill is judged by {new}"
        yield Breakage(what, SPILL, question, f"    - {new}\n", "spill-by-volume", new)


def uncalled() -> Iterator[Breakage]:
    number, other = 'emergency_number: "911"', 'emergency_number: "112"'
    for path in EMERGENCIES:
        what = f"{stem(path)} calls another number than the book's"
        yield Breakage(what, BOOK, number, other, "emergency-number", f"procedure: {stem(path)}", path)


def drills() -> Iterator[Breakage]:
    for path in EMERGENCIES:
        name = stem(path)
        (old,) = re.findall(rf"  - procedure: {name}\n(?:    .*\n)+", text_of(BOOK))
        what = f"nobody practises {name}"
        yield Breakage(what, BOOK, old, "", "drill-missing", f"procedure: {name}", path)
        for what, day in (("was to be practised", "2026-11-30"), ("is not practised for years", "2029-02-24")):
            new = re.sub(r"next: .*", f"next: {day}", old)
            yield Breakage(f"{name} {what}", BOOK, old, new, "drill-overdue", f"next: {day}")


def banners() -> Iterator[Breakage]:
    for path in EMERGENCIES:
        name = stem(path)
        (old,) = re.findall(rf"  [\w-]+:\n    kind: banner\n    of: {name}\n(?:    .*\n)+", text_of(SHEETS))
        yield Breakage(f"{name} has no banner", SHEETS, old, "", "banner-missing", f"procedure: {name}", path)
        (hangs,) = re.findall(r"    hangs: .*\n", old)
        new = old.replace(hangs, "")
        yield Breakage(
            f"banner of {name} hangs nowhere", SHEETS, old, new, "banner-missing", f"procedure: {name}", path
        )


def trays() -> Iterator[Breakage]:
    found = re.findall(r"^  ([\w-]+):\n    kind: tray\n", text_of(EQUIPMENT), re.MULTILINE)
    for tag in found:
        whole = block(tag)
        (capacity,) = re.findall(r"    capacity: .*\n", whole)
        (under,) = re.findall(r"    under: \[([\w-]+)\]\n", whole)
        small = whole.replace(capacity, "    capacity: 7.5 L\n")
        yield Breakage(f"{tag} is small", EQUIPMENT, whole, small, "containment-small", "capacity: 7.5 L")
        moved = whole.replace(f"    under: [{under}]\n", "")
        yield Breakage(f"nothing stands on {tag}", EQUIPMENT, whole, moved, "containment-small", f"{under}:")
        unsaid = whole.replace(capacity, "")
        yield Breakage(f"{tag} catches nobody knows what", EQUIPMENT, whole, unsaid, "containment-small", f"{tag}:")


def gates() -> Iterator[Breakage]:
    for path in EMERGENCIES:
        name, code = stem(path), "emergency-gated"
        asked = "\nprerequisites: [eyewash-clear]\nsteps:\n"
        yield Breakage(f"{name} asks for a condition", path, "\nsteps:\n", asked, code, "prerequisites:")
        trained = "done_by: line-operator"
        yield Breakage(f"{name} is for operators", path, "done_by: anyone", trained, code, trained)
        goes_wrong = "if_it_goes_wrong:\n"
        hold = f"  - hold: The lead has seen it.\n    released_by: workshop-lead\n{goes_wrong}"
        yield Breakage(f"{name} is held", path, goes_wrong, hold, code, "hold: The lead has seen it.")
        wait = f"  - wait: 2 min\n    for: the lead to come\n    if_late: Go on.\n{goes_wrong}"
        yield Breakage(f"{name} waits", path, goes_wrong, wait, code, "wait: 2 min")
        (step,) = re.findall(r"  - do: Tell the workshop lead.*\n    step: tell-the-lead\n", text_of(path))
        checked = f"{step}    second_person: yes\n"
        yield Breakage(f"{name} needs a second look", path, step, checked, code, "step: tell-the-lead")


def led_elsewhere() -> Iterator[Breakage]:
    """Return one caution of each procedure that leads to what is no emergency procedure."""
    for path in procedure_paths():
        text = text_of(path)
        found = re.search(r"    avoid: .*\n    if_it_happens: [\w-]+\n", text)
        if found is not None and text.count(found[0]) == 1:
            new = re.sub(r"if_it_happens: .*", "if_it_happens: two-sides", found[0])
            what = f"a caution of {stem(path)} leads to a lesson"
            at = "if_it_happens: two-sides"
            yield Breakage(what, path, found[0], new, "if-it-happens-not-emergency", at)


def entered() -> Iterator[Breakage]:
    """Return steps of the cleanings that let somebody in."""
    for path, step, new in (
        (MIXING, "look-inside", "Put your head into the hatch. Wall and lid show no film."),
        (DESCALER, "brush-wall", "Reach into the tank and brush wall and lid."),
        (DESCALER, "dip-paper", "Open D-hatch wide, lean in and dip the paper."),
        (DESCALER, "look-inside", "Climb into tank-60 with the lamp. Wall and bottom show no film."),
        (DEGREASER, "brush-wall", "If the brush is too short, reach down into the tank with it."),
        (DEGREASER, "dip-paper", "Hold one arm through the hatch and dip the paper."),
        (DEGREASER, "look-inside", "Enter tank-100 with the lamp. Wall and bottom show no film."),
        (DEGREASER, "hose-to-drum", "Step into the vessel and lock the hose tail of G-N1."),
    ):
        (old,) = re.findall(rf"- (?:do|check): (.*)\n +step: {step}\n", text_of(path))
        yield Breakage(f"{stem(path)} lets somebody in at {step}", path, old, new, "tank-entry", f"step: {step}")


def airless() -> Iterator[Breakage]:
    """Return ways to call an exhaust proved without a look at its air."""
    text, code = text_of(START), "exhaust-not-by-airflow"
    (whole,) = re.findall(r"  - start: exhaust-1\n(?:.*\n)*?      - exhaust-1 proved\n", text)
    fan = re.sub(r"check: The strip is .*", "check: The fan runs and its lamp is lit.", whole)
    yield Breakage("a running fan proves the exhaust", START, whole, fan, code, "step: record-air")
    late = whole.replace("  - start: exhaust-1\n", "").replace(
        "  - record: Air at", "  - start: exhaust-1\n  - record: Air at"
    )
    yield Breakage("the exhaust is started after the look", START, whole, late, code, "step: record-air")
    claimed = "  - start: exhaust-1\n    leaves:\n      - exhaust-1 proved\n"
    yield Breakage("starting it proves it", START, "  - start: exhaust-1\n", claimed, code, "start: exhaust-1")
    moved = "    step: second-person-here\n"
    elsewhere = f"{moved}    finds:\n      - exhaust-1 proved\n"
    yield Breakage("people in the room prove the exhaust", START, moved, elsewhere, code, "step: second-person-here")
    source = "    from: start-of-day/air\n"
    yield Breakage("nothing brings the proof about", EQUIPMENT, source, "", code, "exhaust-1 proved")


QUESTION = "    - Is it wider than the spill socks can ring, or does it run on after the stop?\n"
BREAKAGES: tuple[Breakage, ...] = (
    *unserved(),
    *unchecked(),
    *inspections(),
    *reaches(),
    *unhandled(),
    *by_volume(),
    *uncalled(),
    *drills(),
    *banners(),
    *trays(),
    *gates(),
    *led_elsewhere(),
    *entered(),
    *airless(),
    Breakage(
        "the shower flushes eyes only",
        EQUIPMENT,
        "    flushes: body\n",
        "    flushes: eyes\n",
        "shower-missing",
        "tank-250:",
    ),
    Breakage(
        "nobody has read the data sheet of an acid",
        MATERIALS,
        "    signal_word: Warning\n    pictograms: [GHS07]\n    hazards:\n"
        "      - code: H319\n        says: Causes serious eye irritation\n"
        "      - code: H335\n        says: May cause respiratory irritation\n",
        "",
        "eyewash-missing",
        "D-bucket-10-l:",
        EQUIPMENT,
    ),
    Breakage(
        "nobody finds the eyewash in order",
        START,
        "    finds:\n      - eyewash-1 and shower-1 in order\n",
        "",
        "eyewash-not-checked",
        "step: pail-in-place",
        "procedures/filling/bleed-cleaner-line.yaml",
    ),
    Breakage(
        "nothing brings it about that the eyewash is in order",
        EQUIPMENT,
        "    from: start-of-day/eyewash\n",
        "",
        "eyewash-not-checked",
        "step: hose-to-drum",
        MIXING,
    ),
    Breakage(
        "no checklist lets the eyewash run",
        START,
        "      - eyewash-1 and shower-1 in order\n",
        "      - shower-1 in order\n",
        "eyewash-not-activated",
        "eyewash-1:",
        EQUIPMENT,
    ),
    Breakage(
        "the opening list leaves the eyewash out",
        "checklists/open-the-workshop.yaml",
        "    section: eyewash\n",
        "    section: air\n",
        "eyewash-not-activated",
        "shower-1:",
        EQUIPMENT,
    ),
    Breakage(
        "the spill procedure needs no kit",
        SPILL,
        "needs: [spill-kit]\n",
        "",
        "spill-procedure-missing",
        "milk-line-cleaner:",
        MATERIALS,
    ),
    Breakage(
        "the splash procedure needs no water",
        SPLASH,
        "needs: [eyewash-1, shower-1]\n",
        "",
        "splash-procedure-missing",
        "acid-descaler:",
        MATERIALS,
    ),
    Breakage(
        "the splash procedure is no emergency",
        SPLASH,
        "emergency: yes\n",
        "",
        "splash-procedure-missing",
        "rinse-water:",
        MATERIALS,
    ),
    Breakage(
        "the scope of a spill is in litres",
        SPILL,
        "Only a spill that two people of this room can take up with the kit.",
        "Only a spill of 10 L or less.",
        "spill-by-volume",
        "scope: >-",
    ),
    Breakage(
        "a remedy begins at some litres",
        SPILL,
        "  - sign: It reached the drain\n",
        "  - sign: More than 20 litres reached the drain\n",
        "spill-by-volume",
        "sign: More than 20 litres",
    ),
    Breakage(
        "a branch of a spill is in quarts",
        SPILL,
        "      - if: Blue\n",
        "      - if: Blue, and less than two quarts\n",
        "spill-by-volume",
        "if: Blue, and less",
    ),
    Breakage(
        "a step of a spill leaves from some litres on",
        SPILL,
        "  - do: Read the questions above. One yes means leave.\n",
        "  - do: If it is more than 5 L, leave.\n",
        "spill-by-volume",
        "do: If it is more than 5 L",
    ),
    Breakage(
        "the spill procedure has no bright line",
        SPILL,
        text_of(SPILL)[text_of(SPILL).index("leave_if:\n") : text_of(SPILL).index("steps:\n")],
        "",
        "spill-by-volume",
        "procedure: small-spill",
    ),
    Breakage(
        "the emergency number is not written yet",
        BOOK,
        'emergency_number: "911"',
        'emergency_number: "(write the number of your fire service here)"',
        "emergency-number",
        "emergency_number:",
    ),
    Breakage(
        "nobody who leaves calls",
        LEAVE,
        "  - do: Call 911 from outside. Say the address, and chlorine gas or what you saw.\n",
        "  - do: Wait outside until somebody comes.\n",
        "emergency-number",
        "procedure: leave-now",
    ),
    Breakage(
        "nobody calls for whoever is caught",
        CAUGHT,
        "  - do: Call 911 on loudspeaker. Say the address, and caught, bleeding or shock.\n",
        "  - do: Shout for help once more.\n",
        "emergency-number",
        "procedure: caught-or-shock",
    ),
    Breakage(
        "the meeting point is somewhere else",
        BOOK,
        "meeting_point: The lamp post at the street gate\n",
        "meeting_point: The bus shelter across the road\n",
        "meeting-point",
        "procedure: leave-now",
        LEAVE,
    ),
    Breakage(
        "the meeting point is not decided",
        BOOK,
        "meeting_point: The lamp post at the street gate\n",
        "meeting_point: Not decided yet\n",
        "meeting-point",
        "meeting_point:",
    ),
    Breakage(
        "nobody is led out first of all",
        LEAVE,
        '  - do: Leave now by the nearest door. Shout "Out" on the way.\n',
        "  - do: Press the nearest stop.\n",
        "meeting-point",
        "meeting_point:",
        BOOK,
    ),
    Breakage(
        "red and blue waste stand over one tray",
        EQUIPMENT,
        "    under: [waste-drum-alkaline]\n",
        "    under: [waste-drum-alkaline, waste-drum-acid]\n",
        "tray-shared",
        "under: [waste-drum-alkaline, waste-drum-acid]",
    ),
    Breakage(
        "hypochlorite stands over the tray of the degreaser",
        EQUIPMENT,
        "    under: [tank-100]\n",
        "    under: [tank-100, hypochlorite-drum]\n",
        "tray-shared",
        "under: [tank-100, hypochlorite-drum]",
    ),
    Breakage(
        "a tank of which nobody says that nobody goes in",
        EQUIPMENT,
        "  tank-60:\n",
        "  tank-7:\n    kind: tank\n    name: Rain barrel\n    note: The tank-7 of the yard.\n  tank-60:\n",
        "tank-entry-not-forbidden",
        "tank-7:",
    ),
    Breakage(
        "an emergency procedure that nothing leads to",
        "procedures/safety/two-sides.yaml",
        "situation: learning\n",
        "situation: learning\nemergency: yes\n",
        "emergency-not-named",
        "procedure: two-sides",
    ),
    Breakage(
        "somebody reaches into a tank when something goes wrong",
        DESCALER,
        "    do: Leave it there. Nobody reaches in. Call the lead.\n",
        "    do: Reach into the tank and take it out.\n",
        "tank-entry",
        "do: Reach into the tank",
    ),
    Breakage(
        "a lockout lets hands into the tank",
        "procedures/lockout/lock-out-mixer.yaml",
        "Do the work from the platform. Head and arms stay outside the tank.",
        "Do the work with both arms, reach into the tank where it is needed.",
        "tank-entry",
        "step: do-the-work",
    ),
)
HARMLESS: tuple[Harmless, ...] = (
    Harmless(
        "the way to the eyewash is shorter", EQUIPMENT, block("eyewash-1"), block("eyewash-1").replace("9 s", "7 s")
    ),
    Harmless(
        "the eyewash serves its list in other order",
        EQUIPMENT,
        block("eyewash-1"),
        without("tank-60", block("eyewash-1")).replace("[tank-250,", "[tank-60, tank-250,"),
    ),
    Harmless(
        "a shower that flushes eyes, too",
        EQUIPMENT,
        "    flushes: body\n",
        "    flushes: eyes and body\n",
    ),
    Harmless(
        "a spill is wider, in other words",
        SPILL,
        QUESTION,
        "    - Is it wider than 2 m, or does it run on after the stop?\n",
    ),
    Harmless(
        "a pail is named by what it holds",
        SPILL,
        "  - sign: It reached the drain\n",
        "  - sign: The 20 L pail has tipped over into the drain\n",
    ),
    Harmless(
        "the way out in other words",
        LEAVE,
        "Walk across the wind, then to the lamp post at the street gate.",
        "Walk to the lamp post, first across the wind.",
    ),
    Harmless(
        "the call in other words",
        CAUGHT,
        "Call 911 on loudspeaker. Say the address, and caught, bleeding or shock.",
        "Phone 911 on loudspeaker. Say the address, and caught, bleeding or shock.",
    ),
    Harmless(
        "nobody enters, said once more",
        DESCALER,
        "    do: Leave it there. Nobody reaches in. Call the lead.\n",
        "    do: Leave it there. Nobody climbs, leans or reaches into the tank. Call the lead.\n",
    ),
    Harmless(
        "the tank is brushed from outside, with more detail",
        DEGREASER,
        "Brush wall and lid with the long striped brush, from the top down.",
        "Brush wall and lid of the tank with the long striped brush, from outside.",
    ),
    Harmless(
        "a ribbon in place of a strip",
        START,
        "    step: hold-strip-tank\n  - check: The strip is pulled into the hood and stays there for 10 s.\n",
        "    step: hold-strip-tank\n  - check: The ribbon is drawn to the hood and stays there for 10 s.\n",
    ),
    Harmless("a larger tray", EQUIPMENT, "    capacity: 280 L\n", "    capacity: 300 L\n"),
    Harmless("an earlier drill", BOOK, "    next: 2027-04-28\n", "    next: 2027-01-27\n"),
    Harmless(
        "a tank note with more detail",
        EQUIPMENT,
        "Nobody ever enters it, no head goes in, hands stay out.",
        "Nobody ever enters it, not even for a moment. No head and no hand goes in.",
    ),
)
