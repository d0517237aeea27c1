"""The hash of an edition changes with what reaches a reader, and with nothing else."""

import json
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from tankside.catalogue import load
from tankside.checkup import check_book
from tankside.compute.amounts import WorkedBook
from tankside.edition import Audience, LanguageUnknownError, procedure_edition
from tankside.loading.sources import Folder
from tankside.plant.fold import folded
from tankside.plant.portable import read_effect, read_rules
from tankside.plant.pressure import settled
from tankside.plant.setting import setting_of

ROOT = Path(__file__).parent.parent
BASE = Path(__file__).parent / "base"
BLEND = "procedures/batch/blend.yaml"
FLUSH = "procedures/filling/flush.yaml"
FIRST = "checklists/first-batch.yaml"
EQUIPMENT = "procedures/plant/equipment.yaml"
MATERIALS = "procedures/plant/materials.yaml"

CHECKED = check_book(ROOT)

Change = Callable[[str, str, str], None]

PRINT_HASHES = """
import sys
from pathlib import Path
from tankside.checkup import check_book
for name, edition in check_book(Path(sys.argv[1])).editions.items():
    print(name, edition.hash)
"""


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return Path(shutil.copytree(BASE, tmp_path / "book"))


@pytest.fixture
def demo(tmp_path: Path) -> Path:
    for part in ("procedures", "checklists", "site_src"):
        shutil.copytree(ROOT / part, tmp_path / "demo" / part)
    return tmp_path / "demo"


def change(book: Path, path: str, old: str, new: str) -> None:
    text = (book / path).read_text(encoding="utf-8")
    assert text.count(old) == 1
    (book / path).write_text(text.replace(old, new), encoding="utf-8", newline="\n")


def hashes(book: Path) -> dict[str, str]:
    checkup = check_book(book)
    assert [each.as_text() for each in checkup.problems] == []
    return {name: edition.hash for name, edition in checkup.editions.items()}


def changed(before: dict[str, str], after: dict[str, str]) -> set[str]:
    assert before.keys() == after.keys()
    return {name for name in before if before[name] != after[name]}


def hashes_in_new_process(book: Path, seed: str) -> str:
    done = subprocess.run(
        [sys.executable, "-c", PRINT_HASHES, str(book)],
        env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT / "tools")},
        check=True,
        capture_output=True,
        text=True,
        encoding="utf-8",
    )
    return done.stdout


def test_same_book_has_the_same_hashes_in_every_process() -> None:
    first, second = (hashes_in_new_process(ROOT, seed) for seed in ("0", "4242"))
    assert first == second
    written = {path.stem for path in (*ROOT.glob("procedures/*/*.yaml"), *ROOT.glob("checklists/*.yaml"))}
    plant = {path.stem for path in ROOT.glob("procedures/plant/*.yaml")}
    assert {line.partition(" ")[0] for line in first.splitlines()} == written - plant


def test_a_copy_elsewhere_has_the_same_hashes(demo: Path) -> None:
    assert hashes(demo) == hashes(ROOT)


# --- what changes a hash


def test_changed_bore_changes_the_editions_whose_amounts_or_flows_depend_on_it_and_no_others(demo: Path) -> None:
    before = hashes(demo)
    change(demo, EQUIPMENT, "      - bore: 27.2 mm\n", "      - bore: 27.3 mm\n")
    through = re.compile(r"cleaner-line\.hold-up|path: \[.*\bcleaner-line\b")
    texts = {path.stem: path.read_text("utf-8") for path in demo.glob("*/**/*.yaml")}
    procedures = {name for name, text in texts.items() if through.search(text)}
    lists = {name for name, text in texts.items() if "lists: steps" in text}
    naming = {name for name in lists if any(f"procedure: {each}\n" in texts[name] for each in procedures)}
    assert {"bleed-cleaner-line", "clean-mixing-tank"} <= procedures < before.keys()
    assert changed(before, hashes(demo)) == procedures | naming


