"""The record sheets of a book: a blank of each that lists steps, and for a lot each whose amounts depend on it."""

import json
from collections.abc import Iterator
from pathlib import Path

from tankside.checkup import Checkup
from tankside.edition import Edition
from tankside.loading.sources import picture_data
from tankside.model.procedures import Procedure
from tankside.records.issuing import Wanted, issue_for
from tankside.records.script import Script
from tankside.render_print.engine import Engine
from tankside.render_print.record_sheets import RecordSheetMaker
from tankside.render_print.sheets import SheetMaker
from tankside.views.record_sheets import SheetOrder

#: written down once: python-stdnum 2.2, stdnum.iso7064.mod_37_2.calc_check_digit("JV3R834M") == "2"
SERIAL, GROUPED = "JV3R834M2", "JV3 R83 4M2"
LOT = "ML-2026-07"


def is_recorded(edition: Edition) -> bool:
    """Whether there is a record sheet of it: it is no emergency and lists steps."""
    written = edition.written
    return not written.is_emergency if isinstance(written, Procedure) else written.is_followed


def script_of(edition: Edition) -> Script:
    """An edition as it is read from a file."""
    return Script(json.loads(edition.canonical))


def blank(edition: Edition) -> SheetOrder:
    """A blank for the drawer."""
    script = script_of(edition)
    return SheetOrder(edition, script, issue_for(script, Wanted()), SERIAL)


def issued(edition: Edition, *settings: str) -> SheetOrder:
    """A sheet for one lot; where nothing is set, the usual values are chosen."""
    script = script_of(edition)
    usual = tuple(f"{procedure}/{name}={asked['usual']}" for procedure, name, asked in script.inputs())
    size = script.sizes[0] if script.sizes else None
    return SheetOrder(edition, script, issue_for(script, Wanted(LOT, settings or usual, size)), SERIAL)


def orders(checkup: Checkup) -> Iterator[SheetOrder]:
    """All record sheets of a book."""
    for edition in filter(is_recorded, checkup.editions.values()):
        yield blank(edition)
        if isinstance(edition.written, Procedure) and list(script_of(edition).inputs()):
            yield issued(edition)


def maker_of(checkup: Checkup, engine: Engine, folder: Path) -> RecordSheetMaker:
    """What makes the record sheets of a book in a folder."""
    assert checkup.book is not None
    return RecordSheetMaker(SheetMaker(engine, picture_data(folder), checkup.book.plant, "en", {}))
