"""A procedure or checklist that was approved by who does it."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.written import Written, all_written
from tankside.audit.rule import Family, Found, Weight, memory, read, rule
from tankside.problems import quoted


@rule(
    Family.UPKEEP,
    Weight.SHOULD,
    memory(
        "EPA QA/G-6", "section on review and approval", "somebody else than its writer tries a procedure and approves"
    ),
    read("21 CFR 211.22", "(c)", "a unit of its own approves procedures; for makers of drugs, elsewhere good practice"),
)
def approver_is_doer(audited: Audited) -> Iterator[Found]:
    """Nobody approves what they do themselves while there is somebody else who approves.

    Compared are the roles under `approved` and `done_by`. Who does the work every day no longer sees what is missing,
    and does not forbid their own short cut.

    In the smallest workshop there may be nobody else: the lead writes, approves and works. So it is found only when
    another role approves the work of others in the same book, and could approve this, too.

    Fails:
        # procedures/filling/example.yaml
        approved: operator
        done_by: operator

    Passes:
        # procedures/filling/example.yaml
        approved: workshop-lead
        done_by: operator
    """
    everything = tuple(all_written(audited))
    apart = {str(written.approved) for _, written in everything if not _is_own(written)}
    for name, written in everything:
        others = sorted(apart - {str(written.approved)})
        if _is_own(written) and others:
            yield Found(
                name,
                written.approved.span,
                f"{quoted(written.approved)} approved what the same role does",
                f"let another role read and approve it, for example {quoted(others[0])}",
            )


def _is_own(written: Written) -> bool:
    return written.approved == written.done_by
