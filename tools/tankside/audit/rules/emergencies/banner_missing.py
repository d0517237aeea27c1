"""An emergency procedure of which nothing can be read from across the room."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.emergency import emergencies
from tankside.audit.rule import Family, Found, Weight, practice, rule
from tankside.model.sheets import BANNER
from tankside.problems import quoted


@rule(
    Family.EMERGENCIES,
    Weight.SHOULD,
    practice("the first lines of an emergency hang where it happens, and are read from across the room"),
)
def banner_missing(audited: Audited) -> Iterator[Found]:
    """A banner of each emergency procedure hangs somewhere.

    All steps of an emergency are read from 0.7 m, its banner from 2 m. In sheets.yaml stands which steps are on the
    banner, and where it hangs.

    Fails:
        # procedures/safety/leave-now.yaml
        emergency: yes

    Passes:
        # procedures/plant/sheets.yaml
        places:
          door: Inside of the door
        sheets:
          leave-banner:
            kind: banner
            of: leave-now
            steps: [leave]
            hangs: [door]
        # procedures/safety/leave-now.yaml
        emergency: yes
        steps:
          - do: Leave now by the nearest door.
            step: leave
    """
    sheets = audited.plant.sheets.sheets.values()
    hung = {str(each.of) for each in sheets if each.kind == BANNER and each.hangs}
    for procedure in emergencies(audited):
        name = procedure.procedure
        if name not in hung:
            hint = f"add a sheet to sheets.yaml: 'kind: banner', 'of: {name}', 'steps: ...', 'hangs: ...'"
            yield Found(str(name), name.span, f"no banner of {quoted(name)} hangs anywhere", hint)
