"""A whole book: every name resolved, from a folder and from a git tree alike."""

import shutil
import subprocess
from dataclasses import dataclass
from pathlib import Path

import pytest

from tankside.catalogue import load
from tankside.loading.sources import Folder, GitTree, GitUnavailableError

BASE = Path(__file__).parent / "base"
BLEND = "procedures/batch/blend.yaml"
FLUSH = "procedures/filling/flush.yaml"
FIRST = "checklists/first-batch.yaml"
EQUIPMENT = "procedures/plant/equipment.yaml"
MATERIALS = "procedures/plant/materials.yaml"
OWN = "input or amount of this procedure"


@dataclass(frozen=True)
class Copy:
    """A copy of the base book that a test changes."""

    root: Path

    def change(self, path: str, old: str, new: str) -> None:
        text = (self.root / path).read_text(encoding="utf-8")
        assert text.count(old) == 1
        (self.root / path).write_text(text.replace(old, new), encoding="utf-8", newline="\n")

    def problems(self) -> list[str]:
        return [f"{each.span} {each.code}: {each.message}" for each in load(Folder(self.root)).problems]

    def git(self, *arguments: str) -> None:
        settings = ("-c", "user.name=x", "-c", "user.email=x@x", "-c", "init.defaultBranch=main")
        subprocess.run(["git", *settings, "-C", str(self.root), *arguments], check=True, capture_output=True)

    def commit(self) -> None:
        self.git("init")
        self.git("add", "--all")
        self.git("commit", "--message", "x")


@pytest.fixture
def book(tmp_path: Path) -> Copy:
    return Copy(Path(shutil.copytree(BASE, tmp_path / "book")))


def test_base_book_loads_with_its_procedures_in_order_of_family(book: Copy) -> None:
    loaded = load(Folder(book.root))
    assert loaded.book is not None
    assert (loaded.count, loaded.problems) == (8, ())
    assert list(loaded.book.procedures) == ["blend", "flush"]
    assert list(loaded.book.checklists) == ["first-batch"]


# --- names that are not defined

UNKNOWN = [
    (FIRST, "procedure: flush", "procedure: flash", f"{FIRST}:14:16 name-unknown: 'flash' is not a known procedure"),
    (
        FIRST,
        "  - procedure: blend\n",
        "  - procedure: blend\n    section: too-cold\n",
        f"{FIRST}:14:14 name-unknown: 'too-cold' is not a known section",
    ),
    (
        BLEND,
        "if_outside: too-warm\n",
        "if_outside: first-batch\n",
        f"{BLEND}:39:17 name-unknown: 'first-batch' is not a known section of this procedure or procedure",
    ),
    (
        BLEND,
        "covers: [add-acid]",
        "covers: [add-acid, add-acids]",
        f"{BLEND}:45:24 name-unknown: 'add-acids' is not a known step of this procedure",
    ),
    (FLUSH, "path: [tank-1, V1", "path: [tank-1, V9", f"{FLUSH}:38:20 name-unknown: 'V9' is not a known tag"),
    (FLUSH, "<most-to-run>", "<most>", f"{FLUSH}:39:12 name-unknown: 'most' is not a known amount"),
    (
        FLUSH,
        "remaining: 5 %",
        "remaining: share",
        f"{FLUSH}:24:18 name-unknown: 'share' is not a known input or amount of this procedure",
    ),
    (FLUSH, "volume: line-1.", "volume: line-2.", f"{FLUSH}:23:15 name-unknown: 'line-2' is not a known tag"),
    (
        FLUSH,
        "  - shut: V1\n",
        "  - shut: V1\n    picture: v1.svg\n    picture_says: The valve.\n",
        f"{FLUSH}:41:14 name-unknown: 'v1.svg' is not a known picture in site_src/pictures",
    ),
    (
        FLUSH,
        "    do: Shut V1.\n",
        "    do: Shut V1.\n    go_to: splash\n",
        f"{FLUSH}:44:12 name-unknown: 'splash' is not a known procedure",
    ),
    (
        BLEND,
        "limits: water.temperature",
        "limits: water.heat",
        f"{BLEND}:38:13 name-unknown: 'water.heat' is not a known limit (material.name)",
    ),
    (
        EQUIPMENT,
        "says: The waste pail is empty and dry.",
        "says: The waste pail is empty and dry.\n    from: flush/rinse",
        f"{EQUIPMENT}:128:11 name-unknown: 'flush/rinse' is not a known procedure or procedure/section",
    ),
    (
        MATERIALS,
        "- groups: [acids, hypochlorites]",
        "- groups: [acids, bleaches]",
        f"{MATERIALS}:56:21 name-unknown: 'bleaches' is not a known reactivity group",
    ),
]


