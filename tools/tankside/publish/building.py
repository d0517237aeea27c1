"""Build the whole site of a book: nothing is published until everything is made."""

import os
import shutil
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path

from fontpkg_atkinson_hyperlegible import ROOT as FONT
from mkdocs import __file__ as mkdocs_file

from tankside.catalogue import Book
from tankside.drawing.marks import MARKS, mark_svg
from tankside.drawing.signs import SIGNS, sign_svg
from tankside.edition import Edition
from tankside.loading.sources import PICTURES
from tankside.publish.outside import outside_addresses
from tankside.publish.policy import with_policy
from tankside.publish.swap import put_in_place, restore
from tankside.render_print.engine import FONTS
from tankside.render_print.sheets import SheetMaker
from tankside.render_site import addresses
from tankside.render_site.content import Content
from tankside.render_site.emergencies import emergency_pages
from tankside.render_site.pages import families, family_title, pages
from tankside.render_site.search import index_script
from tankside.render_site.shells import Page, spliced
from tankside.render_site.theme import Shells, make_pages

SITE_SOURCE = "site_src"
OUTPUT = "build"
STAGING = "staging"


class OutsideAddressError(Exception):
    """A finished page would fetch something from elsewhere."""


@dataclass(frozen=True)
class Build:
    """What one build works on."""

    folder: Path
    book: Book
    editions: Mapping[str, Edition]
    language: str
    #: None when the sheets cannot be made on this computer
    sheets: SheetMaker | None
    #: told what is being done
    tell: Callable[[str], None]

    @property
    def output(self) -> Path:
        """The folder of everything made."""
        return self.folder / OUTPUT


def build_site(build: Build) -> Path:
    """Build the site and its sheets, put it in the place of the last one, and return its folder.

    Raises:
        ThemeFailedError: the theme could not make the pages.
        UnsafePageError: a page has an inline style or script that its policy would forbid.
        OutsideAddressError: a page would fetch something from elsewhere.
        SheetFailedError: a sheet could not be laid out.
    """
    site = build.output / "site"
    build.output.mkdir(parents=True, exist_ok=True)
    restore(site)
    for left in list(build.output.glob(f"{STAGING}-*")):
        shutil.rmtree(left, ignore_errors=True)
    # A name of its own: the theme of a build that was killed may still be writing into the other one's.
    staging = build.output / f"{STAGING}-{os.getpid()}"
    content = Content(build.book, build.editions, build.language, build.sheets is not None)
    _make_pages(build, content, staging)
    _write_assets(build, content, staging)
    if build.sheets is not None:
        build.sheets.write_all(build.editions.values(), staging / "sheets", build.tell)
    _refuse_outside(staging)
    put_in_place(staging, site)
    return site


def _make_pages(build: Build, content: Content, staging: Path) -> None:
    build.tell("pages")
    work = staging.with_name(f"{staging.name}-work")
    made = list(pages(content))
    hand_written = _hand_written(build.folder)
    shells = Shells(
        pages={**{page.shell_path: page.shell for page in made}, **hand_written},
        navigation=navigation(content, hand_written),
        extra=frame_words(content),
    )
    make_pages(build.folder, work, shells, staging)
    for page in made:
        path = staging / page.address
        path.write_text(spliced(path.read_text(encoding="utf-8"), page.blocks), encoding="utf-8", newline="\n")
    for address, text in emergency_pages(content):
        path = staging / address
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")
    for path in sorted(staging.rglob("*.html")):
        name = path.relative_to(staging).as_posix()
        path.write_text(with_policy(path.read_text(encoding="utf-8"), name), encoding="utf-8", newline="\n")
    shutil.rmtree(work)


def _hand_written(folder: Path) -> Mapping[str, str]:
    source = folder / SITE_SOURCE
    return {
        path.relative_to(source).as_posix(): path.read_text(encoding="utf-8") for path in sorted(source.rglob("*.md"))
    }


def navigation(content: Content, hand_written: Iterable[str]) -> list[object]:
    """Return what stands in the navigation: families, not procedures, so that a large book stays quick to read."""
    say = content.say
    by_family = [{family_title(name): _shell(addresses.family(name))} for name in families(content)]
    return [
        {say("home"): _shell(addresses.HOME)},
        {say("procedures"): by_family},
        {say("checklists"): _shell(addresses.CHECKLISTS)},
        {say("materials"): _shell(addresses.MATERIALS)},
        {say("equipment"): _shell(addresses.EQUIPMENT)},
        *(path for path in hand_written if "/" not in path),
    ]


def _shell(address: str) -> str:
    return Page(address, "").shell_path


def frame_words(content: Content) -> Mapping[str, str]:
    """Return the words that the theme's frame shows on every page."""
    keys = ("menu", "search", "search-none", "search-off", "emergency", "law")
    words = {f"word_{key.replace('-', '_')}": content.say(key) for key in keys}
    return {**words, "word_scenario": str(content.book.facts.scenario or "")}


def _write_assets(build: Build, content: Content, staging: Path) -> None:
    own = staging / addresses.OWN
    for path, data in _assets(content):
        target = own / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(data)
    pictures = build.folder / PICTURES
    if pictures.is_dir():
        shutil.copytree(pictures, staging / "pictures", dirs_exist_ok=True)


def _assets(content: Content) -> Iterator[tuple[str, bytes]]:
    package = files("tankside") / "assets"
    for folder in ("css", "js"):
        for asset in sorted((package / folder).iterdir(), key=lambda each: each.name):
            yield asset.name, asset.read_bytes()
    yield "icon.svg", (package / "icon.svg").read_bytes()
    yield "lunr.js", (Path(mkdocs_file).parent / "contrib" / "search" / "templates" / "search" / "lunr.js").read_bytes()
    yield "search-index.js", index_script(content).encode("utf-8")
    for name in FONTS.values():
        yield f"fonts/{name}", (FONT / "files" / name).read_bytes()
    yield "fonts/LICENSE.txt", (FONT / "LICENSE").read_bytes()
    for code in SIGNS:
        yield f"signs/{code}.svg", sign_svg(code).encode("utf-8")
    for name in MARKS:
        yield f"marks/{name}.svg", mark_svg(name).encode("utf-8")


def _refuse_outside(staging: Path) -> None:
    found = [f"{path}: {address}" for path, address in outside_addresses(staging)]
    if found:
        raise OutsideAddressError("\n".join(found))
