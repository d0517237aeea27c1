"""`tankside check` from the outside: what it prints, its exit code, and that it writes nothing."""

import json
import os
import pty
import re
import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

from tankside.checkup import check_book

ROOT = Path(__file__).parent.parent
BASE = Path(__file__).parent / "base"
FLUSH = "procedures/filling/flush.yaml"
COMMAND = (sys.executable, "-m", "tankside")
ESCAPE = "\x1b"


def environment(**more: str) -> dict[str, str]:
    kept = {key: value for key, value in os.environ.items() if key not in ("NO_COLOR", "TANKSIDE_TRACE")}
    return {**kept, "PYTHONPATH": str(ROOT / "tools"), "PYTHONUTF8": "1", **more}


@dataclass(frozen=True)
class Ran:
    code: int
    out: str
    err: str


def run(*arguments: str, **more: str) -> Ran:
    done = subprocess.run(
        [*COMMAND, *arguments], env=environment(**more), capture_output=True, text=True, encoding="utf-8", timeout=60
    )
    assert "Traceback" not in done.stdout + done.stderr
    return Ran(done.returncode, done.stdout, done.stderr)


def run_on_terminal(*arguments: str, **more: str) -> str:
    """Return what a command prints when its output goes to a terminal."""
    ours, theirs = pty.openpty()
    subprocess.run([*COMMAND, *arguments], env=environment(TERM="xterm", **more), stdout=theirs, stderr=theirs)
    os.close(theirs)
    printed = b""
    while True:
        try:
            piece = os.read(ours, 65536)
        except OSError:  # how Linux says that the other end is closed
            break
        if not piece:
            break
        printed += piece
    os.close(ours)
    return printed.decode("utf-8")


@pytest.fixture
def demo(tmp_path: Path) -> Path:
    for part in ("procedures", "checklists", "site_src"):
        shutil.copytree(ROOT / part, tmp_path / "demo" / part)
    return tmp_path / "demo"


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return Path(shutil.copytree(BASE, tmp_path / "book"))


@pytest.fixture
def faulty(book: Path) -> Path:
    text = (book / FLUSH).read_text(encoding="utf-8").replace("approved: lead", "approved: leed")
    (book / FLUSH).write_text(text.replace("review: 2027", "review: 2025"), encoding="utf-8", newline="\n")
    return book


def files_in(folder: Path) -> dict[str, tuple[bytes, int]]:
    return {str(each): (each.read_bytes(), each.stat().st_mtime_ns) for each in folder.rglob("*") if each.is_file()}


# --- a sound book


def test_demonstration_is_clean_and_says_so_in_one_line(demo: Path) -> None:
    ran = run("check", str(demo))
    assert (ran.code, ran.err) == (0, "")
    assert re.fullmatch(r"\d+ procedures, \d+ checklists in \d+ files: no problems\n", ran.out)


def test_smallest_book_is_counted_in_words_that_fit(book: Path) -> None:
    assert run("check", str(book)) == Ran(0, "2 procedures, 1 checklist in 8 files: no problems\n", "")


# --- twelve faults

BLEED = "procedures/filling/bleed-cleaner-line.yaml"
BLEND = "procedures/batch/blend-milk-line-cleaner.yaml"
HOLD = "procedures/batch/hold-a-lot.yaml"
SPLASH = "procedures/safety/splash.yaml"
SIDES = "procedures/safety/two-sides.yaml"
OPEN = "checklists/open-the-workshop.yaml"
PLANT = "procedures/plant/"


@dataclass(frozen=True)
class Fault:
    """A piece of a file, and what is written in its place; § stands before what the problem must point to."""

    path: str
    old: str
    new: str
    code: str


