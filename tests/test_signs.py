"""The signs and marks: one frozen table, plain SVG, each family in its form and colours, drawn the same on paper."""

from __future__ import annotations

import base64
import json
import logging
from collections.abc import Iterable, Iterator, Mapping
from importlib.resources import files
from typing import Any
from xml.etree import ElementTree

import pypdfium2
import pytest
import weasyprint
from PIL import Image, ImageChops, ImageDraw

from tankside.drawing.marks import MARKS, mark_svg
from tankside.drawing.signs import FRAMES, SIGNS, MixedFamilies, UnknownSign, by_family, row_of, sign_svg

PACKAGE = files("tankside.drawing")
SVG = "{http://www.w3.org/2000/svg}"

# Code, our words, and what the listing that was read says of the code. ISO 7010: the titles of the drawings of its
# signs at Wikimedia Commons. GHS: annex V of Regulation (EC) No 1272/2008, consolidated 2025-09-01, for 01 to 04, and
# for the others the list of the nine pictograms of a Polish public health inspectorate, translated. All read in copies
# on 2026-11-26, none of it the text of ISO 7010 or of the UN's GHS. A change here is a change of what a wall says.
TABLE = [
    ("M001", "Do as the words beside say", "General mandatory action sign"),
    ("M002", "Read the instructions", "Refer to instruction manual/booklet"),
    ("M004", "Wear eye protection", "Wear eye protection"),
    ("M008", "Wear safety footwear", "Wear safety footwear"),
    ("M009", "Wear protective gloves", "Wear protective gloves"),
    ("M010", "Wear protective clothing", "Wear protective clothing"),
    ("M011", "Wash your hands", "Wash your hands"),
    ("M013", "Wear a face shield", "Wear a face shield"),
    ("M016", "Wear a mask", "Wear a mask"),
    ("M017", "Wear respiratory protection", "Wear respiratory protection"),
    ("M021", "Disconnect before maintenance or repair", "Disconnect before carrying out maintenance or repair"),
    ("M026", "Wear a protective apron", "Use protective apron"),
    ("W001", "Hazard, see the words beside", "General warning sign"),
    ("W011", "Slippery surface", "Slippery surface"),
    ("W012", "Electricity", "Electricity"),
    ("W016", "Toxic material", "Toxic material"),
    ("W017", "Hot surface", "Hot surface"),
    ("W018", "Can start by itself", "Automatic start-up"),
    ("W019", "Crushing", "Crushing"),
    ("W021", "Flammable material", "Flammable material"),
    ("W023", "Corrosive substance", "Corrosive substance"),
    ("W028", "Oxidising substance", "Oxidizing substance"),
    ("E003", "First aid", "First aid"),
    ("E004", "Emergency telephone", "Emergency telephone"),
    ("E007", "Assembly point", "Evacuation assembly point"),
    ("E011", "Eyewash", "Eyewash station"),
    ("E012", "Safety shower", "Safety shower"),
    ("E020", "Emergency stop button", "Emergency stop button"),
    ("F001", "Fire extinguisher", "Fire extinguisher"),
    ("P002", "No smoking", "No smoking"),
    ("P003", "No open flame", "No open flame; Fire, open ignition source and smoking prohibited"),
    ("P005", "Not drinking water", "Not drinking water"),
    ("P022", "No eating or drinking", "No eating or drinking"),
    ("P031", "Do not alter the state of the switch", "Do not alter the state of the switch"),
    ("GHS01", "Explosive", "exploding bomb: explosives"),
    ("GHS02", "Flammable", "flame: flammable"),
    ("GHS03", "Oxidiser", "flame over circle: oxidising"),
    ("GHS04", "Gas under pressure", "gas cylinder: gases under pressure"),
    ("GHS05", "Corrosive", "skin corrosion, serious eye damage, corrosion of metals"),
    ("GHS06", "Toxic", "acute toxicity, categories 1 to 3"),
    ("GHS07", "Harmful or irritant", "acute toxicity, category 4; irritation; sensitisation of the skin"),
    (
        "GHS08",
        "Serious hazard to health",
        "carcinogenicity, mutagenicity, toxicity to reproduction or organs, aspiration, sensitisation of the airways",
    ),
    ("GHS09", "Harmful to the aquatic environment", "hazardous to the aquatic environment"),
]
CODES = [code for code, _, _ in TABLE]
# What is wanted in the workshop: the general signs, what is worn, what can hurt, what helps, what is forbidden.
WANTED = [
    *("M001", "M002", "M004", "M008", "M009", "M010", "M011", "M013", "M016", "M017", "M021", "M026"),
    *("W001", "W011", "W012", "W016", "W017", "W018", "W019", "W021", "W023", "W028"),
    *("E003", "E004", "E007", "E011", "E012", "E020", "P002", "P003", "P005", "P022", "P031", "F001"),
    *("GHS01", "GHS02", "GHS03", "GHS04", "GHS05", "GHS06", "GHS07", "GHS08", "GHS09"),
]

