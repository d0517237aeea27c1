"""A hazardous material without a procedure for its splashes."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.emergency import against_splashes, unhandled
from tankside.audit.rule import Family, Found, Weight, memory, rule


@rule(
    Family.EMERGENCIES,
    Weight.MUST,
    memory("29 CFR 1910.151", "(a) and (b)", "help and first aid are at hand for whoever is hurt at work"),
    memory("29 CFR 1910.1200", "App. D", "section 4 of a data sheet says what is done first when it reaches a person"),
)
def splash_procedure_missing(audited: Audited) -> Iterator[Found]:
    """For splashes of each hazardous material there is an emergency procedure.

    A material is hazardous when its label has a signal word. A procedure is for splashes when it is an emergency
    procedure and `needs` an eyewash or a shower. One that lists nothing under `handles` is for every liquid: water
    comes first, whatever it was. One that lists materials is for those alone.

    Fails:
        # procedures/safety/splash.yaml
        handles: [sample-cleaner]

    Passes:
        # procedures/safety/splash.yaml
        handles: [sample-cleaner, sample-concentrate]
    """
    listed = [{str(name) for name in each.handles} for each in against_splashes(audited)]
    hint = "name it under 'handles' of the emergency procedure that needs an eyewash"
    yield from unhandled(audited, lambda name: any(not all_ or name in all_ for all_ in listed), "splashes", hint)
