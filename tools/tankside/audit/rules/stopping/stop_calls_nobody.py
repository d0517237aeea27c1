"""A safe stop that the second person does not hear of."""

import re
from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.wording import in_english
from tankside.audit.rule import Family, Found, Weight, practice, rule
from tankside.problems import quoted

TELLING = re.compile(r"\b(?:call|tell|shout|ask|warn|inform|alert|notify)\b", re.IGNORECASE)


@rule(
    Family.STOPPING,
    Weight.SHOULD,
    practice("whoever stops says so, and the second person looks after the rest"),
)
def stop_calls_nobody(audited: Audited) -> Iterator[Found]:
    """Where a second person is in the room, `stop_safely` says who is told.

    Looked at are procedures with `second_person: in the room` that are no emergencies. One of the words call, tell,
    shout, ask, warn, inform, alert or notify must stand in `stop_safely`.

    Two people who work on one plant must not start again, each for themselves, what the other has stopped.

    Fails:
        # procedures/filling/example.yaml
        stop_safely: P1 off, V1, V2 and V3 shut, step back.

    Passes:
        # procedures/filling/example.yaml
        stop_safely: P1 off, V1, V2 and V3 shut, step back, tell the second person.
    """
    for procedure in in_english(audited):
        text = procedure.stop_safely
        if procedure.second_person == "in the room" and not procedure.is_emergency and not TELLING.search(text):
            message = f"'stop_safely' tells nobody, and a second person is in the room: {quoted(text)}"
            yield Found(str(procedure.procedure), text.span, message, "end it with 'tell the second person'")
