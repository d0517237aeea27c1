"""What is broken for the rules of the family `upkeep`: days that have passed, histories, calibrations, data sheets."""

import re
from collections.abc import Iterator
from itertools import cycle
from pathlib import PurePosixPath

from audit_breakages.breakage import ROOT, Breakage, Harmless, procedure_paths, text_of

BOOK = "procedures/plant/book.yaml"
EQUIPMENT = "procedures/plant/equipment.yaml"
MATERIALS = "procedures/plant/materials.yaml"
CHECKLISTS = tuple(path.relative_to(ROOT).as_posix() for path in sorted((ROOT / "checklists").glob("*.yaml")))
PROCEDURES = procedure_paths()
WRITTEN = (*PROCEDURES, *CHECKLISTS)


def line(path: str, key: str) -> str:
    """Return the one line at the left margin of a file that has this key, with its line end."""
    (found,) = re.findall(rf"^{key}: .*\n", text_of(path), re.MULTILINE)
    return str(found)


def value(path: str, key: str) -> str:
    return line(path, key).partition(": ")[2].strip()


def stem(path: str) -> str:
    return PurePosixPath(path).stem


def newest(path: str) -> str:
    """Return the newest entry of a history, to the end of the file."""
    return text_of(path).rpartition("\n  - revision: ")[2]


def blocks(path: str) -> Iterator[tuple[str, str]]:
    """Return what stands two blanks in from the margin: each key with its whole block."""
    for found in re.finditer(r"^  ([A-Za-z][\w-]*):\n(?:    .*\n)+", text_of(path), re.MULTILINE):
        yield found[1], found[0]


def one_line(what: str, path: str, old: str, new: str, code: str) -> Breakage:
    """Return a breakage of a line that is found where it stands."""
    return Breakage(what, path, old, new, code, new.strip().removeprefix("- "))


def days_of_what_is_written() -> Iterator[Breakage]:
    for path in WRITTEN[::2]:
        what = f"{stem(path)} was to be reviewed"
        yield one_line(what, path, line(path, "review"), "review: 2026-11-30\n", "review-overdue")
    for path in WRITTEN[1::2]:
        what = f"{stem(path)} counts from next year"
        yield one_line(what, path, line(path, "effective"), "effective: 2027-02-01\n", "effective-later")
    for path in WRITTEN[::4]:
        review, name = line(path, "review"), stem(path)
        yield one_line(f"{name} is reviewed in a month", path, review, "review: 2026-12-31\n", "review-soon")
        yield one_line(f"{name} is not reviewed for years", path, review, "review: 2029-01-01\n", "review-far")


def revised(path: str) -> bool:
    """Return whether a history has more than one entry."""
    return text_of(path).count("\n  - revision: ") > 1


def histories() -> Iterator[Breakage]:
    """Return one thing that is wrong with each history, in turn."""
    for number, path in enumerate(WRITTEN):
        broken = (skipping, too_early, older, silent) if revised(path) else (skipping, too_early)
        yield broken[number % len(broken)](path)


def skipping(path: str) -> Breakage:
    text = text_of(path)
    new = text.replace(line(path, "revision"), "revision: 99\n", 1)
    new += f'  - revision: "99"\n    date: {value(path, "effective")}\n    change: V3 is shut first.\n'
    return Breakage(f"{stem(path)} skips revisions", path, text, new, "history-gap", 'revision: "99"')


def too_early(path: str) -> Breakage:
    new = re.sub(r"date: .*", "date: 2026-11-30", newest(path))
    what = f"{stem(path)} counts before it was written"
    return Breakage(what, path, newest(path), new, "effective-before-change", "effective:")


def older(path: str) -> Breakage:
    new = re.sub(r"date: .*", "date: 2020-02-29", newest(path))
    return Breakage(f"{stem(path)} gets older", path, newest(path), new, "history-backwards", "date: 2020-02-29")


def silent(path: str) -> Breakage:
    new = re.sub(r"change: [\s\S]*", "change: Various small updates to this document.\n", newest(path))
    return Breakage(f"{stem(path)} is silent", path, newest(path), new, "history-silent", "change: Various")


def titles_again() -> Iterator[Breakage]:
    """Return some histories that repeat the title, among words that say nothing."""
    for path in [each for each in WRITTEN if revised(each)][::5]:
        new = f'{newest(path).partition("change: ")[0]}change: "Updated: {value(path, "title")}."\n'
        yield Breakage(f"{stem(path)} says its title again", path, newest(path), new, "history-silent", 'change: "Up')


