"""A path on which hands are laid on before the trainee knows what may happen."""

from collections.abc import Iterator, Mapping

from tankside.audit.audited import Audited
from tankside.audit.rule import Family, Found, Weight, practice, read, rule
from tankside.model.training import ALONE, SUPERVISED, Path, PathItem, PathPart, Training
from tankside.problems import quoted

#: what must come first -> how an item brings it
ORDER = (
    "what must never meet ('pairs: all')",
    "the tags in the room ('find')",
    "protective equipment ('covers: [protective-equipment]')",
    "lockout, at least as somebody affected ('covers: [lockout-affected]')",
)


@rule(
    Family.TRAINING,
    Weight.MUST,
    read(
        "29 CFR 1910.132", "(f)(2)", "who wears protective equipment shows to have understood it before working with it"
    ),
    read("29 CFR 1910.1200", "(h)(1)", "people are told of the hazards in their work area at their first assignment"),
    practice("emergencies, what must never meet, the tags and the locks are learnt before anything is touched"),
)
def path_unprepared(audited: Audited) -> Iterator[Found]:
    """Before the first work with hands, a path leads through what keeps people whole.

    That is: each emergency procedure, what must never meet, protective equipment, lockout as somebody affected, and the
    tags in the room. It may stand on the path on which this one builds. Work with hands is any procedure that is no
    emergency and is learnt under supervision or alone, where nothing says 'touching: no'.

    Fails:
        # procedures/plant/training.yaml
        lapses:
          usual:
            after: 365 d
            unused_for: 180 d
            because: Once a year, common practice.
        paths:
          operator:
            title: To rinse alone
            role: operator
            parts:
              - title: Rinsing
                day: 1
                items:
                  - learn: rinse-tank
                    to: alone

    Passes:
        # procedures/plant/training.yaml
        lapses:
          usual:
            after: 365 d
            unused_for: 180 d
            because: Once a year, common practice.
        paths:
          operator:
            title: To rinse alone
            role: operator
            parts:
              - title: Before anything is touched
                day: 1
                touching: no
                items:
                  - learn: splash
                    to: alone
                  - learn: small-spill
                    to: shown
                  - pairs: all
                  - find: [V1, V2, P1]
                  - learn: protective-equipment
                    to: shown
                    covers: [protective-equipment]
                  - learn: lock-out-pump
                    to: read
                    as: affected
                    covers: [lockout-affected]
              - title: Rinsing
                day: 2
                items:
                  - learn: rinse-tank
                    to: alone
    """
    emergencies = {str(each.procedure): each.is_emergency for each in audited.procedures}
    for name, path in audited.plant.training.paths.items():
        before: list[PathItem] = []
        for part, item in _walked(audited.plant.training, path):
            if _is_work(part, item, emergencies):
                missing = _missing(before, emergencies)
                work = item.learn
                assert work is not None
                if missing:
                    message = f"on path '{name}' {quoted(work)} is done before these are learnt: {', '.join(missing)}"
                    span = work.span if item in path.items else name.span
                    yield Found("book", span, message, "put them before it, in a part with 'touching: no'")
                break
            before.append(item)


def _walked(training: Training, path: Path) -> Iterator[tuple[PathPart, PathItem]]:
    """Return the items of a path, behind those of the path that it builds on."""
    if path.builds_on is not None:
        yield from _walked(training, training.paths[path.builds_on])
    for part in path.parts:
        for item in part.items:
            yield part, item


def _is_work(part: PathPart, item: PathItem, emergencies: Mapping[str, bool]) -> bool:
    is_done = item.learn is not None and item.to in (SUPERVISED, ALONE)
    return is_done and part.touching != "no" and not emergencies[str(item.learn)]


def _missing(before: list[PathItem], emergencies: Mapping[str, bool]) -> list[str]:
    learnt = {str(item.learn) for item in before}
    covered = {str(duty) for item in before for duty in item.covers}
    has = (
        any(item.pairs for item in before),
        any(item.find for item in before),
        "protective-equipment" in covered,
        any(duty.startswith("lockout-") for duty in covered),
    )
    wanted = [name for name, is_emergency in emergencies.items() if is_emergency and name not in learnt]
    return [*wanted, *(words for words, is_there in zip(ORDER, has, strict=True) if not is_there)]
