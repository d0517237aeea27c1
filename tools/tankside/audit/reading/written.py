"""What has a revision, a day of review and a history: procedures and checklists."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.model.procedures import Checklist, Procedure

Written = Procedure | Checklist


def all_written(audited: Audited) -> Iterator[tuple[str, Written]]:
    """Return every procedure and every checklist with its id."""
    for procedure in audited.procedures:
        yield str(procedure.procedure), procedure
    for name, checklist in audited.book.checklists.items():
        yield str(name), checklist
