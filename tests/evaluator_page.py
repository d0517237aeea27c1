"""The scripts that work things out, alone in Chromium: a page on a file:// address that loads them and nothing else."""

from pathlib import Path

from playwright.sync_api import Browser, Page

from tankside.render_site.scripts import EVALUATOR, UNIT_TABLE, unit_table_script

#: what folds effects into a state, each script after those that it uses
FOLD = ("volumes.js", "plant-state.js", "fold.js")
#: what reads the serial of a record sheet
PAPER = ("serial.js",)
#: what folds the events of a working copy, each script after those that it uses
COPY = (
    "chain.js",
    "copy-script.js",
    "copy-worth.js",
    "copy-state.js",
    "copy-trail.js",
    "copy-fold.js",
    "copy-refusal.js",
)
#: what folds working copies into the board
BOARD = ("board-deeds.js", "board.js", "board-start.js")
SCRIPTS = Path(__file__).parent.parent / "tools" / "tankside" / "assets" / "js"


def evaluator_page(browser: Browser, folder: Path) -> Page:
    """Return a page in which the global `tankside` evaluates and folds; what it complains of is an error here."""
    table = folder / UNIT_TABLE
    table.write_text(unit_table_script(), encoding="utf-8", newline="\n")
    paths = (table if name == UNIT_TABLE else SCRIPTS / name for name in (*EVALUATOR, *FOLD, *PAPER, *COPY, *BOARD))
    tags = "".join(f'<script src="{path.as_uri()}"></script>' for path in paths)
    whole = folder / "evaluator.html"
    whole.write_text(f'<!doctype html><meta charset="utf-8"><title>Evaluator</title>{tags}', encoding="utf-8")
    page = browser.new_page()
    said: list[str] = []
    page.on("pageerror", lambda error: said.append(str(error)))
    page.goto(whole.as_uri())
    assert said == []
    return page
