"""Every procedure, checklist and day of a book rehearsed, and what is wrong with them."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property, partial

from tankside.compute.amounts import WorkedBook
from tankside.compute.worked import WorkedAmount
from tankside.loading.values import Text
from tankside.memory import remembered, same_if_equal
from tankside.model.facts import Condition
from tankside.model.facts import Plant as Facts
from tankside.model.procedures import Procedure
from tankside.model.steps import Section, Step
from tankside.plant.claiming import claim_of
from tankside.plant.courses import course
from tankside.plant.everywhere import arrivals, lent_ends, shared_parts
from tankside.plant.judging.faults import Fault
from tankside.plant.judging.holding import held_together
from tankside.plant.judging.paths import unfit_ends
from tankside.plant.program import program_of
from tankside.plant.running import Finding, Rehearsing, Run
from tankside.plant.setting import Setting
from tankside.plant.state import State
from tankside.plant.stepping import setting_in, stepping_of
from tankside.problems import Problem, Span

_THEN = ", then "


@dataclass(frozen=True)
class Rehearsal:
    """The dry runs of one book; each is made when it is asked for, and once."""

    worked: WorkedBook

    @property
    def facts(self) -> Facts:
        """What the book says of the workshop."""
        return self.worked.book.plant

    @cached_property
    def setting(self) -> Setting:
        """Everything that stays the same while the procedures of the book are rehearsed."""
        return setting_in(self.worked)

    @cached_property
    def rehearsing(self) -> Rehearsing:
        """How the procedures of the book act on its plant."""
        return self._rehearsing(tuple(self.worked.book.procedures.values()))

    def of(self, name: str) -> Run:
        """Return the dry run of a procedure, from rest and its prerequisites."""
        procedure = self.worked.book.procedures[name]
        return self._once((name,), lambda: self._run("alone", procedure, (self.rehearsing.start_of(procedure),), None))

    def of_checklists(self, names: Iterable[str], *, is_day: bool) -> Run:
        """Return the dry run of checklists one after the other: of one alone, or `is_day`."""
        checklists = tuple(self.worked.book.checklists[name] for name in names)
        key = (is_day, *(str(each.checklist) for each in checklists))
        run = partial(self._run, str(key))
        return self._once(key, lambda: course(self.rehearsing, checklists, run, is_day=is_day))

    def all(self) -> Iterator[Run]:
        """Return the dry run of every procedure, then of every checklist that is followed, then of every day."""
        for name in self.worked.book.procedures:
            yield self.of(str(name))
        days = self.facts.facts.days.values()
        of_a_day = {name for day in days for name in day}
        for name, checklist in self.worked.book.checklists.items():
            if checklist.is_followed and name not in of_a_day:
                yield self.of_checklists((str(name),), is_day=False)
        for day in days:
            yield self.of_checklists(map(str, day), is_day=True)

    @cached_property
    def _runs(self) -> dict[tuple[object, ...], Run]:
        return {}

    def _once(self, key: tuple[object, ...], make: Callable[[], Run]) -> Run:
        if key not in self._runs:
            self._runs[key] = make()
        return self._runs[key]

    def _run(self, where: str, procedure: Procedure, starts: tuple[State, ...], section: str | None) -> Run:
        """Run a procedure, or remember what came of it: where nothing has changed it begins in the same states."""
        name = str(procedure.procedure)
        known = same_if_equal(f"starts of {name}, {section}, {where}", starts)
        return _run(self._rehearsing(self.involved((name,))), procedure, known, section)

    def _rehearsing(self, procedures: tuple[Procedure, ...]) -> Rehearsing:
        amounts = tuple(self.worked.of(each)[0] for each in procedures)
        return _rehearsing(self.setting, procedures, amounts)

    def involved(self, names: Iterable[str]) -> tuple[Procedure, ...]:
        """Return procedures and all that they may send to: nothing else decides what a dry run of them gives."""
        found: dict[str, Procedure] = {}
        todo = list(names)
        while todo:
            name = todo.pop()
            if name not in found:
                found[name] = self.worked.book.procedures[name]
                todo += program_of(found[name]).others
        return tuple(found[name] for name in sorted(found))

    def problems(self) -> Iterator[Problem]:
        """Return what every dry run found, each fault once at its place."""
        unfit = tuple(unfit_ends(self.setting, self.worked.book.procedures.values()))
        yield from unfit
        if unfit:
            return
        said: set[tuple[Span, str]] = set()
        for finding in self._findings():
            key = (finding.span, finding.fault.code)
            if key not in said:
                said.add(key)
                yield as_problem(finding)
        yield from held_together(self.setting)
        yield from shared_parts(self.setting, arrivals(self.all()))
        yield from lent_ends(self.setting)

    def _findings(self) -> Iterator[Finding]:
        for run in self.all():
            yield from run.findings
        for name, condition in self.facts.equipment.conditions.items():
            yield from self._brought(name, condition)

    def _brought(self, name: Text, condition: Condition) -> Iterator[Finding]:
        """Return a finding when what is to bring a condition about does not."""
        if not condition.means:
            return
        if condition.from_ is None:
            states: tuple[State, ...] = (self.rehearsing.setting.at_rest,)
            by, where = "no procedure brings", ""
        else:
            procedure, _, section = condition.from_.partition("/")
            states = self._after(procedure, section)
            by, where = f"'{condition.from_}' does not bring", procedure
        wear = self.worked.book.procedures[where] if where else next(iter(self.worked.book.procedures.values()))
        claiming = self.rehearsing.stepping(wear).claiming
        for text in condition.means:
            # Nothing is brought about either by what can never be gone through to its end.
            if not states or not all(claiming.narrowed(state, claim_of(text)) == state for state in states):
                message = f"{by} it about that '{text}', which '{name}' means"
                fault = Fault("prerequisite-unmet", message, "name what does under 'from', or let its steps say so")
                yield Finding(text.span, where, "", fault, ())

    def _after(self, name: str, section: str) -> tuple[State, ...]:
        """Return the states at the end of a procedure, or right after a section of it."""
        run = self.of(name)
        if not section:
            return tuple(run.ends)
        last = ""
        inside = False
        for item in self.worked.book.procedures[_key(name)].steps:
            if isinstance(item, Section):
                inside = item.section == section
            elif inside and isinstance(item, Step):
                last = str(item.name)
        return tuple(run.after.get(last, ()))


@remembered
def _rehearsing(
    setting: Setting, procedures: tuple[Procedure, ...], amounts: tuple[Mapping[str, WorkedAmount], ...]
) -> Rehearsing:
    steppings = {
        str(each.procedure): stepping_of(setting, each, worked)
        for each, worked in zip(procedures, amounts, strict=True)
    }
    by_name = {str(each.procedure): each for each in procedures}
    return Rehearsing(setting, by_name, lambda procedure: steppings[str(procedure.procedure)])


@remembered
def _run(rehearsing: Rehearsing, procedure: Procedure, starts: tuple[State, ...], section: str | None) -> Run:
    return rehearsing.run(procedure, starts, section)


def _key(name: str) -> Text:
    return Text(name, Span(""))


def as_problem(finding: Finding) -> Problem:
    """Return a finding as a problem of the book."""
    fault = finding.fault
    within = [f"in checklist '{name}'" for name in finding.within]
    way = [*within, *([f"when {_THEN.join(finding.way)}"] if finding.way else [])]
    path = f" ({', '.join(way)})" if way else ""
    return Problem(finding.span, fault.code, f"{fault.message}{path}", fault.hint)


@remembered
def rehearsal_of(worked: WorkedBook) -> Rehearsal:
    """Return the rehearsal of a book."""
    return Rehearsal(worked)