@pytest.mark.parametrize(
    ("path", "old", "new", "expected"),
    [
        (EQUIPMENT, "bore: 20 mm", "bore: 20.1 mm", {"flush"}),
        # a procedure gets what its flows run through, and nothing of the rest of the plant
        (EQUIPMENT, "capacity: 100 L", "capacity: 101 L", {"blend", "flush"}),
        (EQUIPMENT, "heel: 1 L", "heel: 1.1 L", {"blend", "flush"}),
        (EQUIPMENT, "heel: 0.5 L", "heel: 0.6 L", set()),
        (EQUIPMENT, "bore: 15 mm", "bore: 16 mm", set()),
        (FLUSH, "  - V1 shut\n", "  - V1 shut\n  - line-1 without pressure\n", {"flush"}),
        (EQUIPMENT, "extra: 0.2 L", "extra: 0.201 L", {"flush"}),
        (EQUIPMENT, "name: Outlet of the tank", "name: Outlet", {"flush"}),
        (EQUIPMENT, "name: Scale\n", "name: Floor scale\n", {"blend"}),
        (EQUIPMENT, "look_for: Cracks, a weak strap.", "look_for: Cracks.", {"blend"}),
        (EQUIPMENT, "says: The waste pail is empty and dry.", "says: The waste pail is dry.", {"flush"}),
        (EQUIPMENT, "calibration_due: 2027-05-31", "calibration_due: 2027-06-30", set()),
        (MATERIALS, "to: 25 degC", "to: 26 degC", {"blend"}),
        (MATERIALS, "density: 1.05 kg/L", "density: 1.06 kg/L", {"blend"}),
        (MATERIALS, "look: Clear, sour smell.", "look: Clear.", {"blend"}),
        ("procedures/plant/book.yaml", "title: The smallest book", "title: The book", set()),
        ("procedures/plant/book.yaml", "jurisdiction: US", "jurisdiction: EU", {"blend", "flush", "first-batch"}),
        ("procedures/plant/roles.yaml", "name: Lead", "name: Workshop lead", {"blend", "flush", "first-batch"}),
        (FLUSH, "do: Shut V1.", "do: Shut V1!", {"flush"}),
        (FLUSH, "title: Flush the filling line", "title: Flush it", {"flush", "first-batch"}),
    ],
)
def test_fact_changes_the_hash_of_exactly_those_that_show_it(
    book: Path, path: str, old: str, new: str, expected: set[str]
) -> None:
    before = hashes(book)
    change(book, path, old, new)
    assert changed(before, hashes(book)) == expected


def test_checklist_that_lists_steps_changes_with_the_procedures_in_it(book: Path) -> None:
    change(book, FIRST, "lists: titles", "lists: steps")
    # what is blended is not released yet, so flushing with it in one go would be refused
    change(book, FIRST, "  - procedure: blend\n", "")
    before = hashes(book)
    change(book, FLUSH, "do: Shut V1.", "do: Shut V1!")
    assert changed(before, hashes(book)) == {"flush", "first-batch"}


# --- what changes none


def moved(text: str) -> str:
    """Return the text with comments and empty lines between its lines; texts over several lines are left alone."""
    return re.sub(r"^(\w[^:\n]*:(?: [^>|\n].*)?)$", r"# a comment\n\n\1", text, flags=re.MULTILINE)


def indented(text: str) -> str:
    return re.sub(r"^( *)(- )?", lambda start: start[1] * 2 + ("-   " if start[2] else ""), text, flags=re.MULTILINE)


def quoted(text: str) -> str:
    return re.sub(r"^( *(?:- )?\w+: )([^\[>\"'\n]+)$", r'\1"\2"', text, flags=re.MULTILINE)


def unfolded(text: str) -> str:
    return re.sub(r": \[(.*)\]$", lambda ids: ": [ " + " , ".join(ids[1].split(", ")) + " ]", text, flags=re.MULTILINE)


def with_other_line_ends(text: str) -> str:
    return text.replace("\n", "\r\n")


def with_byte_order_mark(text: str) -> str:
    return f"\ufeff{text}"


@pytest.mark.parametrize("rewrite", [moved, indented, quoted, unfolded, with_other_line_ends, with_byte_order_mark])
def test_way_of_writing_changes_no_hash(demo: Path, rewrite: Callable[[str], str]) -> None:
    before = hashes(demo)
    rewritten = 0
    for path in (*demo.glob("procedures/*/*.yaml"), *demo.glob("checklists/*.yaml")):
        text = path.read_text(encoding="utf-8")
        rewritten += rewrite(text) != text
        path.write_bytes(rewrite(text).encode("utf-8"))
    assert rewritten > 10
    assert changed(before, hashes(demo)) == set()


