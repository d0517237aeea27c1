"""Whether a helper holds for what it was given; every refusal names the value, what was expected and a way out."""

from collections.abc import Mapping
from fractions import Fraction
from itertools import product
from typing import Final

from tankside.quantities.decimal_text import quantity_text, short_quantity
from tankside.quantities.evaluate import evaluate
from tankside.quantities.expression import names_in
from tankside.quantities.given import Choice, Given, Groups, Listed, Pairs, Worth, facts_of
from tankside.quantities.helper import RECIPE, Argument, AtMost, Below, Bound, Contract, NeverWith, TotalAtMost, Variant
from tankside.quantities.recipe import Recipe
from tankside.quantities.refusals import (
    ArgumentMissingError,
    ArgumentNotUsedError,
    ArgumentUnknownError,
    KindsMismatchError,
    OutOfDomainError,
)
from tankside.units import Quantity, Unit, UnitWrongKindError, require_kind

#: significant digits of a bound or a result in a sentence
_DIGITS: Final = 6


def variant_for(helper: Contract, kinds: Mapping[str, str]) -> Variant:
    """Return the form of the formula for arguments of these kinds."""
    known = [argument.name for argument in helper.arguments]
    for name in kinds:
        if name not in known:
            raise ArgumentUnknownError(helper.name, name, known)
    for argument in helper.arguments:
        if argument.required and argument.name not in kinds:
            raise ArgumentMissingError(helper.name, {argument.name: argument.example})
    for variant in helper.variants:
        if variant.kinds == kinds:
            return variant
    raise _no_form(helper, kinds)


def _no_form(
    helper: Contract, kinds: Mapping[str, str]
) -> ArgumentMissingError | ArgumentNotUsedError | KindsMismatchError:
    """Return the refusal that says which argument is missing or too many, or that the kinds do not fit."""
    lacking = [variant for variant in helper.variants if kinds.items() <= variant.kinds.items()]
    if missing := [next(name for name in variant.kinds if name not in kinds) for variant in lacking]:
        return ArgumentMissingError(helper.name, {name: helper.argument(name).example for name in missing})
    for variant in helper.variants:
        surplus = [name for name in kinds if name not in variant.kinds]
        if surplus and variant.kinds.items() <= kinds.items() and not _is_taken_as_another(helper, kinds, surplus[0]):
            return ArgumentNotUsedError(helper.name, surplus[0], _words_for_kinds(helper, variant.kinds))
    return KindsMismatchError(f"'{helper.name}' has no formula for {_words_for_kinds(helper, kinds)}", helper.choice)


def _is_taken_as_another(helper: Contract, kinds: Mapping[str, str], name: str) -> bool:
    """Whether there is a form with these arguments and kinds but another kind of ``name``."""
    rest = {other: kind for other, kind in kinds.items() if other != name}
    return any(
        variant.kinds.keys() == kinds.keys() and rest.items() <= variant.kinds.items() for variant in helper.variants
    )


def _words_for_kinds(helper: Contract, kinds: Mapping[str, str]) -> str:
    """Return the kinds of the arguments that can be of several, and those that need not be there, in words."""
    there = [argument for argument in helper.arguments if argument.name in kinds]
    named = {each.name: f"{each.name} as {kinds[each.name]}" for each in there if len(each.kinds) > 1}
    return " and ".join(named.get(each.name, each.name) for each in there if each.name in named or not each.required)


def kinds_of(helper: Contract, given: Given) -> Mapping[str, str]:
    """Return the kind of each value; one that its argument does not accept is refused."""
    accepted = {argument.name: argument.kinds for argument in helper.arguments}
    kinds = {}
    for name, worth in given.items():
        kinds[name], *others = dict.fromkeys(_kinds_in(worth))
        if others:
            raise KindsMismatchError(f"{name} has entries as {kinds[name]} and as {others[0]}", helper.choice)
        if isinstance(worth, (Quantity, Recipe)) and kinds[name] not in accepted.get(name, kinds[name]):
            _refuse_kind(name, worth, accepted[name])
    return kinds


def _kinds_in(worth: Worth) -> list[str]:
    """Return the kind of each entry, of what is no list the one there is."""
    match worth:
        case Recipe():
            return [RECIPE]
        case Choice(word):
            return [word]
        case Listed(entries):
            return [entry.unit.kind.name for entry in entries]
        case Pairs(pairs):
            return [" / ".join(half.unit.kind.name for half in pair) for pair in pairs]
        case Groups(groups):
            return [entry.unit.kind.name for group in groups for entry in group]
    return [worth.unit.kind.name]


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


