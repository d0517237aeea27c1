"""How pieces of a template find things on a sheet: all inside it, nothing to follow."""

from collections.abc import Mapping
from pathlib import PurePosixPath

from tankside.drawing.marks import mark_svg
from tankside.drawing.signs import sign_svg
from tankside.loading.sources import PICTURES
from tankside.render_print.engine import SheetFailedError, data_address
from tankside.templating import Medium
from tankside.texts import Words

KINDS = {".svg": "image/svg+xml", ".png": "image/png", ".jpg": "image/jpeg"}


def medium(say: Words, sheet: str, pictures: Mapping[str, bytes], *, has_boxes: bool = True) -> Medium:
    """Return the medium of a sheet; one to be looked at has no boxes to tick."""
    return Medium(
        say=say,
        sign=lambda code: svg_address(sign_svg(code)),
        mark=lambda name: svg_address(mark_svg(name)),
        picture=lambda name: _picture(sheet, pictures, name),
        link=lambda _: None,
        is_paper=True,
        has_boxes=has_boxes,
    )


def svg_address(svg: str) -> str:
    """Return a drawing as an address that needs no fetching."""
    return data_address("image/svg+xml", svg.encode("utf-8"))


def _picture(sheet: str, pictures: Mapping[str, bytes], name: str) -> str:
    kind = KINDS.get(PurePosixPath(name).suffix)
    if kind is None:
        raise SheetFailedError(f"sheet '{sheet}': picture '{name}' is none of {', '.join(KINDS)}")
    if name not in pictures:
        raise SheetFailedError(f"sheet '{sheet}': picture '{name}' cannot be read from {PICTURES}")
    return data_address(kind, pictures[name])
