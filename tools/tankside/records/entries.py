"""What is entered at a step, an amount, a reading or a count: whether it is one, and how it is judged."""

from collections.abc import Callable
from fractions import Fraction

from tankside.quantities.portable import Portable
from tankside.records.copy import Copy, Visit, difference, latest
from tankside.records.worth import entered, is_inside, like, limits, target
from tankside.units import Quantity

#: nothing is against it
FINE = ""
#: what is counted of labels, when they are taken out and when they are put away
COUNTS = ("issued", "used", "spoiled", "left")


def target_of(copy: Copy, visit: Visit) -> tuple[Quantity, Quantity, Quantity]:
    """Return what is to be put in at a step, and the least and the most that is in tolerance."""
    return target(copy.part_of(visit), copy.step_of(visit), copy.inputs)


def number_refusal(copy: Copy, visit: Visit, event: Portable) -> str:
    """Return what is against the value of an event as that of a step."""
    if visit.kind == "add":
        example = target_of(copy, visit)[0]
    else:
        ends = limits(copy.part_of(visit), copy.step_of(visit))
        example = next(each for each in ends if each is not None)
    value = entered(event)
    is_less_than_nothing = visit.kind == "add" and value is not None and value.value < 0
    return FINE if like(value, example) and not is_less_than_nothing else "no-number"


def counts_refusal(copy: Copy, visit: Visit, event: Portable) -> str:
    """Return what is against the counts of an event as those of a step with labels."""
    names = ("issued",) if copy.step_of(visit)["counted"] == "out" else ("used", "spoiled", "left")
    # A count of the other kind of step beside them would be taken for the account.
    fitting = ((name in event) == (name in names) and _is_count(event.get(name, 0)) for name in COUNTS)
    return FINE if all(fitting) else "no-number"


def _is_count(value: Portable) -> bool:
    return isinstance(value, int) and value >= 0


def _weigh(copy: Copy, visit: Visit) -> None:
    """Work out what has been put in, corrections included."""
    _, low, high = target_of(copy, visit)
    visit.total = sum((_worth(copy, seq) for seq in visit.values), Fraction(0))
    visit.is_inside = is_inside(visit.total, low, high)


def _compare(copy: Copy, visit: Visit) -> None:
    visit.total = _worth(copy, visit.values[-1])
    visit.is_inside = is_inside(visit.total, *limits(copy.part_of(visit), copy.step_of(visit)))


def _tally(copy: Copy, visit: Visit) -> None:
    visit.is_inside = difference(copy, visit) == 0


def _worth(copy: Copy, seq: int) -> Fraction:
    value = entered(latest(copy, seq))
    assert value is not None, "what is no number is refused"
    return value.value


#: kind of a step at which something is entered -> how it is judged, corrections included
JUDGED: dict[str, Callable[[Copy, Visit], None]] = {"add": _weigh, "measure": _compare, "labels": _tally}
