"""All rules on one book: what they find, how much it counts, and what is excepted until when."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from tankside.audit.audited import Audited
from tankside.audit.registry import RULES
from tankside.audit.rule import Family, Found, Rule, Weight
from tankside.catalogue import Book
from tankside.model.facts import RuleException
from tankside.plant.rehearsal import Rehearsal
from tankside.problems import Problem, Severity, Span, meant, quoted

#: what a finding about the book as a whole is about
BOOK = "book"
#: how programs that know only two severities take a weight
SEVERITY = {Weight.MUST: Severity.ERROR, Weight.SHOULD: Severity.REMARK}


@dataclass(frozen=True)
class Finding:
    """What a rule found, with how much it counts in this book."""

    rule: Rule
    weight: Weight
    found: Found

    @property
    def key(self) -> tuple[Span, str, str]:
        """What findings are sorted by: their place first."""
        return self.found.span, self.rule.code, self.found.message

    @property
    def same(self) -> tuple[str, str, str]:
        """What stays the same when lines move: the rule, what it is about, what is wrong."""
        return self.rule.code, self.found.at, self.found.message

    def as_text(self) -> str:
        """Return the two lines that a person reads."""
        found = self.found
        return f"{found.span}: {self.weight}: {found.message} [{self.rule.code}]\n    hint: {found.hint}"

    def as_problem(self) -> Problem:
        """Return it as other programs take problems."""
        found = self.found
        return Problem(found.span, self.rule.code, found.message, found.hint, SEVERITY[self.weight])


@dataclass(frozen=True)
class Granted:
    """An exception of the book, on a day."""

    written: RuleException
    is_expired: bool
    #: what it excepts, or would except were it not expired
    findings: tuple[Finding, ...]


@dataclass(frozen=True)
class Audit:
    """What an audit of a book gave."""

    day: date
    rules: tuple[Rule, ...]
    #: sorted by place, without what is excepted
    findings: tuple[Finding, ...]
    granted: tuple[Granted, ...]
    #: the ids of all procedures and checklists
    written: frozenset[str]

    @cached_property
    def drafts(self) -> Mapping[str, tuple[Finding, ...]]:
        """The procedures and checklists that are not for use, with every `must` that is open in them."""
        found: dict[str, list[Finding]] = {}
        for each in self.findings:
            if each.weight is Weight.MUST and each.found.at in self.written:
                found.setdefault(each.found.at, []).append(each)
        return {name: tuple(all_) for name, all_ in found.items()}

    @property
    def has_must(self) -> bool:
        """Whether any `must` is open."""
        return any(each.weight is Weight.MUST for each in self.findings)

    def at(self, name: str, family: Family) -> tuple[Finding, ...]:
        """Return what a family of rules found in a procedure or checklist, or in "" for the workshop as a whole."""
        return tuple(
            each
            for each in self.findings
            if each.rule.family is family and (each.found.at if each.found.at in self.written else "") == name
        )


def audit_of(rehearsal: Rehearsal, day: date, rules: Collection[Rule] = RULES) -> Audit:
    """Return the audit of a book on a day, by some or all rules."""
    book = rehearsal.worked.book
    audited = Audited(rehearsal, day)
    jurisdiction = str(book.plant.facts.jurisdiction)
    all_ = sorted(_findings(audited, rules, jurisdiction), key=lambda each: each.key)
    codes = {each.code for each in rules}
    granted = tuple(_granted(each, all_, day) for each in book.plant.facts.exceptions if each.rule in codes)
    excepted = {each.key for one in granted if not one.is_expired for each in one.findings}
    written = frozenset(map(str, (*book.procedures, *book.checklists)))
    return Audit(day, tuple(rules), tuple(each for each in all_ if each.key not in excepted), granted, written)


def _findings(audited: Audited, rules: Iterable[Rule], jurisdiction: str) -> Iterator[Finding]:
    for each in rules:
        weight = each.weight_in(jurisdiction)
        for found in dict.fromkeys(each.check(audited)):
            yield Finding(each, weight, found)


def stray_exceptions(book: Book) -> Iterator[Problem]:
    """Return the exceptions of a book that name no rule, or nothing that a rule could be about."""
    plant = book.plant
    known = {*book.procedures, *book.checklists, *plant.equipment.equipment, *plant.equipment.protective_equipment}
    known |= {*plant.materials.materials, *plant.products.products, *plant.roles.roles, *plant.facts.hazard_assessments}
    subjects = {*map(str, known), BOOK}
    codes = {rule.code for rule in RULES}
    for each in plant.facts.exceptions:
        if each.rule not in codes:
            hint = meant(each.rule, codes, "'tankside audit --explain all' lists the rules")
            yield Problem(each.rule.span, "exception-stray", f"{quoted(each.rule)} is no rule of the audit", hint)
        if each.at not in subjects:
            hint = meant(each.at, subjects, f"name what the finding is about, or '{BOOK}'")
            yield Problem(each.at.span, "exception-stray", f"{quoted(each.at)} is nothing a finding can be about", hint)


def _granted(written: RuleException, findings: Iterable[Finding], day: date) -> Granted:
    meant = tuple(each for each in findings if each.rule.code == written.rule and each.found.at == written.at)
    return Granted(written, date.fromisoformat(written.until) < day, meant)
