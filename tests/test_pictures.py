"""Pictures of steps: what cannot be used is said at the place where it is named, and what can be used is let pass."""

import base64
import re
import shutil
import subprocess
from collections.abc import Iterable
from fractions import Fraction
from importlib.resources import files
from io import BytesIO
from pathlib import Path

import pdfplumber
import pytest
import weasyprint
from PIL import Image

from tankside.catalogue.pictures import MOST_PIXELS, picture_problems, pictures_of
from tankside.catalogue.printed_pictures import (
    LEAST_CAPITAL_MM,
    LEAST_DOTS,
    MOST_HIGH_MM,
    MOST_WIDE_MM,
    largest_mm,
    printed_mm,
)
from tankside.catalogue.svg_pictures import SvgPicture, read_svg
from tankside.checkup import read_book
from tankside.loading.sources import MOST_BYTES, Folder, GitTree
from tankside.loading.values import Text
from tankside.problems import Span

ROOT = Path(__file__).parent.parent
BASE = Path(__file__).parent / "base"
FLUSH = "procedures/filling/flush.yaml"
HERE = Span("procedures/filling/flush.yaml", 37, 14)
CSS = (files("tankside") / "assets" / "print" / "sheet.css").read_text(encoding="utf-8")
XLINK = 'xmlns:xlink="http://www.w3.org/1999/xlink" '


def raster(width: int, height: int, kind: str = "PNG", orientation: int = 1) -> bytes:
    """Return a picture of noise, so that it does not pack to nothing."""
    stream = BytesIO()
    exif = Image.Exif()
    exif[0x0112] = orientation
    Image.effect_noise((width, height), 60).save(stream, kind, exif=exif)
    return stream.getvalue()


def svg(inside: str = "", size: str = 'viewBox="0 0 90 48"') -> bytes:
    """Return a drawing; by itself it is printed one unit to the mm."""
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size}>{inside}</svg>'.encode()


def found(name: str, data: bytes) -> list[str]:
    """Return the codes of what is wrong, all of it at the place where the picture is named."""
    problems = list(picture_problems((Text(name, HERE),), {name: data}))
    assert all(each.span == HERE for each in problems)
    assert all(f"'{name}'" in each.message and each.hint for each in problems)
    return [each.code for each in problems]


def css_rule(selector: str) -> str:
    """Return what the sheet's style says of a selector, and of nothing else."""
    rules = re.findall(rf"^{re.escape(selector)} \{{([^}}]*)\}}", CSS, re.MULTILINE)
    assert len(rules) == 1, rules
    return str(rules[0])


def test_largest_print_is_the_one_of_the_sheets_style() -> None:
    rule = css_rule(".picture")
    assert f"max-width: {MOST_WIDE_MM}mm;" in rule
    assert f"max-height: {MOST_HIGH_MM}mm;" in rule
    others = [each for each in re.findall(r"([^{}]*\.picture[^{}]*)\{([^}]*)\}", CSS) if "width" in each[1]]
    assert len(others) == 1, "another rule of the sheets changes how large a picture is printed"


def test_smallest_letter_is_that_of_requirement_19() -> None:
    # a capital is at least the reading distance over 200; a step sheet is read at 0.7 m
    assert float(LEAST_CAPITAL_MM) == 700 / 200


def laid_out(pictures: Iterable[bytes], kind: str) -> list[tuple[float, float]]:
    """Return the sizes [mm] that the printing engine gives pictures in the style of the sheets."""
    sources = (f"data:{kind};base64,{base64.b64encode(data).decode('ascii')}" for data in pictures)
    images = "".join(f'<img class="picture" alt="x" src="{each}">' for each in sources)
    style = f"@page{{size:300mm 2000mm;margin:10mm}}.picture{{{css_rule('.picture')}}}"
    pdf = weasyprint.HTML(string=f"<title>x</title><style>{style}</style>{images}").write_pdf()
    with pdfplumber.open(BytesIO(pdf)) as document:
        assert len(document.pages) == 1
        boxes = document.pages[0].images if kind != "image/svg+xml" else document.pages[0].rects
        return [(float(each["width"]) / 72 * 25.4, float(each["height"]) / 72 * 25.4) for each in boxes]


def test_print_is_as_large_as_the_engine_makes_it() -> None:
    sizes = [(600, 320), (1600, 400), (300, 900), (212, 150), (100, 40), (340, 181), (341, 182), (40, 400)]
    for size, box in zip(sizes, laid_out((raster(*each) for each in sizes), "image/png"), strict=True):
        assert box == pytest.approx(tuple(map(float, printed_mm(*size))), abs=0.05), size


