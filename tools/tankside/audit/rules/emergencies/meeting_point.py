"""People who leave and do not know where to."""

import re
from collections.abc import Iterator

from tankside.audit.audited import Audited, placed
from tankside.audit.reading.emergency import UNWRITTEN, leading_out
from tankside.audit.reading.wording import in_english, texts_of
from tankside.audit.rule import Family, Found, Weight, practice, read, rule
from tankside.model.procedures import Procedure
from tankside.problems import quoted

WORD = re.compile(r"[^\W\d_]{3,}")
#: words that do not say where a place is
SMALL = frozenset(["the", "and", "for", "from", "with", "all", "our", "your", "near", "beside", "behind"])


@rule(
    Family.EMERGENCIES,
    Weight.MUST,
    read("29 CFR 1910.38", "(c)(2)", "an emergency plan says how people get out, and by which way"),
    read("29 CFR 1910.38", "(c)(4)", "after leaving, everybody is accounted for"),
    practice("people can be counted only where all of them go"),
)
def meeting_point(audited: Audited) -> Iterator[Found]:
    """An emergency procedure leads people out, to the meeting point of the book.

    The meeting point must be decided: a text in brackets that asks for it is none. A procedure that leads people
    out is an emergency procedure whose first step begins with leaving: leave, get out, walk out, evacuate. Each of
    these must say the meeting point in one of its steps, with at least half of the words that it has in book.yaml.

    Fails:
        # procedures/plant/book.yaml
        meeting_point: The bus stop at the street
        # procedures/safety/leave-now.yaml
        emergency: yes
        steps:
          - do: Leave now by the nearest door.
          - do: Call 911 from outside.

    Passes:
        # procedures/plant/book.yaml
        meeting_point: The bus stop at the street
        # procedures/safety/leave-now.yaml
        emergency: yes
        steps:
          - do: Leave now by the nearest door.
          - do: Walk to the bus stop.
          - do: Call 911 from there.
    """
    point = audited.plant.facts.meeting_point
    leading = leading_out(audited)
    if in_english(audited) and not leading:
        message = "no emergency procedure begins with leaving, so nobody is led out"
        yield Found("book", point.span, message, "write one whose first step says: leave now, by which door")
    if UNWRITTEN.search(point):
        yield Found(
            "book", point.span, f"the meeting point is {quoted(point)}", "write where everybody meets, in words"
        )
        return
    for procedure in leading:
        if not _says(procedure, point):
            name = procedure.procedure
            message = f"{quoted(name)} leads people out and does not say where they meet, at {quoted(point)}"
            yield Found(str(name), name.span, message, "write a step that leads to the meeting point")


def _says(procedure: Procedure, point: str) -> bool:
    wanted = _words(point)
    spoken = (text for each in placed(procedure) for text in texts_of(each.step))
    return any(2 * len(wanted & _words(text)) >= len(wanted) for text in spoken)


def _words(text: str) -> frozenset[str]:
    return frozenset(WORD.findall(text.lower())) - SMALL