# ISO 3864-1, the meaning of the safety colours, and the GHS red frame; the RAL tones in their usual sRGB values:
# 5005 #005387, 1003 #f9a800, 6032 #237f52, 3001 #9b2423.
FRAME_COLOURS = {
    "M": {"#005387", "#ffffff"},
    "W": {"#f9a800", "#000000"},
    "E": {"#237f52", "#ffffff"},
    "F": {"#9b2423", "#ffffff"},
    "P": {"#9b2423", "#ffffff"},
    "G": {"#9b2423", "#ffffff"},
}
SYMBOL_COLOURS = {
    "M": {"#ffffff", "#005387"},
    "W": {"#000000", "#f9a800"},
    "E": {"#ffffff", "#237f52"},
    "F": {"#ffffff", "#9b2423"},
    "P": {"#000000", "#ffffff"},
    "G": {"#000000", "#ffffff"},
}
SHAPES = {"circle", "path", "rect"}
ELEMENTS = {"svg", "title", "g"} | SHAPES
ATTRIBUTES = {
    *("aria-hidden", "cx", "cy", "d", "fill", "fill-rule", "height", "r", "role", "rx", "stroke"),
    *("stroke-linecap", "stroke-linejoin", "stroke-width", "transform", "viewBox", "width", "x", "y"),
}
PIXELS = 3  # to one hundredth of the sign's width


def colours(elements: Iterable[ElementTree.Element]) -> set[str]:
    """Return the colours painted with, `none` apart."""
    painted = {element.get(key) for element in elements for key in ("fill", "stroke")}
    return {colour for colour in painted if colour not in (None, "none")}


def paper(svgs: Iterable[str]) -> bytes:
    """Return a PDF with one drawing a page, each 100 px wide and brought in as a data: URI."""
    style = "@page{size:100px;margin:0}body{margin:0}img{display:block;width:100px;height:100px;break-after:page}"
    sources = (base64.b64encode(svg.encode("utf-8")).decode("ascii") for svg in svgs)
    images = "".join(f'<img alt="" src="data:image/svg+xml;base64,{source}">' for source in sources)
    pdf: bytes = weasyprint.HTML(string=f"<title>signs</title><style>{style}</style>{images}").write_pdf()
    return pdf


def pictures(svgs: Mapping[str, str]) -> dict[str, Image.Image]:
    """Return each drawing as it looks on paper."""
    with pypdfium2.PdfDocument(paper(svgs.values())) as document:
        # 0.75 pt to the px of CSS
        pages = [page.render(scale=PIXELS / 0.75).to_pil().convert("RGB") for page in document]
    return dict(zip(svgs, pages, strict=True))


def frame_svg(code: str) -> str:
    """Return the frame of a sign without its symbol."""
    frame = FRAMES[SIGNS[code].family]
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100">{frame.under}{frame.over}</svg>'


def opening(code: str) -> Image.Image:
    """Return the inside of the frame less 2 hundredths all round, white on black.

    Disc 48.5 - 2; square 2 + 2; ring 44 - 10/2 - 2; point 45.5 - 3 * 1.414 - 2 * 1.414 from the middle; triangle:
    corners (50, 14.5) (91, 85.5) (9, 85.5) with a rim of 1.5 outside, so 0.5 inside: 1.0 off the top, 0.5 off the base.
    """
    mask = Image.new("L", (100 * PIXELS, 100 * PIXELS))
    draw = ImageDraw.Draw(mask)
    match code[0]:
        case "M":
            draw.circle(scaled(50, 50), 46.5 * PIXELS, fill=255)
        case "E" | "F":
            draw.rectangle(scaled(4, 4, 96, 96), fill=255)
        case "P":
            draw.circle(scaled(50, 50), 37 * PIXELS, fill=255)
        case "G":
            draw.polygon(scaled(50, 11.6, 88.4, 50, 50, 88.4, 11.6, 50), fill=255)
        case "W":
            draw.polygon(scaled(50, 15.5, 90.1, 85, 9.9, 85), fill=255)
    return mask


