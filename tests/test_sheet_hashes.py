"""A fact that stands on a sheet is in its hash: when it changes, the copy on the wall is out of date."""

from collections.abc import Mapping
from pathlib import Path

import pytest
from demo_book import copy_book, replace

from tankside.checkup import check_book
from tankside.edition.sheets import sheet_editions

BOOK = "procedures/plant/book.yaml"
EQUIPMENT = "procedures/plant/equipment.yaml"
MATERIALS = "procedures/plant/materials.yaml"
TRAINING = "procedures/plant/training.yaml"
#: what is changed -> sheets on which it can be read or seen, and some that do not show it
CHANGES = (
    ("number to call", BOOK, 'emergency_number: "911"', 'emergency_number: "112"', "splash splash-banner", "two-sides"),
    ("address", BOOK, "address: Rear unit", "address: Front unit", "splash leave-now", "bleed-cleaner-line tags"),
    (
        "meeting point",
        BOOK,
        "meeting_point: The lamp post",
        "meeting_point: The oak",
        "leave-now visitors",
        "dip-mixing-tank",
    ),
    ("units", BOOK, "units: metric", "units: US customary", "dip-mixing-tank flush-cleaner", "label-wash"),
    (
        *("name of a tank", EQUIPMENT, "name: Mixing tank, cleaner side", "name: Large tank, cleaner side"),
        *("dip-mixing-tank tags", "dip-descaler-tank lockout-p1"),
    ),
    (
        *("where a lock is", EQUIPMENT, "    where: On the lever of V2\n", "    where: Beside the lever of V2\n"),
        *("lockout-p1 tags", "lockout-d-p1 dip-mixing-tank"),
    ),
    # P1 and V1-lock are joined by way of V4, which has no energy and is no isolation point.
    (
        *("place of what lies between", EQUIPMENT, "at: [5, 3]\n    name: Return", "at: [6, 3]\n    name: Return"),
        *("lockout-p1 tags", "lockout-d-p1 label-wash"),
    ),
    (
        *("where a data sheet is", MATERIALS, "data_sheet_at: Data sheet folder at the door, tab 1\n"),
        *("data_sheet_at: Cabinet, tab 1\n", "label-potassium-hydroxide", "label-wash dip-mixing-tank"),
    ),
    (
        *("name of a liquid", MATERIALS, "name: Milk-line cleaner, chlorinated alkaline", "name: Pipe cleaner"),
        *("label-cleaner dilute-cleaner", "label-wash dip-mixing-tank"),
    ),
    (
        *("title of a procedure", "procedures/filling/bleed-cleaner-line.yaml"),
        *("title: Bleed the filling line, milk-line cleaner", "title: Bleed the line"),
        *("operator-plan operator-induction", "lockout-plan visitors"),
    ),
    ("what a visitor is told", TRAINING, "Touch nothing.", "Touch no thing.", "visitors", "operator-plan"),
    (
        "what a trainee is told",
        TRAINING,
        "at any time.",
        "at all times.",
        "operator-induction",
        "visitors lockout-plan",
    ),
)

#: sheets that are used up or handed out, and so are in no binder
USED_UP = {"label-potassium-hydroxide", "operator-induction", "visitors"}


def hashes(book: Path) -> Mapping[str, str]:
    checkup = check_book(book)
    assert checkup.book is not None and checkup.editions, [each.as_text() for each in checkup.problems]
    return {name: each.hash for name, each in sheet_editions(checkup.book.plant, checkup.editions).items()}


@pytest.fixture(scope="module")
def before(tmp_path_factory: pytest.TempPathFactory) -> Mapping[str, str]:
    return hashes(copy_book(tmp_path_factory.mktemp("before") / "book"))


@pytest.mark.requirement(number=18)
@pytest.mark.parametrize("change", CHANGES, ids=lambda change: change[0].replace(" ", "-"))
def test_a_sheet_gets_another_hash_when_what_stands_on_it_changes(
    tmp_path: Path, before: Mapping[str, str], change: tuple[str, ...]
) -> None:
    _, path, old, new, shown, not_shown = change
    book = copy_book(tmp_path / "book")
    replace(book / path, old, new)
    after = hashes(book)
    assert [name for name in shown.split() if after[name] == before[name]] == []
    assert [name for name in not_shown.split() if after[name] != before[name]] == []
    assert after["binder"] != before["binder"] or not set(shown.split()) - USED_UP
