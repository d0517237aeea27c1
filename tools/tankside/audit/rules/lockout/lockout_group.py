"""A lockout that does not say what happens when it is no longer one person."""

from collections.abc import Iterator
from re import Pattern

from tankside.audit.audited import Audited
from tankside.audit.reading.lockout_words import LOCK, ONE_ONLY, OWN, SEVERAL, SHIFT
from tankside.audit.reading.lockouts import Lockout, lockouts
from tankside.audit.reading.wording import texts_of
from tankside.audit.rule import Family, Found, Weight, read, rule
from tankside.model.procedures import Procedure


@rule(
    Family.LOCKOUT,
    Weight.MUST,
    read("29 CFR 1910.147", "(f)(3)", "when several work on a machine, each puts on a lock of their own"),
    read("29 CFR 1910.147", "(f)(4)", "at a change of shift the protection goes on without a gap"),
    law="US",
)
def lockout_group(audited: Audited) -> Iterator[Found]:
    """A lockout procedure says what happens at a change of shift, and when more than one person works.

    Looked for in the steps and under `if_it_goes_wrong`: words for a change of shift together with locks, and words for
    several people together with their own locks. "Only one person works at it" will do in place of the latter.

    The next person puts their own lock on before the first one comes off; nobody works under the lock of another.

    Fails:
        # procedures/lockout/example.yaml
        steps:
          - lock: P1-plug

    Passes:
        # procedures/lockout/example.yaml
        steps:
          - lock: P1-plug
        if_it_goes_wrong:
          - sign: The shift changes during the work
            do: The next person puts their own lock on before the first one comes off.
          - sign: More than one person works at P1
            do: Each puts their own lock on.
    """
    for lockout in lockouts(audited):
        said = tuple(_said(lockout.procedure, lockout))
        for what, hint in _lacks(said):
            span = lockout.procedure.if_it_goes_wrong[0].sign.span
            yield Found(lockout.name, span, f"it is not said what happens to the locks {what}", hint)


def _lacks(said: tuple[str, ...]) -> Iterator[tuple[str, str]]:
    if not _has(said, SHIFT, LOCK):
        yield "when the shift changes", "write it as a sign: the next lock goes on before the first comes off"
    if not _has(said, SEVERAL, LOCK, OWN) and not _has(said, ONE_ONLY):
        yield "when more than one person works", "write it as a sign: each puts their own lock on every point"


def _said(procedure: Procedure, lockout: Lockout) -> Iterator[str]:
    yield from (f"{each.sign} {each.do}" for each in procedure.if_it_goes_wrong)
    yield from (" ".join(texts_of(each)) for each in lockout.steps)
    yield procedure.scope


def _has(said: tuple[str, ...], *words: Pattern[str]) -> bool:
    return any(all(each.search(text) for each in words) for text in said)
