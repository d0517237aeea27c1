"""The page says how competence stands, and refuses entries, as Python does."""

import json
import random
import shutil
from collections import Counter
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from demo_book import replace
from playwright.sync_api import Browser, Page

from tankside.training.rules import against
from tankside.training.standing import Case, Rules, standing
from tankside.training.taught import taught_from

TESTS = Path(__file__).parent
SCRIPTS = TESTS.parent / "tools" / "tankside" / "assets" / "js"
NEEDED = ("chain.js", "training-standing.js", "training-entries.js")
CASES: list[Any] = json.loads((TESTS / "both" / "standings.json").read_text(encoding="utf-8"))["cases"]
STAND = "(cases) => cases.map((each) => tankside.trainingStanding.standing(each))"
REFUSE = """(cases) => cases.map(([event, taught]) => {
  const { refusal, critical } = tankside.trainingEntries;
  return refusal(event, [], { critical: critical(taught) });
})"""
#: how often something random is tried
TRIES = 4000
METHODS, RESULTS = ("read", "shown", "supervised", "alone"), ("competent", "needs-more", "not-seen")
FIRST = date(2026, 1, 1)


def scripts_page(browser: Browser, folder: Path, scripts: Path = SCRIPTS) -> Page:
    """Return a page with the scripts that know no page, and nothing else."""
    tags = "".join(f'<script src="{(scripts / name).as_uri()}"></script>' for name in NEEDED)
    whole = folder / "standing.html"
    whole.write_text(f'<!doctype html><meta charset="utf-8"><title>Standing</title>{tags}', encoding="utf-8")
    page = browser.new_page()
    page.goto(whole.as_uri())
    return page


@pytest.fixture(scope="module")
def page(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Page]:
    found = scripts_page(browser, tmp_path_factory.mktemp("standing"))
    yield found
    found.close()


@pytest.mark.requirement(number=24)
def test_page_says_what_was_stated_by_hand(page: Page) -> None:
    found = page.evaluate(STAND, CASES)
    wrong = [each["name"] for each, stands in zip(CASES, found, strict=True) if stands != each["expected"]]
    assert len(found) >= 40
    assert wrong == []


def test_page_needs_no_words_to_say_it(page: Page) -> None:
    bare = json.loads(json.dumps(CASES))
    for case in bare:
        for taught in (*case["taught"].values(), case["now"]):
            for element in taught["elements"]:
                del element["says"]
    assert page.evaluate(STAND, bare) == [each["expected"] for each in CASES]


# By chance.


def taught(chance: random.Random, revision: int) -> dict[str, Any]:
    """Return something that is taught; few keys and few digests, so that much stays the same."""
    keys = chance.sample(("stop", "step:a", "step:b", "step:c", "caution:a", "amount:x"), chance.randint(2, 6))
    elements = [
        {
            "key": key,
            "critical": key in ("stop", "step:a", "step:b"),
            "says": key,
            "facts": chance.choice("000000001") * 16,
            "words": chance.choice("00000001") * 16,
        }
        for key in (sorted(keys) if chance.random() < 0.7 else keys)
    ]
    about = {"procedure": "p", "title": "P", "revision": revision, "content": f"{revision % 10}" * 64}
    return {**about, "same_since": chance.randint(1, revision), "elements": elements}


def day(chance: random.Random, most: int = 700) -> str:
    return (FIRST + timedelta(days=chance.randint(0, most))).isoformat()


def case(chance: random.Random) -> dict[str, Any]:
    """Return a question by chance: entries in their order, days of use, what was taught in three revisions."""
    known = {f"r{number}": taught(chance, number) for number in (1, 2, 3)}
    entries = [
        {
            "kind": chance.choice(("signed", "signed", "signed", "answered", "drill")),
            "at": f"{each}T10:00:00.000+00:00",
            "taught": chance.choice(list(known)),
            "task": chance.choice(("whole", "whole", "whole", "a", "b")),
            "method": chance.choice(METHODS),
            "result": chance.choice(RESULTS),
        }
        for each in sorted(day(chance) for _ in range(chance.randint(0, 7)))
    ]
    today = FIRST + timedelta(days=chance.randint(0, 800))
    near = [(today + timedelta(days=chance.randint(-60, 60))).isoformat() for _ in range(chance.randint(0, 3))]
    return {
        "entries": entries,
        "uses": [*near, *(day(chance, 900) for _ in range(chance.randint(0, 2)))],
        "taught": known,
        "now": chance.choice([*known.values(), taught(chance, 4)]),
        "rules": {"after": chance.choice((30, 365)), "unused_for": chance.choice((10, 180))},
        "today": today.isoformat(),
        "goal": chance.choice(METHODS),
    }