def approvals() -> Iterator[Breakage]:
    for path in WRITTEN[::2]:
        who = value(path, "done_by")
        if who != value(path, "approved"):
            what = f"{stem(path)} is approved by who does it"
            yield one_line(what, path, line(path, "approved"), f"approved: {who}\n", "approver-is-doer")
    path = "procedures/safety/last-look.yaml"
    what = "another role approves as well, but not what the lead does"
    new = "approved: authorised-person\n"
    day = "checklists/first-day.yaml"
    yield Breakage(what, path, line(path, "approved"), new, "approver-is-doer", "approved:", day)


def sources() -> Iterator[Breakage]:
    vague = ("https://www.example.org/how-to", "From memory.", "Experience")
    for number, path in enumerate(PROCEDURES[1::2]):
        (first,) = re.findall(r"^sources:\n(  - .*\n(?:    .*\n)*)", text_of(path), re.MULTILINE)
        new = f"  - {vague[number % len(vague)]}\n"
        yield one_line(f"{stem(path)} has a source that says nothing", path, first, new, "source-unclear")


def nobody_led_there() -> Iterator[Breakage]:
    """Return what leads to a procedure taken away, where it is the only thing that does."""
    for path, old, name in (
        ("checklists/fill-cleaner.yaml", item("fill-cleaner", "fill-cleaner-bottles"), "filling/fill-cleaner-bottles"),
        (
            "procedures/cleaning/clean-mixing-tank.yaml",
            "    go_to: lock-out-transfer-pump\n",
            "lockout/lock-out-transfer-pump",
        ),
        ("checklists/first-day.yaml", item("first-day", "two-sides"), "safety/two-sides"),
        ("checklists/make-descaler.yaml", item("make-descaler", "bleed-descaler-line"), "filling/bleed-descaler-line"),
        ("checklists/make-degreaser.yaml", item("make-degreaser", "blend-degreaser"), "batch/blend-degreaser"),
    ):
        yield Breakage(
            f"nothing leads to {name}", path, old, "", "orphan", f"procedure: {stem(name)}", f"procedures/{name}.yaml"
        )


def item(checklist: str, procedure: str) -> str:
    text = text_of(f"checklists/{checklist}.yaml")
    (found,) = re.findall(rf"^  - procedure: {procedure}\n(?:    .*\n)*", text, re.MULTILINE)
    return str(found)


def no_day() -> Iterator[Breakage]:
    for path in CHECKLISTS:
        name = stem(path)
        if name.startswith("make-"):
            old = f", {name}, "
            yield Breakage(f"{name} on no day", BOOK, old, ", ", "checklist-orphan", f"checklist: {name}", path)
    path = "checklists/first-day.yaml"
    what = "first-day is followed, and on no day"
    yield Breakage(what, path, "lists: titles", "lists: steps", "checklist-orphan", "checklist: first-day")


def data_sheets() -> Iterator[Breakage]:
    days = cycle((("2023-11-30", "data-sheet-old"), ("2026-12-02", "data-sheet-future")))
    for name, block in blocks(MATERIALS):
        sheet = re.search(r"    data_sheet: .*\n    data_sheet_at: .*\n", block)
        if sheet is None:
            continue
        day, code = next(days)
        new = re.sub(r"data_sheet: .*", f"data_sheet: {day}", block)
        yield Breakage(f"sheet of {name} is of {day}", MATERIALS, block, new, code, f"data_sheet: {day}")
        # What has hazards may be without a sheet only while nobody has confirmed them.
        unconfirmed = "    unconfirmed: yes\n" if "    hazards:\n" in block else ""
        new = block.replace(sheet[0], unconfirmed)
        yield Breakage(f"no sheet of {name}", MATERIALS, block, new, "data-sheet-missing", f"{name}:")


def used_as(key: str) -> set[str]:
    return {tag for path in PROCEDURES for tag in re.findall(rf"^ +{key}: (\S+)$", text_of(path), re.MULTILINE)}


def calibrations() -> Iterator[Breakage]:
    deciding, measuring = used_as("instrument"), used_as("measure_in")
    days = cycle((("2026-12-01", "calibration-due"), ("2026-12-31", "calibration-soon")))
    for tag, block in blocks(EQUIPMENT):
        due = re.search(r"    calibration_due: .*\n", block)
        if due is None:
            continue
        day, code = next(days)
        new = block.replace(due[0], f"    calibration_due: {day}\n")
        yield Breakage(f"{tag} calibrated until {day}", EQUIPMENT, block, new, code, f"calibration_due: {day}")
        code = "calibration-missing" if tag in deciding else "calibration-unplanned"
        if tag in deciding | measuring:
            yield Breakage(f"{tag} is never calibrated", EQUIPMENT, block, block.replace(due[0], ""), code, f"{tag}:")


