"""Lockout procedures: the steps straight on, the machines that hands go into, and what stands before and after that."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property

from tankside.audit.audited import Audited, placed
from tankside.loading.values import Text
from tankside.model.facts import EnergySource, Piece
from tankside.model.procedures import Procedure
from tankside.model.steps import DRIVEN, Drive, Isolate, Step
from tankside.plant.claiming import claim_of
from tankside.plant.parts import Plant
from tankside.problems import Span

Is = Callable[[Step], bool]


@dataclass(frozen=True)
class Machine:
    """A machine that a procedure locks out."""

    tag: Text
    piece: Piece

    @property
    def sources(self) -> tuple[EnergySource, ...]:
        """Its sources of energy."""
        return self.piece.energy_sources

    @property
    def is_driven(self) -> bool:
        """Whether it can be started and stopped."""
        return self.piece.kind in DRIVEN

    @property
    def points(self) -> tuple[str, ...]:
        """Where its sources are isolated, each point once."""
        return tuple(dict.fromkeys(str(each.isolate_at) for each in self.sources))

    def named(self, source: EnergySource) -> str:
        """Return a source as claims name it: `P1.mains`."""
        return f"{self.tag}.{source.name}"


@dataclass(frozen=True)
class Lockout:
    """A procedure that locks a point of isolation, or lets hands go into a machine."""

    procedure: Procedure
    plant: Plant
    #: in reading order, without sections that are entered only when sent there
    steps: tuple[Step, ...]
    #: that hands go into
    machines: tuple[Machine, ...]

    @property
    def name(self) -> str:
        """Its id."""
        return str(self.procedure.procedure)

    @cached_property
    def work(self) -> int:
        """Where hands go in first; without such a step, where the first lock comes off."""
        begins = (at for at, each in enumerate(self.steps) if each.works_on or each.kind == "unlock")
        return next(begins, len(self.steps))

    @cached_property
    def until(self) -> int:
        """Where the return begins: after hands have been in, or else the last lock put on, for the last time."""
        worked = [at for at, each in enumerate(self.steps) if each.works_on]
        return max(worked or [at for at, each in enumerate(self.steps) if is_lock(each)]) + 1

    def work_at(self, one: Machine) -> int:
        """Return where hands go into a machine first."""
        begins = (at for at, each in enumerate(self.steps) if one.tag in each.works_on)
        return next(begins, self.work)

    def place_of(self, one: Machine) -> Span:
        """Return the step where hands go into a machine first; where there is none, the name of the procedure."""
        step = next((each for each in self.steps if one.tag in each.works_on), None)
        return self.procedure.procedure.span if step is None else step.span

    @property
    def place(self) -> Span:
        """The step where hands go in first; where there is none, the name of the procedure."""
        return self.place_of(self.machines[0]) if self.machines else self.procedure.procedure.span

    def before(self, matches: Is, until: int | None = None) -> tuple[int, ...]:
        """Return where such steps stand before a place, or else before the return begins."""
        return tuple(
            at for at, each in enumerate(self.steps[: self.until if until is None else until]) if matches(each)
        )

    def after(self, matches: Is) -> tuple[int, ...]:
        """Return where such steps stand after the work."""
        return tuple(at for at, each in enumerate(self.steps) if at >= self.until and matches(each))

    def locks(self, point: str | None = None) -> tuple[int, ...]:
        """Return where locks are put on, at one point or any."""
        return self.before(lambda each: is_lock(each) and point in (None, _target(each)))

    def stops(self, one: Machine) -> tuple[int, ...]:
        """Return where a machine is stopped before hands go into it."""
        return self.before(lambda each: _stops(each, str(one.tag)), self.work_at(one))

    def is_locked(self, point: str, until: int) -> bool:
        """Return whether the lock at a point is on when a step begins."""
        turned = [each for each in self.steps[:until] if isinstance(each, Isolate) and each.target == point]
        return bool(turned) and is_lock(turned[-1])


def lockouts(audited: Audited) -> Iterator[Lockout]:
    """Return every lockout procedure of a book."""
    for procedure in audited.procedures:
        straight = (each for each in placed(procedure) if each.section is None or each.section.entered is None)
        steps = tuple(each.step for each in straight)
        if any(is_lock(each) or each.works_on for each in steps):
            plant = audited.rehearsal.setting.plant
            tags = dict.fromkeys(tag for each in steps for tag in each.works_on)
            machines = tuple(Machine(tag, audited.plant.equipment.equipment[tag]) for tag in tags)
            yield Lockout(procedure, plant, steps, machines)


def is_lock(step: Step) -> bool:
    """Return whether a step puts a lock on."""
    return isinstance(step, Isolate) and step.kind == "lock"


def left(step: Step, state: str) -> frozenset[str]:
    """Return of what a step leaves that it is so."""
    return _subjects(step.leaves, state)


def found(step: Step, state: str) -> frozenset[str]:
    """Return of what a step finds that it is so."""
    return _subjects(step.finds, state)


def _subjects(claims: tuple[Text, ...], state: str) -> frozenset[str]:
    read = (claim_of(text) for text in claims)
    return frozenset(str(subject) for claim in read if claim.state == state for subject in claim.subjects)


def _target(step: Step) -> str:
    return str(step.target) if isinstance(step, Isolate) else ""


def _stops(step: Step, tag: str) -> bool:
    is_stop = isinstance(step, Drive) and step.kind == "stop" and step.target == tag
    return is_stop or tag in left(step, "stopped")
