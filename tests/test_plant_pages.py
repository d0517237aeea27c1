"""What the book says of a piece, a material, an assessment or a drill stands on a page for readers."""

import re
from datetime import date
from html import unescape
from pathlib import Path

import pytest
from demo_book import copy_book, replace

from tankside.audit import audit_of
from tankside.checkup import check_book
from tankside.render_site.assessments import assessments_page
from tankside.render_site.content import Content
from tankside.render_site.navigation import navigation
from tankside.render_site.pages import pages
from tankside.render_site.plant import equipment_pages, material_pages
from tankside.render_site.shells import Page

ROOT = Path(__file__).parent.parent
EQUIPMENT = "procedures/plant/equipment.yaml"
BOOK = "procedures/plant/book.yaml"
#: put before the energy sources of a drum pump
EXEMPT = """    lockout_exemption:
      no_stored_energy: no
      one_source: yes
      isolating_ends_it: yes
      locked_during_work: yes
      one_lock: yes
      under_own_control: yes
      no_hazard_to_others: yes
      no_accident_before: yes
      decided_by: authorised-person
      date: 2026-11-20
"""
#: the strongest control of the descaler side, and the weakest, which stands last
SUBSTITUTED = "      - kind: substitution\n        says: Citric and lactic acid in place of mineral acids.\n"
POURED = "        says: Acid goes into water, in small amounts, one person pours and one watches.\n"
AT_P2 = "    name: Drum pump, hypochlorite\n"


def content_of(folder: Path) -> Content:
    checkup = check_book(folder)
    assert checkup.book is not None
    assert checkup.rehearsal is not None
    audit = audit_of(checkup.rehearsal, date(2026, 12, 1), ())
    return Content(checkup.book, checkup.editions, "en", False, checkup.rehearsal, audit)


def plant_pages(content: Content) -> dict[str, str]:
    """Return the HTML of the pages of the plant, each with its headings, by address."""
    made = (*material_pages(content), *equipment_pages(content), assessments_page(content))
    return {page.address: html_of(page) for page in made}


def html_of(page: Page) -> str:
    return "".join((*(f"<h2>{each.text}</h2>" for each in page.headings), *page.blocks))


@pytest.fixture(scope="module")
def content() -> Content:
    return content_of(ROOT)


@pytest.fixture(scope="module")
def demo(content: Content) -> dict[str, str]:
    """The pages of the demo book."""
    return plant_pages(content)


