"""Questions to trainees: one right answer, plausible wrong ones, nothing left to chance, nothing secret."""

import os
import re
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
import yaml
from asked_questions import asked, asked_of, checked, every_question, faults, plain, subject
from demo_book import ROOT, copy_book
from test_confidential import told

from tankside.checkup import check_book
from tankside.model.procedures import Procedure
from tankside.views.training.question import Choice, Question
from tankside.views.training.questions.asking import MOST

#: keys of a step that say its kind
KINDS = (
    *("open", "shut", "start", "stop", "lock", "unlock", "move", "add", "do", "check", "measure", "record"),
    *("labels", "notify", "wait", "choose", "repeat", "hold"),
)
NO_STEPS = ("section", "note", "danger", "warning", "caution", "notice")


def procedure(name: str) -> Procedure:
    book = checked().book
    assert book is not None
    return book.procedures[name]


def test_every_question_has_one_right_answer_no_two_alike_and_a_reason_for_each() -> None:
    found = {(name, each.id): wrong for name, each in every_question() if (wrong := faults(each, procedure(name)))}
    assert found == {}


def test_question_with_exchanged_answers_is_found_at_fault() -> None:
    question = asked()["bleed-cleaner-line"][0]
    turned = tuple(replace(each, is_right=not each.is_right) for each in question.choices)
    assert faults(question, procedure("bleed-cleaner-line")) == []
    assert "not one right answer" in faults(replace(question, choices=turned), procedure("bleed-cleaner-line"))
    alike = (*question.choices[:1], Choice(question.choices[0].says.upper() + " .", "Because.", is_right=False))
    assert "two answers are alike" in faults(replace(question, choices=alike), procedure("bleed-cleaner-line"))
    assert "about no step" in faults(replace(question, about="no-such-step"), procedure("bleed-cleaner-line"))


def test_ids_are_unique_in_a_procedure() -> None:
    for name, questions in asked().items():
        assert len({each.id for each in questions}) == len(questions), name


def test_no_question_is_asked_twice_in_a_procedure() -> None:
    for name, questions in asked().items():
        assert len({plain(each.asks) for each in questions}) == len(questions), name


def test_each_kind_is_asked_and_no_procedure_asks_too_much() -> None:
    kinds = Counter(each.kind for _, each in every_question())
    wanted = {"tags", "order", "cautions", "ready", "worn", "stopping", "holds", "measured", "amounts", "emergency"}
    assert set(kinds) == wanted | {"written"}
    for questions in asked().values():
        assert len([each for each in questions if each.kind != "written"]) <= MOST


def test_every_procedure_asks_something() -> None:
    assert {name for name, questions in asked().items() if not questions} == set()


def test_emergency_asks_for_no_amount_no_order_and_no_role() -> None:
    for name, questions in asked().items():
        if procedure(name).is_emergency:
            assert {each.kind for each in questions} <= {"emergency", "cautions", "worn", "written"}


def test_right_answer_stands_at_every_place_and_at_none_mostly() -> None:
    full = [each for _, each in every_question() if len(each.choices) == 4]
    places = Counter(each.choices.index(each.right) for each in full)
    assert set(places) == {0, 1, 2, 3}
    assert max(places.values()) <= 0.6 * len(full)


def _printed() -> str:
    """Return a digest of all questions, as a new process with another order of hashes makes them."""
    code = (
        "from asked_questions import asked; from hashlib import sha256;"
        "print(sha256(repr(sorted(asked().items())).encode('utf-8')).hexdigest())"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        cwd=ROOT / "tests",
        env={**os.environ, "PYTHONHASHSEED": "4711", "PYTHONPATH": str(ROOT / "tests")},
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=True,
        timeout=300,
    )
    return done.stdout.strip()


def test_questions_are_the_same_in_another_process() -> None:
    assert _printed() == sha256(repr(sorted(asked().items())).encode("utf-8")).hexdigest()


def test_no_question_tells_a_secret() -> None:
    assert told("Alkyl polyglucoside") != []
    assert {(name, each.id): found for name, each in every_question() if (found := told(repr(each)))} == {}
    withheld = next(each for each in asked()["blend-degreaser"] if each.id == "surfactant.amount")
    assert withheld.asks.startswith("Premix S")


