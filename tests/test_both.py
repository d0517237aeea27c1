"""The golden cases in tests/both, which drive both implementations of amounts and of effects, driving Python."""

import json
from fractions import Fraction
from hashlib import sha256
from pathlib import Path
from typing import Any, get_args

import copy_cases
import pytest

from tankside.plant.effects import FIELDS, Effect
from tankside.plant.fold import folded
from tankside.plant.portable import (
    portable_effect,
    portable_rules,
    portable_state,
    read_effect,
    read_rules,
    read_state,
)
from tankside.quantities.decimal_text import decimal_text
from tankside.quantities.evaluate import OPERATIONS, evaluate
from tankside.quantities.expression import Call, Constant, Expression, Name, Number, to_json
from tankside.quantities.infix import infix
from tankside.quantities.working import working
from tankside.records.chain import broken_links, chained, event_hash
from tankside.records.serials import check_character, fault, grouped, plain
from tankside.texts import words
from tankside.units import Quantity, QuantityError, parse_quantity, unit_named
from tankside.views.numbers import exact_text, other_text, primary_text

FOLDER = Path(__file__).parent / "both"


def cases(name: str) -> list[Any]:
    found = json.loads((FOLDER / f"{name}.json").read_text(encoding="utf-8"))["cases"]
    return [pytest.param(case, id=case.get("name") or case["text"] or "nothing") for case in found]


def tree(written: Any) -> Expression:
    if isinstance(written, str):
        return Number(Fraction(written))
    op, *args = written
    if op == "constant":
        return Constant(*args)
    return Name(args[0]) if op == "name" else Call(op, tuple(map(tree, args)))


@pytest.mark.parametrize("case", cases("expressions"))
def test_value_is_right_to_the_last_digit(case: Any) -> None:
    names = {name: Fraction(text) for name, text in case["names"].items()}
    assert decimal_text(evaluate(tree(case["expression"]), names)) == case["expected"]


@pytest.mark.parametrize("case", cases("expressions"))
def test_tree_is_written_as_it_was_read(case: Any) -> None:
    assert to_json(tree(case["expression"])) == case["expression"]


def test_every_operation_has_a_case() -> None:
    text = (FOLDER / "expressions.json").read_text(encoding="utf-8")
    assert [op for op in OPERATIONS if f'"{op}"' not in text] == []


@pytest.mark.parametrize("case", cases("conversions"))
def test_number_in_another_unit_is_right_to_the_last_digit(case: Any) -> None:
    assert decimal_text(parse_quantity(case["text"]).in_unit(unit_named(case["unit"]))) == case["expected"]


@pytest.mark.parametrize("case", cases("refusals"))
def test_what_is_no_quantity_is_refused_with_its_code(case: Any) -> None:
    with pytest.raises(QuantityError) as refused:
        parse_quantity(case["text"])
    assert refused.value.code == case["code"]


@pytest.mark.parametrize("case", cases("readings"))
def test_reading_gives_the_value_or_the_whole_refusal(case: Any) -> None:
    found: Any
    try:
        quantity = parse_quantity(case["text"], case["kinds"], case["for"])
        found = [decimal_text(quantity.value), quantity.unit.symbol]
    except QuantityError as error:
        found = {"code": error.code, "sentence": error.sentence, "hint": error.hint}
    assert found == case["expected"]


@pytest.mark.parametrize("case", cases("shown"))
def test_quantity_is_shown_in_both_systems_of_units(case: Any) -> None:
    quantity, system, say = parse_quantity(case["text"]), case["system"], words("en")
    shown = [exact_text(quantity), primary_text(quantity, system, say), other_text(quantity, system, say)]
    assert shown == case["expected"]


@pytest.mark.parametrize("case", cases("working"))
def test_working_is_written_as_a_person_writes_it(case: Any) -> None:
    values = {name: parse_quantity(text) for name, text in case["values"].items()}
    expression = tree(case["expression"])
    value = evaluate(expression, {name: quantity.value for name, quantity in values.items()})
    result = Quantity(value, unit_named(case["unit"]))
    assert list(working(case["result"], expression, values, result)) == case["expected"]


@pytest.mark.parametrize("case", cases("folds"))
def test_effects_fold_into_the_state_that_was_worked_out_by_hand(case: Any) -> None:
    rules, state = read_rules(case["rules"]), read_state(case["before"])
    for effect in map(read_effect, case["effects"]):
        state = folded(rules, state, effect)
    assert portable_state(state) == case["expected"]


@pytest.mark.parametrize("case", cases("folds"))
def test_effects_rules_and_states_are_written_as_they_were_read(case: Any) -> None:
    assert [portable_effect(read_effect(each)) for each in case["effects"]] == case["effects"]
    assert portable_rules(read_rules(case["rules"])) == case["rules"]
    assert portable_state(read_state(case["before"])) == case["before"]


def test_every_kind_of_effect_and_every_field_has_a_case() -> None:
    found = [effect for case in cases("folds") for effect in case.values[0]["effects"]]
    assert {each["kind"] for each in found} == {kind.__name__.lower() for kind in get_args(Effect)}
    assert {each["field"] for each in found if each["kind"] == "sets"} == set(FIELDS)


@pytest.mark.parametrize("case", cases("formulas"))
def test_formula_has_parentheses_only_where_they_are_needed(case: Any) -> None:
    assert infix(tree(case["expression"]), str) == case["expected"]


@pytest.mark.parametrize("case", cases("serials"))
def test_serial_is_read_and_judged(case: Any) -> None:
    serial = plain(case["text"])
    assert [serial, fault(serial), check_character(serial), grouped(serial)] == case["expected"]


def of_chains(key: str) -> list[Any]:
    return [each for each in cases("chains") if key in each.values[0]]


@pytest.mark.parametrize("case", of_chains("text"))
def test_hash_of_a_text_is_the_published_one_or_that_of_the_library(case: Any) -> None:
    assert sha256((case["text"] * case["times"]).encode("utf-8")).hexdigest() == case["expected"]


@pytest.mark.parametrize("case", of_chains("json"))
def test_event_is_hashed_as_its_canonical_text(case: Any) -> None:
    text, expected = case["expected"]
    assert sha256(text.encode("utf-8")).hexdigest() == expected
    assert event_hash(json.loads(case["json"])) == expected


@pytest.mark.parametrize("case", of_chains("events"))
def test_each_event_is_chained_to_the_one_before(case: Any) -> None:
    links: list[Any] = []
    for event in case["events"]:
        links.append(chained(event, links[-1] if links else None))
    assert [[each["seq"], each["previous"], each["hash"]] for each in links] == case["expected"]


@pytest.mark.parametrize("case", of_chains("linked"))
def test_changed_event_is_found_in_its_chain(case: Any) -> None:
    assert [list(each) for each in broken_links(case["linked"])] == case["expected"]


@pytest.mark.parametrize("case", [pytest.param(each, id=each["name"]) for each in copy_cases.copy_cases()])
def test_working_copy_refuses_and_stands_as_the_words_say(case: Any) -> None:
    assert copy_cases.answer(case) == case["expected"]