FAULTS = (
    Fault(BLEED, "measure_in: waste-pail-20-l", "measure_in: §wast-pail-20-l", "name-unknown"),
    Fault(BLEED, "review: 2027-11-25", "review: §2027-02-30", "date-impossible"),
    Fault(BLEED, "family: filling\n", "family: §fillings\n", "family-differs-from-folder"),
    Fault(BLEND, "    from: 100 L\n", "    from: §100 gal\n", "unit-ambiguous"),
    Fault(HOLD, "situation: something-wrong", "situation: §something-bad", "value-not-allowed"),
    Fault(SPLASH, "title: Splash in the eyes", "title: §Splash → eyes", "character-not-drawn"),
    Fault(SIDES, "stop_safely: Step", "stop_safely: Stop§: Step", "yaml-needs-quotes"),
    Fault(OPEN, "section: air\n", "section: §airs\n", "name-unknown"),
    Fault(OPEN, "revision: 4\neffective", "revision: §5\neffective", "history-differs"),
    Fault(f"{PLANT}products.yaml", "share: 15 %w/w", "share: §15 %", "strength-kind-missing"),
    Fault(f"{PLANT}roles.yaml", "    name: New hire", "    name: New hire\n    §aim: To learn.", "key-unknown"),
    Fault(f"{PLANT}equipment.yaml", "  T1:\n    kind: instrument", "  T1:\n    kind: §[instrument]", "value-kind"),
)


def put(folder: Path, fault: Fault) -> None:
    text = (folder / fault.path).read_text(encoding="utf-8")
    assert fault.old in text
    text = text.replace(fault.old, fault.new, 1)
    (folder / fault.path).write_text(text, encoding="utf-8", newline="\n")


def take_mark(folder: Path, path: str, code: str) -> str:
    """Take the first § out of a file and return where it stood; the demonstration book may grow above it."""
    text = (folder / path).read_text(encoding="utf-8")
    before, mark, after = text.partition("§")
    assert mark
    (folder / path).write_text(before + after, encoding="utf-8", newline="\n")
    line = before.split("\n")
    return f"{path}:{len(line)}:{len(line[-1]) + 1}: error [{code}]"


def spread(folder: Path, faults: tuple[Fault, ...]) -> list[str]:
    """Put the faults into a book and return where each stands."""
    found = []
    for fault in faults:
        put(folder, fault)
        found.append(take_mark(folder, fault.path, fault.code))
    return found


def heads(text: str) -> list[str]:
    """Return place, severity and code of each problem that was printed."""
    return [
        re.sub(r": error: .* (\[[a-z-]+\])$", r": error \1", line)
        for line in text.splitlines()
        if re.match(r"\S+:\d+:\d+: ", line)
    ]


def test_twelve_faults_are_twelve_problems_each_at_its_place_and_nothing_is_written(demo: Path) -> None:
    assert len(FAULTS) == 12
    expected = spread(demo, FAULTS)
    # A few in numbers, so that the counting above is itself held to something.
    assert {f"{BLEED}:8:9: error [date-impossible]", f"{OPEN}:6:11: error [history-differs]"} <= set(expected)
    before = files_in(demo)
    ran = run("check", str(demo))
    assert sorted(heads(ran.out)) == sorted(expected)
    assert ran.out.endswith(" files: 12 errors\n")
    assert len(ran.out.splitlines()) == 12 * 2 + 1
    assert (ran.code, ran.err) == (1, "")
    assert files_in(demo) == before


@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: f"{fault.code}-{Path(fault.path).stem}")
def test_each_of_the_faults_alone_is_one_problem(demo: Path, fault: Fault) -> None:
    expected = spread(demo, (fault,))
    problems = check_book(demo).problems
    assert [f"{each.span}: {each.severity.value} [{each.code}]" for each in problems] == expected


def test_problems_are_sorted_by_file_line_and_column(demo: Path) -> None:
    spread(demo, FAULTS)
    printed = [line.split(": ")[0].rsplit(":", 2) for line in heads(run("check", str(demo)).out)]
    keys = [(path, int(line), int(column)) for path, line, column in printed]
    assert keys == sorted(keys)


