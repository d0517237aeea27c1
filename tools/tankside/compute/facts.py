"""Facts of the plant that amounts can be worked out from: `cleaner-line.hold-up`, `tank-250.heel`."""

from collections.abc import Callable, Mapping
from fractions import Fraction
from functools import cache

from tankside.compute.trouble import CannotWorkOutError, NotResolvedError, standing_at
from tankside.loading.values import Text
from tankside.model.facts import Equipment, Limits, Piece, Shape
from tankside.model.references import Sign
from tankside.problems import Problem, meant
from tankside.quantities.calculation import calculate
from tankside.quantities.given import Choice, Given
from tankside.quantities.registry import HELPERS
from tankside.units import Quantity, parse_quantity


def quantity(text: Text, *kinds: str, sign: Sign = "any") -> Quantity:
    """Return the quantity that a text of the book says.

    Raises:
        CannotWorkOutError: the text is no number with a known unit of one of these kinds, or not of this sign.
    """
    with standing_at(text.span):
        found = parse_quantity(text, kinds)
    if (sign == "above 0" and found.value <= 0) or (sign == "at least 0" and found.value < 0):
        problem = Problem(text.span, "out-of-domain", f"'{text}' is not {sign}", f"write a value {sign}")
        raise CannotWorkOutError(problem)
    return found


@cache
def hold_up(piece: Piece) -> Quantity | None:
    """Return what a line holds when full: its runs as cylinders, and the extra volume of its fittings.

    Raises:
        CannotWorkOutError: a bore or length is out of its range.
    """
    if not piece.runs:
        return None
    litres = []
    for run in piece.runs:
        bore, length = (quantity(each, "length", sign="above 0") for each in (run.bore, run.length))
        with standing_at(run.bore.span):
            litres.append(calculate(HELPERS["line-volume"], {"bore": bore, "length": length}).results["volume"])
    whole = sum((each.value for each in litres), Fraction(0))
    extra = Fraction(0) if piece.extra is None else quantity(piece.extra, "volume", sign="at least 0").value
    return Quantity(whole + extra, litres[0].unit)


def sizes_of(shape: Shape) -> Given:
    """Return a tank's shape as the helpers for tanks take it.

    Raises:
        CannotWorkOutError: a size is no length above 0.
    """
    written = ((name, getattr(shape, name)) for name in ("diameter", "length", "cone_depth", "width", "height"))
    sizes = {name: quantity(text, "length", sign="above 0") for name, text in written if text is not None}
    return {"shape": Choice(str(shape.form)), **sizes}


def shape_named(equipment: Equipment, name: Text) -> Given:
    """Return the shape of a tank with its sizes, written `tag.shape`.

    Raises:
        CannotWorkOutError: the book does not say the shape of that tank.
        NotResolvedError: there is no such tag.
    """
    tag, _, wanted = name.partition(".")
    piece = equipment.equipment.get(Text(tag, name.span))
    if piece is None:
        raise NotResolvedError
    if wanted != "shape" or piece.shape is None:
        message = f"equipment.yaml does not say '{wanted}' of '{tag}'"
        raise CannotWorkOutError(Problem(name.span, "fact-missing", message, "write it there: 'shape: ...'"))
    return sizes_of(piece.shape)


FACTS: Mapping[str, Callable[[Piece], Quantity | None]] = {
    "capacity": lambda piece: None if piece.capacity is None else quantity(piece.capacity, "volume", sign="above 0"),
    "graduation": lambda piece: None if piece.graduation is None else quantity(piece.graduation, sign="above 0"),
    "heel": lambda piece: None if piece.heel is None else quantity(piece.heel, "volume", sign="at least 0"),
    "hold-up": hold_up,
}


def fact(equipment: Equipment, name: Text) -> Quantity:
    """Return a fact of a piece of equipment, written `tag.fact`.

    Raises:
        CannotWorkOutError: the equipment has no such fact.
    """
    tag, _, wanted = name.partition(".")
    piece = equipment.equipment.get(Text(tag, name.span))
    if piece is None or wanted not in FACTS:
        hint = meant(wanted, FACTS, f"facts are {', '.join(FACTS)}")
        raise CannotWorkOutError(Problem(name.span, "name-unknown", f"'{name}' is not a known fact of the plant", hint))
    found = FACTS[wanted](piece)
    if found is None:
        message = f"equipment.yaml does not say '{wanted}' of '{tag}'"
        raise CannotWorkOutError(Problem(name.span, "fact-missing", message, f"write it there: '{NEEDS[wanted]}: ...'"))
    return found


#: the key of equipment.yaml that a fact comes from
NEEDS = {"capacity": "capacity", "graduation": "graduation", "heel": "heel", "hold-up": "runs"}


def limits_problem(limits: Limits) -> Problem | None:
    """Return what is wrong with a pair of limits: of two kinds, or the wrong way round.

    Raises:
        CannotWorkOutError: one of them is no quantity.
    """
    if limits.from_ is None or limits.to is None:
        return None
    low = quantity(limits.from_)
    high = quantity(limits.to, low.unit.kind.name)
    if low.value < high.value:
        return None
    message = f"from '{limits.from_}' is not below to '{limits.to}'"
    return Problem(limits.from_.span, "limits-reversed", message, "exchange the two, or correct one")
