"""Whether what stands in a vessel thins a concentrate, or is one."""

from collections.abc import Callable, Iterable
from fractions import Fraction

from tankside.audit.reading.substances import by_id, is_strong, is_watery
from tankside.model.facts import Material, Materials
from tankside.plant.volumes import NOTHING, Contents, Interval


def thins(materials: Materials, held: Contents, added: Fraction) -> bool:
    """Return whether water stands there for sure, and no less of it than is added [L]."""
    water = _amount(materials, held, is_watery)
    return water.low > 0 and water.low >= added


def is_concentrate(materials: Materials, held: Contents) -> bool:
    """Return whether more concentrated acid or alkali than water stands there for sure."""
    strong = _amount(materials, held, lambda each: is_strong(materials, each))
    return strong.low > _amount(materials, held, is_watery).high


def _amount(materials: Materials, held: Contents, is_meant: Callable[[Material], bool]) -> Interval:
    known = by_id(materials)
    return _sum(part for name, part in held.parts if is_meant(known[name]))


def _sum(parts: Iterable[Interval]) -> Interval:
    found = NOTHING
    for part in parts:
        found = found.plus(part)
    return found
