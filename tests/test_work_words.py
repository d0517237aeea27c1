"""Words of a working copy: a script gets every one that it says, every refusal has a sentence with a way out."""

import re
from pathlib import Path

from tankside.texts import words
from tankside.views.work import script_words

PACKAGE = Path(__file__).parent.parent / "tools" / "tankside"
#: what `refusal` answers; "entering" is said by the page alone
REFUSALS = [
    "kind-unknown",
    "already-started",
    "not-started",
    "people-missing",
    "person-twice",
    "second-person-missing",
    "lot-missing",
    "bottle-missing",
    "input-missing",
    "input-outside",
    "who-unknown",
    "wrong-role",
    "ended",
    "given",
    "paused",
    "reason-missing",
    "no-such-step",
    "done-already",
    "not-next",
    "wrong-kind",
    "begun-already",
    "marked-already",
    "answer-unknown",
    "not-begun",
    "too-early",
    "label-not-read",
    "no-number",
    "over",
    "read-already",
    "wrong-instrument",
    "out-of-calibration",
    "not-checked",
    "not-outside",
    "counted-already",
    "nothing-to-check",
    "same-person",
    "nothing-to-allow",
    "cannot-be-skipped",
    "cannot-be-changed",
    "corrected-already",
    "nothing-to-correct",
    "past-a-hold",
    "not-paused",
    "not-given",
    "not-through",
]


def test_every_word_that_a_script_of_the_page_says_is_handed_to_it() -> None:
    handed = script_words(words("en"))
    scripts = sorted((PACKAGE / "assets" / "js").glob("work-*.js"))
    assert len(scripts) > 20
    said = {
        (path.name, key)
        for path in scripts
        for key in re.findall(r"\bsay\('([a-z-]+)'", path.read_text(encoding="utf-8"))
    }
    assert len(said) > 200
    assert sorted(each for each in said if each[1] not in handed) == []


def test_every_refusal_has_its_sentence_and_no_sentence_is_idle() -> None:
    table = script_words(words("en"))
    sentences = {key.removeprefix("refused-") for key in table if key.startswith("refused-")}
    assert sorted(sentences) == sorted({*REFUSALS, "entering"})


def test_refusals_are_those_of_the_records() -> None:
    sources = [PACKAGE / "records" / name for name in ("refusing.py", "step_refusals.py", "correcting.py")]
    text = "".join(path.read_text(encoding="utf-8") for path in sources)
    answers = re.findall(r'return "([a-z]+(?:-[a-z]+)+)"', text)
    assert len(answers) > 20
    assert sorted(set(answers) - set(REFUSALS)) == []
    assert [code for code in REFUSALS if f'"{code}"' not in text] == []