@pytest.mark.parametrize(
    ("size", "wide", "high"),
    [
        ('viewBox="0 0 90 48"', 90, 48),
        ('viewBox="0 0 400 300"', 400, 300),
        ('viewBox="0 0 100 20"', 100, 20),
        ('width="200" height="100" viewBox="0 0 400 200"', 400, 200),
        ('width="20mm" height="10mm" viewBox="0 0 400 200"', 400, 200),
        ('width="30cm" height="20cm" viewBox="0 0 300 200"', 300, 200),
        ('width="100" height="50"', 100, 50),
    ],
)
def test_letter_is_as_high_as_the_engine_prints_it(size: str, wide: float, high: float) -> None:
    data = svg(f'<rect width="{wide}" height="{high}"/><text x="0" y="9" font-size="10">V2</text>', size)
    read = read_svg(data)
    assert isinstance(read, SvgPicture)
    capital = read.least_capital_mm()
    assert capital is not None
    (box,) = laid_out([data], "image/svg+xml")
    # 10 of the drawing's units, of which `wide` make the width of the print; a capital is 0.668 of the type's size
    assert float(capital) == pytest.approx(10 / wide * box[0] * 0.668, rel=0.002)


@pytest.mark.parametrize("path", sorted((ROOT / "site_src/pictures").iterdir()), ids=lambda path: path.name)
def test_pictures_of_the_demonstration_are_let_pass(path: Path) -> None:
    assert found(path.name, path.read_bytes()) == []


def test_demonstration_names_every_picture_that_it_has() -> None:
    book = read_book(ROOT).book
    assert book is not None
    named = {str(each) for each in pictures_of(tuple(book.procedures.values()))}
    assert named == {path.name for path in (ROOT / "site_src/pictures").iterdir()}


# 90 mm at 150 dots an inch are 90 / 25.4 * 150 = 531.5; 48 mm are 283.5, so 532 by 284 is the least for 90 by 48
@pytest.mark.parametrize(
    ("width", "height", "code"),
    [
        (532, 284, []),
        (531, 283, ["picture-coarse"]),
        (532, 100, []),
        (530, 100, ["picture-coarse"]),
        (142, 284, []),
        (141, 283, ["picture-coarse"]),
        (20, 10, ["picture-coarse"]),
    ],
)
@pytest.mark.parametrize("kind", ["PNG", "JPEG"])
def test_picture_of_too_few_dots_is_refused(width: int, height: int, code: list[str], kind: str) -> None:
    assert LEAST_DOTS == 150
    assert found(f"v1.{'png' if kind == 'PNG' else 'jpg'}", raster(width, height, kind)) == code


def test_picture_that_lay_on_its_side_is_judged_as_it_is_shown() -> None:
    # 284 px wide as it is stored, 532 as it is shown; and the other way round
    assert found("v1.jpg", raster(100, 532, "JPEG", orientation=6)) == []
    assert found("v1.jpg", raster(100, 532, "JPEG", orientation=1)) == []
    assert found("v1.jpg", raster(280, 520, "JPEG", orientation=6)) == ["picture-coarse"]
    assert found("v1.jpg", raster(280, 520, "JPEG", orientation=1)) == []


def test_picture_of_too_many_bytes_or_pixels_is_refused() -> None:
    assert MOST_BYTES == 1024 * 1024
    assert MOST_PIXELS == 4_000_000
    assert found("v1.png", raster(700, 400) + b"x" * MOST_BYTES) == ["picture-too-big"]
    assert found("v1.svg", svg("<g/>" * 300_000)) == ["picture-too-big"]
    stream = BytesIO()
    Image.new("1", (2001, 2000)).save(stream, "PNG")
    assert len(stream.getvalue()) < MOST_BYTES
    assert found("v1.png", stream.getvalue()) == ["picture-too-big"]


@pytest.mark.parametrize(("wide", "high"), [(20_000, 20_000), (65_000, 65_000)])
def test_few_bytes_that_unpack_to_very_many_pixels_are_refused(wide: int, high: int) -> None:
    whole = bytearray(raster(600, 320))
    whole[16:24] = wide.to_bytes(4, "big") + high.to_bytes(4, "big")
    codes = found("v1.png", bytes(whole))
    assert codes in (["picture-too-big"], ["picture-broken"])


