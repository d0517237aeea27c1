"""Whatever is tried on a working copy, right or wrong: the page refuses and folds it as Python does."""

import shutil
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import evaluator_page
import pytest
from demo_book import replace
from followed_editions import demo_editions
from playwright.sync_api import Browser, Page
from random_copies import differences, tried_out
from small_copies import small_editions

from tankside.records.folding import KINDS

#: what a working copy can be refused for: each of these codes has a sentence that says what to do next
CODES = """
    kind-unknown already-started not-started people-missing person-twice second-person-missing lot-missing
    bottle-missing input-missing input-outside who-unknown wrong-role ended given paused reason-missing no-such-step
    done-already not-next wrong-kind begun-already marked-already answer-unknown not-begun too-early label-not-read
    no-number over read-already wrong-instrument out-of-calibration not-checked not-outside counted-already
    nothing-to-check same-person nothing-to-allow cannot-be-skipped cannot-be-changed corrected-already
    nothing-to-correct past-a-hold not-paused not-given not-through
"""
#: of each kind of event this many are accepted, at least
OFTEN = 20
#: working copies of each small edition, the more the more it asks for, and actions tried on each
SMALL, SMALL_ACTIONS = {"gates": 90, "everything": 70, "by-heart": 60}, 110
#: working copies of the small editions that ask for less
FEW = 12
#: working copies of each edition of the demonstration book, and actions tried on each
DEMO, DEMO_ACTIONS = 4, 90


@pytest.fixture(scope="module")
def page(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Page]:
    found = evaluator_page.evaluator_page(browser, tmp_path_factory.mktemp("evaluator"))
    yield found
    found.close()


@pytest.mark.parametrize("name", sorted(small_editions()))
def test_page_does_as_python_does_with_a_small_edition(page: Page, name: str) -> None:
    assert list(differences(page, small_editions()[name], range(SMALL.get(name, FEW)), SMALL_ACTIONS)) == []


@pytest.mark.parametrize("name", sorted(demo_editions()))
def test_page_does_as_python_does_with_an_edition_of_the_demonstration_book(page: Page, name: str) -> None:
    assert list(differences(page, demo_editions()[name], range(DEMO), DEMO_ACTIONS)) == []


def test_actions_are_of_every_kind_and_meet_every_refusal() -> None:
    accepted, refused = Counter[str](), Counter[str]()
    for name, edition in small_editions().items():
        for seed in range(SMALL.get(name, FEW)):
            for carrying, code in tried_out(edition, seed, SMALL_ACTIONS):
                (refused if code else accepted)[code or carrying.tried[-1]["kind"]] += 1
    assert {kind: accepted[kind] for kind in KINDS if accepted[kind] < OFTEN} == {}
    assert sorted(refused) == sorted(CODES.split())


#: in which script of the page what is changed into what, and the edition that shows it
CHANGES = {
    "an end of limits does not belong to them": (
        "copy-worth.js",
        "compare(low.value, value) <= 0)",
        "compare(low.value, value) < 0)",
        "gates",
    ),
    "everybody may release": ("copy-refusal.js", "event.role === stepOf(copy, visit).released_by", "true", "gates"),
    "one looks at what one has done": (
        "copy-refusal.js",
        "return visit.hands.includes(event.who) ? 'same-person' : FINE;",
        "return FINE;",
        "alone",
    ),
    "a correction leaves the way it has gone": ("copy-fold.js", "isWrong && isNewest(copy, visit)", "false", "gates"),
    "what was begun on the other way stays due": (
        "copy-trail.js",
        "each.isAside = true",
        "each.isAside = false",
        "by-heart",
    ),
    "a mark is taken back behind a hold": ("copy-refusal.js", "kind === 'hold' && doer", "false", "gates"),
    "a digit of the hash is another one": ("chain.js", "0x80;", "0x81;", "elsewhere"),
}


@pytest.mark.parametrize("change", CHANGES)
def test_change_of_the_page_is_noticed(
    browser: Browser, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, change: str
) -> None:
    script, old, new, name = CHANGES[change]
    scripts = Path(shutil.copytree(evaluator_page.SCRIPTS, tmp_path / "js"))
    replace(scripts / script, old, new)
    monkeypatch.setattr(evaluator_page, "SCRIPTS", scripts)
    page = evaluator_page.evaluator_page(browser, tmp_path)
    assert next(differences(page, small_editions()[name], range(60), SMALL_ACTIONS), None) is not None
    page.close()
