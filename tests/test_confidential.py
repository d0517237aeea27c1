"""Trade secrets: no byte that the floor gets tells them, nothing that protects people is left out, no figure changes.

29 CFR 1910.1200(i)(1) lets an employer withhold what a substance is, and not its properties and effects; (i)(2) has
it told to a treating physician or other health care professional at once in an emergency. From memory; WAC
296-901-14018, a state's copy of the rule, reads so. The sums beside expected numbers are done by hand from recipe and
density of the demonstration book.
"""

import json
import os
import re
import shutil
import subprocess
from collections.abc import Iterator
from fractions import Fraction
from html import unescape
from pathlib import Path
from typing import Any

import pdfplumber
import pytest
from copies_in_browser import Device, page_data
from demo_book import COMMAND, ROOT, copy_book, hashes, replace
from hypothesis import given
from hypothesis import strategies as st
from live_page import typed
from playwright.sync_api import Page
from record_files import Kept, record_of, written
from test_build import without_print

from tankside.audit import audit_of
from tankside.audit.day import today
from tankside.catalogue import load
from tankside.catalogue.floor import floor_book
from tankside.catalogue.secrets import Secret, secrets_in, secrets_in_file
from tankside.checkup import Checkup, check_book
from tankside.compute.proportional import NotProportionalError, proportional
from tankside.edition import Audience
from tankside.loading.sources import Folder
from tankside.publish.withheld import SecretToldError, refuse_secrets
from tankside.quantities.evaluate import evaluate
from tankside.quantities.expression import Expression, Name, Number, choose, from_json, ln, most, root, round_down
from tankside.records.checking import check_files
from tankside.records.origins import traced
from tankside.render_site.content import Content
from tankside.render_site.pages import pages

BASE = Path(__file__).parent / "base"
MATERIALS = "procedures/plant/materials.yaml"
PRODUCTS = "procedures/plant/products.yaml"
BLEND = "procedures/batch/blend-degreaser.yaml"
#: what tells the secret of the demonstration book, in any case: the beginning of its names, as short as no other word
#: begins so, and its id with whatever may join it
NEEDLES = ("polyglucosid", "sugar-surfact", "sugar surfact", "sugar_surfact", "sugarsurfact", "sugar%20surfact")
CODE = "Premix S"
#: where the floor meets the material
HANDLED = ("blend-degreaser", "make-degreaser", "small-spill")


def told(text: str) -> list[str]:
    """Return the needles in a text; a line break is no way to hide one."""
    plain = re.sub(r"\s+", " ", text.casefold())
    return [needle for needle in NEEDLES if needle in plain or needle.replace(" ", "") in plain]


def told_by(data: bytes) -> list[str]:
    """Return the needles in bytes, with one byte a letter or two."""
    low = data.lower()
    forms = ((each.encode("utf-8"), each.encode("utf-16-be"), each.encode("utf-16-le")) for each in NEEDLES)
    return [needle for needle, found in zip(NEEDLES, forms, strict=True) if any(form in low for form in found)]


@pytest.fixture(scope="module")
def floor() -> Checkup:
    return check_book(ROOT)


@pytest.fixture(scope="module")
def shown(floor: Checkup) -> dict[str, str]:
    """The pages of the floor."""
    return page_texts(floor)


@pytest.fixture(scope="module")
def office() -> Checkup:
    return check_book(ROOT, Audience.OFFICE)


def content(checkup: Checkup) -> Content:
    assert checkup.book is not None
    assert checkup.rehearsal is not None
    audit = audit_of(checkup.rehearsal, today())
    return Content(checkup.book, checkup.editions, "en", True, checkup.rehearsal, audit)


def page_texts(checkup: Checkup) -> dict[str, str]:
    """Return the finished parts of each page."""
    return {page.address: "\n".join(map(str, page.blocks)) for page in pages(content(checkup))}


# --- nothing is told


def test_no_byte_of_the_floor_site_tells(site: Path) -> None:
    files = [path for path in site.rglob("*") if path.is_file()]
    assert len(files) > 300
    assert {str(path): found for path in files if (found := told_by(path.read_bytes()))} == {}
    assert [path for path in files if told(path.relative_to(site).as_posix())] == []


