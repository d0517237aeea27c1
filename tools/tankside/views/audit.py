"""An audit as its page and sheet show it: procedures down, families of rules across."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from hashlib import sha256

from tankside.audit import Audit, Family, Finding, Weight
from tankside.catalogue import Book
from tankside.edition.making import SHORT
from tankside.model.procedures import Checklist, Procedure


@dataclass(frozen=True)
class CellView:
    """What a family of rules found in a procedure."""

    musts: int
    shoulds: int

    @property
    def sort(self) -> str:
        """The worst of it: must, should or nothing."""
        return "must" if self.musts else "should" if self.shoulds else "nothing"


@dataclass(frozen=True)
class FindingView:
    """A finding with its place and what it rests on."""

    code: str
    weight: str
    message: str
    hint: str
    place: str
    sources: tuple[str, ...]


@dataclass(frozen=True)
class RowView:
    """A procedure or checklist, or the workshop as a whole."""

    #: "" for the workshop
    id: str
    title: str
    cells: tuple[CellView, ...]
    findings: tuple[FindingView, ...]

    @property
    def is_draft(self) -> bool:
        """Whether it is not for use."""
        return bool(self.id) and any(each.musts for each in self.cells)


@dataclass(frozen=True)
class ExceptionView:
    """A finding that the workshop lives with until a day."""

    rule: str
    at: str
    reason: str
    approved: str
    since: str
    until: str
    is_expired: bool
    count: int


@dataclass(frozen=True)
class AuditView:
    """All that is shown of an audit."""

    day: str
    families: tuple[str, ...]
    rules: int
    musts: int
    shoulds: int
    rows: tuple[RowView, ...]
    exceptions: tuple[ExceptionView, ...]
    #: the first digits of the hash of all editions together
    short_hash: str


@dataclass(frozen=True)
class StampView:
    """What stands on a procedure with an open `must`."""

    day: str
    findings: tuple[FindingView, ...]


def audit_view(audit: Audit, book: Book, hashes: Iterable[str], workshop: str) -> AuditView:
    """Return an audit as it is shown; `workshop` is what the row of the workshop as a whole is called."""
    titles = {"": workshop, **{str(name): str(each.title) for name, each in _written(book).items()}}
    counts = Counter(each.weight for each in audit.findings)
    roles = book.plant.roles.roles
    return AuditView(
        day=audit.day.isoformat(),
        families=tuple(each.value for each in Family),
        rules=len(audit.rules),
        musts=counts[Weight.MUST],
        shoulds=counts[Weight.SHOULD],
        rows=tuple(_row(audit, name, title) for name, title in titles.items()),
        exceptions=tuple(
            ExceptionView(
                rule=str(each.written.rule),
                at=str(each.written.at),
                reason=str(each.written.reason),
                approved=str(roles[each.written.approved].name),
                since=str(each.written.since),
                until=str(each.written.until),
                is_expired=each.is_expired,
                count=len(each.findings),
            )
            for each in audit.granted
        ),
        short_hash=sha256("\n".join(sorted(hashes)).encode("ascii")).hexdigest()[:SHORT],
    )


def _written(book: Book) -> Mapping[str, Procedure | Checklist]:
    return {**book.procedures, **book.checklists}


def _row(audit: Audit, name: str, title: str) -> RowView:
    by_family = [audit.at(name, family) for family in Family]
    cells = tuple(_cell(each) for each in by_family)
    return RowView(name, title, cells, tuple(finding_view(each) for all_ in by_family for each in all_))


def _cell(findings: tuple[Finding, ...]) -> CellView:
    musts = sum(each.weight is Weight.MUST for each in findings)
    return CellView(musts, len(findings) - musts)


def finding_view(finding: Finding) -> FindingView:
    """Return a finding as it is shown."""
    found, rule = finding.found, finding.rule
    return FindingView(
        rule.code, finding.weight.value, found.message, found.hint, str(found.span), tuple(map(str, rule.sources))
    )


def stamps(audit: Audit) -> Mapping[str, StampView]:
    """Return what stands on each procedure and checklist that is not for use, by id."""
    day = audit.day.isoformat()
    return {name: StampView(day, tuple(map(finding_view, found))) for name, found in audit.drafts.items()}
