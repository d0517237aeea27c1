"""A hazardous material without a procedure for its spills."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.emergency import against_spills, unhandled
from tankside.audit.rule import Family, Found, Weight, memory, read, rule


@rule(
    Family.EMERGENCIES,
    Weight.MUST,
    read("29 CFR 1910.120", "", "a release that people on the spot can control is told apart from an emergency"),
    memory("29 CFR 1910.1200", "App. D", "section 6 of a data sheet says how a release is contained and taken up"),
)
def spill_procedure_missing(audited: Audited) -> Iterator[Found]:
    """For spills of each hazardous material there is an emergency procedure.

    A material is hazardous when its label has a signal word. A procedure is for spills when it is an emergency
    procedure and `needs` a spill kit; it must name the material under `handles`, because absorbent, gloves and pail
    that are right for one liquid are wrong for another.

    Add the material there after you have compared section 6 of its data sheet with the steps.

    Fails:
        # procedures/safety/small-spill.yaml
        handles: [sample-cleaner]

    Passes:
        # procedures/safety/small-spill.yaml
        handles: [sample-cleaner, sample-concentrate]
    """
    handled = {str(name) for each in against_spills(audited) for name in each.handles}
    hint = "name it under 'handles' of the emergency procedure that needs a spill kit"
    yield from unhandled(audited, handled.__contains__, "spills", hint)
