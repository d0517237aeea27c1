"""Whether a helper holds for what it was given; every refusal names the value, what was expected and a way out."""

from collections.abc import Mapping
from fractions import Fraction

from tankside.quantities.decimal_text import decimal_text, quantity_text, with_unit
from tankside.quantities.evaluate import evaluate
from tankside.quantities.expression import names_in
from tankside.quantities.helper import RECIPE, Argument, AtMost, Bound, Helper, Variant
from tankside.quantities.recipe import Recipe
from tankside.quantities.refusals import (
    ArgumentMissingError,
    ArgumentNotUsedError,
    ArgumentUnknownError,
    KindsMismatchError,
    OutOfDomainError,
)
from tankside.units import Quantity, Unit, UnitWrongKindError, require_kind

Given = Mapping[str, Quantity | Recipe]


def variant_for(helper: Helper, kinds: Mapping[str, str]) -> Variant:
    """Return the form of the formula for arguments of these kinds."""
    known = [argument.name for argument in helper.arguments]
    for name in kinds:
        if name not in known:
            raise ArgumentUnknownError(helper.name, name, known)
    for argument in helper.arguments:
        if argument.required and argument.name not in kinds:
            raise ArgumentMissingError(helper.name, argument.name, argument.example)
    for variant in helper.variants:
        if variant.kinds == kinds:
            return variant
    raise _no_form(helper, kinds)


def _no_form(
    helper: Helper, kinds: Mapping[str, str]
) -> ArgumentMissingError | ArgumentNotUsedError | KindsMismatchError:
    """Return the refusal that says which one argument is missing or too many, or that the kinds do not fit."""
    words = _words_for_kinds(helper, kinds)
    for variant in helper.variants:
        missing = [name for name in variant.kinds if name not in kinds]
        if missing and kinds.items() <= variant.kinds.items():
            return ArgumentMissingError(helper.name, missing[0], helper.argument(missing[0]).example)
        surplus = [name for name in kinds if name not in variant.kinds]
        if surplus and variant.kinds.items() <= kinds.items():
            return ArgumentNotUsedError(helper.name, surplus[0], words)
    return KindsMismatchError(f"'{helper.name}' has no formula for {words}", helper.choice)


def _words_for_kinds(helper: Helper, kinds: Mapping[str, str]) -> str:
    """Return the kinds of the arguments that can be of several, in words."""
    several = [argument.name for argument in helper.arguments if len(argument.kinds) > 1 and argument.name in kinds]
    return " and ".join(f"{name} as {kinds[name]}" for name in several)


def kinds_of(helper: Helper, given: Given) -> Mapping[str, str]:
    """Return the kind of each value; one that its argument does not accept is refused."""
    accepted = {argument.name: argument.kinds for argument in helper.arguments}
    kinds = {}
    for name, value in given.items():
        kinds[name] = RECIPE if isinstance(value, Recipe) else value.unit.kind.name
        if kinds[name] not in accepted.get(name, kinds[name]):
            _refuse_kind(name, value, accepted[name])
    return kinds


def _refuse_kind(name: str, value: Quantity | Recipe, accepted: tuple[str, ...]) -> None:
    if isinstance(value, Recipe):
        raise UnitWrongKindError(
            f"{name} '{value.product}' is a product, not {' or '.join(accepted)}", "write a quantity"
        )
    if accepted == (RECIPE,):
        raise UnitWrongKindError(
            f"{name} '{quantity_text(value)}' is a quantity, not a product", "name a product of the book"
        )
    require_kind(value.unit, accepted, f"{name} '{quantity_text(value)}'")


def require_in_domain(helper: Helper, variant: Variant, values: Mapping[str, Quantity]) -> None:
    """Refuse a value outside its argument's range, or two that break a condition of the helper."""
    for argument in helper.arguments:
        if argument.name in values:
            _require_in_range(argument, values[argument.name])
    for condition in helper.conditions:
        _require_condition(condition, variant, values)


def _require_in_range(argument: Argument, quantity: Quantity) -> None:
    most = quantity.unit.kind.most
    high = argument.high if most is None else Bound(most, inclusive=True)
    ends = [words for words in (_low_words(argument.low, quantity), _high_words(high, quantity)) if words]
    if not _is_above(argument.low, quantity.value) or not _is_below(high, quantity.value):
        wanted = " and ".join(ends)
        raise OutOfDomainError(
            f"{argument.name} '{quantity_text(quantity)}' is not {wanted}", f"give {argument.name} a value {wanted}"
        )


def _is_above(low: Bound | None, value: Fraction) -> bool:
    return low is None or value > low.value or (low.inclusive and value == low.value)


def _is_below(high: Bound | None, value: Fraction) -> bool:
    return high is None or value < high.value or (high.inclusive and value == high.value)


def _low_words(low: Bound | None, quantity: Quantity) -> str:
    return f"{'at least' if low.inclusive else 'above'} {_in_unit(low, quantity.unit)}" if low else ""


def _high_words(high: Bound | None, quantity: Quantity) -> str:
    return f"{'at most' if high.inclusive else 'below'} {_in_unit(high, quantity.unit)}" if high else ""


def _in_unit(bound: Bound, unit: Unit) -> str:
    return with_unit(decimal_text(unit.from_base(bound.value)), unit.symbol)


def _require_condition(condition: AtMost, variant: Variant, values: Mapping[str, Quantity]) -> None:
    numbers = {name: quantity.value for name, quantity in values.items()}
    sides = [variant.operand(condition.name), variant.operand(condition.other)]
    if evaluate(sides[0], numbers) > evaluate(sides[1], numbers):
        texts = [" with ".join(f"{name} '{quantity_text(values[name])}'" for name in names_in(side)) for side in sides]
        raise OutOfDomainError(f" {condition.broken} ".join(texts), condition.hint)
