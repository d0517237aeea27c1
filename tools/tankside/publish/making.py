"""Check a book and build its site: what `build` does once and `serve` after every change."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from tankside.audit import Audit, audit_of
from tankside.audit.day import today
from tankside.checkup import Checkup, check_book
from tankside.edition import Audience
from tankside.loading.sources import picture_data
from tankside.memory import remembered
from tankside.problems import has_errors, in_order
from tankside.publish.building import (
    OFFICE_SITE,
    SERVED,
    SITE,
    Build,
    OutsideAddressError,
    SheetsUnfitError,
    build_site,
)
from tankside.publish.policy import UnsafePageError
from tankside.publish.withheld import SecretToldError
from tankside.render_print.engine import Engine, PrintUnavailableError, SheetFailedError
from tankside.render_print.sheets import SheetMaker
from tankside.render_site.theme import ThemeFailedError
from tankside.views.audit import stamps


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
    #: None when the book could not be audited
    audit: Audit | None = None


#: what readers get has changed and the revision has not
NEEDS_REVISION = ("hash-changed", "sheet-changed")

PLACES = {Audience.FLOOR: SITE, Audience.OFFICE: OFFICE_SITE}

#: the style and the fonts are read once
_engine = remembered(Engine)


def make_site(
    folder: Path, audience: Audience, tell: Callable[[str], None], *, is_being_written: bool = False
) -> Outcome:
    """Check the book in a folder and, when it has no errors, publish its site; say what is being done meanwhile.

    What is being written need not have its new revision yet; its site is put in a place of its own.
    """
    tell("book")
    checkup = check_book(folder, audience)
    in_the_way = [each for each in checkup.problems if not (is_being_written and each.code in NEEDS_REVISION)]
    if checkup.book is None or checkup.rehearsal is None or has_errors(in_the_way):
        return Outcome(checkup)
    language, pictures = str(checkup.book.plant.facts.languages[0]), picture_data(folder)
    tell("audit")
    audit = audit_of(checkup.rehearsal, today())
    try:
        sheets = SheetMaker(_engine(), pictures, checkup.book.plant, language, stamps(audit))
    except PrintUnavailableError:
        sheets = None
    try:
        place = SERVED if is_being_written else PLACES[audience]
        made_of = (checkup.book, checkup.editions, pictures, language, sheets, checkup.rehearsal, audit)
        site = build_site(Build(folder.resolve(), *made_of, tell, place, checkup.secrets))
    except SheetsUnfitError as error:
        return Outcome(replace(checkup, problems=in_order((*checkup.problems, *error.problems))))
    except (ThemeFailedError, UnsafePageError, OutsideAddressError, SecretToldError, SheetFailedError) as error:
        return Outcome(checkup, failure=str(error))
    return Outcome(checkup, site, has_sheets=sheets is not None, audit=audit)
