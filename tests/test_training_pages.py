"""The pages of training read completely without a script: every item, question, answer and line that is watched."""

import json
import re
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page
from test_work_list import ADDRESSES

from tankside.audit import audit_of
from tankside.checkup import check_book
from tankside.publish.policy import with_policy
from tankside.render_site.content import Content
from tankside.render_site.search import documents
from tankside.render_site.training import training_pages
from tankside.render_site.training_data import path_scripts
from tankside.render_site.work import work_pages
from tankside.render_site.working import working_pages

ROOT = Path(__file__).parent.parent
PATHS = ("line-operator", "authorised-person")


@pytest.fixture
def plain(browser: Browser) -> Iterator[Page]:
    """A page without scripts."""
    with browser.new_context(java_script_enabled=False) as context:
        yield context.new_page()


def test_list_leads_to_every_path_and_home_and_search_lead_to_the_list(plain: Page, site: Path) -> None:
    plain.goto((site / "training" / "index.html").as_uri())
    assert plain.locator("main .links a").evaluate_all(ADDRESSES) == [f"{name}.html" for name in PATHS]
    plain.goto((site / "index.html").as_uri())
    assert "training/index.html" in plain.locator("p.sheet > a").evaluate_all(ADDRESSES)
    plain.goto((site / "copies" / "index.html").as_uri())
    assert "../training/index.html" in plain.locator(".ways a").evaluate_all(ADDRESSES)
    assert '["training/index.html","Training","Training"' in (site / "tankside/search-index.js").read_text("utf-8")


@pytest.mark.parametrize("path", PATHS)
def test_path_shows_every_item_of_the_book_in_its_order(plain: Page, site: Path, path: str) -> None:
    written = check_book(ROOT).book
    assert written is not None
    (own,) = (each for name, each in written.plant.training.paths.items() if name == path)
    plain.goto((site / "training" / f"{path}.html").as_uri())
    assert plain.locator("h2").all_inner_texts()[: len(own.parts)] == [
        f"Day {part.day}: {part.title}" for part in own.parts
    ]
    shown = plain.locator("[data-train-item]").evaluate_all("(all) => all.map((each) => each.dataset.trainItem)")
    kinds = [f"learn-{each.learn}-{each.to}" if each.learn else each.kind for each in own.items]
    assert [name if name.startswith("learn-") else name[:-9] for name in shown] == kinds
    text = plain.locator("main").inner_text()
    assert all(" ".join(each.tell.split()) in " ".join(text.split()) for each in own.items if each.tell)
    assert "Scripts are switched off" in plain.locator("noscript").inner_text()
    # What is to be found is drawn there, too; an eyewash is no part of any line.
    for item in (each for each in own.items if each.find):
        (drawn,) = [at for at in shown if at.startswith("find-")]
        tags = plain.locator(f"[data-train-item='{drawn}'] svg").evaluate_all(
            "(all) => all.map((each) => each.textContent)"
        )
        assert [tag for tag in item.find if not any(str(tag) in each for each in tags)] in ([], ["eyewash-1"])
    assert text.count("Hands off: nothing is touched yet.") == sum(part.touching == "no" for part in own.parts)


@pytest.mark.parametrize("path", PATHS)
def test_each_procedure_of_a_path_has_its_page_with_all_its_questions_answered(
    plain: Page, site: Path, path: str
) -> None:
    script = (site / "training" / path / "questions.js").read_text(encoding="utf-8")
    data = json.loads(script.partition("trainingPath = ")[2].rstrip().removesuffix(";"))
    procedures = {item["procedure"] for item in data["items"]} - {""}
    pages = {page.stem for page in (site / "training" / path).glob("*.html")}
    assert pages == procedures == set(data["lessons"])
    for name, lesson in data["lessons"].items():
        plain.goto((site / "training" / path / f"{name}.html").as_uri())
        asked = plain.locator(".train-questions > li")
        assert asked.locator("h3").all_inner_texts() == [each["asks"] for each in lesson["questions"]], name
        for each, question in zip(asked.all(), lesson["questions"], strict=True):
            (right,) = (choice for choice in question["choices"] if choice["right"])
            assert each.locator("> ul > li").all_inner_texts() == [choice["says"] for choice in question["choices"]]
            told = each.locator("details").text_content() or ""
            assert right["says"] in told
            assert all(choice["why"] in told for choice in question["choices"])


def test_place_of_each_question_is_on_the_page_of_its_procedure(site: Path) -> None:
    found = 0
    for page in site.glob("training/*/*.html"):
        for address in re.findall(r'href="([^"]+#step-[^"]+)"', page.read_text(encoding="utf-8")):
            file, _, anchor = address.partition("#")
            text = (page.parent / file).resolve().read_text(encoding="utf-8")
            assert re.search(rf'id="?{re.escape(anchor)}["\s>]', text), (page.name, address)
            found += 1
    assert found > 50


def test_every_link_of_a_page_of_training_leads_somewhere(site: Path) -> None:
    pages = [*site.glob("training/*.html"), *site.glob("training/*/*.html")]
    assert len(pages) > 20
    for page in pages:
        for address in re.findall(r'(?:href|src)="([^"]+)"', page.read_text(encoding="utf-8")):
            file = address.partition("#")[0]
            if file and not file.endswith(".pdf"):
                assert (page.parent / file).resolve().is_file(), (page.name, address)


def test_line_that_is_watched_stands_on_its_page(plain: Page, site: Path) -> None:
    plain.goto((site / "training/line-operator/bleed-cleaner-line.html").as_uri())
    keys = plain.locator("[data-watch]").evaluate_all("(all) => all.map((each) => each.dataset.watch)")
    assert keys[0] == "stop"
    # What is opened, shut, started, stopped, moved and measured is watched, and holds are.
    assert {"step:open-v3", "step:run-off", "step:last-conductivity", "step:hold-the-reading-is"} <= set(keys)
    assert plain.locator("[data-kind=caution]").count() >= 2


def test_emergency_says_that_it_is_never_gated(plain: Page, site: Path) -> None:
    plain.goto((site / "training/line-operator/splash.html").as_uri())
    assert "In earnest anybody does this at once, trained or not." in plain.locator("main").inner_text()


@pytest.mark.requirement(number=13)
def test_policy_of_each_page_is_strict(site: Path) -> None:
    for page in (*site.glob("training/*.html"), *site.glob("training/*/*.html")):
        text = page.read_text(encoding="utf-8")
        assert "default-src 'none'; script-src 'self'; style-src 'self';" in text
        bare = re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>\n', "", text)
        assert with_policy(bare, page.name) == text


def test_book_without_paths_has_no_page_of_training() -> None:
    checkup = check_book(ROOT / "tests" / "base")
    assert checkup.book is not None
    assert checkup.rehearsal is not None
    audit = audit_of(checkup.rehearsal, date(2026, 12, 1))
    content = Content(checkup.book, checkup.editions, "en", False, checkup.rehearsal, audit)
    assert list(training_pages(content)) == []
    assert list(path_scripts(content)) == []
    others = [text for _, text in (*work_pages(content), *working_pages(content))]
    assert len(others) >= 3
    assert [
        text for text in others if "training/" in text or ('"trained":{}' not in text and "data-start" in text)
    ] == []
    assert not any(each.address.startswith("training/") for each in documents(content))
