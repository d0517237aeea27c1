"""A safe stop whose words leave out what its claims promise."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.safe_stop import stop_of
from tankside.audit.reading.wording import in_english
from tankside.audit.rule import Family, Found, Weight, practice, rule
from tankside.plant.judging.faults import listed


@rule(
    Family.STOPPING,
    Weight.MUST,
    practice("people do what they read: what the dry run counts on must stand in the words"),
)
def stop_says_other(audited: Audited) -> Iterator[Found]:
    """`stop_safely` says, of every piece in `stop_leaves`, that something is done about it.

    The dry run proves the claims of `stop_leaves`; people read `stop_safely`. Each tag of a claim must stand in the
    words: as it is, within a row such as V1 to V5, or by what all of its kind are called, such as pumps, mixers,
    valves or hatches. One word for one piece will do where the claims are about a single one of that kind. A pump
    that draws from a drum may be called a trigger. `what runs` and `what is open` are words for all.

    Fails:
        # procedures/filling/example.yaml
        stop_safely: V1, V2 and V3 shut, tell the second person.
        stop_leaves:
          - P1 stopped
          - V1, V2 and V3 shut

    Passes:
        # procedures/filling/example.yaml
        stop_safely: Pump off, V1 to V3 shut, tell the second person.
        stop_leaves:
          - P1 stopped
          - V1, V2 and V3 shut
    """
    for procedure in in_english(audited):
        unsaid = tuple(stop_of(audited, procedure).unsaid())
        if unsaid:
            tags = listed(unsaid)
            yield Found(
                str(procedure.procedure),
                procedure.stop_safely.span,
                f"'stop_safely' says nothing of {tags}, and 'stop_leaves' makes claims about it",
                f"say in words what is done about {tags}",
            )
