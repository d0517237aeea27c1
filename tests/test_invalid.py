"""For each code of a problem one example: `invalid/<code>.yaml`, put into the book in `base`, and its exact text."""

import ast
import errno
import os
import re
import shutil
import subprocess
from collections.abc import Callable, Iterator
from io import BytesIO
from pathlib import Path
from typing import IO, Any

import pytest
from click.testing import CliRunner
from PIL import Image
from sheets_invalid import LAID, POSTED

from tankside.checkup import check_book
from tankside.cli.calc import calc
from tankside.problems import near, quoted

TESTS = Path(__file__).parent
BASE = TESTS / "base"
INVALID = TESTS / "invalid"
PACKAGE = TESTS.parent / "tools" / "tankside"
FLUSH = "procedures/filling/flush.yaml"
#: calls that make a problem, and which of their arguments is the code
MAKERS = {"Problem": 1, "_problem": 1, "_at": 1, "Fault": 0}
LOT = ("nominal=500 mL", "density=1 kg/L", "tare=30 g")
#: codes that only the command line can meet, and what was typed
TYPED = {
    "argument-form": ("flush-volume", "5 L"),
    "argument-twice": ("flush-volume", "volume=5 L", "volume=6 L"),
    "helper-unknown": ("flush-volumes", "volume=5 L"),
    "file-form": ("lot-check", "weights=no-such.csv"),
    "sample-size": ("lot-check", *LOT, "lot=400", "weights=530 g"),
    "table-missing": ("lot-check", *LOT, "lot=1", "weights=530 g", "law=US", "--book", str(INVALID)),
}


def text_of(node: ast.expr) -> list[str]:
    return [node.value] if isinstance(node, ast.Constant) and isinstance(node.value, str) else []


def codes_in_source() -> Iterator[str]:
    """Return what stands for a code: that argument of what makes problems, and the `code` of refusals."""
    for path in PACKAGE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and (at := MAKERS.get(ast.unparse(node.func).split(".")[-1])) is not None:
                yield from (code for each in node.args[at : at + 1] for code in text_of(each))
            elif isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "code":
                yield from text_of(node.value)


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return Path(shutil.copytree(BASE, tmp_path / "book"))


def found(book: Path) -> str:
    return "".join(f"{problem.as_text()}\n" for problem in check_book(book).problems)


def expected(code: str) -> str:
    return (INVALID / f"{code}.txt").read_text(encoding="utf-8")


def make_too_big(book: Path) -> None:
    (book / FLUSH).write_bytes(b"# " + b"x" * 1024 * 1024)


def make_link(book: Path) -> None:
    outside = book.parent / "outside.yaml"
    outside.write_bytes((book / FLUSH).read_bytes())
    (book / FLUSH).unlink()
    (book / FLUSH).symlink_to(outside)


def make_missing(book: Path) -> None:
    (book / "procedures/plant/roles.yaml").unlink()


def make_no_book(book: Path) -> None:
    shutil.rmtree(book / "procedures")
    shutil.rmtree(book / "checklists")


def make_changed(book: Path) -> None:
    for command in ("init -q", "add .", "-c user.name=x -c user.email=x@x commit -qm x"):
        subprocess.run(["git", "-C", str(book), *command.split()], check=True)
    text = (book / FLUSH).read_text(encoding="utf-8")
    (book / FLUSH).write_text(text.replace("Shut V1.", "Shut V1 at once."), encoding="utf-8", newline="\n")


def make_sheet_changed(book: Path) -> None:
    """A label whose material has another hazard now."""
    label = (
        *("sheets:", "  bleach-label:", "    kind: container-label", "    of: bleach", "    revision: 1"),
        *("    effective: 2026-11-25", "    review: 2027-11-25", "    approved: lead", ""),
    )
    sheets, materials = (book / "procedures/plant" / name for name in ("sheets.yaml", "materials.yaml"))
    sheets.write_text("\n".join(label), encoding="utf-8", newline="\n")
    for command in ("init -q", "add .", "-c user.name=x -c user.email=x@x commit -qm x"):
        subprocess.run(["git", "-C", str(book), *command.split()], check=True)
    text = materials.read_text(encoding="utf-8")
    assert text.count("Causes severe skin burns") == 1
    materials.write_text(text.replace("Causes severe skin burns", "Causes skin burns"), encoding="utf-8", newline="\n")


