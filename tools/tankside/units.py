"""Units and quantities: our own table, exact factors, strict reading of decimal text.

The table is ``units.json``. A unit names its kind; the kind carries the dimension vector and tells apart
what a dimension cannot: a share by mass, a share by volume and a plain ratio are three kinds.
A value in base units is ``value * factor + offset``; only temperatures have an offset.
"""

import json
import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from fractions import Fraction
from importlib.resources import files
from types import MappingProxyType
from typing import ClassVar, Final

#: Powers of length, mass, time, temperature, current and amount of substance.
Dimension = tuple[int, ...]

RATIO: Final = "ratio"
STRENGTHS: Final = ("mass fraction", "mass concentration", "volume fraction")
#: Decimal text carries at most this many digits, in and out.
DIGITS: Final = 30

#: A plain decimal number, as it is written everywhere.
NUMBER: Final = re.compile(r"-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?")
_NUMBER_AND_REST: Final = re.compile(rf"({NUMBER.pattern})(.+)")
_DIGIT: Final = re.compile("[0-9]")


class QuantityError(Exception):
    """A value that cannot be used: what is wrong with it, and the way out."""

    code: ClassVar[str]

    def __init__(self, sentence: str, hint: str) -> None:
        super().__init__(f"{sentence}; {hint}")
        self.sentence = sentence
        self.hint = hint


class NumberFormError(QuantityError):
    code = "number-form"


class UnitMissingError(QuantityError):
    code = "unit-missing"


class UnitUnknownError(QuantityError):
    code = "unit-unknown"

    def __init__(self, symbol: str, near: tuple[str, ...], quoted: str) -> None:
        hint = f"write {_either(near)}" if near else "write a unit of the table, such as mL, L, g, kg or US gal"
        super().__init__(f"unit '{symbol}'{_of(quoted)} is not known", hint)
        self.symbol = symbol
        self.near = near


class UnitAmbiguousError(QuantityError):
    code = "unit-ambiguous"

    def __init__(self, symbol: str, choose: tuple[str, ...], quoted: str) -> None:
        super().__init__(f"unit '{symbol}'{_of(quoted)} does not name one size", f"write {_either(choose)}")
        self.symbol = symbol
        self.choose = choose


class StrengthKindMissingError(QuantityError):
    code = "strength-kind-missing"

    def __init__(self, quoted: str, kinds: Collection[str]) -> None:
        choices = [f"%{letters} ({_strength_words(letters)})" for kind, letters in _PERCENTS if kind in kinds]
        super().__init__(f"{quoted} does not say what kind of strength it is", f"write {_listed(choices)}")
        self.kinds = tuple(kinds)


class UnitWrongKindError(QuantityError):
    code = "unit-wrong-kind"


@dataclass(frozen=True)
class Kind:
    """What is measured: the dimension, and the top of the scale where nature sets one."""

    name: str
    dimension: Dimension
    #: largest value there can be, in base units
    most: Fraction | None


@dataclass(frozen=True)
class Unit:
    """A unit of the table."""

    symbol: str
    kind: Kind
    #: base units in one of this unit
    factor: Fraction
    #: base units at this unit's zero
    offset: Fraction

    def to_base(self, value: Fraction) -> Fraction:
        return value * self.factor + self.offset

    def from_base(self, value: Fraction) -> Fraction:
        return (value - self.offset) / self.factor


@dataclass(frozen=True)
class Quantity:
    """An exact value and the unit it was given in."""

    #: in base units
    value: Fraction
    unit: Unit

    def in_unit(self, unit: Unit) -> Fraction:
        """Return the number that stands before ``unit``; a unit of another kind is refused."""
        require_kind(self.unit, (unit.kind.name,), f"unit '{self.unit.symbol}'")
        return unit.from_base(self.value)

    @property
    def number(self) -> Fraction:
        """The number that stands before the unit it was given in."""
        return self.unit.from_base(self.value)


def unit_named(symbol: str, quoted: str = "", kinds: Collection[str] = ()) -> Unit:
    """Return the unit written ``symbol``; unknown and ambiguous ones are refused with what to write.

    ``quoted`` names the value the unit belongs to in the sentence of a refusal; ``kinds`` are those it may be of.
    """
    symbol = _TABLE["aliases"].get(symbol, symbol)
    for entry in _TABLE["ambiguous"]:
        if symbol in entry["spellings"] and entry.get("unless") not in kinds:
            raise UnitAmbiguousError(symbol, tuple(entry["choose"]), quoted)
    if symbol in UNITS:
        return UNITS[symbol]
    raise UnitUnknownError(symbol, _near_misses(symbol), quoted)