def test_amount_of_a_withheld_recipe_is_got_wrong_by_what_everybody_sees_only() -> None:
    amounts = [each for each in asked()["blend-degreaser"] if each.kind == "amounts"]
    reasons = {choice.why for each in amounts for choice in each.choices if not choice.is_right}
    seen = re.compile(r"That is for [0-9]+ L\.|That goes down where|That is about (?:half|twice)|The decimal point")
    assert len(amounts) > 2
    assert [why for why in reasons if not seen.match(why)] == []


# The order, compared with the file itself.


def _written(name: str) -> dict[str, Any]:
    path = next((ROOT / "procedures").glob(f"*/{name}.yaml"))
    written: dict[str, Any] = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
    return written


def _kind(item: dict[str, Any]) -> str:
    return next(kind for kind in (*NO_STEPS, *KINDS) if kind in item)


def _name(item: dict[str, Any]) -> str:
    if "step" in item:
        return str(item["step"])
    kind, value = _kind(item), str(item[_kind(item)]).lower()
    if kind in ("do", "check", "measure", "record", "hold", "repeat", "choose"):
        return "-".join([kind, *re.findall(r"[a-z0-9]+", value)[:3]])
    return f"{kind}-{value}"


def _ways(name: str) -> Iterator[list[dict[str, Any]]]:
    """Return the steps of the list itself by section, without those that one is sent to."""
    steps: list[dict[str, Any]] = []
    is_passed = True
    for item in _written(name)["steps"]:
        if "section" in item:
            yield steps
            steps, is_passed = [], "entered" not in item
        elif is_passed and _kind(item) in KINDS:
            steps.append(item)
    yield steps


def _says(item: dict[str, Any]) -> list[str]:
    """Return pieces of a step that its words must hold, whatever is put around them."""
    kind = _kind(item)
    value = str(item.get("about") or item[kind]) if kind == "notify" else str(item.get("to") or item[kind])
    if kind == "move":
        return ["Move"]
    if kind == "wait":
        return [item["wait"], item["for"]]
    return [piece.strip() for piece in re.split(r"<[^>]+>|deg[CF]", value) if piece.strip()]


ORDER = [(name, each) for name, each in every_question() if each.kind == "order"]


@pytest.mark.parametrize(("name", "question"), ORDER, ids=[f"{name}:{each.id}" for name, each in ORDER])
def test_order_is_that_of_the_file(name: str, question: Question) -> None:
    way = next(way for way in _ways(name) if question.about in map(_name, way))
    at = [_name(item) for item in way].index(question.about)
    following = way[at + 1]
    assert all(piece in question.right.says for piece in _says(following))
    assert not {"choose", "repeat"} & {_kind(way[at]), _kind(following)}
    for choice in question.choices:
        if not choice.is_right and _kind(following) != "move":
            assert (
                not all(piece in choice.says for piece in _says(following))
                or choice.says.split()[0] != (question.right.says.split()[0])
            )


def test_order_is_asked_in_many_procedures() -> None:
    assert len({name for name, _ in ORDER}) > 12


# Holds, limits and the safe stop, compared with the files.


def test_hold_is_released_by_the_role_of_the_file() -> None:
    roles = yaml.load((ROOT / "procedures/plant/roles.yaml").read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
    holds = [(name, each) for name, each in every_question() if each.kind == "holds"]
    assert len(holds) > 10
    for name, question in holds:
        item = next(each for way in _ways(name) for each in way if _name(each) == question.about)
        assert question.right.says == roles["roles"][item["released_by"]]["name"]


def test_limits_are_those_of_the_materials() -> None:
    path = ROOT / "procedures/plant/materials.yaml"
    materials = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)["materials"]
    limits = [(name, each) for name, each in every_question() if each.id.endswith(".limits")]
    assert len(limits) > 5
    for name, question in limits:
        item = next(each for way in _ways(name) for each in way if _name(each) == question.about)
        material, limit = item["limits"].split(".")
        for end in materials[material]["limits"][limit].values():
            assert end.replace("deg", "°") in question.right.says


def test_safe_stop_is_that_of_the_file_and_no_wrong_one_holds_all_of_it() -> None:
    stops = [(name, each) for name, each in every_question() if each.kind == "stopping"]
    assert len(stops) > 20
    for name, question in stops:
        assert question.right.says == _written(name)["stop_safely"]
        assert not [each for each in question.choices if not each.is_right and question.right.says in each.says]


