"""A procedure and a checklist as their pages and sheets show them."""

from dataclasses import dataclass

from tankside.edition import Edition, MaterialShown, Part
from tankside.memory import remembered
from tankside.model.facts import BookFacts, EnergySource, FirstAid
from tankside.model.procedures import Checklist, Procedure
from tankside.texts import Words
from tankside.views.amounts import AmountTexts, AmountView, TableView, amount_views, table_view
from tankside.views.live import LiveView, live_view
from tankside.views.steps import Detail, SectionView, StepTexts
from tankside.views.wording import Run, Sentence

#: what holds where a procedure or checklist does not say how it is followed
READ_THEN_DO = "read then do"


@dataclass(frozen=True)
class Control:
    """What identifies a copy: on every page of a sheet, and at the head of a page."""

    id: str
    title: str
    revision: str
    effective: str
    review: str
    approved: str
    short_hash: str
    live_copy: str


@dataclass(frozen=True)
class WearView:
    """A piece of protective equipment with its sign."""

    sign: str
    name: str
    made_of: str
    breakthrough: str | None
    look_for: str


@dataclass(frozen=True)
class HazardView:
    """A material that is met."""

    id: str
    name: str
    signal_word: str | None
    pictograms: tuple[str, ...]
    says: tuple[str, ...]
    #: what it must never meet, and what happens then
    never_with: tuple[tuple[str, str], ...]
    #: that what it is, is a trade secret, and who tells a doctor; empty where it is no secret
    withheld: str


@dataclass(frozen=True)
class EnergyView:
    """A source of energy that a lockout makes safe."""

    machine: str
    source: EnergySource


@dataclass(frozen=True)
class RemedyView:
    """What one notices, and what one does."""

    sign: Sentence
    do: Sentence
    go_to: Sentence | None


@dataclass(frozen=True)
class ProcedureView:
    """All that is shown of a procedure."""

    control: Control
    family: str
    situation: str
    is_emergency: bool
    #: whether its cautions or the facts of a material it meets are not confirmed
    is_unconfirmed: bool
    scenario: str | None
    purpose: Sentence
    scope: Sentence
    done_by: str
    second_person: str
    #: in a sentence, how its steps are followed; empty in an emergency
    followed: str
    stop_safely: Sentence
    leave_if: tuple[Sentence, ...]
    leave_then: Sentence
    wear: tuple[WearView, ...]
    prerequisites: tuple[Sentence, ...]
    needs: tuple[str, ...]
    hazards: tuple[HazardView, ...]
    first_aid: tuple[tuple[str, tuple[Detail, ...]], ...]
    energy: tuple[EnergyView, ...]
    amounts: tuple[AmountView, ...]
    table: TableView | None
    #: where the amounts can be worked out for another value of the input: on a page that has scripts
    live: LiveView | None
    sections: tuple[SectionView, ...]
    remedies: tuple[RemedyView, ...]
    waste: tuple[Sentence, ...]
    sources: tuple[str, ...]
    history: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True)
class PartView:
    """An item of a checklist."""

    procedure: str
    title: str
    why: str | None
    #: what stands before its steps; empty when the checklist names titles only
    view: ProcedureView | None
    sections: tuple[SectionView, ...]


@dataclass(frozen=True)
class ChecklistView:
    """All that is shown of a checklist."""

    control: Control
    situation: str
    scenario: str | None
    purpose: str
    done_by: str
    #: as of a procedure; empty where it names titles only
    followed: str
    parts: tuple[PartView, ...]
    history: tuple[tuple[str, str, str], ...]

    @property
    def lists_steps(self) -> bool:
        """Whether it shows the steps and not only the titles."""
        return any(part.view is not None for part in self.parts)


@remembered
def procedure_view(edition: Edition, facts: BookFacts, say: Words, *, is_laminated: bool) -> ProcedureView:
    """Return what a page, or with `is_laminated` a sheet, shows of a procedure."""
    procedure = edition.written
    assert isinstance(procedure, Procedure)
    is_live = not is_laminated and not procedure.is_emergency
    amounts = AmountTexts(edition.id, edition.amounts, say, facts.units, is_laminated, is_live)
    steps = StepTexts(edition, amounts, say, facts.units)
    return ProcedureView(
        control=_control(edition, facts),
        family=str(procedure.family),
        situation=str(procedure.situation),
        is_emergency=procedure.is_emergency,
        is_unconfirmed="yes" in (procedure.unconfirmed, *(each.unconfirmed for each in edition.materials.values())),
        scenario=edition.scenario,
        purpose=steps.words(procedure.purpose),
        scope=steps.words(procedure.scope),
        done_by=edition.roles[procedure.done_by],
        second_person=str(procedure.second_person),
        followed="" if procedure.is_emergency else _followed(procedure, say),
        stop_safely=steps.words(procedure.stop_safely),
        leave_if=tuple(map(steps.words, procedure.leave_if.any_of)) if procedure.leave_if else (),
        leave_then=steps.words(procedure.leave_if.then) if procedure.leave_if else (),
        wear=tuple(_wear(edition, name) for name in procedure.wear),
        prerequisites=tuple(_prerequisite(edition, name, say) for name in procedure.prerequisites),
        needs=tuple(f"{tag}: {edition.equipment[tag].name}" for tag in procedure.needs),
        hazards=tuple(_hazard(name, each, say) for name, each in edition.materials.items()),
        first_aid=_first_aid(edition, say) if procedure.is_emergency else (),
        energy=_energy(edition),
        amounts=amount_views(amounts),
        table=table_view(amounts, procedure),
        live=live_view(amounts, procedure),
        sections=steps.sections(),
        remedies=tuple(
            RemedyView(steps.words(each.sign), steps.words(each.do), steps.go_to(each.go_to) if each.go_to else None)
            for each in procedure.if_it_goes_wrong
        ),
        waste=_waste(procedure, steps, say),
        sources=tuple(map(str, procedure.sources)),
        history=_history(procedure),
    )


