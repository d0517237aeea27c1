"""Which revision of a book the edition in a record was made of, as git knows it."""

import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest
from demo_book import replace
from record_files import Kept, finished_text, record_of, written

from tankside.checkup import check_book
from tankside.records import origins
from tankside.records.checking import check_files
from tankside.records.origins import Traced, traced

BASE = Path(__file__).parent / "base"
FLUSH = "procedures/filling/flush.yaml"


def git(folder: Path, *arguments: str) -> str:
    command = ["git", "-C", str(folder), "-c", "user.name=x", "-c", "user.email=x@x", *arguments]
    return subprocess.run(command, check=True, capture_output=True, text=True, encoding="utf-8").stdout.strip()


def commit(folder: Path) -> str:
    """Commit all of a book and return the short name of the commit."""
    git(folder, "add", ".")
    git(folder, "commit", "-qm", "x")
    return git(folder, "log", "-1", "--format=%h")


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A book in a checkout, in a folder below its root."""
    folder = Path(shutil.copytree(BASE, tmp_path / "checkout" / "book"))
    git(folder.parent, "init", "-q")
    return folder


def edition_of(book: Path, name: str = "flush") -> Any:
    return json.loads(check_book(book).editions[name].canonical)


def next_revision(book: Path, number: int) -> None:
    """Change what readers get, with a new revision."""
    path = book / FLUSH
    replace(path, f"revision: {number}\neffective", f"revision: {number + 1}\neffective")
    text = path.read_text(encoding="utf-8").rstrip("\n")
    more = f"\n  - revision: {number + 1}\n    date: 2026-11-26\n    change: Another one.\n"
    path.write_text(text + more, encoding="utf-8", newline="\n")


def traced_in(book: Path, tmp_path: Path, *editions: Any) -> Traced:
    paths = []
    for number, edition in enumerate(editions):
        working = Kept(edition, name=f"{number:016}")
        working.start()
        paths.append(written(tmp_path, record_of(working), f"{number}.json"))
    return traced(check_files(paths).records, book)


def test_base_book_ends_with_its_history_so_that_revisions_can_be_added(book: Path) -> None:
    next_revision(book, 1)
    assert [each.as_text() for each in check_book(book).problems] == []
    assert edition_of(book)["written"]["revision"] == "2"


def test_edition_is_found_in_the_newest_commit_that_has_it(book: Path, tmp_path: Path) -> None:
    first = edition_of(book)
    commit(book)
    (book / "notes.txt").write_text("Touches no part of the book.", encoding="utf-8")
    commit(book)
    replace(book / "procedures/plant/roles.yaml", "Keeps the book.", "Keeps it.")
    unchanged = commit(book)
    next_revision(book, 1)
    second, newest = edition_of(book), commit(book)
    next_revision(book, 2)
    third = edition_of(book)
    found = traced_in(book, tmp_path, first, second, third)
    assert found.problems == ()
    assert [str(each) for each in found.origins.values()] == [
        f"revision 2, commit {newest}",
        f"revision 1, commit {unchanged}",
        "revision 3, the book as it stands, in no commit that was looked at",
    ]


def test_checklist_is_found_too(book: Path, tmp_path: Path) -> None:
    replace(book / "checklists/first-batch.yaml", "lists: titles", "lists: steps")
    replace(book / "checklists/first-batch.yaml", "  - procedure: blend\n", "")
    edition, name = edition_of(book, "first-batch"), commit(book)
    assert [str(each) for each in traced_in(book, tmp_path, edition).origins.values()] == [f"revision 1, commit {name}"]


def test_edition_that_no_commit_has_is_a_remark_with_both_reasons(book: Path, tmp_path: Path) -> None:
    commit(book)
    edition = edition_of(book)
    edition["written"]["purpose"] = "Another one."
    found = traced_in(book, tmp_path, edition)
    assert found.origins == {}
    (problem,) = found.problems
    assert (problem.code, problem.severity.value) == ("record-edition-unknown", "remark")
    assert problem.message.endswith("of 'flush', revision 1 (1 commits looked at)")
    assert "another version of tankside" in problem.hint
    assert "a book that was changed" in problem.hint


def test_book_in_no_checkout_knows_what_stands_in_it(tmp_path: Path) -> None:
    book = Path(shutil.copytree(BASE, tmp_path / "book"))
    edition = edition_of(book)
    found = traced_in(book, tmp_path, edition)
    assert [str(each) for each in found.origins.values()] == [
        "revision 1, the book as it stands, in no commit that was looked at"
    ]
    edition["written"]["purpose"] = "Another one."
    (problem,) = traced_in(book, tmp_path, edition).problems
    assert problem.message.endswith("(git knows no commits of it)")


def test_record_of_another_book_is_not_looked_for(book: Path, tmp_path: Path) -> None:
    commit(book)
    found = traced(check_files([written(tmp_path, finished_text())]).records, book)
    assert [(each.code, each.message) for each in found.problems] == [
        ("record-other-book", "this record is of another book, 'cafe-cleaning-workshop'")
    ]


def test_search_ends_after_so_many_commits_and_says_so(
    book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = edition_of(book)
    commit(book)
    for number in (1, 2):
        next_revision(book, number)
        commit(book)
    monkeypatch.setattr(origins, "MOST_COMMITS", 2)
    (problem,) = traced_in(book, tmp_path, first).problems
    assert problem.message.endswith("(2 commits looked at)")
    monkeypatch.setattr(origins, "MOST_COMMITS", 3)
    assert traced_in(book, tmp_path, first).problems == ()


def test_commit_whose_book_was_broken_is_passed_by(book: Path, tmp_path: Path) -> None:
    edition, name = edition_of(book), commit(book)
    whole = (book / FLUSH).read_text(encoding="utf-8")
    (book / FLUSH).write_text(whole.replace("approved: lead", "approved: leed"), encoding="utf-8", newline="\n")
    commit(book)
    assert [str(each) for each in traced_in(book, tmp_path, edition).origins.values()] == [f"revision 1, commit {name}"]


def test_edition_for_an_audience_that_is_not_known_is_not_found(book: Path, tmp_path: Path) -> None:
    edition = {**edition_of(book), "audience": "visitors"}
    assert [each.code for each in traced_in(book, tmp_path, edition).problems] == ["record-edition-unknown"]
