"""Labels of bottles: what `check` says of their codes and counts, and what people read at a step that counts them."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from io import BytesIO
from pathlib import Path

import pdfplumber
import pytest
from demo_book import ROOT
from test_invalid import BASE, FLUSH, found
from tiny_plants import PRODUCTS as LEMONADE
from tiny_plants import Pages, procedure, rehearsal_of_pages, tiny_pages

from tankside.audit import audit_of
from tankside.checkup import Checkup, check_book
from tankside.edition.sheets import SheetEdition, sheet_editions
from tankside.edition.shown import key
from tankside.loading.sources import picture_data
from tankside.render_print.drafting.steps import sheet_view
from tankside.render_print.engine import Engine
from tankside.render_print.sheets import SheetMaker
from tankside.render_site.content import Content
from tankside.render_site.emergencies import emergency_pages
from tankside.render_site.pages import pages
from tankside.texts import words
from tankside.views.procedures import ChecklistView, ProcedureView, checklist_view, procedure_view
from tankside.views.steps import Entry, SectionView
from tankside.views.wording import plain_text

PRODUCTS = "procedures/plant/products.yaml"
OUT = "  - labels: descaler\n    counted: out\n    step: labels-out\n"
IN = "  - labels: descaler\n    counted: in\n    step: labels-in\n"
READ, CHECK = "Read a step, then do it.", "Do the work, then check each step."


@pytest.fixture
def book(tmp_path: Path) -> Path:
    for path in BASE.rglob("*.yaml"):
        place = tmp_path / "book" / path.relative_to(BASE)
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(path.read_bytes())
    return tmp_path / "book"


def change(book: Path, path: str, old: str, new: str) -> None:
    text = (book / path).read_text(encoding="utf-8")
    assert text.count(old) == 1
    (book / path).write_text(text.replace(old, new), encoding="utf-8", newline="\n")


def with_steps(book: Path, before: str, after: str = "") -> Path:
    """Return the book with steps before the valve is opened, and after it is shut."""
    change(book, FLUSH, "  - open: V1\n", f"{before}  - open: V1\n")
    change(book, FLUSH, "  - shut: V1\n", f"  - shut: V1\n{after}")
    return book


def codes(text: str) -> list[str]:
    return re.findall(r"\[([a-z-]+)\]", text)


# --- what `check` says


def test_labels_taken_out_and_counted_in_are_sound(book: Path) -> None:
    assert found(with_steps(book, OUT, IN)) == ""


def test_two_sizes_with_a_code_each_are_sound(book: Path) -> None:
    change(book, PRODUCTS, "bottles: [1 L]", "bottles: [1 L, 5 L]")
    change(book, PRODUCTS, "      1 L: DESCALER-1\n", "      1 L: DESCALER-1\n      5 L: DESCALER-5\n")
    assert found(with_steps(book, OUT, IN)) == ""


def test_size_without_a_code_is_found_only_where_labels_are_changed_to(book: Path) -> None:
    change(book, PRODUCTS, "bottles: [1 L]", "bottles: [1 L, 5 L]")
    assert found(book) == ""
    assert codes(found(with_steps(book, OUT, IN))) == ["labels-without-code"]


def test_missing_codes_are_named_once_however_many_steps_there_are(book: Path) -> None:
    change(book, PRODUCTS, "    labels:\n      1 L: DESCALER-1\n", "")
    again = OUT.replace("labels-out", "labels-out-again")
    assert codes(found(with_steps(book, OUT + again, IN))) == ["labels-without-code"]


def test_labels_taken_out_inside_a_choice_are_seen(book: Path) -> None:
    inner = "".join(f"      {line}\n" for line in OUT.splitlines())
    choice = f"  - choose: Is it new?\n    branches:\n      - if: yes\n        steps:\n{inner}      - if: no\n"
    assert codes(found(with_steps(book, f"{choice}        steps:\n          - do: Go on.\n"))) == ["labels-not-in"]


def test_each_product_is_counted_by_itself(book: Path) -> None:
    other = "".join(line for line in (book / PRODUCTS).read_text("utf-8").splitlines(True)[2:])
    other = other.replace("  descaler:\n", "  rinser:\n", 1).replace("DESCALER-1", "RINSER-1")
    with (book / PRODUCTS).open("a", encoding="utf-8", newline="\n") as products:
        products.write(other)
    said = found(with_steps(book, OUT, IN.replace("labels: descaler", "labels: rinser")))
    assert sorted(codes(said)) == ["labels-not-in", "labels-not-out"]
    assert "labels of 'descaler' are taken out" in said
    assert "labels of 'rinser' are counted in" in said


def test_same_code_on_two_products_is_found_at_the_second(book: Path) -> None:
    other = "".join(line for line in (book / PRODUCTS).read_text("utf-8").splitlines(True)[2:])
    with (book / PRODUCTS).open("a", encoding="utf-8", newline="\n") as products:
        products.write(other.replace("  descaler:\n", "  rinser:\n", 1))
    said = found(book)
    assert codes(said) == ["label-code-twice"]
    assert "code 'DESCALER-1' stands on the labels of 'descaler' in '1 L' already" in said


def test_product_that_is_not_known_is_found_as_such_alone(book: Path) -> None:
    steps = (each.replace("labels: descaler", "labels: descaller") for each in (OUT, IN))
    assert codes(found(with_steps(book, *steps))) == ["name-unknown", "name-unknown"]


@pytest.mark.parametrize("code", ["D", "descaler-1", "DESCALER 1", "D" * 21, "-1"])
def test_code_that_cannot_be_read_back_does_not_fit_the_schema(book: Path, code: str) -> None:
    change(book, PRODUCTS, "1 L: DESCALER-1", f"1 L: {code}")
    assert codes(found(book)) == ["value-form"]


# --- the dry run


def test_counting_labels_does_nothing_to_the_plant() -> None:
    steps = "- labels: lemonade\n  counted: out\n  step: out\n- labels: lemonade\n  counted: in\n  step: in\n"
    pages_of_book = tiny_pages(procedure("work", f"- open: V1\n{steps}- shut: V1\n"))
    labelled = LEMONADE.replace("    bottles: [1 L]\n", "    bottles: [1 L]\n    labels:\n      1 L: LM-1\n")
    assert labelled != LEMONADE
    texts = {**pages_of_book.texts, PRODUCTS: labelled}
    run = rehearsal_of_pages(Pages(texts)).of("work")
    ((_, opened),) = run.taken["open-v1"]
    for name in ("out", "in"):
        ((before, after),) = run.taken[name]
        assert before == after == opened
        assert {each.materials for each in run.exposed[name]} == {frozenset()}


# --- what people read


@dataclass(frozen=True)
class Made:
    """What is made of the demo book."""

    checkup: Checkup
    #: by address
    pages: dict[str, str]
    sheets: SheetMaker
    #: by id
    declared: Mapping[str, SheetEdition]

    def view(self, name: str, *, is_laminated: bool) -> ProcedureView:
        book = self.checkup.book
        assert book is not None
        return procedure_view(self.checkup.editions[name], book.plant.facts, words("en"), is_laminated=is_laminated)

    def sheet(self, name: str) -> str:
        with pdfplumber.open(BytesIO(self.sheets.pdf(self.declared[name]))) as pdf:
            return "\n".join(page.extract_text() for page in pdf.pages)


@pytest.fixture(scope="module")
def made() -> Made:
    checkup = check_book(ROOT)
    assert checkup.book is not None
    assert checkup.rehearsal is not None
    audit = audit_of(checkup.rehearsal, date(2026, 12, 1))
    content = Content(checkup.book, checkup.editions, "en", True, checkup.rehearsal, audit)
    texts = {page.address: "".join(page.blocks) for page in pages(content)} | dict(emergency_pages(content))
    plant = checkup.book.plant
    maker = SheetMaker(Engine(), picture_data(ROOT), plant, "en", {})
    return Made(checkup, texts, maker, sheet_editions(plant, checkup.editions))


def entries(sections: tuple[SectionView, ...]) -> Iterator[Entry]:
    """Return the steps that stand in no other."""
    yield from (entry for section in sections for entry in section.entries if entry.form == "step")


@pytest.mark.parametrize("is_laminated", [True, False])
@pytest.mark.parametrize("name", ["fill-cleaner-bottles", "fill-by-hand"])
def test_step_shows_the_code_of_each_bottle_and_what_is_read_back(made: Made, name: str, is_laminated: bool) -> None:
    steps = {each.name: each for each in entries(made.view(name, is_laminated=is_laminated).sections)}
    out, counted = steps["labels-out"], steps["labels-in"]
    assert plain_text(out.words) == "Take out and count labels for milk-line cleaner"
    # As they stand in procedures/plant/products.yaml.
    assert out.codes == (("1 L", "MLC-1L"), ("5 L", "MLC-5L"))
    assert [(each.label, plain_text(each.words)) for each in out.details] == [
        ("Read back", "The code on the label, aloud"),
        ("Count", "Write down how many are taken out"),
        ("Second person", "looks on their own and initials"),
    ]
    assert plain_text(counted.words) == "Count the labels for milk-line cleaner: used, spoiled, left"
    assert counted.codes == ()
    assert [each.label for each in counted.details] == ["Count", "Second person"]


def test_page_and_sheet_say_the_codes_at_the_step(made: Made) -> None:
    page = made.pages["procedures/filling/fill-cleaner-bottles.html"]
    step = page.partition('id="step-labels-out"')[2].partition('id="step-stamp-lot"')[0]
    assert re.findall(r'class="label">(Code for [^<]*):</span> <b class="code">([^<]*)</b>', step) == [
        ("Code for 1 L", "MLC-1L"),
        ("Code for 5 L", "MLC-5L"),
    ]
    for name in ("fill-cleaner-bottles", "fill-by-hand", "fill-cleaner"):
        assert re.search(r"Take out and count .*\nCode for 1 L: MLC-1L\nCode for 5 L: MLC-5L\n", made.sheet(name)), name


@pytest.mark.parametrize(
    ("material", "expected"),
    [
        ("milk-line-cleaner", "1 L: MLC-1L; 5 L: MLC-5L"),
        ("acid-descaler", "500 mL: ADE-500ML; 1 L: ADE-1L"),
        ("grill-degreaser", "1 L: GDG-1L; 5 L: GDG-5L"),
    ],
)
def test_page_of_what_is_in_the_bottle_says_its_codes(made: Made, material: str, expected: str) -> None:
    assert f"<dt>Code on its labels</dt><dd>{expected}</dd>" in made.pages[f"materials/{material}.html"]


def test_each_procedure_and_checklist_says_how_it_is_followed(made: Made) -> None:
    book = made.checkup.book
    assert book is not None
    # As their files say; what says nothing is read step by step.
    by_heart = {"open-the-workshop", "close-the-workshop"}
    for name in (*book.procedures, *book.checklists):
        edition = made.checkup.editions[name]
        is_checklist = name in book.checklists
        is_other = name == "first-day" or (not is_checklist and book.procedures[name].is_emergency)
        (page,) = (text for address, text in made.pages.items() if address.rpartition("/")[2] == f"{name}.html")
        expected = {CHECK} if name in by_heart else set() if is_other else {READ}
        assert {each for each in (READ, CHECK) if each in page} == expected, name
        view: ProcedureView | ChecklistView = sheet_view(edition, book.plant.facts, words("en"))
        assert {view.followed} - {""} == expected, name


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("fill-cleaner-bottles", READ),
        ("fill-cleaner", READ),
        ("open-the-workshop", CHECK),
        ("first-day", ""),
        ("splash", ""),
    ],
)
def test_sheet_says_how_it_is_followed(made: Made, name: str, expected: str) -> None:
    sheet = made.sheet(name)
    assert [each for each in (READ, CHECK) if each in sheet] == ([expected] if expected else [])


def test_part_of_a_checklist_is_followed_as_the_checklist_says(made: Made) -> None:
    book = made.checkup.book
    assert book is not None
    edition = made.checkup.editions["open-the-workshop"]
    view = checklist_view(edition, book.plant.facts, words("en"), is_laminated=True)
    assert view.followed == CHECK
    assert READ not in made.sheet("open-the-workshop")


def test_sheet_of_a_checklist_has_the_table_that_its_steps_point_to(made: Made) -> None:
    sheet = made.sheet("fill-cleaner")
    assert "Set the filler to Net weight of a full bottle (table)." in sheet
    # 1 L and 5 L at 1.06 kg/L
    assert re.search(
        r"Which bottle is filled\?.*\nAmount 1 L 5 L\nNet weight of a full bottle 1\.06 kg 5\.3 kg\n", sheet
    )


def test_weights_in_limits_are_those_of_the_rule_at_the_density_of_the_book(made: Made) -> None:
    book = made.checkup.book
    assert book is not None
    limits = {str(name): each for name, each in book.plant.materials.materials[key("milk-line-cleaner")].limits.items()}
    # Directive 76/211/EEC, annex I: of 1,000 mL 15 mL may be missing, of 5,000 mL 1.5 %.
    # 985 mL * 1.06 = 1,044.1 g; 4,925 mL * 1.06 = 5,220.5 g; rounded up to what the scale shows, 1 g.
    assert limits["one-litre-net"].from_ == "1.045 kg"
    assert limits["five-litres-net"].from_ == "5.221 kg"