def test_order_of_keys_that_have_no_order_changes_no_hash(book: Path) -> None:
    before = hashes(book)
    change(
        book, FLUSH, "    tolerance: 0.5 L\n    collect_in: pail-1\n", "    collect_in: pail-1\n    tolerance: 0.5 L\n"
    )
    change(book, FLUSH, "family: filling\nsituation: filling\n", "situation: filling\nfamily: filling\n")
    assert changed(before, hashes(book)) == set()


def test_new_procedure_changes_no_other_hash(book: Path) -> None:
    before = hashes(book)
    text = (book / FLUSH).read_text(encoding="utf-8").replace("procedure: flush", "procedure: flush-again")
    (book / "procedures/filling/flush-again.yaml").write_text(text, encoding="utf-8", newline="\n")
    after = hashes(book)
    assert changed(before, {name: after[name] for name in before}) == set()


# --- canonical JSON


def numbers(value: Any) -> list[object]:
    if isinstance(value, dict):
        return [number for each in value.values() for number in numbers(each)]
    if isinstance(value, list):
        return [number for each in value for number in numbers(each)]
    return [] if isinstance(value, (str, bool)) else [value]


@pytest.mark.parametrize("edition", [pytest.param(each, id=name) for name, each in CHECKED.editions.items()])
def test_canonical_json_is_loadable_and_holds_no_number(edition: Any) -> None:
    found = json.loads(edition.canonical)
    assert numbers(found) == []
    assert json.dumps(found, sort_keys=True, separators=(",", ":"), ensure_ascii=False) == edition.canonical
    assert "span" not in edition.canonical
    assert str(ROOT) not in edition.canonical
    assert re.fullmatch("[0-9a-f]{64}", edition.hash)


def test_edition_in_a_language_the_book_lacks_is_refused(book: Path) -> None:
    loaded = load(Folder(book)).book
    assert loaded is not None
    with pytest.raises(LanguageUnknownError):
        procedure_edition(WorkedBook(loaded), loaded.procedures["flush"], Audience.FLOOR, "es")


def test_audience_is_part_of_the_edition(book: Path) -> None:
    floor, office = (check_book(book, audience).editions["flush"] for audience in Audience)
    assert floor.hash != office.hash


# --- what the steps do to the plant


def told(book: Path, name: str) -> Any:
    """Return what a reader of an edition alone is told."""
    return json.loads(check_book(book).editions[name].canonical)


def test_edition_says_what_its_steps_and_a_safe_stop_do_to_the_plant(book: Path) -> None:
    found = told(book, "flush")
    shut = {"kind": "sets", "tag": "V1", "field": "is_open", "to": False}
    assert found["effects"] == {
        "open-v1": [{**shut, "to": True}],
        "move-descaler": [
            {
                "kind": "flows",
                "source": "tank-1",
                "material": "descaler",
                "through": ["V1", "line-1"],
                "target": "pail-1",
                # The line holds pi / 4 * (2 cm)^2 * 300 cm + 0.2 L = 1.1425 L, times ln 20 = 2.9957 is 3.423 L, to the
                # next 0.5 L of the pail 3.5 L, and 0.5 L more or less of that.
                "amount": ["3", "4"],
            }
        ],
        "shut-v1": [shut],
    }
    assert found["stopping"] == [shut]


def test_edition_says_what_a_fold_must_know_of_the_pieces_it_touches_and_of_no_others(book: Path) -> None:
    rules = told(book, "flush")["fold_rules"]
    line = Fraction(rules["held"].pop("line-1").pop("capacity"))
    # pi / 4 * (2 cm)^2 * 300 cm + 0.2 L
    assert abs(line - Fraction("1.142477796076937971541848211")) < Fraction(1, 10**15)
    assert rules == {
        "held": {"tank-1": {"capacity": "100", "heel": "1"}, "pail-1": {"capacity": "10", "heel": "0"}},
        "lines": ["line-1"],
        "supplies": [],
        "waters": ["water"],
        "isolated_at": {},
        # nothing feeds it; it is open to the pail, and through V1 to the tank
        "pressure": [
            {"line": "line-1", "fed": [], "relieved": [{"open": ["V1"], "joined": []}, {"open": [], "joined": []}]}
        ],
    }


