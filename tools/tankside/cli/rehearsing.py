"""What is to be rehearsed, from which start and along which ways, as it was typed."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import click

from tankside.catalogue import Book
from tankside.catalogue.links import claim_problems
from tankside.catalogue.names import Names
from tankside.compute.facts import quantity
from tankside.compute.trouble import CannotWorkOutError
from tankside.loading.values import Text
from tankside.model.claims import Claim, read_claim
from tankside.model.procedures import Procedure
from tankside.model.steps import Choose, Step, every
from tankside.plant.claiming import Claiming
from tankside.plant.courses import course
from tankside.plant.program import Exit, Follows, every_way, program_of
from tankside.plant.rehearsal import Rehearsal
from tankside.plant.running import Leg, Run
from tankside.plant.state import State
from tankside.problems import Problem, Span, meant, quoted
from tankside.views.steps import LETTERS

TYPED = Span("--from")


@dataclass(frozen=True)
class Rehearsed:
    """A dry run that was asked for."""

    id: str
    #: procedure, checklist or day
    sort: str
    title: str
    start: State
    #: the procedures in order; one for a procedure
    legs: tuple[Leg, ...]
    run: Run


def rehearsed(rehearsal: Rehearsal, name: str, start: str | None, branches: tuple[str, ...]) -> Rehearsed:
    """Return the dry run of a procedure, checklist or day.

    Args:
        rehearsal: of a sound book.
        name: the id.
        start: claims with semicolons between them, true when it begins; None for what it may count on.
        branches: each `STEP=ANSWER`, the only answer that is followed there.

    Raises:
        click.UsageError: something in them is not known in the book, or cannot be so.
    """
    book = rehearsal.worked.book
    if name in book.procedures:
        return _of_procedure(rehearsal, book.procedures[name], start, branches)
    checklists = _checklists(book, name)
    items = [str(item.procedure) for each in checklists for item in book.checklists[each].items]
    is_day = name not in book.checklists
    rehearsing = rehearsal.rehearsing
    first = book.procedures[items[0]]
    begin = rehearsing.setting.at_rest if start is None else _start(rehearsal, first, start)
    follows = _follows(rehearsal.involved(items), branches)
    run = course(
        rehearsing,
        [book.checklists[each] for each in checklists],
        lambda procedure, starts, section: rehearsing.run(procedure, starts, section, follows),
        is_day=is_day,
        start=begin,
    )
    title = "" if is_day else str(book.checklists[name].title)
    return Rehearsed(name, "day" if is_day else "checklist", title, begin, tuple(run.legs), run)


def _of_procedure(
    rehearsal: Rehearsal, procedure: Procedure, start: str | None, branches: tuple[str, ...]
) -> Rehearsed:
    name, rehearsing = str(procedure.procedure), rehearsal.rehearsing
    begin = rehearsing.start_of(procedure) if start is None else _start(rehearsal, procedure, start)
    follows = _follows(rehearsal.involved((name,)), branches)
    run = rehearsing.run(procedure, (begin,), follows=follows)
    return Rehearsed(name, "procedure", str(procedure.title), begin, (Leg("", procedure, None, run),), run)


def _checklists(book: Book, name: str) -> tuple[str, ...]:
    days = {str(day): tuple(map(str, checklists)) for day, checklists in book.plant.facts.days.items()}
    if name in days:
        return days[name]
    if name not in book.checklists:
        hint = meant(name, (*book.procedures, *book.checklists, *days), "the ids are the names of the files")
        raise click.UsageError(f"'{name}' is no procedure, checklist or day of this book; {hint}")
    if not book.checklists[name].is_followed:
        items = ", ".join(str(item.procedure) for item in book.checklists[name].items)
        raise click.UsageError(f"checklist '{name}' only lists titles; rehearse what it lists: {items}")
    return (name,)


def _start(rehearsal: Rehearsal, procedure: Procedure, typed: str) -> State:
    """Return the plant at rest, and what the claims that were typed say of it."""
    rehearsing = rehearsal.rehearsing
    names = _names(rehearsal.worked.book)
    claims = [_claim(names, Text(each.strip(), TYPED)) for each in typed.split(";") if each.strip()]
    claiming = rehearsing.stepping(procedure).claiming
    state = rehearsing.setting.at_rest
    for claim in claims:
        state = claiming.assumed(state, claim)
    for claim in claims:
        _refuse_untrue(claiming, state, claim)
    return state


def _refuse_untrue(claiming: Claiming, state: State, claim: Claim) -> None:
    if claiming.narrowed(state, claim) is None:
        raise click.UsageError(f"--from: {quoted(claim.text)} cannot be so, with what else is said there")


def _names(book: Book) -> Names:
    facts, pieces = book.plant, book.plant.equipment.equipment
    tables = {
        "tag": pieces,
        "wearable": facts.equipment.protective_equipment,
        "material": facts.materials.materials,
    }
    return Names(
        defined={what: {str(name): name for name in table} for what, table in tables.items()},
        kinds={str(tag): str(piece.kind) for tag, piece in pieces.items()},
        unread=set(),
        energy={f"{tag}.{each.name}" for tag, piece in pieces.items() for each in piece.energy_sources},
    )


def _claim(names: Names, text: Text) -> Claim:
    for problem in claim_problems(text, names):
        raise _refusal(problem)
    claim = read_claim(text)
    if claim.quantity is not None:
        try:
            quantity(claim.quantity, "volume")
        except CannotWorkOutError as error:
            raise _refusal(error.problem) from error
    return claim


def _refusal(problem: Problem) -> click.UsageError:
    return click.UsageError(f"--from: {problem.message}; {problem.hint}")


def _follows(procedures: Iterable[Procedure], branches: tuple[str, ...]) -> Follows:
    if not branches:
        return every_way
    wanted: dict[tuple[str, str], set[str]] = {}
    for text in branches:
        for place, answer in _chosen(tuple(procedures), text):
            wanted.setdefault(place, set()).add(answer)

    def follows(procedure: Procedure, step: Step, exit_: Exit) -> bool:
        place = str(procedure.procedure), str(step.name)
        return place not in wanted or exit_.answer in wanted[place]

    return follows


def _chosen(procedures: tuple[Procedure, ...], text: str) -> Iterator[tuple[tuple[str, str], str]]:
    """Return where a branch is, and the answer that is followed there; of a step in several procedures, each."""
    step, mark, answer = text.partition("=")
    if not mark:
        raise click.UsageError(f"--branch: write STEP=ANSWER, not {quoted(text)}")
    answers = {place: found for each in procedures for place, found in _answers(each)}
    places = [place for place in answers if step in (place[1], "/".join(place))]
    if not places:
        raise _no_branch(procedures, step, [place[1] for place in answers])
    found = [(place, each) for place in places for each in answers[place] if answer.casefold() in each]
    if not found:
        known = dict.fromkeys(each[-1] for place in places for each in answers[place])
        hint = meant(answer, known, f"it gives: {'; '.join(known)}")
        raise click.UsageError(f"--branch: '{step}' does not give the answer {quoted(answer)}; {hint}")
    for place, names in found:
        yield place, names[-1]


def _answers(procedure: Procedure) -> Iterator[tuple[tuple[str, str], list[tuple[str, ...]]]]:
    """Return each step with answers; of each answer all that may be typed for it, and last the answer itself."""
    for node in reversed(program_of(procedure).nodes):
        given = [exit_.answer for exit_ in node.exits if exit_.answer]
        if given:
            letters = LETTERS if isinstance(node.item, Choose) else ""
            typed = [(each.casefold(), *letters[at : at + 1].casefold(), each) for at, each in enumerate(given)]
            yield (str(procedure.procedure), str(node.item.name)), typed


def _no_branch(procedures: tuple[Procedure, ...], step: str, known: list[str]) -> click.UsageError:
    steps = {str(each.name) for procedure in procedures for each in every(procedure.steps) if isinstance(each, Step)}
    if step in steps:
        hint = f"these do: {', '.join(dict.fromkeys(known))}" if known else "no step here does"
        return click.UsageError(f"--branch: '{step}' gives no answers; {hint}")
    return click.UsageError(
        f"--branch: '{step}' is no step here; {meant(step, known, f'with answers: {chr(44).join(known)}')}"
    )
