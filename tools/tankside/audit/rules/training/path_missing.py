"""A role that works with liquids or locks, for which nobody has written what is learnt in which order."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.rule import Family, Found, Weight, memory, read, rule
from tankside.model.procedures import Procedure
from tankside.model.steps import Isolate, every
from tankside.problems import quoted


@rule(
    Family.TRAINING,
    Weight.SHOULD,
    read(
        "29 CFR 1910.1200", "(h)(1)", "people are trained at their first assignment, and whenever a new hazard comes in"
    ),
    memory(
        "29 CFR 1910.147",
        "(c)(7)(i)",
        "people are trained so that they know how energy is isolated, by their part in it",
    ),
)
def path_missing(audited: Audited) -> Iterator[Found]:
    """Each role that meets hazardous liquids or puts on locks has a path of training.

    A path in training.yaml says what somebody learns for a role, in which order, and how far. Emergencies are part of
    every path, and no role is trained for them alone.

    Fails:
        # procedures/batch/blend-sample-batch.yaml
        done_by: workshop-lead

    Passes:
        # procedures/batch/blend-sample-batch.yaml
        done_by: workshop-lead
        # procedures/plant/training.yaml
        lapses:
          usual:
            after: 365 d
            unused_for: 180 d
            because: Once a year, common practice.
        paths:
          lead:
            title: To blend alone
            role: workshop-lead
            parts:
              - title: The tank
                day: 1
                items:
                  - learn: blend-sample-batch
                    to: alone
    """
    trained = {str(path.role) for path in audited.plant.training.paths.values()}
    told: set[str] = set()
    for procedure in audited.procedures:
        role = procedure.done_by
        if role in trained or str(role) in told or procedure.is_emergency or not _is_dangerous(audited, procedure):
            continue
        told.add(str(role))
        hint = f"add a path to training.yaml with 'role: {role}'"
        yield Found("book", role.span, f"role {quoted(role)} has no path of training", hint)


def _is_dangerous(audited: Audited, procedure: Procedure) -> bool:
    is_locking = any(isinstance(item, Isolate) for item in every(procedure.steps))
    return is_locking or any(audited.exposed(procedure).values())
