"""The dry run of a procedure as the command and the pages show it: step by step, and what it proved."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby

from tankside.model.steps import Check, Do, Drive, Hold, Measure, Step
from tankside.plant.effects import Flows
from tankside.plant.running import Run
from tankside.plant.state import State
from tankside.plant.stepping import Stepping
from tankside.views.states import Aspect, StateWords
from tankside.views.steps import numbered


@dataclass(frozen=True)
class StepRun:
    """A step that was taken, and the plant after it, in words."""

    number: str
    name: str
    #: what it changes
    changes: tuple[str, ...]
    #: what is known because it is looked at
    seen: tuple[str, ...]
    #: what stays behind when somebody stops right after it, as `stop_safely` says
    left: tuple[str, ...]
    #: the materials that may reach the person
    exposed: tuple[str, ...]
    #: how many different states it may lead to
    states: int


@dataclass(frozen=True)
class Drawn:
    """A drawing of the plant as it may be at one moment."""

    #: where it is
    address: str
    width: int
    height: int
    #: the same in words
    says: str


@dataclass(frozen=True)
class PlantAfter:
    """What is shown of the plant after a step that changes it."""

    step: StepRun
    #: None where nothing that the procedure uses has a place on the line diagram
    drawn: Drawn | None


@dataclass(frozen=True)
class Behind:
    """What stays behind when somebody stops after any of some steps that follow each other."""

    first: str
    last: str
    left: tuple[str, ...]


@dataclass(frozen=True)
class DryRunView:
    """The dry run of a procedure."""

    #: in reading order, without those that no way led to
    steps: tuple[StepRun, ...]
    #: how many steps the procedure has, taken or not
    count: int
    visited: int
    ways: int
    #: one sentence for each thing that was proved
    proved: tuple[str, ...]

    @property
    def behind(self) -> tuple[Behind, ...]:
        """What stays behind, once for all steps in a row that leave the same."""
        groups = (tuple(steps) for _, steps in groupby(self.steps, lambda each: each.left))
        return tuple(Behind(steps[0].number, steps[-1].number, steps[0].left) for steps in groups)


def dry_run_view(
    stepping: Stepping, run: Run, words: StateWords, start: State, touched: Iterable[Aspect] = ()
) -> DryRunView:
    """Return a dry run of a procedure in words; what `touched` names has been changed since the start before it."""
    steps = tuple(numbered(stepping.procedure.steps))
    return DryRunView(
        steps=tuple(_steps(steps, run, words, start, dict.fromkeys(touched))),
        count=len(steps),
        visited=run.visited,
        ways=run.ways,
        proved=tuple(_proved(stepping, run, words)),
    )


def states_after(run: Run, step: str) -> tuple[State, ...]:
    """Return the states right after a step that was taken, when what it looks at was so."""
    return tuple(run.after.get(step) or dict.fromkeys(after for _, after in run.taken[step]))


def touched_in(run: Run, words: StateWords) -> tuple[Aspect, ...]:
    """Return all that the steps of a procedure change."""
    return words.changed(pair for taken in run.taken.values() for pair in taken)


def _steps(
    steps: Iterable[tuple[str, Step]], run: Run, words: StateWords, start: State, touched: dict[Aspect, None]
) -> Iterator[StepRun]:
    for number, name in ((number, str(step.name)) for number, step in steps):
        if name in run.taken:
            taken, after = run.taken[name], states_after(run, name)
            touched |= dict.fromkeys(words.changed(taken))
            yield StepRun(
                number=number,
                name=name,
                changes=words.changes(taken),
                seen=words.seen(dict.fromkeys(made for _, made in taken), after),
                left=words.left(start, run.stopped.get(name, {}), touched),
                exposed=_exposed(run, name, words),
                states=len(after),
            )


def _exposed(run: Run, step: str, words: StateWords) -> tuple[str, ...]:
    found = {material for exposure in run.exposed[step] for material in exposure.materials}
    return tuple(str(each) for each in words.setting.facts.materials.materials if each in found)


def _proved(stepping: Stepping, run: Run, words: StateWords) -> Iterator[str]:
    """Return what a dry run without a finding has shown, for as much as the procedure has of each."""
    say = words.say
    steps = [step for _, step in numbered(stepping.procedure.steps) if str(step.name) in run.taken]
    counts = {
        "flows": sum(isinstance(effect, Flows) for step in steps for effect in stepping.effects(step)),
        "pumps": sum(_starts_a_pump(stepping, step) for step in steps),
        "exposed": sum(bool(_exposed(run, str(step.name), words)) for step in steps),
        "hands": sum(isinstance(step, Do) and bool(step.works_on) for step in steps),
        "looks": sum(isinstance(step, Check | Measure) for step in steps),
        "holds": sum(isinstance(step, Hold) for step in steps),
    }
    for what, count in counts.items():
        if count:
            yield say(f"proved-{what}", count=str(count))
    yield say("proved-end")
    if not stepping.procedure.is_emergency:
        yield say("proved-stop")


def _starts_a_pump(stepping: Stepping, step: Step) -> bool:
    return isinstance(step, Drive) and step.kind == "start" and stepping.setting.plant.parts[step.target].kind == "pump"
