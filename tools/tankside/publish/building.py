"""Build the whole site of a book: nothing is published until everything is made."""

import os
import shutil
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path

from fontpkg_atkinson_hyperlegible import ROOT as FONT
from mkdocs import __file__ as mkdocs_file

from tankside.audit import Audit
from tankside.catalogue import Book
from tankside.catalogue.secrets import Secrets
from tankside.drawing.marks import MARKS, mark_svg
from tankside.drawing.signs import SIGNS, sign_svg
from tankside.edition import Edition
from tankside.edition.sheets import hanging
from tankside.memory import remembered
from tankside.plant.rehearsal import Rehearsal
from tankside.problems import Problem
from tankside.publish.outside import outside_addresses
from tankside.publish.policy import with_policy
from tankside.publish.swap import put_in_place, restore
from tankside.publish.withheld import refuse_secrets
from tankside.publish.writing import write_files
from tankside.render_print.engine import FONTS
from tankside.render_print.sheets import SheetMaker
from tankside.render_print.shelf import Shelf
from tankside.render_site import addresses
from tankside.render_site.board import board_data_script, board_drawing_script
from tankside.render_site.content import Content
from tankside.render_site.emergencies import emergency_pages
from tankside.render_site.navigation import frame_words, navigation
from tankside.render_site.pages import pages
from tankside.render_site.scripts import (
    BOARD_DATA,
    BOARD_DRAWING,
    UNIT_TABLE,
    WORDS,
    bundles,
    unit_table_script,
    words_script,
)
from tankside.render_site.search import index_script
from tankside.render_site.shells import Page, spliced
from tankside.render_site.theme import Shells, themed
from tankside.render_site.training import training_pages
from tankside.render_site.training_data import path_scripts
from tankside.render_site.work import work_pages
from tankside.render_site.working import working_pages
from tankside.schema.shapes import COMPETENCE, RECORD, file_name
from tankside.views.work import script_words

SITE_SOURCE = "site_src"
OUTPUT = "build"
#: the finished site; the site as it is while the book is written; sheets that need not be laid out again
SITE, SERVED, SHELF = "site", "served", "laid-out"
#: the site for the office, which may tell what the floor is not told: nobody carries it there by mistake
OFFICE_SITE = "site-office"
STAGING = "staging"


class OutsideAddressError(Exception):
    """A finished page would fetch something from elsewhere."""


