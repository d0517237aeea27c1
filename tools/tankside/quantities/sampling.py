"""How many bottles of a lot are weighed, and how many of those may be short, by the published plans."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from tankside.quantities.refusals import OutOfDomainError, SampleSizeError


@dataclass(frozen=True)
class Plan:
    """A plan for a lot and a sample of it."""

    #: with at most so many short ones the lot is accepted
    accept: int
    #: with so many it is rejected; between the two a second sample decides
    reject: int
    #: how many to weigh for the second sample
    second: int = 0
    #: standard deviations by which the mean may be below the nominal content; None where the law has a formula for it
    factor: Fraction | None = None
    #: whether every bottle of the lot is weighed
    is_whole_lot: bool = False


#: Below this size every bottle is weighed; the size of the largest lot.
_WHOLE_BELOW: Final = 100
_LARGEST: Final = 10_000
#: Upper end of the lot -> weights -> plan. The first is the single plan, the others are the steps of the double plan.
_EUROPEAN: Final = {
    500: {50: Plan(3, 4), 30: Plan(1, 3, second=30), 60: Plan(4, 5)},
    3_200: {80: Plan(5, 6), 50: Plan(2, 5, second=50), 100: Plan(6, 7)},
    _LARGEST: {125: Plan(7, 8), 80: Plan(3, 7, second=80), 160: Plan(8, 9)},
}
#: Upper end of the lot -> weights and plan; NIST Handbook 133, category A, from memory. The factors are as printed.
_AMERICAN: Final = {
    250: (12, Plan(0, 1, factor=Fraction("0.635"))),
    3_200: (24, Plan(0, 1, factor=Fraction("0.422"))),
}
_AMERICAN_LARGEST: Final = (48, Plan(1, 2, factor=Fraction("0.291")))
_AMERICAN_WHOLE_TO: Final = 11


def european_plan(lot: int, count: int) -> Plan:
    """Return the plan for a sample of ``count``; the number of weights tells the single from the double plan."""
    if lot > _LARGEST:
        raise OutOfDomainError(f"lot '{lot}' is more than {_LARGEST}", "divide it into lots, an hour's output at most")
    if lot < _WHOLE_BELOW:
        _require_all(lot, count)
        # At most 5 % may be short.
        return Plan(lot // 20, lot // 20 + 1, is_whole_lot=True)
    plans = next(plans for end, plans in _EUROPEAN.items() if lot <= end)
    if count not in plans:
        single, first, both = plans
        raise SampleSizeError(
            f"a lot of {lot} is judged on {single} weights, or in two steps on {first} and {both}; there are {count}",
            f"weigh {single} bottles, drawn at random",
        )
    return plans[count]


def american_plan(lot: int, count: int) -> Plan:
    """Return the plan for a sample of ``count``."""
    if lot <= _AMERICAN_WHOLE_TO:
        _require_all(lot, count)
        return Plan(0, 1, is_whole_lot=True)
    wanted, plan = next((each for end, each in _AMERICAN.items() if lot <= end), _AMERICAN_LARGEST)
    if count != wanted:
        raise SampleSizeError(
            f"a lot of {lot} is judged on {wanted} weights; there are {count}",
            f"weigh {wanted} bottles, drawn at random",
        )
    return plan


def _require_all(lot: int, count: int) -> None:
    if count != lot:
        raise SampleSizeError(
            f"every bottle of a lot of {lot} is weighed; there are {count} weights", f"weigh all {lot} bottles"
        )