@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("v1.jpg", raster(600, 320, "PNG")),
        ("v1.png", raster(600, 320, "JPEG")),
        ("v1.svg", raster(600, 320, "PNG")),
        ("v1.png", svg()),
        ("v1.png", raster(600, 320, "GIF")),
        ("v1.png", b""),
        ("v1.svg", b"V2 shut"),
        ("v1.jpg", b"%PDF-1.7"),
    ],
)
def test_bytes_of_another_kind_than_the_name_says_are_refused(name: str, data: bytes) -> None:
    assert found(name, data) == ["picture-not-its-kind"]


@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("v1.png", raster(600, 320)[:20_000]),
        ("v1.png", raster(600, 320)[:12]),
        ("v1.jpg", raster(600, 320, "JPEG")[:9_000]),
        ("v1.jpg", b"\xff\xd8\xff\xe0"),
        ("v1.svg", svg()[:-3]),
        ("v1.svg", svg("<g>")),
        ("v1.svg", svg("&nbsp;")),
        ("v1.svg", b"<html xmlns='http://www.w3.org/1999/xhtml'/>"),
        ("v1.svg", b"<svg viewBox='0 0 9 9'/>"),
        ("v1.svg", svg(size="")),
        ("v1.svg", svg(size='viewBox="0 0 0 10"')),
        ("v1.svg", svg(size='width="50%" height="50%"')),
        ("v1.svg", b'<!DOCTYPE svg [<!ENTITY a "b">]>' + svg("&a;")),
        ("v1.svg", b'<?xml-stylesheet href="a.css"?>' + svg()),
        ("v1.svg", b"<\xff\xfe>"),
    ],
)
def test_broken_picture_is_refused(name: str, data: bytes) -> None:
    assert found(name, data) == ["picture-broken"]


def test_entities_that_grow_are_never_opened() -> None:
    lines = "".join(f'<!ENTITY a{n} "{f"&a{n - 1};" * 10}">' for n in range(1, 10))
    bomb = f'<!DOCTYPE svg [<!ENTITY a0 "aaaaaaaaaa">{lines}]>'.encode() + svg("<text>&a9;</text>")
    assert found("v1.svg", bomb) == ["picture-broken"]


@pytest.mark.parametrize(
    "inside",
    [
        "<script>alert(1)</script>",
        '<g onclick="alert(1)"/>',
        "<foreignObject><p xmlns='http://www.w3.org/1999/xhtml'>V2</p></foreignObject>",
        '<image href="http://book.example/a.png"/>',
        f'<image {XLINK}xlink:href="a.png"/>',
        '<use href="other.svg#v2"/>',
        '<a href="javascript:alert(1)"><g/></a>',
        "<style>@import 'a.css';</style>",
        "<style>rect { fill: url(http://book.example/a.svg#b) }</style>",
        "<rect fill=\"url( 'a.svg#b' )\"/>",
        '<rect style="filter: URL(a.svg#b)"/>',
        '<image href="data:image/svg+xml;base64,AAAA"/>',
    ],
)
def test_drawing_that_runs_or_loads_something_is_refused(inside: str) -> None:
    assert found("v1.svg", svg(inside)) == ["picture-not-closed"]


def test_drawing_that_uses_what_is_inside_it_is_let_pass() -> None:
    inside = (
        '<defs><linearGradient id="g"/><g id="v"><path d="M0 0"/></g></defs><use href="#v"/>'
        f'<use {XLINK}xlink:href="#v"/><rect fill="url(#g)" style="stroke: url( \'#g\' )"/>'
        '<image href="data:image/png;base64,AAAA"/><style>rect { fill: url("#g") }</style>'
    )
    assert found("v1.svg", svg(inside)) == []