def test_answers_of_a_caution_belong_to_it_alone() -> None:
    for name, question in every_question():
        if not question.id.endswith((".avoid", ".warned")):
            continue
        key = question.id.split(".")[1]
        cautions = [item for item in _all_items(_written(name)["steps"]) if question.about in item.get("covers", [])]
        said = {each["avoid"] if key.startswith("avoid") else each[_kind(each)] for each in cautions}
        assert question.right.says in said
        assert not [each for each in question.choices if not each.is_right and each.says in said]


def _all_items(items: list[dict[str, Any]]) -> Iterator[dict[str, Any]]:
    for item in items:
        yield item
        yield from _all_items(item["steps"] if isinstance(item.get("steps"), list) else [])
        for branch in item.get("branches", []):
            yield from _all_items(branch.get("steps", []))


# What an author writes.


def test_written_questions_stand_in_the_files_and_are_asked_in_their_order() -> None:
    with_questions = 0
    for name, questions in asked().items():
        written = _written(name).get("questions", [])
        asks = [re.sub(r"<[^>]+>", "", each["ask"]).strip() for each in written]
        found = [each for each in questions if each.kind == "written"]
        assert all(said in each.asks for said, each in zip(asks, found, strict=True))
        assert [each.right.says for each in found] == [each["right"] for each in written]
        with_questions += bool(written)
    assert with_questions >= 6


def test_questions_and_what_is_observed_are_in_no_hash(tmp_path: Path) -> None:
    book = copy_book(tmp_path)
    for path in book.glob("procedures/*/*.yaml"):
        text = path.read_text(encoding="utf-8")
        bare = re.sub(r"(?ms)^questions:\n.*?(?=^[a-z])", "", text)
        path.write_text(re.sub(r"(?m)^observe: .*\n", "", bare), encoding="utf-8", newline="\n")
    bare_book = check_book(book)
    assert bare_book.book is not None
    assert not any(each.questions or each.observe for each in bare_book.book.procedures.values())
    assert any(procedure(name).questions for name in asked())
    assert any(procedure(name).observe for name in asked())
    with_them, without = checked().editions, bare_book.editions
    assert {name: each.hash for name, each in with_them.items()} == {name: each.hash for name, each in without.items()}


def test_step_that_is_observed_and_unknown_is_a_problem(tmp_path: Path) -> None:
    book = copy_book(tmp_path)
    path = book / "procedures/filling/bleed-cleaner-line.yaml"
    path.write_text(f"{path.read_text(encoding='utf-8')}observe: [pail-in-plase]\n", encoding="utf-8", newline="\n")
    problems = [each for each in check_book(book).problems if each.code == "name-unknown"]
    assert [each.hint for each in problems] == ["did you mean 'pail-in-place'?"]


def test_place_says_where_it_stands() -> None:
    by_id = {each.id: each.place for each in asked()["bleed-cleaner-line"]}
    assert by_id["stop-safely"] == "Stop safely"
    assert by_id["open-v2.next"] == "Step 8, Open V2"
    assert by_id["open-v3.warned"] == "The caution before step 7"


def test_book_of_the_smallest_kind_asks_what_it_can() -> None:
    small = asked_of(check_book(Path(__file__).parent / "base"))
    assert small
    checkup = check_book(Path(__file__).parent / "base")
    for name, questions in small.items():
        written = subject(checkup, name).procedure
        assert [faults(each, written) for each in questions] == [[]] * len(questions)


def test_stop_of_one_act_is_set_against_going_on_and_against_leaving_everything() -> None:
    # "Shut V1." has no part to leave out, no order to get wrong, and no other side of the plant.
    questions = asked_of(checked(ROOT / "tests" / "base"))["flush"]
    (stop,) = (each for each in questions if each.id == "stop-safely")
    wrong = {each.says: each.why for each in stop.choices if not each.is_right}
    assert stop.right.says == "Shut V1."
    assert wrong == {
        "Finish the step that you are at, then stop.": (
            "Now means now. The step itself may be what has become dangerous."
        ),
        "Leave everything as it is, and go for help.": (
            "What runs would go on running, and what is open would stay open."
        ),
    }
