"""An eyewash or a shower that is too far away."""

from collections.abc import Iterator
from fractions import Fraction

from tankside.audit.audited import Audited
from tankside.audit.rule import Family, Found, Weight, memory, read, rule
from tankside.compute.facts import quantity
from tankside.problems import quoted

#: seconds to reach it (WAC 296-800-15030)
LONGEST_WAY = Fraction(10)


@rule(
    Family.EMERGENCIES,
    Weight.MUST,
    read("WAC 296-800-15030", "", "it takes no more than ten seconds to reach, and nothing stands in the way"),
    memory("ANSI Z358.1", "", "it is reached within 10 s, on one level, with nothing in the way"),
    read("29 CFR 1910.151", "(c)", "it is there for immediate use; no time is named"),
)
def eyewash_out_of_reach(audited: Audited) -> Iterator[Found]:
    """An eyewash or a shower is reached within 10 s from everything that it serves.

    Looked at is `reach` of each piece of the kind `eyewash` that serves something: the time of the longest way,
    walked. One that does not say it has not been walked to.

    A corrosive damages an eye within seconds, and whoever has it in the eyes cannot see. Measure the way again
    after anything was moved; where it is longer, move the work or the water.

    Fails:
        # procedures/plant/equipment.yaml
        equipment:
          eyewash-1:
            serves: [tank-60]
            reach: 15 s

    Passes:
        # procedures/plant/equipment.yaml
        equipment:
          eyewash-1:
            serves: [tank-60]
            reach: 8 s
    """
    for tag, piece in audited.plant.equipment.equipment.items():
        if piece.kind != "eyewash" or not piece.serves:
            continue
        if piece.reach is None:
            message = f"{quoted(tag)} does not say how long the way to it is"
            yield Found(str(tag), tag.span, message, "walk it from the farthest piece and write the time under 'reach'")
        elif quantity(piece.reach, "time").value > LONGEST_WAY:
            message = f"the way to {quoted(tag)} takes {quoted(piece.reach)}, more than {LONGEST_WAY} s"
            yield Found(
                str(tag), piece.reach.span, message, "set one up within 10 s of what it serves, on the same level"
            )
