"""For each code that only laying out or a list of copies can meet: its example and the exact text."""

import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from sheets_invalid import FLUSH, LAID, POSTED
from test_invalid import BASE, expected

from tankside.checkup import check_book
from tankside.cli import tankside


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return Path(shutil.copytree(BASE, tmp_path / "book"))


def run(*arguments: object) -> Result:
    done = CliRunner().invoke(tankside, ["sheets", *map(str, arguments)])
    assert done.exit_code == 1, done.exception
    return done


def told(done: Result) -> str:
    """What is said of problems, without how far the work is."""
    return "".join(line for line in done.stderr.splitlines(keepends=True) if not line.startswith("sheet "))


@pytest.mark.parametrize("code", LAID)
def test_book_whose_sheet_does_not_fit_gives_its_text(book: Path, code: str) -> None:
    LAID[code](book)
    # `check` reads data only and says so.
    assert [each for each in check_book(book).problems if each.severity.value == "error"] == []
    assert told(run("--book", book)) == expected(code)


def test_picture_that_is_gone_gives_its_text(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # `check` refuses what is missing when it looks, so it goes away just after.
    pictures = book / "site_src/pictures"
    pictures.mkdir(parents=True)
    (pictures / "v1.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 90 48"><path d="M0 0H90"/></svg>', encoding="utf-8"
    )
    text = (book / FLUSH).read_text(encoding="utf-8")
    shown = "  - open: V1\n    picture: v1.svg\n    picture_says: The handle along the pipe.\n"
    (book / FLUSH).write_text(text.replace("  - open: V1\n", shown, 1), encoding="utf-8", newline="\n")
    monkeypatch.setattr("tankside.cli.sheets_book.picture_data", lambda folder: {})
    assert told(run("--book", book, "flush")) == expected("sheet-failed")


@pytest.mark.parametrize("code", POSTED)
def test_list_of_copies_that_cannot_be_read_gives_its_text(
    book: Path, code: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(book.parent)
    Path("walls.csv").write_text(POSTED[code], encoding="utf-8", newline="\n")
    done = run("posted", "walls.csv", "--book", book)
    assert (done.stdout, told(done)) == ("", expected(code))
