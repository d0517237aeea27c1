"""Each kind of input edited under `serve`: seen, and the result equal to a build from nothing, byte for byte.

The package is a copy, with its own edits; sheets are made.
"""

import os
import shutil
import signal
import socket
import subprocess
import tempfile
import time
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

import pytest
from demo_book import COMMAND, ROOT, built, copy_book, hashes, replace

BLEED = "procedures/filling/bleed-cleaner-line.yaml"
PAGE, SHEET = "procedures/filling/bleed-cleaner-line.html", "sheets/bleed-cleaner-line.pdf"
PICTURE = "nozzle-over-pail.svg"
ASSETS = "tools/tankside/assets"


@dataclass(frozen=True)
class Workplace:
    """A book, and a copy of the package that it is made with."""

    folder: Path

    @property
    def book(self) -> Path:
        return self.folder / "book"

    @property
    def served(self) -> Path:
        return self.book / "build" / "served"

    @property
    def environment(self) -> dict[str, str]:
        return {**os.environ, "PYTHONPATH": str(self.folder / "tools")}

    def bytes_of(self, address: str) -> bytes:
        try:
            return (self.served / address).read_bytes()
        except OSError:
            # The moment in which one site takes the place of another.
            return b""

    def served_files(self) -> Mapping[str, str]:
        """Return the hash of each file that is served."""
        return hashes(self.served)

    def clean_build(self) -> Mapping[str, str]:
        """Return the hash of each file of the same book built from nothing, in another folder, by the same package."""
        with tempfile.TemporaryDirectory() as folder:
            book = Path(folder) / "book"
            shutil.copytree(self.book, book, ignore=shutil.ignore_patterns("build"))
            done = built(book, **self.environment)
            assert done.returncode == 0, done.stderr
            return hashes(book / "build" / "site")

    def wait_for(self, is_there: Callable[[], bool]) -> None:
        end = time.monotonic() + 240
        while not is_there():
            assert time.monotonic() < end
            time.sleep(0.1)


@pytest.fixture(scope="module")
def workplace(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Workplace]:
    folder = tmp_path_factory.mktemp("workplace")
    shutil.copytree(ROOT / "tools/tankside", folder / "tools/tankside", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", folder)
    found = Workplace(folder)
    copy_book(found.book)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    command = [*COMMAND, "serve", str(found.book), "--port", str(port)]
    with subprocess.Popen(command, env=found.environment, stderr=subprocess.DEVNULL) as process:
        try:
            found.wait_for(lambda: found.bytes_of(PAGE) != b"")
            yield found
        finally:
            process.send_signal(signal.SIGINT)


@dataclass(frozen=True)
class Edit:
    """A change of one file, and a file of the site with what is then in it."""

    path: str
    old: str
    new: str
    address: str
    shown: str


#: those of the package come first: after one of them everything is made anew, which would hide what was missed before
EDITS = (
    Edit(
        f"{ASSETS}/templates/blocks/links.html",
        '<ul class="links">',
        '<ul class="links" data-a>',
        "index.html",
        "data-a",
    ),
    Edit(
        f"{ASSETS}/css/pieces.css", ".label {", ".edited { margin: 0; }\n.label {", "tankside/pieces.css", ".edited {"
    ),
    Edit("tools/tankside/texts.json", '"waste": "Waste"', '"waste": "Edited waste"', PAGE, "Edited waste"),
    Edit(
        f"{ASSETS}/overrides/partials/footer.html",
        "<p>{{ config.extra.word_law",
        "<p>Edited. {{ config.extra.word_law",
        PAGE,
        "<p>Edited. ",
    ),
    # pi / 4 * (27 mm ** 2 * 4 m + 19 mm ** 2 * 2 m) + 0.8 L
    Edit("book/procedures/plant/equipment.yaml", "- bore: 27.2 mm", "- bore: 27 mm", PAGE, "3.65728 L"),
    Edit(
        "book/procedures/plant/equipment.yaml",
        "name: Outlet of the mixing tank",
        "name: Edited outlet",
        "equipment/v2.html",
        "Edited outlet",
    ),
    Edit(
        "book/procedures/plant/sheets.yaml",
        "eyewash: Above",
        "eyewash: Edited above",
        "sheets/index.html",
        "Edited above",
    ),
    Edit(f"book/site_src/pictures/{PICTURE}", "</svg>", "<!-- edited --></svg>", f"pictures/{PICTURE}", "edited"),
    Edit(f"book/{BLEED}", "purpose: ", "purpose: Edited purpose. ", PAGE, "Edited purpose. "),
    Edit(f"book/{BLEED}", "title: Bleed", "title: Edited title, bleed", PAGE, "Edited title, bleed"),
    Edit("book/site_src/about.md", "# About", "# Edited about", "about.html", "Edited about"),
    Edit("book/mkdocs.yml", "site_name: ", "site_name: Edited ", "materials/index.html", "Edited The workshop book"),
)
OF_PACKAGE = 4


def test_each_kind_of_input_is_seen_and_the_result_is_that_of_a_clean_build(workplace: Workplace) -> None:
    first_sheet = workplace.bytes_of(SHEET)
    for number, edit in enumerate(EDITS, 1):
        assert edit.shown not in workplace.bytes_of(edit.address).decode("utf-8")
        replace(workplace.folder / edit.path, edit.old, edit.new)
        workplace.wait_for(lambda edit=edit: edit.shown.encode("utf-8") in workplace.bytes_of(edit.address))
        if number in (OF_PACKAGE, len(EDITS)):
            assert workplace.served_files() == workplace.clean_build()
    assert workplace.bytes_of(SHEET) != first_sheet
    assert b"Edited purpose" in workplace.bytes_of("tankside/search-index.js")


def test_file_that_is_added_or_removed_is_seen(workplace: Workplace) -> None:
    added = workplace.book / "procedures/filling/bleed-again.yaml"
    shutil.copy(workplace.book / BLEED, added)
    replace(added, "procedure: bleed-cleaner-line", "procedure: bleed-again")
    address = PAGE.replace("bleed-cleaner-line", "bleed-again")
    workplace.wait_for(lambda: workplace.bytes_of(address) != b"")
    added.unlink()
    workplace.wait_for(lambda: workplace.bytes_of(address) == b"" and workplace.bytes_of(PAGE) != b"")
    assert workplace.served_files() == workplace.clean_build()


def test_page_that_somebody_changed_by_hand_is_not_kept(workplace: Workplace) -> None:
    page = workplace.served / "materials/index.html"
    before = page.read_bytes()
    page.write_bytes(b"spoilt")
    replace(workplace.book / BLEED, "purpose: Edited purpose. ", "purpose: Another purpose. ")
    workplace.wait_for(lambda: b"Another purpose. " in workplace.bytes_of(PAGE))
    assert page.read_bytes() == before
