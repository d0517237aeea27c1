"""What a build leaves behind: the same bytes for the same input, and always one whole site."""

import html
import os
import random
import re
import shutil
import signal
import subprocess
import time
from pathlib import Path

import pytest
from demo_book import COMMAND, ROOT, built, copy_book, hashes, overlaid, replace

BLEED = "procedures/filling/bleed-cleaner-line.yaml"
#: a WeasyPrint whose system libraries are missing, as it behaves on import
NO_PRINT = "raise OSError(\"cannot load library 'libpango-1.0-0'\")\n"


def without_print(tmp_path: Path) -> dict[str, str]:
    """Return the environment of a computer without the print libraries; builds are quick there."""
    stub = tmp_path / "stub" / "weasyprint"
    stub.mkdir(parents=True, exist_ok=True)
    (stub / "__init__.py").write_text(NO_PRINT, encoding="utf-8", newline="\n")
    return {"PYTHONPATH": str(stub.parent)}


@pytest.fixture(scope="module")
def small_build(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, dict[str, str]]:
    """A copy of the demo book, built without sheets, and the environment it was built in."""
    folder = tmp_path_factory.mktemp("small")
    book = copy_book(folder / "a book")
    environment = without_print(folder)
    assert built(book, **environment).returncode == 0
    return book, environment


def test_same_input_same_bytes(site: Path, tmp_path: Path) -> None:
    book = copy_book(tmp_path / "elsewhere")
    for path in book.rglob("*.yaml"):
        path.touch()
    assert built(book, PYTHONHASHSEED="12345", TZ="Pacific/Auckland", LC_ALL="C").returncode == 0
    assert hashes(book / "build" / "site") == hashes(site)


@pytest.mark.requirement(number=13)
def test_page_that_would_fetch_something_from_elsewhere_fails_the_build(
    small_build: tuple[Path, dict[str, str]], tmp_path: Path
) -> None:
    built_before, environment = small_build
    book = overlaid(built_before, tmp_path / "book")
    about = book / "site_src" / "about.md"
    text = about.read_text(encoding="utf-8")
    about.write_text(f'{text}\n<img alt="" src="https://elsewhere.invalid/1.png">\n', encoding="utf-8", newline="\n")
    done = built(book, **environment)
    assert done.returncode == 1
    assert "about.html: https://elsewhere.invalid/1.png" in done.stderr
    assert hashes(book / "build" / "site") == hashes(built_before / "build" / "site")


def test_only_the_site_and_the_kept_sheets_are_left(site: Path) -> None:
    assert sorted(path.name for path in site.parent.iterdir()) == ["laid-out", "site"]
    sheets = {name: digest for name, digest in hashes(site / "sheets").items() if name != "index.html"}
    assert sorted(sheets.values()) == sorted(hashes(site.parent / "laid-out").values())
    # 26 procedures, 7 checklists, and all that sheets.yaml declares beside their step sheets and the binder
    declared = (ROOT / "procedures/plant/sheets.yaml").read_text(encoding="utf-8")
    others = len(re.findall(r"^    kind: (?!step-sheet|binder)", declared, re.MULTILINE))
    assert len(sheets) == 26 + 7 + others + 1  # the statement of the audit


def test_without_print_libraries_the_site_is_built_and_the_lack_is_said_loudly(tmp_path: Path) -> None:
    book = copy_book(tmp_path / "book")
    done = built(book, **without_print(tmp_path))
    assert done.returncode == 0
    assert "ATTENTION: the sheets are NOT made" in done.stderr
    page = (book / "build/site/procedures/filling/bleed-cleaner-line.html").read_text(encoding="utf-8")
    assert "The sheets were not made: this computer lacks the print libraries." in page
    assert ".pdf" not in page
    assert not list((book / "build/site/sheets").glob("*.pdf"))
    assert ".pdf" not in (book / "build/site/sheets/index.html").read_text(encoding="utf-8")


def test_book_with_an_error_publishes_nothing_and_keeps_the_last_site(
    small_build: tuple[Path, dict[str, str]],
) -> None:
    book, environment = small_build
    before = hashes(book / "build")
    replace(book / BLEED, "purpose: ", "porpoise: ")
    done = built(book, **environment)
    replace(book / BLEED, "porpoise: ", "purpose: ")
    assert done.returncode == 1
    assert f"{BLEED}:" in done.stderr
    assert "[key-unknown]" in done.stderr
    assert hashes(book / "build") == before


