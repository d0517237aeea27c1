"""How a competence stands on a day: cases stated by hand, which drive the page too (`test_training_agrees.py`)."""

import json
from pathlib import Path
from typing import Any

import pytest

from tankside.training.standing import Case, Rules, standing
from tankside.training.taught import taught_from

CASES: list[Any] = json.loads((Path(__file__).parent / "both" / "standings.json").read_text(encoding="utf-8"))["cases"]
#: what the words of a standing may be
WORDS = {"never", "read", "shown", "supervised", "needs-more", "valid", "show-first", "lapsed"}


def stands(case: Any) -> dict[str, Any]:
    asked = Case(
        entries=case["entries"],
        uses=case["uses"],
        taught={name: taught_from(each) for name, each in case["taught"].items()},
        now=taught_from(case["now"]),
        rules=Rules(**case["rules"]),
        today=case["today"],
        goal=case["goal"],
    )
    found = standing(asked)
    reasons = [{"code": each.code, "day": each.day, "key": each.key} for each in found.reasons]
    return {"word": found.word, "since": found.since, "lapses_on": found.lapses_on, "reasons": reasons}


@pytest.mark.requirement(number=24)
@pytest.mark.parametrize("case", [pytest.param(each, id=each["name"]) for each in CASES])
def test_competence_stands_as_was_stated_by_hand(case: Any) -> None:
    assert stands(case) == case["expected"], case["why"]


def test_cases_are_many_and_tell_every_word_and_every_reason() -> None:
    assert len(CASES) >= 40
    assert len({each["name"] for each in CASES}) == len(CASES)
    assert {each["expected"]["word"] for each in CASES} == WORDS
    codes = {reason["code"] for each in CASES for reason in each["expected"]["reasons"]}
    assert codes == {"date", "unused", "needs-more", "observe", "show"}


@pytest.mark.requirement(number=24)
@pytest.mark.parametrize("goal", ["shown", "supervised", "alone"])
@pytest.mark.parametrize("times", [1, 50])
def test_who_has_only_read_it_is_never_competent(goal: str, times: int) -> None:
    (read,) = (each for each in CASES if each["name"] == "read")
    found = stands({**read, "goal": goal, "entries": read["entries"] * times})
    assert found == {"word": "read", "since": "", "lapses_on": "", "reasons": []}
