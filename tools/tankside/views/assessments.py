"""Hazard assessments, drills and inspections as their page shows them."""

from dataclasses import dataclass

from tankside.catalogue import Book
from tankside.loading.values import Text
from tankside.model.facts import Drill, HazardAssessment, Inspection
from tankside.texts import Words
from tankside.views.plant_facts import Fact

#: kinds of control, the strongest first
STRONGEST_FIRST = ("elimination", "substitution", "engineering", "administrative")


@dataclass(frozen=True)
class Named:
    """A procedure that is led to."""

    id: str
    title: str


@dataclass(frozen=True)
class AssessmentView:
    """A hazard assessment."""

    id: str
    place: str
    procedures: tuple[Named, ...]
    hazards: tuple[str, ...]
    #: the kind of control in words, and what it is; the strongest first
    controls: tuple[tuple[str, str], ...]
    #: names of what is worn
    wear: tuple[str, ...]
    certifies: str
    #: the name of the role
    certified_by: str
    date: str


@dataclass(frozen=True)
class DrillView:
    """An emergency procedure that is practised."""

    procedure: Named
    #: None when it was never practised
    last: str | None
    next: str


@dataclass(frozen=True)
class InspectionView:
    """A lockout procedure that somebody has watched being followed; roles by their names."""

    procedure: Named
    date: str
    by: str
    of: str
    found: str


@dataclass(frozen=True)
class AssessmentsView:
    """All that is shown on the page."""

    assessments: tuple[AssessmentView, ...]
    drills: tuple[DrillView, ...]
    inspections: tuple[InspectionView, ...]
    abbreviations: tuple[Fact, ...]
    #: where the written programme for respirators is found
    respirators: str | None


def assessments_view(book: Book, say: Words) -> AssessmentsView:
    """Return the assessments, drills and inspections of a book as they are shown."""
    facts, names = book.plant.facts, _Names(book, say)
    return AssessmentsView(
        assessments=tuple(names.assessment(str(name), each) for name, each in facts.hazard_assessments.items()),
        drills=tuple(map(names.drill, facts.drills)),
        inspections=tuple(map(names.inspection, facts.inspections)),
        abbreviations=tuple(Fact(str(short), str(text)) for short, text in facts.abbreviations.items()),
        respirators=facts.respirator_programme,
    )


@dataclass(frozen=True)
class _Names:
    """Gives what a book names by id the name that a reader knows."""

    book: Book
    say: Words

    def assessment(self, name: str, written: HazardAssessment) -> AssessmentView:
        controls = sorted(written.controls, key=lambda each: STRONGEST_FIRST.index(each.kind))
        return AssessmentView(
            id=name,
            place=str(written.place),
            procedures=tuple(map(self._procedure, written.procedures)),
            hazards=tuple(map(str, written.hazards)),
            controls=tuple((self.say(f"control-{each.kind}"), str(each.says)) for each in controls),
            wear=tuple(str(self.book.plant.equipment.protective_equipment[each].name) for each in written.wear),
            certifies=str(written.certifies),
            certified_by=self._role(written.certified_by),
            date=str(written.date),
        )

    def drill(self, written: Drill) -> DrillView:
        return DrillView(self._procedure(written.procedure), written.last, str(written.next))

    def inspection(self, written: Inspection) -> InspectionView:
        return InspectionView(
            procedure=self._procedure(written.procedure),
            date=str(written.date),
            by=self._role(written.by),
            of=self._role(written.of),
            found=str(written.found),
        )

    def _procedure(self, name: str) -> Named:
        return Named(str(name), str(self.book.procedures[name].title))

    def _role(self, name: Text) -> str:
        return str(self.book.plant.roles.roles[name].name)