def make_codes_go(book: Path) -> None:
    for path, old, new in (
        (FLUSH, "  - open: V1\n", "  - labels: descaler\n    counted: out\n  - open: V1\n"),
        (FLUSH, "  - shut: V1\n", "  - shut: V1\n  - labels: descaler\n    counted: in\n    step: count-labels\n"),
        ("procedures/plant/products.yaml", "    labels:\n      1 L: DESCALER-1\n", ""),
    ):
        text = (book / path).read_text(encoding="utf-8")
        assert old in text
        (book / path).write_text(text.replace(old, new), encoding="utf-8", newline="\n")


def make_exception_go(book: Path) -> None:
    facts = book / "procedures/plant/book.yaml"
    whole = facts.read_text(encoding="utf-8")
    exception = (
        *(
            "exceptions:",
            "  - rule: exposure-not-covered",
            "    at: flush",
            "    reason: It is shown to the lead first.",
        ),
        *("    approved: lead", "    since: 2026-11-25", "    until: 2026-12-25", ""),
    )
    facts.write_text(whole + "\n".join(exception), encoding="utf-8", newline="\n")
    for command in ("init -q", "add .", "-c user.name=x -c user.email=x@x commit -qm x"):
        subprocess.run(["git", "-C", str(book), *command.split()], check=True)
    facts.write_text(whole, encoding="utf-8", newline="\n")


def make_no_line(book: Path) -> None:
    """A purge that depends on a confidential recipe through a logarithm."""
    purge = (
        *("  purge:", "    title: Purge", "    calculate: flush-volume", "    with:"),
        *("      volume: share", "      remaining: 5 %", ""),
    )
    share = (
        *("  share:", "    title: Share", "    calculate: scale-recipe", "    with:"),
        *("      product: descaler", "      make: batch", "    result: acid.volume", ""),
    )
    for path, old, new in (
        ("procedures/batch/blend.yaml", "steps:\n", "\n".join((*share[:-1], *purge)) + "steps:\n"),
        ("procedures/batch/blend.yaml", "The mixing tank only.", "The mixing tank only, <purge> of it."),
        ("procedures/plant/products.yaml", "share: 20 %w/w\n", "share: 20 %w/w\n        confidential: yes\n"),
    ):
        text = (book / path).read_text(encoding="utf-8")
        assert text.count(old) == 1
        (book / path).write_text(text.replace(old, new), encoding="utf-8", newline="\n")


def pixels(width: int, height: int) -> bytes:
    """Return a PNG of one grey."""
    stream = BytesIO()
    Image.new("L", (width, height), 128).save(stream, "PNG")
    return stream.getvalue()


def svg(inside: str) -> bytes:
    """Return a drawing 90 wide and 48 high, which is printed one unit to the mm."""
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 90 48">{inside}</svg>'.encode("ascii")


#: what is in the picture of a step, and its name
PICTURES = {
    "picture-broken": ("v1.svg", b'<!DOCTYPE svg [<!ENTITY a "b">]>' + svg("&a;")),
    "picture-coarse": ("v1.png", pixels(212, 150)),
    "picture-letters-small": ("v1.svg", svg('<text x="10" y="20" font-size="4">V1</text>')),
    "picture-not-closed": ("v1.svg", svg("<script>alert(1)</script>")),
    "picture-not-its-kind": ("v1.jpg", pixels(600, 320)),
    "picture-too-big": ("v1.png", pixels(2500, 1700)),
}