def unconfirmed() -> Iterator[Breakage]:
    for path in PROCEDURES[::2]:
        approved = line(path, "approved")
        new = f"{approved}unconfirmed: yes\n"
        yield Breakage(f"{stem(path)} unconfirmed", path, approved, new, "starter-text", "unconfirmed:")
    for name, block in blocks(MATERIALS):
        if "    hazards:\n" in block:
            new = f"{block}    unconfirmed: yes\n"
            yield Breakage(f"{name} unconfirmed", MATERIALS, block, new, "starter-text", "unconfirmed:")


def handled() -> Iterator[Breakage]:
    """Return a material that is not confirmed, found where a procedure names it first."""
    for name, at, path in (
        ("milk-line-cleaner", "move: milk-line-cleaner", "filling/bleed-cleaner-line"),
        ("acid-descaler", "move: acid-descaler", "filling/bleed-descaler-line"),
        ("lactic-acid-solution", "add: lactic-acid-solution", "batch/blend-descaler"),
        ("sugar-surfactant", "add: sugar-surfactant", "batch/blend-degreaser"),
        ("glycol-ether", "add: glycol-ether", "batch/blend-degreaser"),
    ):
        block = dict(blocks(MATERIALS))[name]
        yield Breakage(
            f"{name} is handled unconfirmed",
            MATERIALS,
            block,
            f"{block}    unconfirmed: yes\n",
            "unconfirmed-handled",
            at,
            f"procedures/{path}.yaml",
        )


def with_exception(text: str, *, rule: str, at: str, reason: str, since: str, until: str) -> str:
    """Return the text of book.yaml with one exception more."""
    entry = f"  - rule: {rule}\n    at: {at}\n    reason: {reason}\n    approved: workshop-lead\n"
    entry += f"    since: {since}\n    until: {until}\n"
    before, key, after = text.partition("\nexceptions:\n")
    return f"{before}{key}{entry}{after}" if key else f"{text}exceptions:\n{entry}"


REASON = "It is made on one day a month only, and the day for it is being written."


def exceptions() -> Iterator[Breakage]:
    text = text_of(BOOK)
    no_day = text.replace(", make-descaler, ", ", ")
    gone = with_exception(
        no_day, rule="checklist-orphan", at="make-descaler", reason=REASON, since="2026-05-01", until="2026-11-30"
    )
    what, at = "an exception has expired, and what it excepted counts again", "checklists/make-descaler.yaml"
    yield Breakage(what, BOOK, text, gone, "checklist-orphan", "checklist: make-descaler", at)
    for until in ("2027-11-02", "2036-11-01"):
        long = with_exception(text, rule="orphan", at="fill-by-hand", reason=REASON, since="2026-11-01", until=until)
        yield Breakage(f"an exception until {until}", BOOK, text, long, "exception-long", f"until: {until}")
    for reason in ("Not needed here.", "See lead", "Later"):
        bare = with_exception(
            text, rule="orphan", at="fill-by-hand", reason=reason, since="2026-11-01", until="2027-03-31"
        )
        what = f"an exception, reason: {reason}"
        yield Breakage(what, BOOK, text, bare, "exception-without-reason", f"reason: {reason}")


BREAKAGES: tuple[Breakage, ...] = (
    *days_of_what_is_written(),
    *histories(),
    *titles_again(),
    *approvals(),
    *sources(),
    *nobody_led_there(),
    *no_day(),
    *data_sheets(),
    *calibrations(),
    *unconfirmed(),
    *handled(),
    *exceptions(),
)


def harmless_in_the_book() -> Iterator[Harmless]:
    text = text_of(BOOK)
    for what, rule, at, since, until in (
        ("an exception that counts", "orphan", "fill-by-hand", "2026-11-01", "2027-11-01"),
        ("an exception until today", "orphan", "fill-by-hand", "2026-06-01", "2026-12-01"),
        ("an old exception from what was mended since", "orphan", "fill-by-hand", "2024-01-01", "2024-06-30"),
        ("a long exception that is over", "orphan", "two-sides", "2022-01-01", "2024-12-31"),
    ):
        new = with_exception(text, rule=rule, at=at, reason=REASON, since=since, until=until)
        yield Harmless(what, BOOK, text, new)
    day = "  short-day: [open-the-workshop, close-the-workshop]\n"
    yield Harmless("a day on which nothing is made", BOOK, "days:\n", f"days:\n{day}")


