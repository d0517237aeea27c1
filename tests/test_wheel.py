"""The wheel, unpacked far from the checkout, is the whole tool: a new book is begun, checked, built and opened."""

import os
import re
import subprocess
import sys
import sysconfig
import zipfile
from pathlib import Path

import pytest
from playwright.sync_api import Browser

ROOT = Path(__file__).parent.parent
#: what is not code, and would be missed only when somebody needs it
CARRIED = (
    "tankside/schema/procedure.schema.json",
    "tankside/schema/common.schema.json",
    "tankside/texts.json",
    "tankside/units.json",
    "tankside/drawing/signs.json",
    "tankside/assets/css/site.css",
    "tankside/assets/js/search.js",
    "tankside/assets/overrides/main.html",
    "tankside/assets/print/sheet.css",
    "tankside/assets/templates/emergency.html",
    "tankside/assets/starter/.gitignore",
    "tankside/assets/starter/mkdocs.yml",
    "tankside/assets/starter/procedures/plant/book.yaml",
    "tankside/assets/starter/checklists/make-a-batch.yaml",
    "tankside/assets/starter-templates/general.yaml",
)


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built from the checkout without network."""
    folder = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)]
    subprocess.run(command, cwd=ROOT, capture_output=True, check=True)
    (built,) = folder.glob("*.whl")
    return built


@pytest.fixture(scope="module")
def python(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The interpreter of an environment that has the wheel, and the libraries of this one, and not the checkout."""
    folder = tmp_path_factory.mktemp("elsewhere") / "venv"
    subprocess.run([sys.executable, "-m", "venv", "--without-pip", str(folder)], check=True)
    place = {"base": str(folder), "platbase": str(folder)}
    packages = Path(sysconfig.get_path("purelib", "venv", vars=place))
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(packages)
    # A folder named in a .pth file is looked into, its own .pth files (the checkout's among them) are not.
    (packages / "libraries.pth").write_text(f"{sysconfig.get_path('purelib')}\n", encoding="utf-8", newline="\n")
    return Path(sysconfig.get_path("scripts", "venv", vars=place)) / Path(sys.executable).name


def run(python: Path, *arguments: str, cwd: Path) -> str:
    """Return what a command of that interpreter prints."""
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    command = [str(python), *arguments]
    done = subprocess.run(command, cwd=cwd, env=environment, capture_output=True, encoding="utf-8", check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def test_wheel_carries_what_is_not_code(wheel: Path) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    assert set(CARRIED) - set(names) == set()
    # Every symbol of the table of signs, one file each.
    signs = {path.name for path in (ROOT / "tools/tankside/drawing").rglob("*.svg")}
    assert signs
    assert signs <= {name.rpartition("/")[2] for name in names}


def test_wheel_carries_nothing_else(wheel: Path) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    assert {name.partition("/")[0].partition("-")[0] for name in names} == {"tankside"}
    assert [name for name in names if re.search(r"(^|/)(tests?/|test_)|__pycache__", name)] == []


def test_a_book_is_begun_checked_built_and_opened_without_the_checkout(
    python: Path, tmp_path: Path, browser: Browser
) -> None:
    found = run(python, "-c", "import sys, tankside; print(tankside.__file__); print(sys.path)", cwd=tmp_path)
    where, path = found.splitlines()
    assert Path(where).is_relative_to(python.parent.parent)
    assert f"'{ROOT / 'tools'}'" not in path
    assert "7 procedures" in run(python, "-m", "tankside", "new", "book", "X", cwd=tmp_path)
    assert "10 remarks" in run(python, "-m", "tankside", "check", "X", cwd=tmp_path)
    run(python, "-m", "tankside", "build", "X", cwd=tmp_path)
    errors: list[str] = []
    page = browser.new_page()
    page.on("console", lambda message: errors.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.goto((tmp_path / "X/build/site/index.html").as_uri())
    assert "Our workshop book" in page.title()
    assert page.locator("h1").first.inner_text() == "Our workshop book"
    page.close()
    assert errors == []
