"""The exceptions of a book: which of them still count, and whether what they except is still found."""

from collections.abc import Iterator
from importlib import import_module
from pkgutil import walk_packages

from tankside.audit import rules
from tankside.audit.audited import Audited
from tankside.audit.reading.dates import day_of
from tankside.audit.rule import Rule
from tankside.model.facts import RuleException


def counting(audited: Audited) -> Iterator[RuleException]:
    """Return the exceptions that have not expired."""
    return (each for each in audited.plant.facts.exceptions if day_of(each.until) >= audited.day)


def expired(audited: Audited) -> Iterator[RuleException]:
    """Return the exceptions that have expired."""
    return (each for each in audited.plant.facts.exceptions if day_of(each.until) < audited.day)


def is_still_found(written: RuleException, audited: Audited) -> bool:
    """Return whether the rule that an exception names still finds what it excepts."""
    return any(found.at == written.at for rule in _named(written.rule) for found in rule.check(audited))


def _named(code: str) -> Iterator[Rule]:
    """Return the rule with a code; the registry cannot be asked, for it needs every rule before there is one."""
    name = code.replace("-", "_")
    for module in walk_packages(rules.__path__, f"{rules.__name__}."):
        if module.name.rpartition(".")[2] == name and not module.ispkg:
            yield getattr(import_module(module.name), name)