# --- forms


def test_json_says_the_same_as_text(faulty: Path) -> None:
    text, other = run("check", str(faulty)), run("check", "--format", "json", str(faulty))
    assert (text.code, other.code) == (1, 1)
    found = json.loads(other.out)
    assert [list(each) for each in found] == [["path", "line", "column", "severity", "code", "message", "hint"]] * 2
    shown = "".join(
        "{path}:{line}:{column}: {severity}: {message} [{code}]\n    hint: {hint}\n".format(**each) for each in found
    )
    assert text.out == f"{shown}2 procedures, 1 checklist in 8 files: 2 errors\n"


def test_json_of_a_sound_book_is_an_empty_list(book: Path) -> None:
    ran = run("check", "--format", "json", str(book))
    assert (ran.code, json.loads(ran.out), ran.err) == (0, [], "")


def test_colour_is_for_terminals_that_want_it(faulty: Path) -> None:
    assert ESCAPE not in run("check", str(faulty)).out
    assert f"{ESCAPE}[31m" in run_on_terminal("check", str(faulty))
    assert ESCAPE not in run_on_terminal("check", str(faulty), NO_COLOR="1")


def test_what_is_in_the_book_cannot_speak_to_the_terminal(book: Path) -> None:
    text = (book / FLUSH).read_text(encoding="utf-8")
    (book / FLUSH).write_text(
        text.replace("approved: lead", 'approved: "\\e[2J\\nlead"'), encoding="utf-8", newline="\n"
    )
    ran = run("check", str(book))
    assert ran.code == 1
    assert ESCAPE not in ran.out
    assert heads(ran.out) == [f"{FLUSH}:9:11: error [value-form]"]
    assert len(ran.out.splitlines()) == 3


def test_remark_alone_is_no_failure(book: Path) -> None:
    steps = "".join(f"  - do: Wipe spot {number}.\n    step: wipe-{number}\n" for number in range(9))
    text = (book / FLUSH).read_text(encoding="utf-8").replace("  - shut: V1\n", f"  - shut: V1\n{steps}")
    (book / FLUSH).write_text(text, encoding="utf-8", newline="\n")
    ran = run("check", str(book))
    assert ran.code == 0
    assert ran.out.endswith("files: 1 remark\n")


# --- exit codes


def test_folder_that_holds_no_book_is_wrong_usage_and_said_once(tmp_path: Path) -> None:
    (tmp_path / "site_src").mkdir()
    ran = run("check", str(tmp_path))
    assert ran.code == 2
    assert ran.out == (
        "procedures:1:1: error: this folder holds no book: it has nothing in procedures/ [book-missing]\n"
        "    hint: name the folder of a book; 'tankside --help' says what stands in one\n"
    )


@pytest.mark.parametrize(
    "arguments",
    [("{book}/nosuch",), ("{book}/procedures/plant/book.yaml",), ("--format", "xml", "{book}"), ("--nosuch",)],
    ids=["no folder", "a file", "no such form", "no such option"],
)
def test_wrong_usage_is_exit_code_2_with_a_sentence(book: Path, arguments: tuple[str, ...]) -> None:
    ran = run("check", *(each.format(book=book) for each in arguments))
    assert (ran.code, ran.out) == (2, "")
    assert "\nError: " in ran.err


def test_commit_that_git_does_not_know_is_wrong_usage(book: Path) -> None:
    ran = run("check", "--against", "nosuch", str(book))
    assert (ran.code, ran.out) == (2, "")
    assert "git knows no commit 'nosuch'" in ran.err


@pytest.mark.parametrize("part", ["procedures/plant/equipment.yaml", FLUSH, "checklists/first-batch.yaml"])
def test_any_file_of_noise_is_a_problem_and_no_fault_of_ours(book: Path, part: str) -> None:
    (book / part).write_bytes(bytes(range(256)))
    assert run("check", str(book)).code == 1