def parse_quantity(text: str, kinds: Collection[str] = (), name: str = "") -> Quantity:
    """Read ``12.5 L``: a strict decimal number, a space, a unit of the table.

    Args:
        text: what was written.
        kinds: the kinds accepted, any when empty; where a ratio is, a bare number is read as one.
        name: what the value is for, put before it in the sentence of a refusal.
    """
    text = text.strip()
    quoted = f"{name} '{text}'".lstrip()
    number, _, symbol = text.partition(" ")
    _require_number(number, quoted)
    symbol = symbol.strip()
    if not symbol and RATIO not in kinds:
        raise UnitMissingError(f"{quoted} has no unit", f"write the unit after the number, for example '{number} L'")
    if _DIGIT.match(symbol) and symbol not in UNITS:
        raise NumberFormError(f"{quoted} has a space inside the number", "write the digits without spaces")
    unit = unit_named(symbol, quoted, kinds)
    if kinds:
        require_kind(unit, kinds, quoted)
    return Quantity(unit.to_base(Fraction(number)), unit)


def require_kind(unit: Unit, kinds: Collection[str], quoted: str) -> None:
    """Refuse a unit that is of none of ``kinds``; ``quoted`` names the value in the sentence."""
    if unit.kind.name in kinds:
        return
    if unit.kind.name == RATIO and any(kind in STRENGTHS for kind in kinds):
        raise StrengthKindMissingError(quoted, kinds)
    fitting = [symbol for symbol, other in UNITS.items() if other.kind.name in kinds and symbol]
    wanted = " or ".join(kinds)
    raise UnitWrongKindError(f"{quoted} is of the kind {unit.kind.name}, not {wanted}", f"write {_listed(fitting)}")


def _require_number(number: str, quoted: str) -> None:
    joined = _NUMBER_AND_REST.fullmatch(number)
    if joined and joined[2] in UNITS:
        raise NumberFormError(f"{quoted} has no space before the unit", f"write '{joined[1]} {joined[2]}'")
    if not NUMBER.fullmatch(number):
        way = "leave commas out and use '.' as the decimal mark" if "," in number else "write it like '12.5 L'"
        raise NumberFormError(f"{quoted} does not begin with a plain decimal number", way)
    if sum(map(str.isdigit, number)) > DIGITS:
        raise NumberFormError(f"{quoted} has more than {DIGITS} digits", f"write at most {DIGITS} digits")


def _near_misses(symbol: str) -> tuple[str, ...]:
    if symbol in _TABLE["near"]:
        return (_TABLE["near"][symbol],)
    by_case = tuple(known for known in UNITS if known.casefold() == symbol.casefold())
    return by_case or tuple(get_close_matches(symbol, UNITS, n=3))


#: Percent signs that say what they are a share of.
_PERCENTS: Final = (("mass fraction", "w/w"), ("mass concentration", "w/v"), ("volume fraction", "v/v"))


def _strength_words(letters: str) -> str:
    return {"w/w": "by mass", "w/v": "mass per volume", "v/v": "by volume"}[letters]


def _of(quoted: str) -> str:
    return f" of {quoted}" if quoted else ""


def _either(symbols: Collection[str]) -> str:
    return _listed([f"'{symbol}'" for symbol in symbols])


def _listed(words: Collection[str]) -> str:
    *first, last = words
    return f"{', '.join(first)} or {last}" if first else last


_TABLE = json.loads(files("tankside").joinpath("units.json").read_text(encoding="utf-8"))


def _read_kinds() -> Mapping[str, Kind]:
    entries = _TABLE["kinds"].items()
    return MappingProxyType(
        {
            name: Kind(name, tuple(entry["dimension"]), Fraction(entry["most"]) if "most" in entry else None)
            for name, entry in entries
        }
    )


def _read_units() -> Mapping[str, Unit]:
    return MappingProxyType(
        {
            entry["symbol"]: Unit(
                entry["symbol"], KINDS[entry["kind"]], Fraction(entry["factor"]), Fraction(entry.get("offset", "0"))
            )
            for entry in _TABLE["units"]
        }
    )


KINDS: Final = _read_kinds()
UNITS: Final = _read_units()