@pytest.mark.parametrize(("path", "old", "new", "expected"), UNKNOWN, ids=[case[3].split("'")[1] for case in UNKNOWN])
def test_name_that_is_not_defined_is_refused_where_it_stands(
    book: Copy, path: str, old: str, new: str, expected: str
) -> None:
    book.change(path, old, new)
    assert expected in book.problems()
    # What else may follow is that something is no longer used.
    assert [each for each in book.problems() if "name-unused" not in each] == [expected]


def test_section_of_another_procedure_is_no_place_to_go(book: Copy) -> None:
    book.change(FLUSH, "  - shut: V1\n", "  - shut: V1\n  - check: V1 is shut.\n    if_not: too-warm\n")
    assert [each.split(": ", 1)[0] for each in book.problems()] == [f"{FLUSH}:42:13 name-unknown"]


@pytest.mark.parametrize("place", ["too-warm", "flush"])
def test_going_to_a_section_or_another_procedure_is_sound(book: Copy, place: str) -> None:
    book.change(
        BLEND, "  - section: too-warm\n", f"  - check: It is cool.\n    if_not: {place}\n  - section: too-warm\n"
    )
    assert book.problems() == []


# --- names that are never used


@pytest.mark.parametrize(
    ("path", "old", "new", "expected"),
    [
        (BLEND, "wear: [goggles]\n", "", f"{EQUIPMENT}:115:3 name-unused: protective equipment 'goggles'"),
        (FLUSH, "prerequisites: [pail-empty]\n", "", f"{EQUIPMENT}:126:3 name-unused: condition 'pail-empty'"),
        (BLEND, "handles: [bleach]\n", "", f"{MATERIALS}:25:3 name-unused: material 'bleach'"),
        (
            MATERIALS,
            "groups:\n  waters",
            "groups:\n  oils:\n    name: Oils\n  waters",
            f"{MATERIALS}:49:3 name-unused: reactivity group 'oils'",
        ),
        (
            "procedures/plant/roles.yaml",
            "roles:\n",
            "roles:\n  helper:\n    name: Helper\n    does: Helps.\n",
            "procedures/plant/roles.yaml:3:3 name-unused: role 'helper'",
        ),
        (FLUSH, "<most-to-run> is", "Enough is", f"{FLUSH}:19:3 name-unused: {OWN} 'most-to-run'"),
        (BLEND, "make: batch", "make: 50 L", f"{BLEND}:18:3 name-unused: {OWN} 'batch'"),
        (BLEND, "if_outside: too-warm", "if_outside: flush", f"{BLEND}:49:14 name-unused: section 'too-warm'"),
    ],
)
def test_name_that_is_never_used_is_reported_where_it_is_defined(
    book: Copy, path: str, old: str, new: str, expected: str
) -> None:
    book.change(path, old, new)
    assert book.problems() == [f"{expected} is defined and never used"]


def test_tag_in_plain_words_is_used(book: Copy) -> None:
    book.change(EQUIPMENT, "  T1:\n", "  V2:\n    kind: valve\n    name: Spare valve\n  T1:\n")
    book.change(FLUSH, "    do: Shut V1.\n", "    do: Shut V1, then V2.\n")
    assert book.problems() == []


def test_nothing_is_called_unused_while_a_file_could_not_be_read_whole(book: Copy) -> None:
    book.change(BLEND, "wear: [goggles]\n", "wear: [goggles\n")
    assert [each.split(": ", 1)[0] for each in book.problems()] == [f"{BLEND}:15:7 yaml-syntax"]