@pytest.mark.parametrize("number", range(8))
def test_kill_leaves_the_last_site_whole_and_the_next_build_mends_it(
    small_build: tuple[Path, dict[str, str]], number: int
) -> None:
    book, environment = small_build
    site = book / "build" / "site"
    before = hashes(site)
    replace(book / BLEED, "purpose: ", f"purpose: Number {number}. ")
    started = subprocess.Popen(
        [*COMMAND, "build", str(book)],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        env={**os.environ, **environment},
    )
    # A build takes about three seconds here; the seed only chooses moments, it decides no result.
    time.sleep(random.Random(number).uniform(0.2, 3.4))
    started.send_signal(signal.SIGKILL)
    started.wait()
    left = hashes(site)
    assert built(book, **environment).returncode == 0
    after = hashes(site)
    assert after != before
    assert left in (before, after)


MARKUP = (
    "a < b > c &amp; d",
    "*one* _two_",
    "a | b",
    "`tick`",
    "{#id}",
    "[link](x.html)",
    "# 1. - +",
    "![x](y)",
    "\\\\ ~~^^ ==",
)


def test_a_title_with_marks_comes_out_as_exactly_that(tmp_path: Path) -> None:
    book = copy_book(tmp_path / "book")
    title = "Bleed " + " ".join(MARKUP)
    replace(book / BLEED, "title: Bleed the filling line, milk-line cleaner", f"title: '{title}'")
    assert built(book, **without_print(tmp_path)).returncode == 0
    page = (book / "build/site/procedures/filling/bleed-cleaner-line.html").read_text(encoding="utf-8")
    shown = [html.unescape(each) for each in re.findall(r"<h1[^>]*>(.*?)</h1>", page)]
    assert shown == [title]
    head = re.search(r"<title>(.*?)</title>", page)
    assert head is not None
    assert html.unescape(head[1]).startswith(title)
    index = (book / "build/site/tankside/search-index.js").read_text(encoding="utf-8")
    assert title in index.replace("\\\\", "\\")
    family = (book / "build/site/procedures/filling/index.html").read_text(encoding="utf-8")
    assert title in html.unescape(family)


def test_book_without_its_config_is_wrong_usage(tmp_path: Path) -> None:
    book = copy_book(tmp_path / "book")
    (book / "mkdocs.yml").unlink()
    done = built(book)
    assert done.returncode == 2
    assert "has no mkdocs.yml" in done.stderr
    assert "Traceback" not in done.stderr


def test_missing_picture_is_found_before_anything_is_built(tmp_path: Path) -> None:
    book = copy_book(tmp_path / "book")
    shutil.rmtree(book / "site_src" / "pictures")
    done = built(book)
    assert done.returncode == 1
    assert "is not a known picture" in done.stderr
    assert not (book / "build").exists()


def test_inline_style_in_a_hand_written_page_is_refused_by_name(small_build: tuple[Path, dict[str, str]]) -> None:
    book, environment = small_build
    before = hashes(book / "build")
    page = book / "site_src" / "styled.md"
    page.write_text('# Styled\n\n<p style="color: red">Red</p>\n', encoding="utf-8", newline="\n")
    done = built(book, **environment)
    page.unlink()
    assert done.returncode == 1
    assert "styled.html has inline style or script" in done.stderr
    assert hashes(book / "build" / "site") == {
        name.removeprefix("site/"): value for name, value in before.items() if name.startswith("site/")
    }


def test_what_a_killed_build_left_is_cleared_away(small_build: tuple[Path, dict[str, str]]) -> None:
    book, environment = small_build
    for left in ("staging-1", "staging-1-work"):
        (book / "build" / left).mkdir()
        (book / "build" / left / "page.html").write_text("half", encoding="utf-8", newline="\n")
    assert built(book, **environment).returncode == 0
    assert not list((book / "build").glob("staging-1*"))


def test_sheet_that_does_not_fit_is_a_problem_of_the_book_and_no_wrong_usage(tmp_path: Path) -> None:
    book = copy_book(tmp_path / "book")
    words = "Rinse the outside of the pail. " * 400
    replace(book / BLEED, "  - do: Carry the pail to the red waste drum, lid on.", f"  - do: {words}")
    done = subprocess.run(
        [*COMMAND, "sheets", "--book", str(book), "bleed-cleaner-line"],
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )
    assert done.returncode == 1
    assert "is longer than a page" in done.stderr
    assert "Traceback" not in done.stderr