@pytest.fixture(scope="module")
def other(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """The pages of the demo book with what it does not need: an exemption, a programme for respirators."""
    book = copy_book(tmp_path_factory.mktemp("other") / "book")
    replace(book / EQUIPMENT, AT_P2, AT_P2 + EXEMPT)
    replace(book / EQUIPMENT, "    flushes: body\n", "    flushes: eyes and body\n")
    replace(book / BOOK, "says: Acid, ammonia, peroxide", "says: <b>Acid</b>, ammonia, peroxide")
    replace(book / BOOK, SUBSTITUTED, "")
    replace(book / BOOK, POURED, POURED + SUBSTITUTED)
    text = (book / BOOK).read_text(encoding="utf-8")
    text = re.sub(r"\ndrills:\n.*?(?=\ninspections:\n)", "", text, flags=re.DOTALL)
    text += "respirator_programme: The green folder, tab 3\n"
    (book / BOOK).write_text(text, encoding="utf-8", newline="\n")
    return plant_pages(content_of(book))


def fact(page: str, label: str) -> str:
    """Return the HTML beside a label that stands on a page once."""
    found = re.findall(rf"<dt>{re.escape(label)}</dt>\s*<dd>(.*?)</dd>", page, flags=re.DOTALL)
    assert len(found) == 1, (label, found)
    return unescape(found[0])


def part(page: str, begin: str, end: str) -> str:
    """Return what stands between two texts."""
    return page.split(begin, 1)[1].split(end, 1)[0]


@pytest.mark.parametrize(
    ("tag", "label", "says"),
    [
        ("tank-250", "Vented", "yes: gas gets out of it by itself"),
        ("eyewash-1", "Flushes", "the eyes"),
        ("shower-1", "Flushes", "the body"),
        ("eyewash-1", "Longest way to it", "9 s"),
        ("eyewash-1", "Inspection due", "2027-06-30"),
        ("exhaust-1", "Inspection due", "2027-05-31"),
        ("D-pail-10-l", "Its label says",
         "Waste, acid descaler. Danger. Damages eyes, irritates skin. Chlorine gas with hypochlorite."),
        ("waste-drum-degreaser", "Day of its first waste stands on",
         "The tag on its large bung. The day of the first pour is written before the pour"),
    ],
)  # fmt: skip
def test_fact_of_a_piece_is_on_its_page(demo: dict[str, str], tag: str, label: str, says: str) -> None:
    assert fact(demo[f"equipment/{tag.lower()}.html"], label) == says


def test_waste_drum_names_the_groups_that_never_come_into_it_and_who_takes_it_away(demo: dict[str, str]) -> None:
    page = demo["equipment/waste-drum-alkaline.html"]
    groups = fact(page, "Must never come into it")
    assert "<li>Acids, also weak and organic ones</li>" in groups
    assert groups.count("<li>") == 6
    assert fact(page, "Who takes it away").startswith("A licensed hazardous waste carrier, called by the lead")


def test_tray_leads_to_what_stands_on_it(demo: dict[str, str]) -> None:
    tray = demo["equipment/orange-tray.html"]
    assert fact(tray, "Stands on it") == '<a href="hypochlorite-drum.html">hypochlorite-drum</a>'


def test_eyewash_and_exhaust_lead_to_what_they_serve(demo: dict[str, str]) -> None:
    assert '<a href="d-p1.html">D-P1</a>' in fact(demo["equipment/eyewash-1.html"], "In reach of")
    assert '<a href="m1.html">M1</a>' in fact(demo["equipment/exhaust-1.html"], "Draws the air of")


def test_machine_shows_what_is_worn_at_it_and_the_sort_of_each_energy(demo: dict[str, str]) -> None:
    page = demo["equipment/m1.html"]
    assert "<b>Rubber boots</b>" in page
    sorts = re.findall(r"<dt>Sort of energy</dt><dd>(.*?)</dd>", page)
    assert sorts == ["electrical", "stored charge", "motion", "liquid", "weight that can fall"]


def test_piece_without_such_facts_says_nothing_of_them(demo: dict[str, str]) -> None:
    page = demo["equipment/v1.html"]
    for label in ("Vented", "Flushes", "In reach of", "Stands on it", "Must never come into it", "Its label says"):
        assert f"<dt>{label}</dt>" not in page
    assert "Put on first" not in page
    assert "Why it has no written lockout procedure" not in page


def test_exemption_stands_as_eight_sentences_with_answers_role_and_day(other: dict[str, str]) -> None:
    page = other["equipment/p2.html"]
    assert "Why it has no written lockout procedure" in page
    rows = re.findall(r"<tr><td>(.*?)</td><td><b>(.*?)</b></td></tr>", page)
    assert [answer for _, answer in rows] == ["no", "yes", "yes", "yes", "yes", "yes", "yes", "yes"]
    assert rows[4][0] == "A single lock is enough."
    assert len({sentence for sentence, _ in rows}) == 8
    assert "Answered by: Authorised person, 2026-11-20." in page


def test_what_flushes_both_says_so(other: dict[str, str]) -> None:
    assert fact(other["equipment/shower-1.html"], "Flushes") == "the eyes and the body"


@pytest.mark.parametrize(
    ("name", "label", "says"),
    [
        ("potassium-hydroxide-solution", "Attacks, or is spoilt by", "aluminium, zinc, tin"),
        ("hypochlorite-solution", "Gives off gas", "yes: never sealed tight"),
        ("waste-alkaline-bleach", "pH", "11.5 to 14"),
        ("waste-acid", "Hazardous waste", "likely; the authority decides"),
        ("lactic-acid-solution", "Acid gloves", "360 min"),
        ("lactic-acid-solution", "Kit gloves", "180 min"),
    ],
)
def test_fact_of_a_material_is_on_its_page(demo: dict[str, str], name: str, label: str, says: str) -> None:
    assert fact(demo[f"materials/{name}.html"], label) == says


def test_glove_that_is_not_said_to_hold_is_not_named(demo: dict[str, str]) -> None:
    assert "<dt>Alkali gloves</dt>" not in demo["materials/lactic-acid-solution.html"]
    assert "How long gloves hold against it" not in demo["materials/softened-water.html"]


def test_assessment_shows_place_procedures_hazards_what_is_worn_and_who_certified(demo: dict[str, str]) -> None:
    page = demo["audit/assessments.html"]
    assert "<h2>Hooks, boot tray and sink beside the door</h2>" in page
    hooks = part(page, "protective-equipment.html", "</dl>")
    assert "on the outside of gloves, apron and boots burns skin, and eyes that are touched." in hooks
    assert fact(hooks, "Worn against the rest") == (
        "Rubber boots, Chemical apron, Splash goggles, Face shield, Alkali gloves"
    )
    assert fact(hooks, "Certified") == (
        "This certifies that the hazards at the hooks and the sink were assessed.<br><b>Workshop lead, 2026-11-26</b>"
    )
    assert '<a href="../procedures/cleaning/clean-descaler-tank.html">Clean the descaler tank and its line</a>' in page
    assert '<a href="../emergency/splash.html">Splash in the eyes or on the skin</a>' in page


@pytest.mark.parametrize("book", ["demo", "other"])
def test_strongest_control_comes_first_however_written(book: str, request: pytest.FixtureRequest) -> None:
    page = request.getfixturevalue(book)["audit/assessments.html"]
    descaler = part(page, "Dust of citric acid irritates", "</ol>")
    assert re.findall(r"<li><b>(.*?)</b>", descaler) == [
        "Replaced by something less dangerous",
        "Built in",
        "A way of working",
    ]


def test_drills_have_their_last_and_next_day(demo: dict[str, str]) -> None:
    page = demo["audit/assessments.html"]
    leave = part(page, "Last practised", "Small spill")
    assert leave.count("<time>2026-11-25</time></td><td><time>2027-02-24</time>") == 2
    spill = part(page, '<a href="../emergency/small-spill.html">Small spill</a></td>', "</tr>")
    assert spill == "<td>not yet</td><td><time>2027-03-24</time></td>"


def test_lockout_inspection_names_both_roles_and_what_was_found(demo: dict[str, str]) -> None:
    boxes = demo["audit/assessments.html"].split('<dl class="facts boxed">')[1:]
    assert len(boxes) == 5
    assert fact(boxes[3], "Procedure").startswith('<a href="../procedures/lockout/lock-out-descaler-pump.html">')
    assert fact(boxes[3], "Date") == "2026-11-26"
    assert fact(boxes[3], "Inspected by") == "Lockout inspector"
    assert fact(boxes[3], "Followed by") == "Authorised person"
    assert fact(boxes[3].split("</dl>")[0], "Found") == "Followed as written. Nothing to change."


def test_abbreviations_are_explained(demo: dict[str, str]) -> None:
    assert fact(demo["audit/assessments.html"], "HDPE") == "high-density polyethylene"


def test_respirator_programme_is_shown_only_where_there_is_one(demo: dict[str, str], other: dict[str, str]) -> None:
    assert "Respirators" not in demo["audit/assessments.html"]
    assert "The written programme for respirators is here: The green folder, tab 3" in other["audit/assessments.html"]


def test_book_without_drills_says_that_it_has_none(demo: dict[str, str], other: dict[str, str]) -> None:
    assert "Nothing in this book yet." not in demo["audit/assessments.html"]
    assert other["audit/assessments.html"].count("Nothing in this book yet.") == 1
    assert "Last practised" not in other["audit/assessments.html"]


def test_what_authors_write_is_escaped(other: dict[str, str]) -> None:
    assert "&lt;b&gt;Acid&lt;/b&gt;, ammonia, peroxide" in other["audit/assessments.html"]


def test_page_is_led_to_from_home_and_from_the_navigation(content: Content) -> None:
    home = next(pages(content))
    assert '<a href="audit/assessments.html">' in "".join(home.blocks)
    assert {"Assessments, drills and inspections": "audit/assessments.md"} in navigation(content, ())
