"""A caution that sends to a procedure which may be shut."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.rule import Family, Found, Weight, practice, read, rule
from tankside.model.steps import Caution, every
from tankside.problems import quoted


@rule(
    Family.EMERGENCIES,
    Weight.MUST,
    read("29 CFR 1910.151", "(c)", "the water is there for immediate use"),
    practice("what is done first when it happens is open at once, without a question before it"),
)
def if_it_happens_not_emergency(audited: Audited) -> Iterator[Found]:
    """What `if_it_happens` of a caution names is an emergency procedure.

    An emergency procedure opens with one touch and asks for nothing first. Any other has prerequisites, and whoever
    is wet with a corrosive would read them.

    Fails:
        # procedures/filling/example.yaml
        steps:
          - warning: The concentrate splashes.
            harm: It burns eyes and skin and can blind.
            avoid: Face away from the stream, goggles on.
            if_it_happens: rinse-tank
            covers: [pour-off]
          - do: Pour the concentrate off into its drum.
            step: pour-off

    Passes:
        # procedures/filling/example.yaml
        steps:
          - warning: The concentrate splashes.
            harm: It burns eyes and skin and can blind.
            avoid: Face away from the stream, goggles on.
            if_it_happens: splash
            covers: [pour-off]
          - do: Pour the concentrate off into its drum.
            step: pour-off
    """
    open_at_once = {str(each.procedure) for each in audited.procedures if each.is_emergency}
    for procedure in audited.procedures:
        for item in every(procedure.steps):
            named = item.if_it_happens if isinstance(item, Caution) else None
            if named is not None and named not in open_at_once:
                message = f"'if_it_happens' names {quoted(named)}, which is no emergency procedure"
                hint = "name one that is, or give that one 'emergency: yes' and take away what stands before it"
                yield Found(str(procedure.procedure), named.span, message, hint)
