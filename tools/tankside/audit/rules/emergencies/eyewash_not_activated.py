"""An eyewash or a shower that nobody lets run."""

from collections.abc import Iterator

from tankside.audit.audited import Audited, placed
from tankside.audit.reading.flushing import found_in_order
from tankside.audit.rule import Family, Found, Weight, read, rule
from tankside.model.procedures import Reference
from tankside.problems import quoted


@rule(
    Family.EMERGENCIES,
    Weight.MUST,
    read("ANSI Z358.1", "", "plumbed units are let run every week, to flush the pipe and to see that they work"),
    read("WAC 296-800-15030", "", "an eyewash functions correctly"),
)
def eyewash_not_activated(audited: Audited) -> Iterator[Found]:
    """Each eyewash and each shower is let run by a checklist.

    Some procedure or section on a checklist that is followed step by step must have a step that finds it `in
    order`. How often the checklist is followed nobody can know from a book; once a week is the least, each working
    day is better.

    Water that stands in the pipe goes bad, and a valve that is never turned sticks.

    Fails:
        # procedures/plant/equipment.yaml
        equipment:
          eyewash-2:
            kind: eyewash
            name: Eyewash at the store
        # procedures/filling/example.yaml
        needs: [eyewash-2]

    Passes:
        # procedures/plant/equipment.yaml
        equipment:
          eyewash-2:
            kind: eyewash
            name: Eyewash at the store
        # procedures/safety/begin.yaml
        steps:
          - check: Both jets of eyewash-2 are clear and even.
            finds:
              - eyewash-2 in order
        # checklists/make-a-batch.yaml
        items:
          - procedure: begin
    """
    run = frozenset[str]().union(*(_run_by(audited, item) for item in _followed(audited)))
    for tag, piece in audited.plant.equipment.equipment.items():
        if piece.kind == "eyewash" and str(tag) not in run:
            yield Found(
                str(tag),
                tag.span,
                f"no checklist that is followed lets {quoted(tag)} run",
                f"add a check with 'finds: {tag} in order' to a procedure of a checklist that is followed each week",
            )


def _followed(audited: Audited) -> Iterator[Reference]:
    for checklist in audited.book.checklists.values():
        if checklist.is_followed:
            yield from checklist.items


def _run_by(audited: Audited, item: Reference) -> frozenset[str]:
    procedure = next(each for each in audited.procedures if each.procedure == item.procedure)
    steps = (
        each.step
        for each in placed(procedure)
        if item.section is None or (each.section and each.section.section == item.section)
    )
    return frozenset[str]().union(*map(found_in_order, steps))