def test_no_escape_in_a_text_of_the_floor_site_tells(site: Path) -> None:
    texts = [path for path in site.rglob("*") if path.suffix in (".html", ".js", ".json", ".svg", ".xml", ".txt")]
    for path in texts:
        text = unescape(path.read_text(encoding="utf-8"))
        assert told(re.sub(r"\\u([0-9a-f]{4})", lambda match: chr(int(match[1], 16)), text)) == [], path
        assert told(re.sub(r"<[^<>]*>", "", text)) == [], path


def test_search_index_of_the_floor_finds_the_code_and_not_the_secret(site: Path) -> None:
    text = (site / "tankside" / "search-index.js").read_text(encoding="utf-8")
    packed = json.loads(text[text.index("|| {}, ") + len("|| {}, ") : text.rindex(");")])
    strings = list(strings_in(packed))
    assert len(strings) > 1000
    assert told(" ".join(strings)) == []
    assert "materials/premix-s.html" in strings
    assert CODE in strings


def strings_in(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        yield from (text for pair in value.items() for each in pair for text in strings_in(each))
    elif isinstance(value, list):
        yield from (text for each in value for text in strings_in(each))


def test_sheets_of_the_floor_say_the_code_and_the_hazards_and_not_the_secret(site: Path) -> None:
    found = [path for path in sorted((site / "sheets").rglob("*.pdf")) if any(each in path.name for each in HANDLED)]
    assert {path.stem for path in found} >= set(HANDLED)
    for path in found:
        with pdfplumber.open(path) as pdf:
            text = "\n".join(page.extract_text() for page in pdf.pages)
            assert told(text) == [], path
            assert told(json.dumps(pdf.metadata)) == [], path
        if path.stem in HANDLED:
            assert CODE in text, path
    for name in ("small-spill", "blend-degreaser"):
        assert f"What {CODE} is, is a trade secret." in re.sub(r"\s+", " ", text_of_pdf(site, name)), name
    assert "Causes serious eye damage (H318)" in re.sub(r"\s+", " ", text_of_pdf(site, "blend-degreaser"))


def text_of_pdf(site: Path, name: str) -> str:
    (path,) = (site / "sheets").rglob(f"{name}.pdf")
    with pdfplumber.open(path) as pdf:
        return "\n".join(page.extract_text() for page in pdf.pages)


def test_no_edition_of_the_floor_tells_and_those_of_the_office_do(floor: Checkup, office: Checkup) -> None:
    assert {name for name, each in floor.editions.items() if told(each.canonical)} == set()
    assert {name for name, each in office.editions.items() if told(each.canonical)} == set(HANDLED)


def test_the_office_sees_everything(office: Checkup) -> None:
    texts = page_texts(office)
    assert (
        "Alkyl polyglucoside solution, 50 %w/w"
        in texts["materials/sugar-surfactant.html"] + texts["materials/index.html"]
    )
    assert CODE not in "".join(texts.values())
    assert "5 %w/w" in texts["materials/grill-degreaser.html"]
    assert "It contains no amine." in texts["materials/grill-degreaser.html"]
    assert "sugar-surfactant.share" in texts["procedures/batch/blend-degreaser.html"]
    assert "trade secret" not in "".join(texts.values())


def test_a_build_for_the_office_is_published_and_tells(tmp_path: Path) -> None:
    book = copy_book(tmp_path / "book")
    done = run(book, tmp_path, "--audience", "office")
    assert done.returncode == 0, done.stderr
    page = (book / "build" / "site-office" / "materials" / "sugar-surfactant.html").read_text(encoding="utf-8")
    assert "Alkyl polyglucoside solution, 50 %w/w" in page


def run(book: Path, folder: Path, *options: str) -> subprocess.CompletedProcess[str]:
    """Build a book without its sheets, which are made of the same editions and take long."""
    environment = {**os.environ, **without_print(folder)}
    command = [*COMMAND, "build", *options, str(book)]
    return subprocess.run(
        command, capture_output=True, text=True, encoding="utf-8", env=environment, timeout=300, check=False
    )


# --- what protects people is whole


def test_the_floor_gets_every_hazard_first_aid_and_protection_of_the_office(floor: Checkup, office: Checkup) -> None:
    assert floor.book is not None
    assert office.book is not None
    ours, theirs = floor.book.plant.materials, office.book.plant.materials
    for (name, told_one), (real, whole) in zip(ours.materials.items(), theirs.materials.items(), strict=True):
        for field in ("look", "density", "groups", "signal_word", "pictograms", "hazards", "wear", "first_aid", "ph"):
            assert getattr(told_one, field) == getattr(whole, field), (name, field)
        for field in ("keep", "spill", "attacks", "gives_off_gas", "data_sheet", "data_sheet_at", "limits"):
            assert getattr(told_one, field) == getattr(whole, field), (name, field)
        assert (name == real) == (real != "sugar-surfactant")
    assert ours.never_meet == theirs.never_meet
    assert ours.groups == theirs.groups
    for name, edition in floor.editions.items():
        whole_edition = office.editions[name]
        assert edition.wear == whole_edition.wear
        pairs = zip(edition.materials.values(), whole_edition.materials.values(), strict=True)
        assert all(one.never_with == other.never_with for one, other in pairs)


def test_pages_of_the_floor_show_hazards_in_full_and_say_once_who_tells_a_doctor(shown: dict[str, str]) -> None:
    texts = shown
    sentence = (
        "What Premix S is, is a trade secret. Its hazards, first aid and protection stand here in full. Who tells a "
        "treating doctor or nurse at once what it is: Workshop lead."
    )
    page = texts["materials/premix-s.html"]
    assert page.count(sentence) == 1
    for said in ("Causes skin irritation (H315)", "Causes serious eye damage (H318)", "Danger", "held open", "Boots"):
        assert said.casefold() in page.casefold(), said
    # What it must never meet follows from its group.
    assert "hypochlorite" in page.casefold()
    assert texts["procedures/batch/blend-degreaser.html"].count(sentence) == 1
    assert "trade secret" not in texts["materials/glycol-ether.html"]


def test_emergency_page_says_it_too(site: Path) -> None:
    page = (site / "emergency" / "small-spill.html").read_text(encoding="utf-8")
    assert page.count(f"What {CODE} is, is a trade secret.") == 1


def test_recipe_on_the_floor_shows_the_code_and_no_share(shown: dict[str, str]) -> None:
    page = shown["materials/grill-degreaser.html"]
    rows = {cells[0]: cells[1:] for row in page.split("<tr>") if len(cells := re.findall(r"<td>(.*?)</td>", row)) == 3}
    assert [each for name, each in rows.items() if CODE in name] == [["Not told here", ""]]
    assert [each[0] for name, each in rows.items() if "Softened water" in name] == ["78 %w/w"]


def test_words_of_the_book_are_exchanged_wherever_they_stand(floor: Checkup, shown: dict[str, str]) -> None:
    assert floor.book is not None
    written_ = json.loads(floor.editions["blend-degreaser"].canonical)["written"]
    texts = [each.get("text") for each in written_["steps"]]
    assert "The can says Premix S. Read the lot aloud." in texts
    assert "Add Premix S to " in shown["procedures/batch/blend-degreaser.html"]
    jug = next(piece for tag, piece in floor.book.plant.equipment.equipment.items() if tag == "G-jug-5-l")
    assert jug.label is not None
    assert jug.label.startswith("Premix S or tripropylene glycol methyl ether. Danger.")
    assert [str(each) for each in jug.holds] == ["premix-s", "glycol-ether", "softened-water"]


def test_problems_name_what_the_book_names(tmp_path: Path) -> None:
    book = copy_book(tmp_path / "book")
    replace(book / BLEND, "    result: sugar-surfactant.mass\n", "    result: sugar-surfactants.mass\n")
    messages = [each.message for each in check_book(book).problems]
    assert any("'sugar-surfactants.mass' is no result" in each for each in messages), messages


# --- no figure changes


def test_amounts_of_floor_and_office_agree_to_the_last_digit(floor: Checkup, office: Checkup) -> None:
    ours, theirs = floor.editions["blend-degreaser"].amounts, office.editions["blend-degreaser"].amounts
    assert list(ours) == list(theirs) == ["water", "alkali", "surfactant", "solvent"]
    for name, amount in ours.items():
        told_tree, whole = from_json(amount.tree), from_json(theirs[name].tree)
        assert told_tree != whole
        for step in range(2001):
            batch = {"batch": Fraction(40, 1000) + Fraction(20 * step, 2001 * 1000)}
            assert evaluate(told_tree, batch) == evaluate(whole, batch), (name, step)
        pairs = zip((amount.usual, *amount.table), (theirs[name].usual, *theirs[name].table), strict=True)
        assert all((one.exact, one.shown) == (other.exact, other.shown) for one, other in pairs)


def test_amount_of_the_floor_holds_no_share_density_or_working(floor: Checkup) -> None:
    for amount in floor.editions["blend-degreaser"].amounts.values():
        assert amount.tree[:2] == ["round-nearest", amount.tree[1]]
        assert amount.tree[1][:2] == ["mul", ["name", "batch"]]
        assert isinstance(amount.tree[1][2], str)
        assert (amount.usual.working, {each.working for each in amount.table}) == ((), {()})
        assert amount.live["given"] == {}
        assert len(amount.live["form"]["results"]) == 1
    # 1.05 kg/L * 5 %w/w = 52.5 kg for each m3, which is the base unit of volume
    surfactant = floor.editions["blend-degreaser"].amounts["surfactant"]
    assert surfactant.tree == ["round-nearest", ["mul", ["name", "batch"], "52.5"], "0.02"]


def test_page_of_the_floor_works_amounts_out_for_any_input(page: Page, own: str) -> None:
    page.goto(f"{own}/procedures/batch/blend-degreaser.html")
    # batch * 1.05 kg/L * 5 %w/w, to the nearest 0.02 kg: 41.7 L 2.18925 kg, 59.9 L 3.14475 kg, 50 L 2.625 kg
    for batch, wanted in (("41.7", "2.18 kg"), ("59.9", "3.14 kg"), ("50", "2.62 kg")):
        (said,) = typed(page, batch)["blend-degreaser/surfactant", "both"]
        assert said.startswith(f"{wanted} ("), said
        assert ("blend-degreaser/surfactant", "working") not in typed(page, batch)
    assert page.get_by_text("How it is worked out stands in the book of the office.").count() == 4
    assert told(page.content()) == []


WHOLE = st.integers(-50, 50)


@st.composite
def lines(draw: st.DrawFn, depth: int = 4) -> Expression:
    """Return a tree that is a straight line over `x` by the way it is put together."""
    if depth == 0:
        return draw(st.sampled_from((Name("x"), Number(Fraction(draw(WHOLE), 7)))))
    inside, constant = draw(lines(depth - 1)), Number(Fraction(draw(WHOLE), draw(st.integers(1, 9))))
    ways = (inside + draw(lines(depth - 1)), inside - constant, constant * inside, inside * constant)
    divided = inside / (constant if constant.value else 3)
    return draw(st.sampled_from((*ways, divided, choose(constant, 1, inside, inside + 1))))


@given(tree=lines(), step=st.integers(1, 40), x=st.fractions(-100, 100))
def test_a_straight_line_keeps_its_value_whatever_it_was_put_together_from(
    tree: Expression, step: int, x: Fraction
) -> None:
    for each in (tree, round_down(tree, Fraction(step, 8))):
        assert evaluate(proportional(each), {"x": x}) == evaluate(each, {"x": x})


@pytest.mark.parametrize(
    "tree",
    [
        Name("x") * Name("x"),
        1 / Name("x"),
        most(Name("x"), 1),
        choose(Name("x"), 1, 2, 3),
        root(2) * Name("x"),
        Name("x") * ln(3),
        round_down(Name("x"), 1) * 2,
        Name("x") + Name("y"),
        round_down(1, Name("x")),
    ],
)
def test_what_is_no_straight_line_is_refused(tree: Expression) -> None:
    with pytest.raises(NotProportionalError):
        proportional(tree)


# --- working copies and their records


def test_record_of_a_copy_of_the_floor_tells_nothing_and_is_accepted(floor: Checkup, tmp_path: Path) -> None:
    working = Kept(json.loads(floor.editions["blend-degreaser"].canonical))
    working.start()
    path = written(tmp_path, record_of(working.through()))
    text = path.read_text(encoding="utf-8")
    assert told(text) == []
    assert '"says":"Premix S"' in text or "premix-s" in text
    checked = check_files([path])
    assert [each.as_text() for each in checked.problems] == []
    book = copy_book(tmp_path / "book")
    found = traced(checked.records, book)
    assert found.problems == ()
    assert [each.revision for each in found.origins.values()] == ["3"]


def test_copy_made_in_a_page_of_the_floor_tells_nothing(device: Device, site: Path, tmp_path: Path) -> None:
    copy = device.carried_out(page_data(site, "blend-degreaser"), lot="L-7")["copy"]
    device.listed()
    path = device.saved(f"[data-key='work-list-save-{copy}']", tmp_path)
    assert told_by(path.read_bytes()) == []
    assert told(device.kept()) == []
    poured = [each for each in json.loads(path.read_text(encoding="utf-8"))["events"] if each["kind"] == "pour"]
    # 50 L * 1.05 kg/L * 5 %w/w = 2.625 kg
    assert next(each["target"] for each in poured if each["step"] == "add-surfactant") == "2.62"
    assert [each.as_text() for each in check_files([path]).problems if each.code == "record-figure"] == []
    assert device.complaints == []


# --- leaks that are planted


@pytest.fixture
def demo(tmp_path: Path) -> Path:
    return copy_book(tmp_path / "book")


#: file, what stands there, what is planted
PLANTED = (
    (BLEND, "Nothing red, violet, orange or blue is behind", "No ALKYL  polyglucoside is behind"),
    (BLEND, "title: Blend a batch of grill", "title: Sugar-surfactant, a batch of grill"),
    ("checklists/make-degreaser.yaml", "title: Make a batch", "title: Alkyl polyglucoside, a batch"),
    ("procedures/plant/equipment.yaml", "dolly and all, or the striped jug.", "dolly, or polyglucoside."),
    ("procedures/plant/book.yaml", "Surfactant makes the step", "Alkyl-polyglucoside makes the step"),
    ("procedures/plant/roles.yaml", "      Keeps the book,", "      Orders polyglucoside, keeps the book,"),
)


def test_word_planted_in_the_book_never_reaches_the_floor(demo: Path) -> None:
    for path, old, new in PLANTED:
        replace(demo / path, old, new)
    found = check_book(demo)
    assert found.problems == ()
    assert {name for name, each in found.editions.items() if told(each.canonical)} == set()
    texts = page_texts(found)
    assert {address for address, text in texts.items() if told(text)} == set()
    assert "No Premix S is behind the striped line." in texts["procedures/batch/blend-degreaser.html"]


@pytest.mark.parametrize("form", ["polyglucosides", "Alkylpolyglucoside"])
def test_form_that_no_code_can_stand_for_is_a_problem_at_its_place(demo: Path, form: str) -> None:
    replace(demo / BLEND, "Nothing red, violet, orange or blue is behind", f"No {form} is behind")
    (problem,) = check_book(demo).problems
    assert (problem.code, problem.span.path) == ("confidential-left", BLEND)
    assert f"'No {form} is behind the striped line.' would tell the floor 'Polyglucoside'" in problem.message


def test_what_stands_beside_the_model_is_refused_by_file_page_and_place(demo: Path, tmp_path: Path) -> None:
    about = demo / "site_src" / "about.md"
    lines_ = about.read_text(encoding="utf-8").splitlines()
    text = "\n".join((*lines_, "", "We buy alkyl *poly*glucoside\nby the can.", ""))
    about.write_text(text, encoding="utf-8", newline="\n")
    pictures = demo / "site_src" / "pictures"
    pictures.mkdir(exist_ok=True)
    svg = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><text>Sugar&#45;surfactant</text></svg>'
    (pictures / "can.svg").write_text(svg, encoding="utf-8", newline="\n")
    shutil.copy(pictures / "can.svg", pictures / "polyglucoside-can.svg")
    (pictures / "polyglucoside-can.svg").write_text(svg.replace("Sugar&#45;surfactant", "can"), encoding="utf-8")
    before = hashes(demo / "build")
    done = run(demo, tmp_path)
    assert done.returncode == 1
    assert hashes(demo / "build") == before
    assert "about.html (page 'About" in done.stderr or "about/index.html (page 'About" in done.stderr
    assert "pictures/can.svg" in done.stderr
    assert "the name of site_src/pictures/polyglucoside-can.svg" in done.stderr
    assert f"site_src/about.md:{len(lines_) + 2}" in done.stderr
    assert f"write '{CODE}' there" in done.stderr


def test_title_of_the_site_is_traced_to_its_line(demo: Path) -> None:
    config = demo / "mkdocs.yml"
    text = re.sub(r"site_name: .*", "site_name: House of polyglucoside", config.read_text(encoding="utf-8"))
    config.write_text(text, encoding="utf-8", newline="\n")
    number = next(at for at, line in enumerate(text.splitlines(), 1) if line.startswith("site_name"))
    page = b"<title>House of poly&#103;lucoside</title>"
    with pytest.raises(SecretToldError) as refused:
        refuse_secrets({"b.html": page, "a.html": page, "c.js": b"var a = 1;"}, demo, SECRETS[:1])
    assert str(refused.value) == (
        "'Polyglucoside' is confidential and would reach the floor in a.html (page 'House of polyglucoside') and 1 "
        f"more; it stands in mkdocs.yml:{number}. To publish, write 'Premix S' there. With '--audience office' "
        "everything is shown."
    )


SECRETS = (
    Secret("Polyglucoside", "Premix S"),
    Secret("Alkyl polyglucoside", "Premix S"),
    Secret("68515-73-1", "Premix S"),
    Secret("APG", "Premix S"),
)


@pytest.mark.parametrize(
    "text",
    [
        "alkyl polyglucoside",
        "ALKYL-POLYGLUCOSIDES",
        "alkyl\n  polyglucoside",
        "alkyl_polyglucoside",
        "al<b>kyl</b> polyglucoside",
        "alkyl%20polyglucoside",
        "alkyl&nbsp;polyglucoside",
        "alkyl \\u0070olyglucoside",
        "al\xadkyl polyglucoside",
        "CAS 68515\u201173\u20111.",
        "an APG, 50",
        "(apg)",
        "a&#112;g",
    ],
)
def test_word_is_found_however_it_is_written(text: str) -> None:
    assert secrets_in(text, SECRETS) != ()
    assert secrets_in_file(text.encode("utf-8"), SECRETS) != ()


@pytest.mark.parametrize("text", ["mapguide", "alkyl, polyglucoside free", "68515", "", "Premix S", "<p apgx=''>"])
def test_what_only_looks_like_it_is_left_alone(text: str) -> None:
    assert secrets_in(text, SECRETS[1:]) == ()


def test_words_in_a_file_that_is_no_text_are_found_when_they_are_long_enough_to_tell() -> None:
    picture = b"\x89PNG\xff\xfe" + b"Comment\0Alkyl polyglucoside" + b"\xff apg "
    assert secrets_in_file(picture, SECRETS[1:]) == ("Alkyl polyglucoside",)
    assert secrets_in_file(b"\xfe\xff" + "alkyl polyglucoside".encode("utf-16-be"), SECRETS[1:]) == (
        "Alkyl polyglucoside",
    )


# --- what a book may call confidential


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return Path(shutil.copytree(BASE, tmp_path / "book"))


def confidential(book: Path, code: str, *also: str) -> list[str]:
    """Make the descaler of the smallest book confidential, and return what is found."""
    also_called = "".join(("      also_called:\n", *(f"        - {each}\n" for each in also))) if also else ""
    new = f"    name: Descaler\n    confidential:\n      code: {code}\n      told_by: lead\n{also_called}"
    replace(book / MATERIALS, "    name: Descaler\n", new)
    return [f"{each.code}: {each.message}" for each in check_book(book).problems]


def test_a_code_stands_for_a_material_in_every_kind_of_reference(book: Path) -> None:
    assert confidential(book, "Premix D") == []
    found = check_book(book)
    assert [name for name, each in found.editions.items() if "descaler" in each.canonical.casefold()] == []
    flush = json.loads(found.editions["flush"].canonical)["written"]["steps"]
    assert flush[0]["text"].startswith("The label says Premix D, released.")
    assert "tank-1 holds premix-d" in flush[0]["finds"]
    assert flush[2]["material"] == "premix-d"


@pytest.mark.parametrize(
    ("code", "also", "message"),
    [
        ("Descaler D", (), "confidential-code: code 'Descaler D' tells 'Descaler'"),
        ("Bleach", (), "confidential-code: code 'Bleach' is what 'bleach' is called"),
        ("Mixing tank", (), ""),
        ("Tank 1", (), "confidential-code: 'tank-1', the id of code 'Tank 1', stands in the book already"),
        ("Premix D", ("12.5",), "confidential-word: '12.5' cannot be kept from the floor: a bare number"),
        ("Premix D", ("50 %w/w",), "confidential-word: '50 %w/w' cannot be kept from the floor: a bare number"),
        ("Premix D", ("D5",), "confidential-word: 'D5' cannot be kept from the floor: it has fewer than 3"),
        ("Premix D", ("step",), "confidential-word: 'step' cannot be kept from the floor: it is a word of our own"),
        ("Premix D", ("first-batch",), "confidential-id: the name of this file tells 'first-batch'"),
        ("premix d", (), "value-form"),
    ],
)
def test_code_that_tells_and_word_that_cannot_be_kept_is_a_problem(
    book: Path, code: str, also: tuple[str, ...], message: str
) -> None:
    found = confidential(book, code, *also)
    if not message:
        return
    assert [each for each in found if each.startswith(message)], found


def test_two_materials_cannot_share_a_code(book: Path) -> None:
    new = "    name: Acid solution\n    confidential:\n      code: Premix D\n      told_by: lead\n"
    replace(book / MATERIALS, "    name: Acid solution\n", new)
    found = confidential(book, "Premix D")
    assert "confidential-code: code 'Premix D' is what 'acid' is called" in found


def test_share_alone_can_be_confidential(book: Path) -> None:
    replace(book / PRODUCTS, "        share: 20 %w/w\n", "        share: 20 %w/w\n        confidential: yes\n")
    found = check_book(book)
    assert found.problems == ()
    (amount,) = found.editions["blend"].amounts.values()
    # 1.05 kg/L * 20 %w/w = 210 kg/m3
    assert amount.tree[1] == ["mul", ["name", "batch"], "210"]
    page = page_texts(found)["materials/descaler.html"]
    assert "Not told here" in page
    assert "20 %w/w" not in page
    assert "80 %w/w" in page
    assert "20 %w/w" in page_texts(check_book(book, Audience.OFFICE))["materials/descaler.html"]


def test_book_without_secrets_is_its_own_floor_book(book: Path) -> None:
    loaded = load(Folder(book)).book
    assert loaded is not None
    assert floor_book(loaded) is loaded


def test_history_compares_the_floor_with_the_floor(book: Path) -> None:
    assert confidential(book, "Premix D") == []
    commands = ("init -q", "add .", "-c user.name=x -c user.email=x@x commit -qm x")
    for command in commands:
        subprocess.run(["git", "-C", str(book), *command.split()], check=True)
    # What the floor is not told may change without a new revision, and what it is told may not.
    replace(book / MATERIALS, "    name: Descaler\n", "    name: Strong descaler\n")
    assert [each.code for each in check_book(book).problems] == []
    replace(book / MATERIALS, "code: Premix D", "code: Premix E")
    assert {each.code for each in check_book(book).problems} == {"hash-changed"}