def scaled(*places: float) -> list[float]:
    """Return hundredths as pixels."""
    return [place * PIXELS for place in places]


def objects(node: Any) -> Iterator[dict[str, Any]]:
    """Return every object inside a value read from JSON."""
    if isinstance(node, dict):
        yield node
    for each in node.values() if isinstance(node, dict) else node if isinstance(node, list) else ():
        yield from objects(each)


@pytest.mark.requirement(number=22)
def test_table_is_the_one_agreed_on() -> None:
    said = [(sign.code, sign.name, sign.seen.partition(" (in a copy): ")[2]) for sign in SIGNS.values()]
    assert said == TABLE


@pytest.mark.requirement(number=22)
def test_table_has_every_sign_that_is_wanted() -> None:
    assert sorted(SIGNS) == sorted(WANTED)


def test_what_a_sign_was_checked_against_is_named_and_no_listing_passes_for_the_standard() -> None:
    for sign in SIGNS.values():
        # nobody has read ISO 7010 or the UN's GHS for this table yet; whoever has changes this line
        assert sign.checked in ("memory", "listing"), sign.code
        assert (sign.seen == "") == (sign.checked == "memory"), sign.code
        assert sign.source.split()[0] in ("ISO", "GHS") and not sign.seen.startswith(sign.source), sign.code


def test_no_row_of_the_table_hides_another() -> None:
    rows = json.loads((PACKAGE / "signs.json").read_text(encoding="utf-8"))
    assert len(rows) == len(SIGNS)


def test_every_row_has_a_symbol_and_every_symbol_a_row() -> None:
    symbols = {symbol.name for symbol in (PACKAGE / "symbols").iterdir()}
    assert symbols == {f"{code}.svg" for code in CODES}


@pytest.mark.requirement(number=22)
def test_table_cannot_be_changed_while_running() -> None:
    with pytest.raises(TypeError):
        SIGNS["M004"] = SIGNS["M009"]  # type: ignore[index]


@pytest.mark.requirement(number=22)
@pytest.mark.parametrize("code", CODES)
def test_every_sign_has_words(code: str) -> None:
    sign = SIGNS[code]
    assert sign.name[0].isupper() and not sign.name.endswith(".")
    assert len(sign.description.split()) >= 5
    assert len(sign.means.split()) >= 3 and sign.means.endswith(".")
    assert ElementTree.fromstring(sign_svg(code)).findtext(f"{SVG}title") == sign.name


@pytest.mark.parametrize("code", CODES)
def test_source_fits_the_code(code: str) -> None:
    assert SIGNS[code].source == ("GHS (UN)" if code.startswith("GHS") else "ISO 7010")


@pytest.mark.parametrize("svg", [*map(sign_svg, SIGNS), *map(mark_svg, MARKS)])
def test_drawing_is_plain_svg_that_can_stand_many_times_on_a_page(svg: str) -> None:
    root = ElementTree.fromstring(svg)
    assert svg.startswith('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100" ')
    assert {element.tag.removeprefix(SVG) for element in root.iter()} <= ELEMENTS
    assert {key for element in root.iter() for key in element.keys()} <= ATTRIBUTES  # noqa: SIM118, no mapping
    assert "url(" not in svg


@pytest.mark.parametrize("code", CODES)
def test_symbol_file_is_black_and_white_in_its_own_box(code: str) -> None:
    root = ElementTree.fromstring((PACKAGE / "symbols" / f"{code}.svg").read_text(encoding="utf-8"))
    assert root.attrib == {"viewBox": "0 0 100 100"}
    assert colours(root.iter()) <= {"#000", "#fff"}


@pytest.mark.parametrize("code", CODES)
def test_colours_fit_the_family(code: str) -> None:
    root = ElementTree.fromstring(sign_svg(code))
    symbol = root.find(f"{SVG}g")
    assert symbol is not None
    assert colours(part for part in root if part is not symbol) == FRAME_COLOURS[code[0]]
    assert colours(symbol.iter()) <= SYMBOL_COLOURS[code[0]]


