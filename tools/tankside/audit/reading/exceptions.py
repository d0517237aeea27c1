"""The exceptions of a book that still count."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.dates import day_of
from tankside.model.facts import RuleException


def counting(audited: Audited) -> Iterator[RuleException]:
    """Return the exceptions that have not expired."""
    return (each for each in audited.plant.facts.exceptions if day_of(each.until) >= audited.day)
