"""The scripts of a page whose amounts follow what is typed: classic ones, which load on a file:// address too."""

import json
from importlib.resources import files
from typing import Final

from tankside.render_site import addresses
from tankside.render_site.search import GLOBAL

UNIT_TABLE: Final = "unit-table.js"
#: the evaluator of amounts, each script after those that it uses
EVALUATOR: Final = (
    UNIT_TABLE,
    "rational.js",
    "functions.js",
    "decimal-text.js",
    "units.js",
    "near-misses.js",
    "reading.js",
    "evaluate.js",
    "infix.js",
    "working.js",
    "calculation.js",
    "measuring.js",
    "number-text.js",
    "amounts.js",
)
LIVE_AMOUNTS: Final = tuple(f"{addresses.OWN}/{name}" for name in (*EVALUATOR, "live-amounts.js"))


def unit_table_script() -> str:
    """Return a classic script that sets the unit table: the same one that Python reads."""
    table = json.loads(files("tankside").joinpath("units.json").read_text(encoding="utf-8"))
    text = json.dumps(table, separators=(",", ":"), ensure_ascii=False)
    return f"'use strict';\nvar {GLOBAL} = window.{GLOBAL} || {{}};\n{GLOBAL}.unitTable = {text};\n"