def test_procedure_that_touches_nothing_and_checklist_have_no_effects() -> None:
    for name in ("leave-now", "open-the-workshop"):
        found = told(ROOT, name)
        assert (found["effects"], found["stopping"], "fold_rules" in found) == ({}, [], False)


WITH_EFFECTS = sorted(name for name, edition in CHECKED.editions.items() if edition.effects)


def test_most_procedures_of_the_demo_book_do_something_to_the_plant() -> None:
    assert len(WITH_EFFECTS) > 10


@pytest.mark.parametrize("name", WITH_EFFECTS)
def test_edition_alone_leads_to_the_state_that_the_whole_plant_leads_to(name: str) -> None:
    assert CHECKED.book is not None
    setting = setting_of(CHECKED.book.plant)
    found = json.loads(CHECKED.editions[name].canonical)
    rules = read_rules(found["fold_rules"])
    state = settled(setting.rules.pressure, setting.at_rest)
    for written in (*found["effects"].values(), found["stopping"]):
        for effect in map(read_effect, written):
            after = folded(setting.rules, state, effect)
            assert folded(rules, state, effect) == after
            state = after


# --- against a commit


def git(book: Path, *arguments: str) -> None:
    settings = ("-c", "user.name=x", "-c", "user.email=x@x", "-c", "init.defaultBranch=main")
    subprocess.run(["git", *settings, "-C", str(book), *arguments], check=True, capture_output=True)


@pytest.fixture
def committed(book: Path) -> Path:
    git(book, "init")
    git(book, "add", "--all")
    git(book, "commit", "--message", "first")
    return book


def problems(book: Path, against: str = "HEAD") -> list[str]:
    return [f"{each.span} {each.code}" for each in check_book(book, against=against).problems]


def test_nothing_is_reported_when_nothing_changed(committed: Path) -> None:
    assert problems(committed) == []


def test_changed_hash_under_the_same_revision_is_reported(committed: Path) -> None:
    change(committed, FLUSH, "do: Shut V1.", "do: Shut V1!")
    assert problems(committed) == [f"{FLUSH}:6:11 hash-changed"]


def test_changed_plant_is_reported_at_each_procedure_that_shows_it(committed: Path) -> None:
    change(committed, EQUIPMENT, "bore: 20 mm", "bore: 20.1 mm")
    assert problems(committed) == [f"{FLUSH}:6:11 hash-changed"]


def test_changed_hash_under_a_new_revision_is_not_reported(committed: Path) -> None:
    change(committed, FLUSH, "do: Shut V1.", "do: Shut V1!")
    change(committed, FLUSH, "revision: 1\neffective", "revision: 2\neffective")
    change(
        committed, FLUSH, "    change: First issue.\n",
        "    change: First issue.\n  - revision: 2\n    date: 2026-11-26\n    change: Louder.\n",
    )  # fmt: skip
    assert problems(committed) == []


def test_comment_is_not_reported(committed: Path) -> None:
    change(committed, FLUSH, "steps:\n", "# in order\nsteps:\n")
    assert problems(committed) == []


def test_comparison_is_with_the_commit_asked_for(committed: Path) -> None:
    change(committed, FLUSH, "do: Shut V1.", "do: Shut V1!")
    git(committed, "commit", "--all", "--message", "second")
    assert problems(committed) == []
    assert problems(committed, "HEAD~1") == [f"{FLUSH}:6:11 hash-changed"]


def test_book_that_had_problems_then_is_compared_with_nothing(book: Path) -> None:
    change(book, FLUSH, "approved: lead", "approved: leed")
    git(book, "init")
    git(book, "add", "--all")
    git(book, "commit", "--message", "first")
    change(book, FLUSH, "approved: leed", "approved: lead")
    assert problems(book) == []


def test_commit_from_before_the_book_is_compared_with_nothing(book: Path) -> None:
    git(book, "init")
    git(book, "commit", "--allow-empty", "--message", "first")
    assert problems(book) == []
