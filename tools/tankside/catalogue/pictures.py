"""Pictures of steps: is each what its name says, closed in itself, and clear at the size at which it is printed."""

import warnings
from collections.abc import Collection, Iterator, Mapping
from contextlib import contextmanager
from fractions import Fraction
from io import BytesIO
from math import ceil
from pathlib import PurePosixPath

from tankside.catalogue.printed_pictures import (
    LEAST_CAPITAL_MM,
    LEAST_DOTS,
    MM_PER_INCH,
    MOST_HIGH_MM,
    MOST_WIDE_MM,
    largest_mm,
    printed_mm,
)
from tankside.catalogue.svg_pictures import SvgPicture, read_svg, what_it_loads
from tankside.loading.sources import MOST_BYTES
from tankside.loading.values import Text
from tankside.memory import remembered
from tankside.model.procedures import Procedure
from tankside.model.steps import Step, every
from tankside.problems import Problem, Span, quoted

#: how the bytes of each kind begin; an SVG begins with `<` after what is white
_PNG, _JPEG, _SVG = "PNG", "JPEG", "SVG"
_BEGINNINGS = {b"\x89PNG\r\n\x1a\n": _PNG, b"\xff\xd8\xff": _JPEG}
KINDS: Mapping[str, str] = {".png": _PNG, ".jpg": _JPEG, ".svg": _SVG}
#: 600 dots an inch on the largest print are 2,126 by 1,134, 2.4 million: what is more slows a tablet and shows nothing
MOST_PIXELS = 4_000_000
#: of EXIF, where a camera says how it was held; from 5 on it lay on its side
_ORIENTATION, _ON_ITS_SIDE = 0x0112, 5


def pictures_of(procedures: Collection[Procedure]) -> tuple[Text, ...]:
    """Return the names of all pictures of steps, each where it stands."""
    items = (item for procedure in procedures for item in every(procedure.steps))
    return tuple(item.picture for item in items if isinstance(item, Step) and item.picture is not None)


def picture_problems(named: Collection[Text], data: Mapping[str, bytes]) -> Iterator[Problem]:
    """Return a problem for each picture that cannot be used where it is named.

    Args:
        named: the names of pictures, each where it stands.
        data: name -> bytes, at most one more than MOST_BYTES; what is not there is nobody's business here.
    """
    for name in named:
        if name in data:
            yield from (_placed(each, name.span) for each in _problems(str(name), data[name]))


def _placed(problem: Problem, span: Span) -> Problem:
    return Problem(span, problem.code, problem.message, problem.hint)


@remembered
def _problems(name: str, data: bytes) -> tuple[Problem, ...]:
    """Return what is wrong with a picture, the first thing only; it has no place yet."""
    wanted, kind = KINDS[PurePosixPath(name).suffix], _kind(data)
    nowhere = Span("")
    if len(data) > MOST_BYTES:
        message = f"picture {quoted(name)} is larger than {MOST_BYTES // 1024} KiB"
        hint = f"scale it down: {_plenty()} px of width are plenty"
        return (Problem(nowhere, "picture-too-big", message, hint),)
    if kind != wanted:
        message = f"picture {quoted(name)} is no {wanted}: its bytes are those of {kind or 'something else'}"
        hint = f"save it again as {wanted}; another name alone does not change it"
        return (Problem(nowhere, "picture-not-its-kind", message, hint),)
    return tuple(_of_svg(name, data) if kind == _SVG else _of_pixels(name, data))


def _kind(data: bytes) -> str:
    for beginning, kind in _BEGINNINGS.items():
        if data.startswith(beginning):
            return kind
    return _SVG if data.removeprefix(b"\xef\xbb\xbf").lstrip().startswith(b"<") else ""


def _broken(name: str, why: str, hint: str = "save it again, and look at it before you name it here") -> Problem:
    return Problem(Span(""), "picture-broken", f"picture {quoted(name)} cannot be read: {why}", hint)


