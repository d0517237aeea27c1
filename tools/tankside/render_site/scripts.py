"""The scripts of a page whose amounts follow what is typed: classic ones, which load on a file:// address too."""

import json
from collections.abc import Mapping
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
#: what folds effects into a state
PLANT: Final = ("volumes.js", "plant-state.js", "fold.js")
#: a working copy: its chain, what it follows, its state, what it refuses, where it is kept
COPY: Final = (
    "chain.js",
    "copy-script.js",
    "copy-worth.js",
    "copy-state.js",
    "copy-trail.js",
    "copy-fold.js",
    "copy-refusal.js",
    "copy-database.js",
    "copy-head.js",
    "copy-store.js",
    "copy-device.js",
    "copy-file.js",
    "copy-work.js",
)
#: what is known of the plant from the working copies on a device, and what speaks against a start
BOARD: Final = ("board-deeds.js", "board.js", "board-start.js")
#: how somebody's competence stands: for the pages of training, and before a start
TRAINED: Final = (
    "training-standing.js",
    "training-entries.js",
    "training-store.js",
    "training-uses.js",
    "training-words.js",
)
#: the forms of a working copy's page: large keys, the start, adding, measuring, labels, a record taken over from paper
FORMS: Final = (
    "serial.js",
    "work-typing.js",
    "work-keys.js",
    "work-figures.js",
    "work-pieces.js",
    "work-ways.js",
    "work-gauge.js",
    "work-drum.js",
    "work-add.js",
    "work-measure.js",
    "work-labels.js",
    "work-paper.js",
    "work-crew.js",
    "work-batch.js",
    "work-ready.js",
    "work-against.js",
    *TRAINED,
    "work-trained.js",
    "work-start.js",
)
#: the steps of a working copy in reading order, and what its events say in words
TOLD: Final = ("work-history.js", "work-steps.js", "work-said.js")
#: the page itself: its steps, its head and foot, and everything beside the way
FOLLOWED: Final = (
    "work-clock.js",
    "work-timers.js",
    "work-reason.js",
    "work-people.js",
    "work-others.js",
    "work-now.js",
    "work-row.js",
    "work-lines.js",
    "work-kept.js",
    "work-head.js",
    "work-resume.js",
    "work-correct.js",
    "work-aside.js",
    "work-end.js",
    "work-foot.js",
    "work-page.js",
    "work-boot.js",
)
#: what the page of a working copy is made of, each script after those that it uses
PAGE: Final = (*BOARD, "dom.js", *TOLD, "work-view.js", *FORMS, *FOLLOWED)
WORDS: Final = "words.js"
#: what the list of the working copies on this device is made of
LIST: Final = (
    "copy-shape.js",
    "copy-bring.js",
    "dom.js",
    "work-shown.js",
    "work-storage.js",
    "work-copies.js",
    "work-bringing.js",
    "work-redlines.js",
    "work-list.js",
)
#: what the pages of training are made of, each script after those that it uses
TRAINING: Final = (
    *("chain.js", "copy-database.js", "copy-head.js", "copy-store.js", "copy-device.js", "copy-file.js"),
    *(WORDS, "dom.js", "work-shown.js", "work-typing.js", "work-keys.js", "work-pieces.js"),
    *TRAINED,
    "training-file.js",
    "training-shape.js",
    "training-bring.js",
    "training-page.js",
    "training-attest.js",
    "training-questions.js",
    "training-people.js",
    "training-list.js",
    "training-path.js",
    "training-watched.js",
    "training-entered.js",
    "training-lesson.js",
    "training-boot.js",
)
#: what the page of a record is made of
RECORD: Final = (
    "dom.js",
    *TOLD,
    "work-view.js",
    "work-shown.js",
    "work-record-facts.js",
    "work-record-entries.js",
    "work-print.js",
)
_SHARED, _PAGE, _LIST, _RECORD = "copies.js", "copy-page.js", "copy-list.js", "copy-record.js"
_TRAIN: Final = "training.js"
#: scripts that are read as one: to ask for seventy files takes a tablet longer than all that is in them
BUNDLES: Final[Mapping[str, tuple[str, ...]]] = {
    _SHARED: (*EVALUATOR, *PLANT, *COPY, WORDS),
    _PAGE: PAGE,
    _LIST: LIST,
    _RECORD: RECORD,
    _TRAIN: TRAINING,
}
#: on the page of a working copy, on the page that lists those of this device, and on the page of a record
WORK, WORK_LIST, WORK_RECORD = (
    (f"{addresses.OWN}/{_SHARED}", f"{addresses.OWN}/{own}") for own in (_PAGE, _LIST, _RECORD)
)
#: on the pages of training
TRAIN: Final = (f"{addresses.OWN}/{_TRAIN}",)
#: on the home page: how many copies are open
OPEN: Final = ("copy-database.js", "copy-head.js", "copy-store.js", WORDS, "dom.js", "work-open.js")
WORK_OPEN: Final = tuple(f"{addresses.OWN}/{name}" for name in OPEN)
#: on the home page, behind those: what looks whether something was recorded on this device
BOARD_FIRST: Final = (f"{addresses.OWN}/board-page.js",)
BOARD_DATA: Final = "board-data.js"
BOARD_DRAWING: Final = "board-drawing.js"
#: what shows it then
BOARD_PAGE: Final = tuple(
    f"{addresses.OWN}/{name}"
    for name in (
        *(*EVALUATOR, *PLANT, "chain.js", "copy-script.js", "copy-worth.js", "copy-state.js", "copy-trail.js"),
        *("copy-fold.js", *BOARD, BOARD_DATA, BOARD_DRAWING),
        *("board-words.js", "board-list.js", "board-diagram.js"),
    )
)
#: what no page asks for by itself
BUNDLED_ONLY: Final = {name for names in BUNDLES.values() for name in names}.difference(
    EVALUATOR, OPEN, (address.removeprefix(f"{addresses.OWN}/") for address in BOARD_PAGE)
)
LIVE_AMOUNTS: Final = tuple(f"{addresses.OWN}/{name}" for name in (*EVALUATOR, "live-amounts.js"))


def bundles(scripts: Mapping[str, bytes]) -> dict[str, bytes]:
    """Return scripts, by their name, with those that are read as one put together."""
    together = {name: b"\n".join(scripts[each] for each in names) for name, names in BUNDLES.items()}
    return together | {name: data for name, data in scripts.items() if name not in BUNDLED_ONLY}


def words_script(words: Mapping[str, str]) -> str:
    """Return a classic script that sets the words that other scripts say."""
    text = json.dumps(dict(words), separators=(",", ":"), ensure_ascii=False)
    return f"'use strict';\nvar {GLOBAL} = window.{GLOBAL} || {{}};\n{GLOBAL}.words = {text};\n"


def unit_table_script() -> str:
    """Return a classic script that sets the unit table: the same one that Python reads."""
    table = json.loads(files("tankside").joinpath("units.json").read_text(encoding="utf-8"))
    text = json.dumps(table, separators=(",", ":"), ensure_ascii=False)
    return f"'use strict';\nvar {GLOBAL} = window.{GLOBAL} || {{}};\n{GLOBAL}.unitTable = {text};\n"
