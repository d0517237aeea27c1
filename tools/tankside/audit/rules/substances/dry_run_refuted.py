"""A procedure that the dry run refutes."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.rule import Family, Found, Weight, practice, read, rule
from tankside.problems import Problem

#: faults of the dry run that a rule of their own is about
OWN_RULES = ("shared-part", "stop-unsafe")


@rule(
    Family.SUBSTANCES,
    Weight.MUST,
    read("EPA-600/2-80-076", "", "which groups of chemicals react when they meet, and how"),
    practice("a procedure is gone through on paper before a person does it"),
)
def dry_run_refuted(audited: Audited) -> Iterator[Found]:
    """Nothing goes wrong in the dry run of any procedure, checklist or day.

    The dry run takes every step in every state that the plant may then be in. It finds liquids that meet and must not,
    a receiver that runs over, a pump that runs dry or against a shut valve, a valve that stays open, a machine that is
    not isolated when hands go in, somebody who is not dressed. Each of these is a finding, with the words of `tankside
    check`. Two have a rule of their own: parts that two liquids share, and a stop that does not make safe.

    Fails:
        # procedures/filling/example.yaml
        steps:
          - start: P1
          - stop: P1

    Passes:
        # procedures/filling/example.yaml
        steps:
          - check: P1 is off.
            finds:
              - P1 stopped
    """
    written = {str(each.span.path): str(each.procedure) for each in audited.procedures}
    written |= {str(each.span.path): str(each.checklist) for each in audited.book.checklists.values()}
    for problem in dict.fromkeys(audited.rehearsal.problems()):
        if problem.code not in OWN_RULES:
            yield _found(problem, written.get(problem.span.path, "book"))


def _found(problem: Problem, at: str) -> Found:
    return Found(at, problem.span, f"the dry run says: {problem.message}", problem.hint)