# one unit is one mm here, and a capital is 0.668 of the type's size: 3.5 / 0.668 = 5.24
@pytest.mark.parametrize(
    ("inside", "is_read"),
    [
        ('<text font-size="5.25">V2</text>', True),
        ('<text font-size="5.2">V2</text>', False),
        ('<g font-size="5.2"><text>V2</text></g>', False),
        ('<g font-size="2"><text font-size="9">V2</text></g>', True),
        ('<text font-size="9">V2 <tspan font-size="3">shut</tspan></text>', False),
        ('<text font-size="3"><tspan font-size="9">V2</tspan></text>', True),
        ('<text font-size="3"><tspan font-size="9">V2</tspan> shut</text>', False),
        ('<text style="font-size:4px">V2</text>', False),
        ('<text style="font: bold 4px serif" font-size="9">V2</text>', False),
        ('<text font-size="9" style="fill:red">V2</text>', True),
        ('<g font-size="10"><text font-size="50%">V2</text></g>', False),
        ('<g font-size="10"><text font-size="0.6em">V2</text></g>', True),
        ('<g transform="scale(0.5)"><text font-size="9">V2</text></g>', False),
        ('<g transform="translate(5 5) scale(2)"><text font-size="3">V2</text></g>', True),
        ('<g transform="matrix(0.3 0 0 0.3 0 0)"><text font-size="9">V2</text></g>', False),
        ('<g transform="rotate(30)"><text font-size="6">V2</text></g>', True),
        ("<style>text { font-size: 4px }</style><text>V2</text>", False),
        ("<style>text { font-size: 6px }</style><text>V2</text>", True),
        ('<text font-size="2"> </text>', True),
        ('<desc>small</desc><title>small</title><path d="M0 0"/>', True),
        ("<text>V2</text>", True),
    ],
)
def test_letters_smaller_than_can_be_read_are_refused(inside: str, is_read: bool) -> None:
    assert found("v1.svg", svg(inside)) == ([] if is_read else ["picture-letters-small"])


def test_drawing_nested_deeper_than_calls_go_is_read() -> None:
    deep = 20_000
    assert found("v1.svg", svg("<g>" * deep + '<text font-size="2">V2</text>' + "</g>" * deep)) == [
        "picture-letters-small"
    ]


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A book one step of which shows a picture that is not there."""
    book = Path(shutil.copytree(BASE, tmp_path / "book"))
    text = (book / FLUSH).read_text(encoding="utf-8")
    shown = "  - open: V1\n    picture: v1.png\n    picture_says: The handle along the pipe.\n"
    (book / FLUSH).write_text(text.replace("  - open: V1\n", shown, 1), encoding="utf-8", newline="\n")
    (book / "site_src/pictures").mkdir(parents=True)
    return book


def test_missing_picture_is_said_once(book: Path) -> None:
    assert [(each.code, str(each.span)) for each in read_book(book).problems] == [("name-unknown", f"{FLUSH}:37:14")]


def test_picture_that_cannot_be_used_is_said_at_the_value_of_its_key(book: Path) -> None:
    picture = book / "site_src/pictures/v1.png"
    picture.write_bytes(raster(200, 100))
    assert [(each.code, str(each.span)) for each in read_book(book).problems] == [("picture-coarse", f"{FLUSH}:37:14")]
    picture.write_bytes(raster(600, 320))
    assert read_book(book).problems == ()


def test_picture_without_words_is_refused(book: Path) -> None:
    (book / "site_src/pictures/v1.png").write_bytes(raster(600, 320))
    text = (book / FLUSH).read_text(encoding="utf-8")
    shorter = text.replace("    picture_says: The handle along the pipe.\n", "")
    assert shorter != text
    (book / FLUSH).write_text(shorter, encoding="utf-8", newline="\n")
    (problem,) = read_book(book).problems
    assert (problem.code, problem.message) == ("key-missing", "'picture' stands without 'picture_says'")


def test_only_named_pictures_are_read_from_a_folder_and_from_git_alike(book: Path) -> None:
    pictures = book / "site_src/pictures"
    (pictures / "v1.png").write_bytes(raster(600, 320))
    (pictures / "huge.png").write_bytes(b"x" * (MOST_BYTES + 9))
    (pictures / "other.png").write_bytes(b"y")
    for command in ("init -q", "add .", "-c user.name=x -c user.email=x@x commit -qm x"):
        subprocess.run(["git", "-C", str(book), *command.split()], check=True)
    wanted = ("v1.png", "huge.png", "none.png")
    folder, tree = Folder(book).picture_bytes(wanted), GitTree(book, "HEAD").picture_bytes(wanted)
    assert folder == tree
    assert {name: len(data) for name, data in tree.items()} == {
        "v1.png": (pictures / "v1.png").stat().st_size,
        "huge.png": MOST_BYTES + 1,
    }
    assert GitTree(book, "HEAD").picture_bytes(()) == {}


def test_picture_outside_the_book_is_not_read(book: Path) -> None:
    outside = book.parent / "outside.png"
    outside.write_bytes(raster(600, 320))
    (book / "site_src/pictures/v1.png").symlink_to(outside)
    assert Folder(book).picture_bytes(("v1.png",)) == {}
    assert [each.code for each in read_book(book).problems] == ["name-unknown"]


def test_largest_print_keeps_the_shape() -> None:
    assert largest_mm(Fraction(1)) == (48, 48)
    assert largest_mm(Fraction(4)) == (90, Fraction(90, 4))
