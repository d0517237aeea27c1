"""Check a book and build its site: what `build` does once and `serve` after every change."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from tankside.checkup import Checkup, check_book
from tankside.edition import Audience
from tankside.publish.building import Build, OutsideAddressError, build_site
from tankside.publish.policy import UnsafePageError
from tankside.render_print.engine import Engine, PrintUnavailableError, SheetFailedError
from tankside.render_print.sheets import SheetMaker
from tankside.render_site.theme import ThemeFailedError


@dataclass(frozen=True)
class Outcome:
    """How it ended."""

    checkup: Checkup
    #: where the new site is; None when nothing was published
    site: Path | None = None
    #: why nothing was published although the book has no errors
    failure: str = ""
    #: False when this computer lacks the print libraries
    has_sheets: bool = True


def make_site(folder: Path, audience: Audience, tell: Callable[[str], None]) -> Outcome:
    """Check the book in a folder and, when it has no errors, publish its site; say what is being done meanwhile."""
    tell("book")
    checkup = check_book(folder, audience)
    if checkup.book is None or not checkup.is_sound:
        return Outcome(checkup)
    language = str(checkup.book.facts.languages[0])
    try:
        sheets = SheetMaker(Engine(), folder, checkup.book.facts, language)
    except PrintUnavailableError:
        sheets = None
    try:
        site = build_site(Build(folder.resolve(), checkup.book, checkup.editions, language, sheets, tell))
    except (ThemeFailedError, UnsafePageError, OutsideAddressError, SheetFailedError) as error:
        return Outcome(checkup, failure=str(error))
    return Outcome(checkup, site, has_sheets=sheets is not None)
