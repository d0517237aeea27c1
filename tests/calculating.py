"""Helpers worked out from texts as they are written on the command line, or from results of others."""

from collections.abc import Mapping, Sequence
from fractions import Fraction

import pytest
from hypothesis import strategies as st

from tankside.quantities.calculation import Calculation, calculate
from tankside.quantities.given import read_worth
from tankside.quantities.registry import HELPERS
from tankside.units import UNITS, Quantity, QuantityError


def calculated(name: str, values: Mapping[str, str | Quantity]) -> Calculation:
    helper = HELPERS[name]
    given = {
        key: read_worth(helper.argument(key), value) if isinstance(value, str) else value
        for key, value in values.items()
    }
    return calculate(helper, given)


def number(name: str, result: str, unit: str, **values: str | Quantity) -> Fraction:
    """Return a result of a helper in a unit."""
    return calculated(name, values).results[result].in_unit(UNITS[unit])


def refusal(name: str, texts: Mapping[str, str]) -> tuple[str, str, str]:
    """Return code, sentence and hint with which a helper refuses."""
    with pytest.raises(QuantityError) as refused:
        calculated(name, texts)
    return refused.value.code, refused.value.sentence, refused.value.hint


def is_close(value: Fraction, published: str, tolerance: str) -> bool:
    """Whether a value is within a relative tolerance of what was published."""
    return abs(value / Fraction(published) - 1) <= Fraction(tolerance)


#: what may be written for an argument, whether it suits it or not
_PIECES = ("0", "1", "3", "2.5", "-1", "50 %", "100 %", "0 %", "0.0000000001 %", "", "x", "1 L", "2 kg", "0 L", "-3 L")
_MORE = (
    "5 min",
    "0 s",
    "2 L/min",
    "0 L/h",
    "1 cm2",
    "3 m2",
    "4 cm",
    "0 cm",
    "9 s, 12 s",
    "9 s, 0 s",
    "1 L, 2 kg",
    "1 m3",
)
_EXTREME = ("1000000000000000000000000000000 L", "0.00000000000000000000000000001 L")


def askings(*names: str) -> st.SearchStrategy[tuple[str, dict[str, str]]]:
    """One of some helpers with what it needs and some of what it may have, each suitable or not; now and then less."""
    return st.sampled_from(names).flatmap(lambda name: st.tuples(st.just(name), _texts(name)))


def _texts(name: str) -> st.SearchStrategy[dict[str, str]]:
    values: dict[str, st.SearchStrategy[str]] = {
        argument.name: st.just(argument.example)
        | st.sampled_from((argument.example, *argument.choices, *_PIECES, *_MORE, *_EXTREME))
        for argument in HELPERS[name].arguments
    }
    needed = {argument.name: values.pop(argument.name) for argument in HELPERS[name].arguments if argument.required}
    return st.fixed_dictionaries(needed, optional=values) | st.fixed_dictionaries({}, optional=needed | values)


def assert_a_result_or_a_refusal(name: str, data: st.DataObject, values: Sequence[str]) -> None:
    """Hold that a helper says something of its example with some values exchanged and some left out."""
    examples = {argument.name: argument.example for argument in HELPERS[name].arguments}
    changed = data.draw(st.dictionaries(st.sampled_from(list(examples)), st.sampled_from(values), max_size=3))
    left_out = data.draw(st.sets(st.sampled_from(list(examples)), max_size=2))
    texts = {argument: text for argument, text in (examples | changed).items() if argument not in left_out}
    try:
        done = calculated(name, texts)
    except QuantityError as refused:
        assert refused.sentence and refused.hint
    else:
        assert all(isinstance(each, Quantity) and each.value >= 0 for each in done.results.values())
        assert len(done.working) >= 2 * len(done.results)