def require_in_domain(helper: Contract, variant: Variant, given: Given) -> None:
    """Refuse a value outside its argument's range, or two that break a condition of the helper."""
    values: dict[str, Quantity] = {}
    for name, worth in given.items():
        found = facts_of(name, worth)
        values |= found
        for part, quantity in () if isinstance(worth, Recipe) else found.items():
            _require_in_range(helper.argument(name), part.rpartition(".")[2], quantity)
    for condition in helper.conditions:
        if isinstance(condition, TotalAtMost):
            _require_total(condition, given)
        elif isinstance(condition, NeverWith):
            _require_apart(condition, given)
        elif condition.unless not in values:
            _require_condition(condition, variant, given)


def _require_apart(condition: NeverWith, given: Given) -> None:
    pairs = ((condition.name, condition.word), (condition.other, condition.other_word))
    if all(given.get(name) == Choice(word) for name, word in pairs):
        words = [f"{name} '{word}'" for name, word in pairs]
        raise OutOfDomainError(f" {condition.broken} ".join(words), condition.hint)


def _require_total(condition: TotalAtMost, given: Given) -> None:
    worth = given.get(condition.name)
    firsts = [first for first, _ in worth.entries] if isinstance(worth, Pairs) else []
    most = condition.most.quantity
    total = Quantity(sum((first.value for first in firsts), Fraction(0)), most.unit)
    if total.value > most.value:
        texts = [quantity_text(each) for each in (total, most)]
        raise OutOfDomainError(f"{condition.name} add up to '{texts[0]}', more than '{texts[1]}'", condition.hint)


def _require_in_range(argument: Argument, part: str, quantity: Quantity) -> None:
    most, low = quantity.unit.kind.most, argument.low_of(part, quantity.unit.kind.name)
    high = argument.high if most is None else Bound(most, inclusive=True)
    ends = [words for words in (_low_words(low, quantity), _high_words(high, quantity)) if words]
    if not _is_above(low, quantity.value) or not _is_below(high, quantity.value):
        wanted = " and ".join(ends)
        place = f"the {part} half of {argument.name}" if argument.pair_kinds else argument.name
        raise OutOfDomainError(
            f"{argument.name} '{quantity_text(quantity)}' is not {wanted}", f"give {place} a value {wanted}"
        )

    if argument.is_whole and quantity.value.denominator != 1:
        raise OutOfDomainError(
            f"{argument.name} '{quantity_text(quantity)}' is no whole number", f"give {argument.name} a whole number"
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
    return short_quantity(Quantity(bound.value, unit), _DIGITS)[0]


def _require_condition(condition: AtMost, variant: Variant, given: Given) -> None:
    """Refuse two values that break a condition; of a list, each entry has to hold."""
    sides = [_sides(variant, name, given) for name in (condition.name, condition.other)]
    for (left, left_words), (right, right_words) in product(*sides):
        if left > right or (isinstance(condition, Below) and left == right):
            raise OutOfDomainError(f"{left_words} {condition.broken} {right_words}", condition.hint)


def _sides(variant: Variant, name: str, given: Given) -> tuple[tuple[Fraction, str], ...]:
    """Return the values that an argument stands for, with words for each; none when it is not given."""
    worth = given.get(name)
    if isinstance(worth, Listed):
        return tuple((entry.value, _named(name, entry)) for entry in worth.entries)
    side = variant.operand(name)
    found = {each: given.get(each) for each in names_in(side)}
    values = {each: quantity for each, quantity in found.items() if isinstance(quantity, Quantity)}
    if len(values) < len(found):
        return ()
    numbers = {each: quantity.value for each, quantity in values.items()}
    return ((evaluate(side, numbers), " with ".join(_named(each, quantity) for each, quantity in values.items())),)


def _named(name: str, quantity: Quantity) -> str:
    return f"{name} '{quantity_text(quantity)}'"


def require_possible(name: str, result: Quantity) -> None:
    """Refuse a result beyond the top of its scale: such a share or strength cannot be."""
    most = result.unit.kind.most
    if most is not None and result.value > most:
        top = _in_unit(Bound(most, inclusive=True), result.unit)
        shown = short_quantity(result, _DIGITS)[0]
        raise OutOfDomainError(f"{name} comes out as {shown}, more than {top}", "look for a wrong value or unit")