def checklist_view(edition: Edition, facts: BookFacts, say: Words, *, is_laminated: bool) -> ChecklistView:
    """Return what a page, or with `is_laminated` a sheet, shows of a checklist."""
    checklist = edition.written
    assert isinstance(checklist, Checklist)
    return ChecklistView(
        control=_control(edition, facts),
        situation=str(checklist.situation),
        scenario=edition.scenario,
        purpose=str(checklist.purpose),
        done_by=edition.roles[checklist.done_by],
        followed=_followed(checklist, say) if checklist.is_followed else "",
        parts=tuple(_part(part, facts, say, is_laminated=is_laminated) for part in edition.parts),
        history=_history(checklist),
    )


def _followed(written: Procedure | Checklist, say: Words) -> str:
    return say(f"followed-{(written.followed or READ_THEN_DO).replace(' ', '-')}")


def _control(edition: Edition, facts: BookFacts) -> Control:
    written = edition.written
    return Control(
        id=edition.id,
        title=str(written.title),
        revision=str(written.revision),
        effective=str(written.effective),
        review=str(written.review),
        approved=edition.roles[written.approved],
        short_hash=edition.short_hash,
        live_copy=str(facts.live_copy),
    )


def _wear(edition: Edition, name: str) -> WearView:
    worn = edition.wear[name]
    return WearView(worn.sign, worn.name, worn.made_of, worn.breakthrough, worn.look_for)


def _prerequisite(edition: Edition, name: str, say: Words) -> Sentence:
    condition = edition.conditions[name]
    own = getattr(edition.written, "procedure", None)
    if condition.procedure is None or condition.procedure == own:
        return (Run(condition.says),)
    title = edition.procedures[condition.procedure]
    link = Run(say("condition-from", title=title), "link", ("procedure", condition.procedure))
    return (Run(f"{condition.says} "), link)


def _hazard(name: str, material: MaterialShown, say: Words) -> HazardView:
    return HazardView(
        id=name,
        name=material.name,
        signal_word=material.signal_word,
        pictograms=material.pictograms,
        says=tuple(f"{each.says} ({each.code})" for each in material.hazards),
        never_with=tuple(material.never_with.items()),
        withheld=withheld_words(material.name, material.told_by, say),
    )


def withheld_words(name: str, told_by: str | None, say: Words) -> str:
    """Return the words beside the hazards of a material of which only the code is shown, empty for any other."""
    return "" if told_by is None else say("withheld", name=name, role=told_by)


def first_aid_lines(aid: FirstAid | None, say: Words) -> tuple[Detail, ...]:
    """Return the first aid for a material, a line for each way it reaches a person."""
    if aid is None:
        return ()
    ways = ("eyes", "skin", "breathed", "swallowed")
    return tuple(Detail(say(f"first-aid-{way}"), (Run(str(getattr(aid, way))),)) for way in ways)


def _first_aid(edition: Edition, say: Words) -> tuple[tuple[str, tuple[Detail, ...]], ...]:
    found = ((each.name, first_aid_lines(each.first_aid, say)) for each in edition.materials.values())
    return tuple((name, lines) for name, lines in found if lines)


def _energy(edition: Edition) -> tuple[EnergyView, ...]:
    pieces = edition.equipment.items()
    return tuple(
        EnergyView(f"{tag} ({piece.name})", source) for tag, piece in pieces for source in piece.energy_sources
    )


def _waste(procedure: Procedure, steps: StepTexts, say: Words) -> tuple[Sentence, ...]:
    if procedure.waste is None:
        return ()
    return (steps.words(say("waste-into", tag=procedure.waste.into)), steps.words(procedure.waste.note))


def _history(written: Procedure | Checklist) -> tuple[tuple[str, str, str], ...]:
    return tuple((str(each.revision), str(each.date), str(each.change)) for each in reversed(written.history))


def _part(part: Part, facts: BookFacts, say: Words, *, is_laminated: bool) -> PartView:
    title = part.title
    if part.section_title is not None:
        title = say("part-section", title=part.title, section=part.section_title)
    if part.edition is None:
        return PartView(part.procedure, title, part.why, None, ())
    view = procedure_view(part.edition, facts, say, is_laminated=is_laminated)
    sections = tuple(each for each in view.sections if part.section in (None, each.name))
    return PartView(part.procedure, title, part.why, view, sections)
