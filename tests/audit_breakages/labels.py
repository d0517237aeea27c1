"""What is broken for the rules of the family `labels`."""

from collections.abc import Iterator

from book_blocks import EQUIPMENT, MATERIALS, Block, materials, pieces

from audit_breakages.breakage import Breakage, Harmless


def _signal_words() -> Iterator[Breakage]:
    for each in materials():
        word = each.value("signal_word")
        if word is not None:
            other = {"Danger": "Warning", "Warning": "Danger"}[word]
            yield _of_material(each, "other signal word", f'signal_word: "{other}"', "signal-word-differs")
            what = f"no signal word of {each.key}"
            new = each.without("signal_word")
            yield Breakage(what, MATERIALS, each.text, new, "signal-word-differs", f"{each.key}:")


def _pictograms() -> Iterator[Breakage]:
    for each in materials():
        stated = each.value("pictograms")
        if stated is not None:
            yield _of_material(each, "only a fish", 'pictograms: ["GHS09"]', "pictogram-missing")
            more = f"pictograms: [{stated.strip('[]').replace('GHS07', 'GHS05')}, GHS06]"
            yield _of_material(each, "a skull more", more, "pictogram-dropped")
            if "GHS05" in stated and "H302" not in each.text:
                mark = 'pictograms: ["GHS05", GHS07]'
                yield _of_material(each, "irritation beside burns", mark, "pictogram-dropped")


def _of_material(block: Block, what: str, line: str, code: str) -> Breakage:
    field, _, value = line.partition(": ")
    return Breakage(f"{what} of {block.key}", MATERIALS, block.text, block.having(field, value), code, line)


def _labels() -> Iterator[Breakage]:
    for each in pieces():
        label = each.value("label")
        if label is None:
            continue
        what = f"no label on {each.key}"
        yield Breakage(what, EQUIPMENT, each.text, each.without("label"), "label-missing", f"{each.key}:")
        name, _, hazards = label.partition(". ")
        yield _of_piece(each, "no name on", f"label: In use. {hazards}", "label-missing")
        yield _of_piece(each, "no hazards on", f'label: "{name}."', "label-incomplete")


def _waste_drums() -> Iterator[Breakage]:
    for each in pieces():
        groups = each.value("never_with")
        if groups is None:
            continue
        for field, code in (("start_date_on", "waste-start-date"), ("route", "waste-route")):
            yield Breakage(f"no {field} of {each.key}", EQUIPMENT, each.text, each.without(field), code, f"{each.key}:")
        what = f"no never_with of {each.key}"
        yield Breakage(what, EQUIPMENT, each.text, each.without("never_with"), "waste-never-with", f"{each.key}:")
        names = groups.strip("[]").split(", ")
        for name in names:
            left = f"never_with: [{', '.join(other for other in names if other != name)}]"
            yield _of_piece(each, f"{name} not kept out of", left, "waste-never-with")


def _of_piece(block: Block, what: str, line: str, code: str) -> Breakage:
    field, _, value = line.partition(": ")
    return Breakage(f"{what} {block.key}", EQUIPMENT, block.text, block.having(field, value), code, line)


def _ph() -> Iterator[Breakage]:
    for each in materials():
        if each.value("ph") is None:
            continue
        if "acids" in (each.value("groups") or "") or "caustics" in (each.value("groups") or ""):
            what = f"no pH of {each.key}"
            yield Breakage(what, MATERIALS, each.text, each.without("ph"), "waste-ph-unknown", f"{each.key}:")
        new = each.having("ph", '\n      from: "1.99"\n      to: 9').replace("    hazardous_waste: yes\n", "")
        yield Breakage(f"{each.key} said to be acid", MATERIALS, each.text, new, "waste-ph", 'from: "1.99"')
        new = each.having("ph", '\n      from: 9\n      to: "12.5"').replace("    hazardous_waste: yes\n", "")
        yield Breakage(f"{each.key} said to be alkaline", MATERIALS, each.text, new, "waste-ph", 'to: "12.5"')


BREAKAGES: tuple[Breakage, ...] = (
    *_signal_words(),
    *_pictograms(),
    *_labels(),
    *_waste_drums(),
    *_ph(),
)
HARMLESS: tuple[Harmless, ...] = (
    Harmless(
        "the words of a label in another order",
        EQUIPMENT,
        "label: Waste, degreaser. Danger. Burns skin and eyes. Never hypochlorite, never acid.",
        "label: Danger! Waste of degreaser, corrosive to eyes and skin. No hypochlorite, no acid.",
    ),
    Harmless(
        "a label that says what to do",
        EQUIPMENT,
        "label: Citric acid, powder. Warning. Irritates eyes. The dust makes you cough.",
        "label: Citric acid, dry. Warning. It irritates eyes and throat. Goggles on before it is opened.",
    ),
    Harmless(
        "groups that are kept out in another order, and one more",
        EQUIPMENT,
        "never_with: [acids, hypochlorites, peroxides, light-metals]",
        "never_with: [light-metals, ammonia-and-amines, peroxides, hypochlorites, acids]",
    ),
    Harmless(
        "pictograms in another order",
        MATERIALS,
        "pictograms: [GHS05, GHS07]",
        "pictograms: [GHS07, GHS05]",
    ),
    Harmless(
        "a hazard to water that asks for nothing more",
        MATERIALS,
        """\
      - code: H319
        says: Causes serious eye irritation
      - code: H335
""",
        """\
      - code: H319
        says: Causes serious eye irritation
      - code: H412
        says: Harmful to aquatic life with long lasting effects
      - code: H335
""",
    ),
    Harmless("a narrower range of pH", MATERIALS, "      from: 7\n      to: 11.5\n", "      from: 8\n      to: 10\n"),
)