def _of_svg(name: str, data: bytes) -> Iterator[Problem]:
    read = read_svg(data)
    if not isinstance(read, SvgPicture):
        yield _broken(name, read)
        return
    loads = what_it_loads(read)
    if loads:
        message = f"picture {quoted(name)} is not closed in itself: it has {loads}"
        hint = "save it as plain SVG with everything inside it, without scripts and links"
        yield Problem(Span(""), "picture-not-closed", message, hint)
        return
    capital = read.least_capital_mm()
    if capital is not None and capital < LEAST_CAPITAL_MM:
        message = f"picture {quoted(name)} has letters whose capitals are printed {_mm(capital)} high"
        times = ceil(LEAST_CAPITAL_MM / max(capital, Fraction(1, 10)) * 10) / 10
        hint = f"draw them {times} times as large, {_mm(LEAST_CAPITAL_MM)} is the least, or say it in the step"
        yield Problem(Span(""), "picture-letters-small", message, hint)


def _of_pixels(name: str, data: bytes) -> Iterator[Problem]:
    try:
        width, height = _pixels(data)
    except (OSError, SyntaxError, ValueError) as error:
        yield _broken(name, str(error).partition("\n")[0][:60].lower())
        return
    if width * height > MOST_PIXELS:
        message = f"picture {quoted(name)} has {width} by {height} px, more than {MOST_PIXELS // 1_000_000} million"
        hint = f"scale it down: {_plenty(Fraction(width, height))} px of width are plenty"
        yield Problem(Span(""), "picture-too-big", message, hint)
        return
    yield from _coarse(name, width, height)


def _coarse(name: str, width: int, height: int) -> Iterator[Problem]:
    printed = printed_mm(width, height)
    dots = Fraction(width) / (printed[0] / MM_PER_INCH)
    if dots < LEAST_DOTS:
        message = f"picture {quoted(name)} has {int(dots)} dots an inch where it is printed, {_mm(printed[0])} wide"
        whole = largest_mm(Fraction(width, height))[0]
        least = ceil(whole / MM_PER_INCH * LEAST_DOTS)
        hint = f"take it again at least {least} px wide: {LEAST_DOTS} dots an inch can be read; enlarging does not help"
        yield Problem(Span(""), "picture-coarse", message, hint)


def _pixels(data: bytes) -> tuple[int, int]:
    """Return width and height as shown; all of it is decoded unless it is too large.

    Raises:
        OSError, SyntaxError, ValueError: it cannot be decoded.
    """
    # Reading it takes longer than everything else that starts; most books are checked without pixels.
    from PIL import Image

    with _strictly():
        try:
            with Image.open(BytesIO(data), formats=(_PNG, _JPEG)) as image:
                size = image.size
                if size[0] * size[1] <= MOST_PIXELS:
                    image.load()
                    if image.getexif().get(_ORIENTATION, 1) >= _ON_ITS_SIDE:
                        size = (size[1], size[0])
                return size
        except Image.DecompressionBombError as error:
            raise ValueError("it unpacks to far too many pixels") from error


@contextmanager
def _strictly() -> Iterator[None]:
    """Take no picture whose end is missing, although the printing engine lets them pass for the whole process."""
    from PIL import Image, ImageFile

    before = ImageFile.LOAD_TRUNCATED_IMAGES
    ImageFile.LOAD_TRUNCATED_IMAGES = False
    try:
        with warnings.catch_warnings():
            # What is far too large is said elsewhere.
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            yield
    finally:
        ImageFile.LOAD_TRUNCATED_IMAGES = before


def _plenty(ratio: Fraction = MOST_WIDE_MM / MOST_HIGH_MM) -> int:
    """Return a width [px] that prints as finely as anyone sees, 300 dots an inch."""
    return ceil(largest_mm(ratio)[0] / MM_PER_INCH * 300)


def _mm(length: Fraction) -> str:
    return f"{float(length):.1f} mm"