def by_python(asked: dict[str, Any]) -> dict[str, Any]:
    known = {name: taught_from(each) for name, each in asked["taught"].items()}
    about = {"entries": asked["entries"], "uses": asked["uses"], "today": asked["today"], "goal": asked["goal"]}
    found = standing(Case(taught=known, now=taught_from(asked["now"]), rules=Rules(**asked["rules"]), **about))
    reasons = [{"code": each.code, "day": each.day, "key": each.key} for each in found.reasons]
    return {"word": found.word, "since": found.since, "lapses_on": found.lapses_on, "reasons": reasons}


def differences(page: Page, count: int) -> Iterator[dict[str, Any]]:
    cases = [case(random.Random(seed)) for seed in range(count)]
    for each, stands in zip(cases, page.evaluate(STAND, cases), strict=True):
        if stands != by_python(each):
            yield each


@pytest.mark.requirement(number=24)
def test_page_says_what_python_says_of_whatever_was_entered(page: Page) -> None:
    assert next(differences(page, TRIES), None) is None


def test_what_is_tried_by_chance_comes_to_every_word_and_reason() -> None:
    found = [by_python(case(random.Random(seed))) for seed in range(TRIES)]
    words = Counter(each["word"] for each in found)
    codes = Counter(reason["code"] for each in found for reason in each["reasons"])
    assert set(words) == {"never", "read", "shown", "supervised", "needs-more", "valid", "show-first", "lapsed"}
    assert set(codes) == {"date", "unused", "needs-more", "observe", "show"}
    assert min(*words.values(), *codes.values()) >= 15


#: in which way the page could say something else, and would be found out
CHANGES = {
    "a day too late": ("asked.today >= end.day", "asked.today > end.day"),
    "facts do not count": ("was.facts === element.facts &&", "true &&"),
    "wording counts for ever": ("(was.words === element.words || isWordingAlone)", "was.words === element.words"),
    "use in days to come": ("day < each && each <= today", "day < each"),
    "who has lapsed is brought back by use": ("if (used >= end) break;", ""),
    "a step is the whole": ("task !== WHOLE ||", ""),
    "entries of days to come": (" && dayOf(each) <= asked.today", ""),
    "order does not count": (", ...moved(old, fresh)", ""),
    "read is shown": (
        "METHODS.indexOf(method) < METHODS.indexOf(goal)",
        "METHODS.indexOf(method) + 1 < METHODS.indexOf(goal)",
    ),
}


@pytest.mark.parametrize("change", CHANGES)
def test_change_of_the_page_is_noticed(browser: Browser, tmp_path: Path, change: str) -> None:
    scripts = Path(shutil.copytree(SCRIPTS, tmp_path / "js"))
    replace(scripts / "training-standing.js", *CHANGES[change])
    page = scripts_page(browser, tmp_path, scripts)
    assert next(differences(page, TRIES), None) is not None
    page.close()


# What may be entered.


def signing(chance: random.Random) -> tuple[dict[str, Any], dict[str, Any]]:
    about = taught(chance, 1)
    keys = [each["key"] for each in about["elements"]]
    seen = {key: chance.choice(("competent", "competent", *RESULTS)) for key in keys if chance.random() < 0.9}
    event = {
        **{"kind": "signed", "method": chance.choice(METHODS), "result": chance.choice(RESULTS), "seen": seen},
        **{"person": "TA", "assessor": chance.choice(("WL", "WL", "WL", " ta ", "TA")), "assessor_role": "lead"},
        **{"procedure": "p", "revision": 1, "edition": about["content"], "seq": 1},
    }
    return event, about


@pytest.mark.requirement(number=24)
def test_page_refuses_the_entries_that_a_file_may_not_hold(page: Page) -> None:
    tried = [signing(random.Random(seed)) for seed in range(TRIES)]
    refused = page.evaluate(REFUSE, [list(each) for each in tried])
    codes = {
        "own-assessor": "competence-self-assessed",
        "competent-unwatched": "competence-unwatched",
        "needs-more-seen": "competence-needs-more",
        "not-all-seen": "competence-not-looked-at",
    }
    said = [[each.code for each in against(event, taught_from(about))] for event, about in tried]
    # The page says the first thing that is wrong.
    assert [codes.get(code, code) for code in refused] == [next(iter(each), "") for each in said]
    assert set(refused) == {"", *codes}