def harmless_everywhere() -> Iterator[Harmless]:
    path = "checklists/close-the-workshop.yaml"
    effective, review = line(path, "effective"), line(path, "review")
    yield Harmless("shown to people for a day before it counts", path, effective, "effective: 2026-11-28\n")
    yield Harmless("counts from today", path, effective, "effective: 2026-12-01\n")
    yield Harmless("reviewed in half a year", path, review, "review: 2027-06-01\n")
    yield Harmless("reviewed two years after it counts", path, review, f"review: 2028{value(path, 'effective')[4:]}\n")
    path = "procedures/safety/two-sides.yaml"
    entry, sources = newest(path), "sources:\n"
    number = entry.partition("\n")[0]
    brief = f"{number}\n    date: 2026-11-25\n    change: V3 first.\n"
    yield Harmless("a change told in two words, on the same day", path, entry, brief)
    kept = f"{number}\n    date: {value(path, 'effective')}\n    change: Reviewed, nothing is done differently.\n"
    yield Harmless("a review without a change", path, entry, kept)
    for source in ("ISO 7010.", "Rings instead of words. https://www.example.org/rings", "Common practice, no source."):
        yield Harmless(f"one more source, {source}", path, sources, f"{sources}  - {source}\n")
    path = "checklists/first-day.yaml"
    one, two = item("first-day", "two-sides"), item("first-day", "protective-equipment")
    yield Harmless("two titles in another order", path, f"{one}{two}", f"{two}{one}")
    why = "Read, shown, and walked to the eyewash from three places in the room."
    yield Harmless("a reason told at more length", path, why, f"{why} The lead walks along.")
    yield Harmless(
        "a data sheet almost three years old",
        MATERIALS,
        "tab 4\n    keep: Weighing bench",
        "tab 4, beside the folder of the glove maker\n    keep: Weighing bench",
    )
    block = dict(blocks(MATERIALS))["glycol-ether"]
    old = re.sub(r"data_sheet: .*", "data_sheet: 2023-12-01", block)
    yield Harmless("a data sheet that is three years old today", MATERIALS, block, old)
    block = dict(blocks(EQUIPMENT))["G-scale"]
    far = re.sub(r"calibration_due: .*", "calibration_due: 2027-01-01", block)
    yield Harmless("a calibration due in 31 days", EQUIPMENT, block, far)
    moved = re.sub(r"where: .*", "where: Behind the striped line, in a pit of its own in the floor", block)
    yield Harmless("a scale described in other words", EQUIPMENT, block, moved)
    block = dict(blocks(EQUIPMENT))["jug-1-l"]
    noted = f"{block}    note: Its marks were compared with the bench scale when it was bought.\n"
    yield Harmless("a jug that has a note, and no calibration", EQUIPMENT, block, noted)


#: nothing of all this is about upkeep; no rule of another family minds either
REWORDED = (
    Harmless(
        "a note with more detail",
        "procedures/filling/bleed-cleaner-line.yaml",
        "The pail holds rinse water too and reads too low.",
        "The pail holds rinse water too and reads too low. It would hide that the line is not ready.",
    ),
    Harmless(
        "a purpose in other words",
        "procedures/batch/blend-descaler.yaml",
        line("procedures/batch/blend-descaler.yaml", "purpose"),
        "purpose: Every lot of descaler comes out equally strong, no matter who makes it.\n",
    ),
    Harmless(
        "a role told at more length",
        "procedures/plant/roles.yaml",
        "does: Watches, and works under the eyes of the lead, until signed off.",
        "does: Watches, asks, and works under the eyes of the lead, until every task has been signed off.",
    ),
    Harmless(
        "a look with a synonym",
        MATERIALS,
        "look: White crystals, no smell, dusty.",
        "look: White crystals, like coarse sugar, odourless, dusty.",
    ),
    Harmless(
        "a title in other words",
        "procedures/safety/two-sides.yaml",
        line("procedures/safety/two-sides.yaml", "title"),
        "title: Three sides that must never meet\n",
    ),
)
HARMLESS: tuple[Harmless, ...] = (*harmless_in_the_book(), *harmless_everywhere(), *REWORDED)
