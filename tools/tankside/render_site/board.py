"""The board on the home page: its place in the page, and the scripts that hold what it must know of the book."""

import json

from markupsafe import Markup

from tankside.drawing.board_diagram import board_svg, pattern_paths
from tankside.drawing.line_diagram import line_diagram_svg
from tankside.memory import remembered
from tankside.plant.setting import Setting
from tankside.quantities.portable import Portable
from tankside.render_site.addresses import From
from tankside.render_site.content import Content
from tankside.render_site.scripts import BOARD_FIRST, BOARD_PAGE
from tankside.render_site.search import GLOBAL
from tankside.templating import rendered
from tankside.texts import Words
from tankside.views.board import board_data
from tankside.views.board_diagram import board_key, board_sides
from tankside.views.line_diagram_looks import LookWords


def board_block(content: Content, page: str) -> Markup:
    """Return the place of the board; it is filled by its script, and silent while nothing was recorded."""
    here = From(page)
    return rendered(
        "blocks/board.html",
        m=content.site.medium(page),
        book=str(content.book.plant.facts.book),
        scripts=[here.to(each) for each in BOARD_PAGE],
        waiting=[here.to(each) for each in BOARD_FIRST],
    )


def board_jump(content: Content, page: str) -> Markup:
    """Return the place of a link to the board; the room for it is kept, so that nothing moves under a finger."""
    return rendered("blocks/board-jump.html", m=content.site.medium(page))


def board_data_script(content: Content) -> str:
    """Return a classic script that sets what the board must know of the book, with the words that it says."""
    return _data_script(content.rehearsal.setting, content.say)


@remembered
def _data_script(setting: Setting, say: Words) -> str:
    found = dict(board_data(setting, say))
    words = found.pop("words")
    return (
        f"'use strict';\nvar {GLOBAL} = window.{GLOBAL} || {{}};\n{GLOBAL}.boardData = {_json(found)};\n"
        f"{GLOBAL}.words = Object.assign({GLOBAL}.words || {{}}, {_json(words)});\n"
    )


def board_drawing_script(content: Content) -> str:
    """Return a classic script that sets the drawings over which the board is shown."""
    return _drawing_script(content.rehearsal.setting, content.say)


@remembered
def _drawing_script(setting: Setting, say: Words) -> str:
    numbers = LookWords(setting.facts.materials, say).numbers
    patterns = pattern_paths(numbers.values())
    found = {
        "sides": [
            {
                "title": side.title,
                "tags": [piece.tag for piece in side.diagram.pieces],
                "svg": board_svg(side.diagram, f"board-{at}"),
            }
            for at, side in enumerate(board_sides(setting, say))
        ],
        "patterns": {
            name: {"number": number, "d": patterns[number][0], "width": f"{patterns[number][1]:g}"}
            for name, number in numbers.items()
        },
        "key": line_diagram_svg(board_key(setting, say)),
    }
    return f"'use strict';\nvar {GLOBAL} = window.{GLOBAL} || {{}};\n{GLOBAL}.boardDrawing = {_json(found)};\n"


def _json(value: Portable) -> str:
    return json.dumps(value, separators=(",", ":"), ensure_ascii=False)