def test_nothing_is_called_unknown_that_a_broken_plant_file_may_define(book: Copy) -> None:
    book.change(EQUIPMENT, "equipment:\n  tank-1:", "equipment:\n\ttank-1:")
    assert [each.split(": ", 1)[0] for each in book.problems()] == [f"{EQUIPMENT}:3:1 yaml-tab"]


def test_section_that_lacks_its_title_is_still_a_place_to_go(book: Copy) -> None:
    book.change(BLEND, "    title: The water is too warm\n", "")
    assert [each.split(": ", 1)[0] for each in book.problems()] == [f"{BLEND}:49:5 key-missing"]


def test_amount_that_lacks_its_title_is_still_an_amount(book: Copy) -> None:
    book.change(FLUSH, "    title: Most to run into the pail\n", "")
    assert [each.split(": ", 1)[0] for each in book.problems()] == [f"{FLUSH}:20:5 key-missing"]


# --- tags of the wrong kind


@pytest.mark.parametrize(
    ("path", "old", "new", "expected"),
    [
        (
            FLUSH,
            "  - shut: V1\n",
            "  - stop: V1\n",
            f"{FLUSH}:40:11 tag-wrong-kind: 'V1' is a valve, not a pump or mixer or exhaust",
        ),
        (
            BLEND,
            "instrument: T1",
            "instrument: V1",
            f"{BLEND}:37:17 tag-wrong-kind: 'V1' is a valve, not an instrument or scale or measure",
        ),
        (
            BLEND,
            "to: tank-1\n",
            "to: line-1\n",
            f"{BLEND}:47:9 tag-wrong-kind: 'line-1' is a line, not a tank or pail or measure",
        ),
        (
            FLUSH,
            "collect_in: pail-1",
            "collect_in: scale-1",
            f"{FLUSH}:27:17 tag-wrong-kind: 'scale-1' is a scale, not a pail or drum or tank",
        ),
    ],
)
def test_tag_of_a_kind_that_cannot_do_it_is_refused(book: Copy, path: str, old: str, new: str, expected: str) -> None:
    book.change(path, old, new)
    if "T1" in old:
        book.change(BLEND, "stop_safely: Step back.", "stop_safely: Step back. T1 stays.")
    assert book.problems() == [expected]


# --- cautions

CHOICE = """\
  - choose: Is it warm?
    branches:
      - if: yes
        steps:
          - do: Open the hatch.
            step: open-hatch
      - if: no
        steps:
          - do: Wait.
            step: wait-a-little
"""
CAUTION = """\
  - caution: It can splash.
    harm: It irritates skin.
    avoid: Stand to the side.
    covers: [open-hatch]
"""


def test_caution_may_cover_a_step_inside_a_choice_that_follows(book: Copy) -> None:
    book.change(FLUSH, "  - shut: V1\n", f"{CAUTION}{CHOICE}  - shut: V1\n")
    assert book.problems() == []


def test_mistyped_tag_is_one_problem_though_the_name_of_its_step_is_made_of_it(book: Copy) -> None:
    caution = CAUTION.replace("open-hatch", "open-v1")
    book.change(FLUSH, "  - open: V1\n", f"{caution}  - open: V9\n")
    assert [each.split(": ", 1)[1] for each in book.problems()] == ["'V9' is not a known tag"]


def test_caution_after_a_choice_with_the_step_it_covers_is_refused(book: Copy) -> None:
    book.change(FLUSH, "  - shut: V1\n", f"{CHOICE}{CAUTION}  - shut: V1\n")
    assert [each.split(": ", 1)[0] for each in book.problems()] == [f"{FLUSH}:50:5 caution-after-step"]


# --- a folder and a git tree


def test_git_tree_gives_the_same_book_as_the_folder(book: Copy) -> None:
    hidden = book.root / "procedures" / ".hidden"
    hidden.mkdir()
    (hidden / "x.yaml").write_bytes(b"a: b\n")
    pictures = book.root / "site_src" / "pictures"
    pictures.mkdir(parents=True)
    (pictures / "v1.svg").write_bytes(b"<svg/>")
    book.commit()
    tree, folder = GitTree(book.root, "HEAD"), Folder(book.root)
    assert tuple(tree.files()) == tuple(folder.files())
    assert tree.pictures() == folder.pictures() == frozenset({"v1.svg"})
    assert load(tree) == load(folder)


