"""Everything of one book that pages are made of, gathered once."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from tankside.audit import Audit
from tankside.catalogue import Book
from tankside.edition import Edition
from tankside.edition.sheets import SheetEdition, sheet_editions
from tankside.memory import remembered, same_if_equal
from tankside.plant.rehearsal import Rehearsal
from tankside.render_site import addresses
from tankside.render_site.addresses import From
from tankside.render_site.rehearsed import Rehearsed, rehearsed
from tankside.templating import Medium
from tankside.texts import Words, words
from tankside.views.audit import AuditView, StampView, audit_view, stamps
from tankside.views.charts import ChartView, chart_views
from tankside.views.meeting import MeetingView, meeting_view
from tankside.views.procedures import ChecklistView, ProcedureView, checklist_view, procedure_view
from tankside.views.training.lessons import Lesson, lesson_of
from tankside.views.training.paths import PathView, path_views


@dataclass(frozen=True)
class Surroundings:
    """What a page must know of the site that it stands in."""

    #: the words of the interface
    say: Words
    #: of all procedures, by id
    addresses: Mapping[str, str]
    #: whether the sheets could be made
    has_sheets: bool

    def medium(self, page: str, *, sections_at: str = "", prefix: str = "") -> Medium:
        """Return how pieces of a template find things from one page; sections of a procedure may stand on another."""
        here = From(page)

        def link(target: tuple[str, str]) -> str:
            sort, name = target
            if sort == "section":
                return f"{sections_at}#section-{name}"
            return here.to(addresses.material(name) if sort == "material" else self.addresses[name])

        return Medium(
            say=self.say,
            sign=lambda code: here.to(addresses.sign(code)),
            mark=lambda name: here.to(addresses.mark(name)),
            picture=lambda name: here.to(addresses.picture(name)),
            link=link,
            prefix=prefix,
        )

    def sheet(self, page: str, name: str) -> str | None:
        """Return the way from a page to the sheet of a procedure or checklist; None when there are no sheets."""
        return From(page).to(addresses.sheet(name)) if self.has_sheets else None


_surroundings = remembered(Surroundings)
_charts = remembered(chart_views)


@dataclass(frozen=True)
class Content:
    """A book, its editions, and what they look like."""

    book: Book
    #: of procedures and checklists, by id
    editions: Mapping[str, Edition]
    language: str
    #: whether the sheets could be made
    has_sheets: bool
    rehearsal: Rehearsal
    audit: Audit

    @cached_property
    def say(self) -> Words:
        """The words of the interface."""
        return words(self.language)

    @cached_property
    def site(self) -> Surroundings:
        """What each page must know of the site."""
        return _surroundings(self.say, same_if_equal("addresses", addresses.procedures(self.book)), self.has_sheets)

    @cached_property
    def procedures(self) -> Mapping[str, ProcedureView]:
        """The views of all procedures, by id."""
        facts, say = self.book.plant.facts, self.say
        return {
            name: procedure_view(self.editions[name], facts, say, is_laminated=False) for name in self.book.procedures
        }

    @cached_property
    def sheets(self) -> Mapping[str, SheetEdition]:
        """Every sheet of the book, by id."""
        return sheet_editions(self.book.plant, self.editions)

    @cached_property
    def rehearsed(self) -> Mapping[str, Rehearsed]:
        """What is shown of the dry runs of all procedures but emergencies, by id."""
        stepping = self.rehearsal.rehearsing.stepping
        return {
            name: rehearsed(stepping(procedure), self.rehearsal.of(name), self.say)
            for name, procedure in self.book.procedures.items()
            if not procedure.is_emergency
        }

    @cached_property
    def audit_view(self) -> AuditView:
        """What the audit found."""
        hashes = (each.hash for each in self.editions.values())
        return audit_view(self.audit, self.book, hashes, self.say("audit-workshop"))

    @cached_property
    def stamps(self) -> Mapping[str, StampView]:
        """What stands on the procedures and checklists that are not for use, by id."""
        return stamps(self.audit)

    def written_at(self, name: str) -> str:
        """Return the address of a procedure or checklist."""
        return self.site.addresses[name] if name in self.book.procedures else addresses.checklist(name)

    @cached_property
    def lessons(self) -> Mapping[str, Lesson]:
        """Every procedure as it is learnt, by id."""
        return {
            name: lesson_of(self.editions[name], shown, self.book.plant, self.say)
            for name, shown in self.procedures.items()
        }

    @cached_property
    def paths(self) -> Mapping[str, PathView]:
        """The paths of training, by id."""
        titles = {name: shown.control.title for name, shown in self.procedures.items()}
        return path_views(self.book.plant, titles, self.say)

    @cached_property
    def meeting(self) -> MeetingView:
        """What meets what."""
        return meeting_view(self.rehearsal)

    @cached_property
    def charts(self) -> tuple[ChartView, ...]:
        """The views of all charts."""
        return _charts(self.book.plant, self.say)

    @cached_property
    def checklists(self) -> Mapping[str, ChecklistView]:
        """The views of all checklists, by id."""
        facts, say = self.book.plant.facts, self.say
        return {
            name: checklist_view(self.editions[name], facts, say, is_laminated=False) for name in self.book.checklists
        }
