"""QR codes: what is printed opens the address that was meant, at the smallest size that is allowed, and once more."""

import base64
import os
import re
import shutil
import subprocess
import sys
from fractions import Fraction
from pathlib import Path
from xml.etree import ElementTree

import pypdfium2
import pytest
import weasyprint
import zxingcpp
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from tankside.checkup import read_book
from tankside.drawing.qr import least_side_mm, qr_svg

BASE = Path(__file__).parent / "base"
BOOK = "procedures/plant/book.yaml"
SHORT = "http://10.0.0.5/"
USUAL = "http://192.168.1.20:8000/procedures/filling/bleed-cleaner-line.html"
LONGEST = ("https://book.example/" + "procedures/filling/" * 10)[:200]
#: what may stand in an address (RFC 3986, section 2)
CHARACTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-._~:/?#[]@!$&'()*+,;=%"


def printed(svg: str, side_mm: Fraction, dots: int) -> Image.Image:
    """Return a code as a printer of so many dots an inch puts it on white paper, on a page with 10 mm around it."""
    side, source = float(side_mm), base64.b64encode(svg.encode("utf-8")).decode("ascii")
    style = (
        f"@page{{size:{side + 20}mm;margin:10mm}}body{{margin:0}}img{{display:block;width:{side}mm;height:{side}mm}}"
    )
    page = f'<title>x</title><style>{style}</style><img alt="" src="data:image/svg+xml;base64,{source}">'
    pdf = weasyprint.HTML(string=page).write_pdf()
    with pypdfium2.PdfDocument(pdf) as document:
        assert len(document) == 1
        picture: Image.Image = document[0].render(scale=dots / 72).to_pil().convert("L")
    return picture


def read(picture: Image.Image) -> list[str]:
    """Return what an independent reader finds."""
    return [each.text for each in zxingcpp.read_barcodes(picture) if each.format == zxingcpp.BarcodeFormat.QRCode]


@pytest.mark.parametrize("text", [SHORT, USUAL, LONGEST])
@pytest.mark.parametrize("dots", [200, 300, 600])
def test_code_of_the_smallest_size_is_read_from_paper(text: str, dots: int) -> None:
    assert read(printed(qr_svg(text), least_side_mm(text), dots)) == [text]


@settings(max_examples=30, deadline=None)
@given(st.text(CHARACTERS, min_size=1, max_size=190))
def test_any_address_is_read_as_it_was_written(rest: str) -> None:
    text = f"http://a{rest}"
    assert read(printed(qr_svg(text), least_side_mm(text), 150)) == [text]


def test_other_address_gives_another_code() -> None:
    assert read(printed(qr_svg(SHORT), Fraction(30), 300)) != [USUAL]
    assert qr_svg(SHORT) != qr_svg(USUAL)


def test_same_text_gives_the_same_bytes() -> None:
    command = "import sys; from tankside.drawing.qr import qr_svg; sys.stdout.write(qr_svg(sys.argv[1]))"
    for seed in ("1", "2"):
        around = {**os.environ, "PYTHONHASHSEED": seed}
        done = subprocess.run([sys.executable, "-c", command, USUAL], env=around, capture_output=True, check=True)
        assert done.stdout.decode("ascii") == qr_svg(USUAL)


@pytest.mark.parametrize(("text", "modules"), [(SHORT, 25), (USUAL, 37), (LONGEST, 57)])
def test_code_has_the_size_that_the_standard_gives(text: str, modules: int) -> None:
    # ISO/IEC 18004, table of capacities at level M, from memory: 26 bytes fit version 2, 84 version 5, 213 version 10,
    # and 16, 67 and 180 do not fit versions 1 (14), 4 (62) and 9 (180). A version has 17 + 4 * version modules.
    assert len(text.encode("utf-8")) in (16, 67, 200)
    root = ElementTree.fromstring(qr_svg(text))
    assert root.get("viewBox") == f"0 0 {modules + 8} {modules + 8}"
    # 0.5 mm a module, and four clear modules on each side
    assert least_side_mm(text) == Fraction(modules + 8, 2)


def test_drawing_is_one_path_with_four_clear_modules_all_round() -> None:
    root = ElementTree.fromstring(qr_svg(USUAL))
    assert [each.tag.rpartition("}")[2] for each in root] == ["path"]
    path = root[0].get("d") or ""
    runs = [tuple(map(int, found)) for found in re.findall(r"M(\d+) (\d+)h(\d+)v1h-\d+z", path)]
    assert "".join(f"M{x} {y}h{width}v1h-{width}z" for x, y, width in runs) == path
    side = int((root.get("viewBox") or "").split()[2])
    assert min(x for x, _, _ in runs) == min(y for _, y, _ in runs) == 4
    assert max(x + width for x, _, width in runs) == max(y for _, y, _ in runs) + 1 == side - 4


def test_code_may_lose_a_twentieth_of_its_area() -> None:
    # Level M corrects about 15 % of the code words (ISO/IEC 18004, from memory); a blot of 5 % of the area is less.
    picture = printed(qr_svg(USUAL), Fraction(45), 300)
    middle, half = picture.width // 2, round(picture.width * 45 / 65 * 37 / 45 * 0.05**0.5 / 2)
    picture.paste(255, (middle - half, middle - half, middle + half, middle + half))
    assert read(picture) == [USUAL]


def test_no_code_is_made_of_too_much() -> None:
    # ISO/IEC 18004, from memory: version 40 at level M holds 2,331 bytes
    with pytest.raises(ValueError):
        qr_svg("x" * 3000)


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return Path(shutil.copytree(BASE, tmp_path / "book"))


def problems(book: Path, address: str) -> list[str]:
    """Return what is found when the book names this address, and the column of each."""
    text = (book / BOOK).read_text(encoding="utf-8")
    (book / BOOK).write_text(f"{text}live_address: {address}\n", encoding="utf-8", newline="\n")
    found = read_book(book).problems
    line = text.count("\n") + 1
    assert all(each.span.line == line and each.span.column == 15 for each in found), found
    return [each.code for each in found]


@pytest.mark.parametrize("address", [SHORT, USUAL, LONGEST, "https://book.example", "http://[fd00::5]:8000/"])
def test_address_of_a_server_is_taken(book: Path, address: str) -> None:
    assert problems(book, address) == []
    facts = read_book(book).book
    assert facts is not None and facts.plant.facts.live_address == address


@pytest.mark.parametrize(
    "address",
    [
        *("file:///book/index.html", "/book/site/index.html", "C:/book/index.html", "build/site", "book.example"),
        *("ftp://book.example/", "HTTP://book.example/", "http://", "http:///index.html", "http://a b/", "https://é/"),
        *(f"{LONGEST}x", 'http://a"b/', "http://<b>/", "javascript:http://a/"),
    ],
)
def test_what_no_telephone_can_open_is_refused(book: Path, address: str) -> None:
    assert problems(book, f"'{address}'") == ["value-form"]


def test_demonstration_names_no_address() -> None:
    facts = read_book(Path(__file__).parent.parent).book
    assert facts is not None and facts.plant.facts.live_address is None