@pytest.mark.parametrize("path", sorted(each.relative_to(BASE).as_posix() for each in BASE.rglob("*.yaml")))
def test_book_cut_off_at_any_third_line_gives_problems_and_no_fault_of_ours(book: Path, path: str) -> None:
    lines = (book / path).read_text(encoding="utf-8").splitlines(keepends=True)
    for count in range(0, len(lines), 3):
        (book / path).write_text("".join(lines[:count]), encoding="utf-8", newline="\n")
        for problem in check_book(book).problems:
            assert problem.as_text().count("\n") == 1


@pytest.mark.parametrize(
    "value", ["", "x", "[a, b]", "5", "-5 L", "0 L", "|", "{a: b}", "<x>", "V1", "flush", "\n      a: b"]
)
def test_any_value_in_any_place_gives_problems_and_no_fault_of_ours(book: Path, value: str) -> None:
    lines = (book / FLUSH).read_text(encoding="utf-8").split("\n")
    for number, line in enumerate(lines):
        key, colon, _ = line.partition(": ")
        if colon and not line.startswith("#"):
            changed = [*lines[:number], f"{key}: {value}", *lines[number + 1 :]]
            (book / FLUSH).write_text("\n".join(changed), encoding="utf-8", newline="\n")
            for problem in check_book(book).problems:
                assert problem.as_text().count("\n") == 1


# --- calc with a book


def calc(book: Path, product: str) -> Ran:
    return run("calc", "scale-recipe", f"product={product}", "make=10 kg", "--book", str(book))


def test_calc_takes_the_recipe_of_a_book(book: Path) -> None:
    ran = calc(book, "descaler")
    assert (ran.code, ran.err) == (0, "")
    # 20 %w/w of 10 kg
    assert re.search(r"^acid\.mass +2 kg ", ran.out, flags=re.MULTILINE)


def test_calc_with_a_broken_book_prints_a_problem_and_a_sentence(book: Path) -> None:
    products = book / "procedures/plant/products.yaml"
    products.write_text(products.read_text(encoding="utf-8").replace("20 %w/w", "20 %"), encoding="utf-8", newline="\n")
    ran = calc(book, "descaler")
    assert (ran.code, ran.out) == (1, "")
    assert ran.err.startswith("procedures/plant/products.yaml:13:16: error: '20 %' does not say ")
    assert ran.err.endswith("Nothing was worked out: the book has problems; 'tankside check' lists them all.\n")


def test_calc_with_a_book_that_lacks_a_file_prints_a_problem_and_a_sentence(book: Path) -> None:
    (book / "procedures/plant/materials.yaml").unlink()
    ran = calc(book, "descaler")
    assert (ran.code, ran.out) == (1, "")
    assert ran.err.startswith("procedures/plant/materials.yaml:1:1: error: the book has no ")


def test_calc_with_a_material_that_is_not_defined_prints_that_problem(book: Path) -> None:
    products = book / "procedures/plant/products.yaml"
    text = products.read_text(encoding="utf-8").replace("ingredient: acid", "ingredient: acids")
    products.write_text(text, encoding="utf-8", newline="\n")
    ran = calc(book, "descaler")
    assert (ran.code, ran.out) == (1, "")
    assert ran.err.startswith("procedures/plant/products.yaml:12:21: error: 'acids' is not a known material ")


def test_calc_with_an_unknown_product_or_no_book_is_wrong_usage(book: Path, tmp_path: Path) -> None:
    unknown = calc(book, "descalerr")
    assert (unknown.code, unknown.out) == (2, "")
    assert unknown.err == (
        "product:1:1: error: 'descalerr' is not a known product [name-unknown]\n    hint: did you mean 'descaler'?\n"
    )
    (tmp_path / "empty").mkdir()
    missing = calc(tmp_path / "empty", "descaler")
    assert (missing.code, missing.out) == (2, "")
    assert "this folder holds no book" in missing.err