class SheetsUnfitError(Exception):
    """Some sheets could not be laid out."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        """Keep why."""
        super().__init__(problems)
        self.problems = problems


@dataclass(frozen=True)
class Build:
    """What one build works on."""

    folder: Path
    book: Book
    editions: Mapping[str, Edition]
    #: path below the pictures of the book -> data
    pictures: Mapping[str, bytes]
    language: str
    #: None when the sheets cannot be made on this computer
    sheets: SheetMaker | None
    rehearsal: Rehearsal
    audit: Audit
    #: told what is being done
    tell: Callable[[str], None]
    #: name of the folder in OUTPUT where the site is put
    place: str = SITE
    #: the words that must stand in none of its files
    secrets: Secrets = ()


def build_site(build: Build) -> Path:
    """Build the site and its sheets, put it in the place of the last one, and return its folder.

    Raises:
        ThemeFailedError: the theme could not make the pages.
        UnsafePageError: a page has an inline style or script that its policy would forbid.
        OutsideAddressError: a page would fetch something from elsewhere.
        SecretToldError: a file would tell the floor what is confidential.
        SheetsUnfitError: sheets could not be laid out.
        SheetFailedError: the statement of the audit could not be laid out.
    """
    output = build.folder / OUTPUT
    site = output / build.place
    output.mkdir(parents=True, exist_ok=True)
    restore(site)
    for left in list(output.glob(f"{STAGING}-*")):
        shutil.rmtree(left, ignore_errors=True)
    # A name of its own: the theme of a build that was killed may still be writing into the other one's.
    staging = output / f"{STAGING}-{os.getpid()}"
    has_sheets = build.sheets is not None
    content = Content(build.book, build.editions, build.language, has_sheets, build.rehearsal, build.audit)
    found = _files(build, content, staging.with_name(f"{staging.name}-work"))
    _refuse_outside(found)
    refuse_secrets(found, build.folder, build.secrets)
    shelf = Shelf(output / SHELF)
    sheets: dict[str, Path] = {}
    if build.sheets is not None:
        made = build.sheets.make_all(hanging(content.sheets.values()), shelf, build.tell)
        if made.problems:
            raise SheetsUnfitError(made.problems)
        sheets |= made.places
        sheets[addresses.AUDIT_SHEET] = build.sheets.make_statement(content.audit_view, shelf, build.tell)
    write_files({**found, **{addresses.sheet(name): path for name, path in sheets.items()}}, staging, site)
    if sheets:
        # Without print libraries nothing was asked for, and all is kept.
        shelf.clear_unasked()
    put_in_place(staging, site)
    return site


def _files(build: Build, content: Content, work: Path) -> dict[str, bytes]:
    """Return every file of the site but the sheets, by its address."""
    build.tell("pages")
    made = {page.address: page for page in pages(content)}
    hand_written = _hand_written(build.folder)
    shells = Shells(
        pages={page.shell_path: page.shell for page in made.values()},
        hand_written=hand_written,
        navigation=navigation(content, hand_written),
        extra=frame_words(content),
    )
    theme = themed(build.folder, work, shells)
    found = dict(theme.assets)
    for address, text in theme.pages.items():
        page = made.get(address)
        found[address] = _finished(address, text, page) if page else _published(address, text)
    for address, text in emergency_pages(content):
        found[address] = _published(address, text)
    for address, text in (*work_pages(content), *working_pages(content), *training_pages(content)):
        found[address] = _published(address, text)
    found |= {address: text.encode("utf-8") for address, text in path_scripts(content)}
    build.tell("search")
    found |= {f"{addresses.OWN}/{name}": data for name, data in bundles(_own(content)).items()}
    for dry_run in content.rehearsed.values():
        found |= dry_run.files
    return found | {addresses.picture(path): data for path, data in build.pictures.items()}


def _hand_written(folder: Path) -> Mapping[str, str]:
    source = folder / SITE_SOURCE
    return {
        path.relative_to(source).as_posix(): path.read_text(encoding="utf-8") for path in sorted(source.rglob("*.md"))
    }


@remembered
def _finished(address: str, text: str, page: Page) -> bytes:
    """Return a page with all that belongs into its gaps."""
    return _published(address, spliced(text, page.headings, page.blocks))


@remembered
def _published(address: str, text: str) -> bytes:
    """Return a page with its policy."""
    return with_policy(text, address).encode("utf-8")


def _own(content: Content) -> dict[str, bytes]:
    """Return our scripts, styles and fonts, and what the scripts must know of the book."""
    made = {
        WORDS: words_script(script_words(content.say)),
        BOARD_DATA: board_data_script(content),
        BOARD_DRAWING: board_drawing_script(content),
        "search-index.js": index_script(content),
    }
    return {**{name: text.encode("utf-8") for name, text in made.items()}, **_assets()}


@remembered
def _assets() -> Mapping[str, bytes]:
    return dict(_own_assets())


def _own_assets() -> Iterator[tuple[str, bytes]]:
    package = files("tankside") / "assets"
    for folder in ("css", "js"):
        for asset in sorted((package / folder).iterdir(), key=lambda each: each.name):
            yield asset.name, asset.read_bytes()
    yield UNIT_TABLE, unit_table_script().encode("utf-8")
    for name in (RECORD, COMPETENCE):
        yield file_name(name), (files("tankside.schema") / file_name(name)).read_bytes()
    yield "icon.svg", (package / "icon.svg").read_bytes()
    yield "lunr.js", (Path(mkdocs_file).parent / "contrib" / "search" / "templates" / "search" / "lunr.js").read_bytes()
    for name in FONTS.values():
        yield f"fonts/{name}", (FONT / "files" / name).read_bytes()
    yield "fonts/LICENSE.txt", (FONT / "LICENSE").read_bytes()
    for code in SIGNS:
        yield f"signs/{code}.svg", sign_svg(code).encode("utf-8")
    for name in MARKS:
        yield f"marks/{name}.svg", mark_svg(name).encode("utf-8")


def _refuse_outside(found: Mapping[str, bytes]) -> None:
    said = [f"{path}: {outside}" for path in sorted(found) for outside in outside_addresses(path, found[path])]
    if said:
        raise OutsideAddressError("\n".join(said))
