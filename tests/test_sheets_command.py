"""`tankside sheets` from the outside: which sheets are made, what hangs where, and what is out of date there."""

from __future__ import annotations

import csv
import io
import json
import os
import re
import shutil
import signal
import subprocess
import sys
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from demo_book import ROOT, replace
from sheet_making import opened
from test_invalid import BASE, FLUSH

from tankside.cli import tankside
from tankside.cli.spreadsheets import as_text
from tankside.posted import read_list
from tankside.render_print import press

SHEETS = "procedures/plant/sheets.yaml"
LIST = """\
places:
  tank: Board beside the tank
  door: Inside of the door
sheets:
  flush-wall:
    kind: wall-sheet
    of: flush
    steps: [open-v1, shut-v1]
    hangs: [tank, door]
  descaler-label:
    kind: container-label
    of: descaler
    revision: 2
    effective: 2026-11-25
    review: 2027-11-25
    approved: lead
  flush:
    kind: step-sheet
    of: flush
    hangs: [tank]
    paper: A3
"""
ALL = ["blend", "descaler-label", "first-batch", "flush", "flush-wall"]


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A small book with a list of sheets."""
    book = Path(shutil.copytree(BASE, tmp_path / "book"))
    (book / SHEETS).write_text(LIST, encoding="utf-8", newline="\n")
    return book


def run(book: Path, *arguments: object, typed: bytes | None = None) -> Result:
    """Run the command on the book; what ends in an exception is our fault."""
    done = CliRunner().invoke(tankside, ["sheets", *map(str, arguments), "--book", str(book)], input=typed)
    assert done.exception is None or isinstance(done.exception, SystemExit), done.exception
    return done


def made(done: Result) -> list[str]:
    """The names of the sheets that were written."""
    assert done.exit_code == 0, done.stderr
    paths = [Path(line) for line in done.stdout.splitlines()]
    assert all(path.read_bytes().startswith(b"%PDF") for path in paths)
    return [path.stem for path in paths]


def rows(book: Path) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(run(book, "list", "--format", "csv").stdout)))


def hash_of(book: Path, name: str) -> str:
    return next(row["hash"] for row in rows(book) if row["sheet"] == name).removeprefix("'")


# --- make


@pytest.mark.parametrize(
    ("arguments", "names"),
    [
        ((), ALL),
        (("make",), ALL),
        (("flush-wall",), ["flush-wall"]),
        (("make", "flush-wall", "blend"), ["flush-wall", "blend"]),
        (("flush-training",), ["flush-training"]),
        (("--kind", "training-sheet"), ["blend-training", "flush-training"]),
        (("--kind", "step-sheet"), ["blend", "first-batch", "flush"]),
        (("--place", "door"), ["flush-wall"]),
        (("--place", "tank"), ["flush", "flush-wall"]),
        (("--family", "filling"), ["flush", "flush-wall"]),
        (("--paper", "A3"), ["flush"]),
        (("--place", "tank", "--kind", "wall-sheet"), ["flush-wall"]),
    ],
)
def test_sheets_are_made_by_id_or_by_what_they_are(book: Path, arguments: tuple[str, ...], names: list[str]) -> None:
    assert sorted(made(run(book, *arguments))) == sorted(names)
    assert sorted(each.stem for each in (book / "build/sheets").iterdir()) == sorted(names)


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (("flsh",), "'flsh' is no sheet; did you mean 'flush'?"),
        (("flush", "no-such-sheet-at-all"), "'no-such-sheet-at-all' is no sheet; see tankside sheets list"),
        (("--family", "fillin"), "'fillin' is no family of this book; did you mean 'filling'?"),
        (("--family", "xyz"), "'xyz' is no family of this book; known are: batch, filling"),
        (("--place", "dor"), "'dor' is no place of this book; did you mean 'door'?"),
        (("--place", "xyz"), "'xyz' is no place of this book; known are: door, tank"),
        (("--kind", "wall"), "'wall' is not one of"),
        (("--paper", "A5"), "'A5' is not one of"),
        (("list", "--place", "dor"), "'dor' is no place of this book"),
        (("--changed", "--against", "no-such-commit"), "no-such-commit"),
    ],
)
def test_wrong_names_are_wrong_usage_with_the_way_out(book: Path, arguments: tuple[str, ...], sentence: str) -> None:
    done = run(book, *arguments)
    assert (done.exit_code, done.stdout) == (2, "")
    assert sentence in " ".join(done.stderr.split())
    assert not (book / "build").exists()


def test_nothing_that_is_meant_is_said_and_no_failure(book: Path) -> None:
    done = run(book, "--place", "door", "--paper", "A3")
    assert (done.exit_code, done.stdout) == (0, "")
    assert done.stderr == "No sheet is meant by this; 'tankside sheets list' shows them all.\n"


@pytest.mark.parametrize(("paper", "width_mm"), [("A4", 210), ("A3", 297), ("Letter", 215.9), ("Tabloid", 279.4)])
def test_on_lays_out_on_other_paper_than_declared(book: Path, tmp_path: Path, paper: str, width_mm: float) -> None:
    done = run(book, "flush", "--on", paper, "--into", tmp_path / "here")
    assert made(done) == ["flush"]
    page = opened((tmp_path / "here/flush.pdf").read_bytes()).pages[0]
    # ISO 216, ANSI/ASME Y14.1
    assert float(page.width) == pytest.approx(width_mm * 72 / 25.4, abs=0.05)
    assert not (book / "build/sheets").exists()


def test_book_with_problems_gives_no_sheet(book: Path) -> None:
    replace(book / SHEETS, "    of: descaler\n", "    of: descalr\n")
    done = run(book)
    assert (done.exit_code, done.stdout) == (1, "")
    assert "[sheet-of-unknown]" in done.stderr
    assert done.stderr.endswith("No sheet was made.\n")


def test_sheet_that_does_not_fit_is_a_problem_and_the_others_are_made(book: Path) -> None:
    replace(book / SHEETS, "    hangs: [tank, door]\n", "    hangs: [tank, door]\n    read_from: 9 m\n")
    done = run(book, "flush-wall", "blend")
    assert done.exit_code == 1
    assert [Path(line).stem for line in done.stdout.splitlines()] == ["blend"]
    assert re.search(rf"^{SHEETS}:6:11: error: sheet 'flush-wall': .* \[sheet-too-long\]$", done.stderr, re.MULTILINE)
    assert done.stderr.endswith("1 sheet could not be made.\n")


# --- changed


def git(book: Path, *arguments: str) -> str:
    command = ["git", "-C", str(book), "-c", "user.name=x", "-c", "user.email=x@x", *arguments]
    return subprocess.run(command, check=True, capture_output=True, text=True, encoding="utf-8").stdout.strip()


@pytest.fixture
def committed(book: Path) -> Path:
    """The book in a repository, without a change."""
    (book / ".gitignore").write_text("build/\n", encoding="utf-8", newline="\n")
    for arguments in (("init", "-q"), ("add", "."), ("commit", "-qm", "First")):
        git(book, *arguments)
    return book


def revised(book: Path) -> None:
    """Change what the sheets of a procedure show, as it is done."""
    replace(book / FLUSH, "Shut V1.\nstop_leaves", "Shut V1 at once.\nstop_leaves")
    replace(book / FLUSH, "revision: 1\neffective", "revision: 2\neffective")
    replace(
        book / FLUSH,
        "change: First issue.",
        "change: First issue.\n  - revision: 2\n    date: 2026-11-25\n    change: Now.",
    )


def test_nothing_is_changed_right_after_a_commit(committed: Path) -> None:
    done = run(committed, "--changed")
    assert (done.exit_code, done.stdout) == (0, "")


def test_changed_makes_what_shows_something_else_than_the_commit(committed: Path) -> None:
    revised(committed)
    # The checklist lists titles only, and the label shows nothing of the procedure.
    assert sorted(made(run(committed, "--changed"))) == ["flush", "flush-wall"]
    assert made(run(committed, "--changed", "--kind", "training-sheet")) == ["flush-training"]


def test_changed_compares_with_the_commit_that_is_named(committed: Path) -> None:
    revised(committed)
    git(committed, "commit", "-qam", "Second")
    assert run(committed, "--changed").stdout == ""
    assert sorted(made(run(committed, "--changed", "--against", "HEAD~1"))) == ["flush", "flush-wall"]


def test_the_office_is_compared_with_the_office(committed: Path) -> None:
    revised(committed)
    assert sorted(made(run(committed, "--changed", "--audience", "office"))) == ["flush", "flush-wall"]


def test_a_commit_whose_book_had_problems_is_no_comparison(committed: Path) -> None:
    whole = (committed / FLUSH).read_bytes()
    replace(committed / FLUSH, "stop_leaves", "stop_leave")
    git(committed, "commit", "-qam", "Broken")
    (committed / FLUSH).write_bytes(whole)
    done = run(committed, "--changed")
    assert done.exit_code == 2
    assert "the book had problems at 'HEAD', so nothing can be compared" in done.stderr


def test_ctrl_c_while_sheets_are_laid_out_ends_in_one_sentence(tmp_path: Path) -> None:
    # The command itself, with an empty shelf and two processes.
    program = (
        "import sys\n"
        "from tankside.cli import main, sheets_make\n"
        "from tankside.render_print import press\n"
        f"sheets_make.SHELF = {str(tmp_path / 'shelf')!r}\n"
        "press.processors = lambda: 2\n"
        "main()\n"
    )
    command = [sys.executable, "-c", program, "sheets", "--book", str(ROOT), "--into", str(tmp_path / "out")]
    with subprocess.Popen(command, stderr=subprocess.PIPE, text=True, start_new_session=True) as process:
        assert process.stderr is not None
        first = next(line for line in process.stderr if line.startswith("sheet "))
        os.killpg(process.pid, signal.SIGINT)
        rest = process.stderr.read()
    assert process.returncode == 130, first + rest
    assert "Traceback" not in rest and "KeyboardInterrupt" not in rest
    assert "Interrupted." in rest
    assert not (tmp_path / "out").exists()


def test_processes_that_lay_out_leave_ctrl_c_to_the_one_that_was_started() -> None:
    with ProcessPoolExecutor(1, get_context("spawn"), press._begin) as pool:
        assert pool.submit(signal.getsignal, signal.SIGINT).result() is signal.SIG_IGN


def test_sheet_that_was_not_there_before_is_changed(committed: Path) -> None:
    (committed / SHEETS).write_text(LIST.replace("  flush-wall:", "  flush-hand:"), encoding="utf-8", newline="\n")
    assert made(run(committed, "--changed")) == ["flush-hand"]


def test_another_place_or_paper_changes_no_sheet(committed: Path) -> None:
    replace(committed / SHEETS, "hangs: [tank, door]", "hangs: [door]")
    replace(committed / SHEETS, "paper: A3", "paper: A4")
    assert run(committed, "--changed").stdout == ""


# --- list


def test_list_says_what_hangs_where(book: Path) -> None:
    done = run(book, "list")
    assert done.exit_code == 0
    assert re.sub(r"\b[0-9a-f]{8}\b", "########", done.stdout) == (
        "door: Inside of the door\n"
        "  flush-wall      wall-sheet       revision  1  ########\n"
        "tank: Board beside the tank\n"
        "  flush           step-sheet       revision  1  ########\n"
        "  flush-wall      wall-sheet       revision  1  ########\n"
        "no place is named\n"
        "  blend           step-sheet       revision  2  ########\n"
        "  descaler-label  container-label  revision  2  ########\n"
        "  first-batch     step-sheet       revision  1  ########\n"
    )
    assert run(book, "list", "--place", "door").stdout.count("\n") == 2


def test_list_as_csv_and_json_say_the_same(book: Path) -> None:
    found = json.loads(run(book, "list", "--format", "json").stdout)
    assert [(each["place"], each["sheet"], each["kind"]) for each in found] == [
        ("door", "flush-wall", "wall-sheet"),
        ("tank", "flush", "step-sheet"),
        ("tank", "flush-wall", "wall-sheet"),
    ]
    assert list(found[0]) == ["place", "sheet", "kind", "revision", "hash", "found"]
    assert [{**each, "hash": each["hash"].removeprefix("'")} for each in rows(book)] == found


def test_hash_on_the_list_is_the_one_printed_on_the_sheet(book: Path) -> None:
    run(book, "flush-wall")
    (page,) = opened((book / "build/sheets/flush-wall.pdf").read_bytes()).pages
    assert f"Content {hash_of(book, 'flush-wall')}" in " ".join(page.extract_text().split())


@pytest.mark.parametrize("text", ["1e234567", "00123456", "12E34567", "0012-345"])
def test_hash_of_which_a_spreadsheet_would_make_a_number_stays_text(text: str) -> None:
    assert as_text(text) in (f"'{text}", text)
    assert as_text(text) == f"'{text}" or not re.fullmatch(r"[0-9]+([eE][0-9]+)?", text)
    # What is read back is what was printed, with the mark and without.
    for cell in (as_text(text), text):
        (seen,), problems = read_list(f"place,sheet,found\ntank,flush,{cell}\n", "walls.csv")
        assert (seen.found, problems) == (text, ())


# --- posted


def filled(book: Path, **found: str) -> str:
    """The posted-copy list with what was found, by sheet and place."""
    lines = ["place,sheet,kind,revision,hash,found"]
    lines += [
        f"{row['place']},{row['sheet']},{row['kind']},{row['revision']},{row['hash']},"
        f"{found.get(row['sheet'].replace('-', '_') + '_' + row['place'], row['hash'])}"
        for row in rows(book)
    ]
    return "\n".join(lines) + "\n"


def posted(book: Path, text: str | bytes, *options: str) -> Result:
    path = book.parent / "walls.csv"
    path.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
    return run(book, "posted", path, *options)


def test_all_right_leaves_with_0(book: Path) -> None:
    done = posted(book, filled(book))
    assert (done.exit_code, done.stderr) == (0, "")
    assert (
        done.stdout == "door, flush-wall: right.\ntank, flush: right.\ntank, flush-wall: right.\n3 copies: 3 right.\n"
    )


def test_out_of_date_missing_and_not_looked_at_are_told_apart(book: Path) -> None:
    text = filled(book, flush_wall_door="0a1b2c3d", flush_tank="-", flush_wall_tank="")
    done = posted(book, text)
    right, wall = hash_of(book, "flush"), hash_of(book, "flush-wall")
    assert done.exit_code == 1
    assert done.stdout.splitlines() == [
        f"door, flush-wall: OUT OF DATE: it says '0a1b2c3d', and {wall} should hang there. "
        "Take it down, hang the new one.",
        f"tank, flush: MISSING: {right} should hang there. Print it, hang it.",
        f"tank, flush-wall: not looked at: {wall} should hang there.",
        "3 copies: 1 out of date, 1 missing, 1 not looked at.",
    ]


def what(done: Result) -> list[tuple[str, str, str]]:
    return [(each["what"], each["place"], each["sheet"]) for each in json.loads(done.stdout)]


def test_copy_in_a_wrong_place_and_one_that_nobody_knows_are_told(book: Path) -> None:
    wall = hash_of(book, "flush-wall")
    text = f"place,sheet,found\ndoor,flush-wall,{wall}\ndoor,flush,{hash_of(book, 'flush')}\ntank,old-sheet,99999999\n"
    done = posted(book, text, "--format", "json")
    assert done.exit_code == 1
    assert what(done) == [
        ("right", "door", "flush-wall"),
        ("elsewhere", "door", "flush"),
        ("unknown", "tank", "old-sheet"),
        ("not-looked-at", "tank", "flush"),
        ("not-looked-at", "tank", "flush-wall"),
    ]
    assert "Take it down" in posted(book, text).stdout


def test_hashes_alone_are_enough(book: Path) -> None:
    flush, wall = hash_of(book, "flush"), hash_of(book, "flush-wall")
    for text in (f"{flush}\n{wall}\n", f"{flush.upper()}\n\n'{wall}\n"):
        done = posted(book, text, "--format", "json")
        assert (done.exit_code, what(done)) == (0, [("right", "", "flush"), ("right", "", "flush-wall")]), text
    done = posted(book, f"{flush}\n0a1b2c3d\n", "--format", "json")
    assert done.exit_code == 1
    assert what(done)[:2] == [("right", "", "flush"), ("unknown", "", "")]


@pytest.mark.parametrize("change", ["semicolons", "mark of UTF-8", "lines of another system", "blank lines", "quotes"])
def test_list_is_read_as_spreadsheets_write_it(book: Path, change: str) -> None:
    text = filled(book)
    changed: dict[str, Any] = {
        "semicolons": text.replace(",", ";"),
        "mark of UTF-8": b"\xef\xbb\xbf" + text.encode("utf-8"),
        "lines of another system": text.replace("\n", "\r\n"),
        "blank lines": text.replace("\n", "\n\n") + ",,,,,\n",
        "quotes": re.sub(r"([^,\n]+)", r'"\1"', text),
    }
    done = posted(book, changed[change])
    assert (done.exit_code, done.stdout.splitlines()[-1]) == (0, "3 copies: 3 right.")


@pytest.mark.parametrize(
    ("text", "code"),
    [
        (b"", "posted-empty"),
        (b"\n \n,,\n", "posted-empty"),
        (b"place,sheet,hash\ntank,flush,0a1b2c3d\n", "posted-columns"),
        (b"place,sheet,found\ntank,flush,0a1b2c3d,more\n", "posted-columns"),
    ],
)
def test_list_that_cannot_be_read_is_a_problem(book: Path, text: bytes, code: str) -> None:
    done = posted(book, text)
    assert done.exit_code == 1
    assert f"[{code}]" in done.stderr


@pytest.mark.parametrize("text", [b"place,found\n\xff\xfe,1\n", b"x" * (1024 * 1024 + 1), b'a,"' + b"x" * 200_000])
def test_file_that_is_no_list_is_refused(book: Path, text: bytes) -> None:
    done = posted(book, text)
    assert done.exit_code in (1, 2)
    assert len(done.stderr) < 2000


def test_lines_that_end_in_a_carriage_return_alone_are_read(book: Path) -> None:
    done = posted(book, filled(book).replace("\n", "\r"))
    assert (done.exit_code, done.stdout.splitlines()[-1]) == (0, "3 copies: 3 right.")


def test_list_is_read_from_what_is_piped_in(book: Path) -> None:
    done = run(book, "posted", "-", typed=filled(book).encode("utf-8"))
    assert (done.exit_code, done.stdout.splitlines()[-1]) == (0, "3 copies: 3 right.")


def test_list_that_is_not_there_is_wrong_usage(book: Path) -> None:
    assert run(book, "posted", book / "no-such.csv").exit_code == 2


# --- issue, binder


def test_issue_makes_a_record_sheet_for_a_lot(book: Path, tmp_path: Path) -> None:
    done = run(book, "issue", "flush", "--lot", "L-7", "--to", tmp_path / "here")
    assert done.exit_code == 0, done.stderr
    (path,) = (tmp_path / "here").iterdir()
    assert done.stdout == f"{path}\n"
    assert "Valid for lot" in " ".join(opened(path.read_bytes()).pages[0].extract_text().split())


def test_issue_of_what_is_no_procedure_is_wrong_usage(book: Path) -> None:
    done = run(book, "issue", "flsh")
    assert done.exit_code == 2
    assert "did you mean 'flush'?" in done.stderr


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_binder_is_one_file_of_everything(book: Path, tmp_path: Path, paper: str) -> None:
    done = run(book, "binder", "--paper", paper, "--to", tmp_path / "all.pdf")
    assert (done.exit_code, done.stdout) == (0, f"{tmp_path / 'all.pdf'}\n")
    text = "".join(page.extract_text() for page in opened((tmp_path / "all.pdf").read_bytes()).pages)
    assert all(f"{name} · Revision" in text for name in ALL if name != "descaler-label")


def test_binder_lies_in_the_book_and_is_the_same_again(book: Path) -> None:
    first = (run(book, "binder").stdout, (book / "build/binder.pdf").read_bytes())
    assert first == (run(book, "binder").stdout, (book / "build/binder.pdf").read_bytes())
    assert first[0] == f"{book / 'build/binder.pdf'}\n"
