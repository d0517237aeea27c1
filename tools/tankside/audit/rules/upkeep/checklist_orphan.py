"""A checklist that belongs to no working day."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.rule import Family, Found, Weight, practice, rule
from tankside.problems import quoted


@rule(
    Family.UPKEEP,
    Weight.SHOULD,
    practice("what is followed is rehearsed together with what was done before it on the same day"),
)
def checklist_orphan(audited: Audited) -> Iterator[Found]:
    """Each checklist that is followed step by step stands in a working day.

    Looked at are the checklists that list steps, and `days` in book.yaml. In a day the dry run goes through one
    checklist after the other, and assumes nothing that none of them has brought about. A checklist by itself is
    rehearsed on its own, and its prerequisites are simply believed.

    Fails:
        # checklists/first-day.yaml
        lists: steps

    Passes:
        # checklists/first-day.yaml
        lists: steps
        # procedures/plant/book.yaml
        days:
          day-of-a-new-hire: [first-day]
    """
    in_days = {str(name) for names in audited.plant.facts.days.values() for name in names}
    for name, checklist in audited.book.checklists.items():
        if checklist.is_followed and str(name) not in in_days:
            yield Found(
                str(name),
                checklist.checklist.span,
                f"checklist {quoted(checklist.checklist)} stands in no working day",
                "name it under 'days' in book.yaml, after the checklists that come before it",
            )
