"""What an amount came to: at the usual value of its input, at each that a table lists, and as a formula."""

from dataclasses import dataclass
from typing import Annotated

from tankside.model.references import BOOKKEEPING
from tankside.quantities.expression import Json
from tankside.quantities.portable import Portable
from tankside.units import Quantity


@dataclass(frozen=True)
class Worked:
    """An amount for one value of the input."""

    #: the input's value; None when the amount does not depend on it
    at: Quantity | None
    exact: Quantity
    #: what to measure out: rounded to the vessel where one is named, else the same as `exact`
    shown: Quantity
    working: tuple[str, ...]


@dataclass(frozen=True)
class WorkedAmount:
    """An amount of a procedure with all that a reader gets of it."""

    name: str
    title: str
    helper: str
    result: str
    #: the input it depends on
    input: str | None
    measure_in: str | None
    #: how far what is measured may be off
    tolerance: Quantity | None
    collect_in: str | None
    #: the formula with this workshop's constants filled in and rounding to the vessel, in base units
    tree: Json
    usual: Worked
    #: the least and the most that is ever measured out, in the whole range of the input
    least: Annotated[Quantity, BOOKKEEPING]
    most: Annotated[Quantity, BOOKKEEPING]
    #: for each value that the sheet lists; empty when it does not depend on the input
    table: tuple[Worked, ...]
    #: how the page works it out for another value of the input, None when it does not depend on one; what it is made
    #: of is in the tree
    live: Annotated[Portable, BOOKKEEPING]