def picture_maker(code: str) -> Callable[[Path], None]:
    name, data = PICTURES[code]

    def make(book: Path) -> None:
        (book / "site_src/pictures").mkdir(parents=True)
        (book / "site_src/pictures" / name).write_bytes(data)
        text = (book / FLUSH).read_text(encoding="utf-8")
        shown = f"  - open: V1\n    picture: {name}\n    picture_says: The handle along the pipe.\n"
        assert "  - open: V1\n" in text
        (book / FLUSH).write_text(text.replace("  - open: V1\n", shown, 1), encoding="utf-8", newline="\n")

    return make


#: codes that no single file of text brings about
MADE: dict[str, Callable[[Path], None]] = {
    "book-missing": make_no_book,
    "confidential-amount": make_no_line,
    "exception-taken-out": make_exception_go,
    "file-missing": make_missing,
    "file-too-big": make_too_big,
    "hash-changed": make_changed,
    "labels-without-code": make_codes_go,
    "link-leaves-book": make_link,
    "sheet-changed": make_sheet_changed,
    **{code: picture_maker(code) for code in PICTURES},
}


def test_base_book_is_sound(book: Path) -> None:
    assert found(book) == ""


@pytest.mark.parametrize("path", sorted(INVALID.glob("*.yaml")), ids=lambda path: path.stem)
def test_invalid_file_gives_its_text(book: Path, path: Path) -> None:
    data = path.read_bytes()
    first = data.split(b"\n", 1)[0].decode("ascii")
    assert first.startswith("# at: ")
    place = book / first.removeprefix("# at: ")
    place.parent.mkdir(exist_ok=True)
    if path.stem == "id-used-twice":
        (book / "checklists/first-batch.yaml").unlink()
    place.write_bytes(data)
    assert found(book) == expected(path.stem)


@pytest.mark.parametrize("code", MADE)
def test_invalid_book_gives_its_text(book: Path, code: str) -> None:
    MADE[code](book)
    # The digits of a hash change with every change of what an edition holds.
    assert re.sub(r"\b[0-9a-f]{8}\b", "########", found(book)) == expected(code)


def test_file_that_may_not_be_read_gives_its_text(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # Who runs the tests may be allowed to read everything, so the refusal is played.
    open_file = Path.open

    def refusing(path: Path, *arguments: str, **options: str) -> IO[Any]:
        if path == book / FLUSH:
            raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))
        return open_file(path, *arguments, **options)  # type: ignore[arg-type]

    monkeypatch.setattr(Path, "open", refusing)
    assert found(book) == expected("file-unreadable")


@pytest.mark.parametrize("code", TYPED)
def test_invalid_command_gives_its_text(code: str) -> None:
    result = CliRunner().invoke(calc, TYPED[code])
    assert (result.exit_code, result.stdout, result.stderr) == (2, "", expected(code))


@pytest.mark.parametrize("path", sorted(INVALID.glob("*.txt")), ids=lambda path: path.stem)
def test_example_shows_its_code(path: Path) -> None:
    assert f"[{path.stem}]\n" in expected(path.stem)


def test_every_code_of_the_source_has_an_example_and_no_example_is_left_over() -> None:
    assert {path.stem for path in INVALID.glob("*.txt")} == set(codes_in_source())
    files = {path.stem for path in INVALID.glob("*.yaml")}
    elsewhere = LAID.keys() | POSTED.keys() | {"sheet-failed"}
    assert files | MADE.keys() | TYPED.keys() | elsewhere | {"file-unreadable"} == set(codes_in_source())


def test_quoted_value_stays_on_one_line_and_short() -> None:
    assert quoted("a\n  b\x1b[2J\tc") == "'a b [2J c'"
    assert quoted("x" * 60) == f"'{'x' * 60}'"
    assert quoted("x" * 61) == f"'{'x' * 59}…'"


def test_near_misses_ignore_case_and_what_is_far_too_long() -> None:
    assert near("v2", ["V2", "P1"])[0] == "V2"
    assert near("nosuch", ["V2", "P1"]) == ()
    assert near("flush" * 100_000, ["flush"]) == ()
