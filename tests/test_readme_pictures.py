"""The pictures of README.md, and the answer of `check` beside them, are those of the demonstration book."""

import re
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

import pytest
from demo_book import COMMAND, ROOT, copy_book, replace
from PIL import Image

README = (ROOT / "README.md").read_text(encoding="utf-8")
FOLDER = ROOT / "tools" / "readme"
SCRIPT = FOLDER / "pictures.py"
#: of one picture and of all together, in bytes: they are fetched by everybody who clones or opens the front page
MOST, MOST_TOGETHER = 150_000, 600_000
#: alt text by address, of every picture that the README shows
SHOWN: Mapping[str, str] = {address: alt for alt, address in re.findall(r"!\[([^\]]*)\]\(([^)]*)\)", README)}


def pictures(site: Path, into: Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, str(SCRIPT), "--site", str(site), "--into", str(into)]
    return subprocess.run(command, capture_output=True, text=True, encoding="utf-8", timeout=100, check=False)


@pytest.fixture(scope="module")
def made(site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the pictures, made now."""
    into = tmp_path_factory.mktemp("pictures") / "new"
    done = pictures(site, into)
    assert (done.returncode, done.stderr) == (0, "")
    return into


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.glob("*.png"))


def colours(picture: Image.Image) -> int:
    return len(picture.convert("RGB").getcolors(picture.width * picture.height) or ())


def test_every_picture_shown_exists_and_every_one_there_is_shown() -> None:
    assert sorted(SHOWN) == [f"tools/readme/{name}" for name in names(FOLDER)]
    assert README.count("![") == len(SHOWN)
    assert "<img" not in README


@pytest.mark.parametrize("address", SHOWN)
def test_alt_text_is_a_sentence_of_its_own(address: str) -> None:
    alt = SHOWN[address]
    assert re.fullmatch(r"[A-Z].{40,}\.", alt)
    assert list(SHOWN.values()).count(alt) == 1


@pytest.mark.parametrize("address", SHOWN)
def test_picture_is_a_png_and_small(address: str) -> None:
    data = (ROOT / address).read_bytes()
    assert data[:8] == b"\x89PNG\r\n\x1a\n"  # PNG specification, 5.2
    assert len(data) <= MOST


def test_pictures_together_are_small() -> None:
    assert sum((ROOT / address).stat().st_size for address in SHOWN) <= MOST_TOGETHER


def test_script_makes_the_pictures_that_are_there_in_their_sizes(made: Path) -> None:
    assert names(made) == names(FOLDER)
    for name in names(FOLDER):
        with Image.open(made / name) as new, Image.open(FOLDER / name) as committed:
            assert (name, new.size) == (name, committed.size)


@pytest.mark.parametrize("address", SHOWN)
def test_no_part_of_a_picture_is_blank(made: Path, address: str) -> None:
    with Image.open(made / Path(address).name) as picture:
        width, height = picture.size
        halves = [(0, 0, width // 2, height), (width // 2, 0, width, height)]
        thirds = [(0, height * part // 3, width, height * (part + 1) // 3) for part in range(3)]
        # Paper and ground are two colours; the edges of letters are soft and bring many.
        assert [box for box in halves + thirds if colours(picture.crop(box)) < 10] == []


def test_same_site_gives_the_same_bytes(site: Path, made: Path, tmp_path: Path) -> None:
    assert pictures(site, tmp_path).returncode == 0
    assert [name for name in names(made) if (tmp_path / name).read_bytes() != (made / name).read_bytes()] == []


def test_without_a_built_site_it_says_what_to_run(tmp_path: Path) -> None:
    done = pictures(tmp_path / "site", tmp_path / "new")
    assert done.returncode == 2
    absent = tmp_path / "site" / "index.html"
    assert done.stderr == f"{absent} is not there; run `python3 tools/start.py build` first\n"
    assert not (tmp_path / "new").exists()


def test_check_answers_to_mistakes_as_the_readme_shows(tmp_path: Path) -> None:
    book = copy_book(tmp_path / "book")
    procedure = book / "procedures/filling/bleed-cleaner-line.yaml"
    replace(procedure, "    tolerance: 0.5 L\n", "    tolerance: 0.2 L\n")
    warning = "  - warning: Cleaner under pressure can spray from the nozzle.\n"
    replace(procedure, f"{warning}    harm: It burns eyes and skin and can blind.\n", warning)
    replace(procedure, "  - shut: V2\n", "  - shut: V7\n")
    done = subprocess.run([*COMMAND, "check", str(book)], capture_output=True, text=True, encoding="utf-8", check=False)
    shown = re.search(r"^\*\*The answer to mistakes\.\*\*.*?^```\n(.*?)^```$", README, re.DOTALL | re.MULTILINE)
    assert shown is not None
    assert done.returncode == 1
    *problems, count = done.stdout.splitlines(keepends=True)
    assert "".join(problems) == shown[1]
    assert count.endswith(": 3 errors\n")