def test_symbols_keep_clear_of_their_frames() -> None:
    whole = pictures({code: sign_svg(code) for code in SIGNS})
    bare = pictures({code: frame_svg(code) for code in SIGNS})
    for code in SIGNS:
        symbol = ImageChops.difference(whole[code], bare[code]).convert("L").point(lambda level: 255 * (level > 12))
        assert symbol.getbbox() is not None, f"{code} has no symbol"
        assert ImageChops.subtract(symbol, opening(code)).getbbox() is None, f"{code} touches its frame"


def test_all_drawings_reach_paper_without_a_remark(caplog: pytest.LogCaptureFixture) -> None:
    with caplog.at_level(logging.WARNING):
        paper([*map(sign_svg, SIGNS), *map(mark_svg, MARKS)])
        assert caplog.records == []
        # the ear is open: a drawing that is none is heard
        paper(["<svg"])
        assert len(caplog.records) >= 1


@pytest.mark.parametrize(
    ("asked", "near"),
    [("M04", "M004"), ("m004", "M004"), ("E12", "E012"), ("GHS5", "GHS05"), ("gloves", "M009"), ("eyewash", "E011")],
)
def test_unknown_code_suggests_near_ones(asked: str, near: str) -> None:
    with pytest.raises(UnknownSign) as caught:
        sign_svg(asked)
    assert caught.value.code == asked
    assert near in caught.value.near
    assert near in str(caught.value)


def test_unknown_code_like_no_other_is_refused_without_a_guess() -> None:
    with pytest.raises(KeyError) as caught:
        sign_svg("zzzz")
    assert str(caught.value) == "no sign has the code 'zzzz'"


@pytest.mark.parametrize(
    "codes", [("M004", "GHS05"), ("M004", "W023"), ("E011", "F001"), ("P002", "M001"), ("GHS05", "GHS07", "W001")]
)
@pytest.mark.requirement(number=22)
def test_row_of_two_families_is_refused(codes: tuple[str, ...]) -> None:
    with pytest.raises(MixedFamilies) as caught:
        row_of(codes)
    assert str(caught.value) == f"signs of several families stand in one row: {', '.join(codes)}"


def test_row_of_one_family_keeps_its_order_and_an_empty_row_is_none() -> None:
    assert [sign.code for sign in row_of(["M009", "M004"])] == ["M009", "M004"]
    assert row_of([]) == ()
    with pytest.raises(UnknownSign):
        row_of(["M009", "M999"])


def test_book_can_name_no_sign_that_the_table_lacks() -> None:
    schema = json.loads((files("tankside.schema") / "equipment.schema.json").read_text(encoding="utf-8"))
    worn = schema["$defs"]["wearable"]["properties"]["sign"]
    assert worn["enum"] == [code for code in CODES if code.startswith("M")]
    schema = json.loads((files("tankside.schema") / "materials.schema.json").read_text(encoding="utf-8"))
    patterns = [
        each["pictograms"]["items"]["pattern"] for each in objects(schema) if "items" in each.get("pictograms", {})
    ]
    assert patterns == ["^GHS0[1-9]$"]


def test_families_are_told_by_the_letter_of_the_code_and_none_is_left_out() -> None:
    letters = {"mandatory": "M", "prohibition": "P", "warning": "W", "safe-condition": "E", "fire-equipment": "F"}
    found = {family: [sign.code for sign in signs] for family, signs in by_family().items()}
    assert list(found) == [*letters, "ghs"]
    assert sorted(code for codes in found.values() for code in codes) == sorted(CODES)
    for family, codes in found.items():
        assert codes == [code for code in CODES if code.startswith(letters.get(family, "GHS"))]


def test_marks_are_told_apart_without_colour() -> None:
    grey = {name: picture.convert("L") for name, picture in pictures({name: mark_svg(name) for name in MARKS}).items()}
    assert len({picture.tobytes() for picture in grey.values()}) == len(MARKS)


def test_tick_box_of_8_mm_has_a_line_of_half_a_millimetre() -> None:
    box = ElementTree.fromstring(mark_svg("tick-box")).find(f".//{SVG}path")
    assert box is not None
    # 0.5 mm / 8 mm * 100 = 6.25
    assert box.get("stroke-width") == "6.25"


def test_unknown_mark_is_refused() -> None:
    with pytest.raises(KeyError):
        mark_svg("tick")