def test_git_tree_of_a_book_in_a_folder_of_a_repository_gives_the_same_book(book: Copy) -> None:
    outer = Copy(book.root.parent)
    (outer.root / "README").write_bytes(b"x\n")
    outer.commit()
    assert load(GitTree(book.root, "HEAD")) == load(Folder(book.root))


def test_git_tree_is_that_of_the_commit_and_not_of_the_folder(book: Copy) -> None:
    book.commit()
    before = load(Folder(book.root))
    book.change(FLUSH, "title: Flush the filling line", "title: Flush it")
    assert load(Folder(book.root)) != before
    assert load(GitTree(book.root, "HEAD")) == before


def test_commit_that_is_not_there_is_said_to_the_caller(book: Copy) -> None:
    book.commit()
    with pytest.raises(GitUnavailableError):
        load(GitTree(book.root, "nosuch"))


# --- links


def test_link_inside_the_book_is_followed(book: Copy) -> None:
    (book.root / FLUSH).rename(book.root / "flush.yaml")
    (book.root / FLUSH).symlink_to(book.root / "flush.yaml")
    assert book.problems() == []


@pytest.mark.parametrize("target", ["{outside}/flush.yaml", "{outside}/nothing.yaml", "/dev/zero"])
def test_link_out_of_the_book_is_refused_and_not_read(book: Copy, tmp_path: Path, target: str) -> None:
    outside = tmp_path / "book-2"
    outside.mkdir()
    (book.root / FLUSH).rename(outside / "flush.yaml")
    (book.root / FLUSH).symlink_to(target.format(outside=outside))
    assert [each.split(": ", 1)[0] for each in book.problems()] == [f"{FLUSH}:1:1 link-leaves-book"]


def test_folder_that_is_a_link_is_refused_even_when_it_leads_round_in_the_book(book: Copy) -> None:
    for name in ("one", "two"):
        (book.root / "procedures" / name).symlink_to(book.root, target_is_directory=True)
    assert [each.split(": ", 1)[0] for each in book.problems()] == [
        "procedures/one:1:1 link-leaves-book",
        "procedures/two:1:1 link-leaves-book",
    ]


def test_whole_part_that_leads_out_of_the_book_is_refused(book: Copy, tmp_path: Path) -> None:
    (book.root / "checklists").rename(tmp_path / "checklists")
    (book.root / "checklists").symlink_to(tmp_path / "checklists")
    assert any(each.startswith("checklists:1:1 ") for each in book.problems())
    assert load(Folder(book.root)).count == 8


def test_picture_that_is_a_link_out_of_the_book_is_no_picture(book: Copy, tmp_path: Path) -> None:
    pictures = book.root / "site_src" / "pictures"
    pictures.mkdir(parents=True)
    (tmp_path / "v1.svg").write_bytes(b"<svg/>")
    (pictures / "v1.svg").symlink_to(tmp_path / "v1.svg")
    assert Folder(book.root).pictures() == frozenset()


# --- ids and days


@pytest.mark.parametrize("path", ["procedures/cleaning/flush.yaml", "checklists/flush.yaml"])
def test_id_names_one_thing_in_the_whole_book(book: Copy, path: str) -> None:
    (book.root / path).parent.mkdir(exist_ok=True)
    shutil.copy(book.root / FLUSH, book.root / path)
    assert "id-used-twice" in {each.code for each in load(Folder(book.root)).problems}


def test_day_of_a_plant_file_must_be_in_the_calendar(book: Copy) -> None:
    book.change(EQUIPMENT, "2027-05-31", "2027-06-31")
    assert book.problems() == [f"{EQUIPMENT}:37:22 date-impossible: '2027-06-31' is not a day of the calendar"]


def test_what_has_not_the_form_of_a_day_is_said_once(book: Copy) -> None:
    book.change(FLUSH, "review: 2027-11-25", "review: next year")
    assert [each.split(": ", 1)[0] for each in book.problems()] == [f"{FLUSH}:8:9 value-form"]
