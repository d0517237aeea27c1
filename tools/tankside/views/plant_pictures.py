"""The plant after each step of a dry run, as the part of the line diagram that the procedure uses."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from tankside.model.steps import Step, every
from tankside.plant.effects import Flows
from tankside.plant.judging.flows import path_of
from tankside.plant.running import Run
from tankside.plant.stepping import Stepping
from tankside.views.dry_run import states_after
from tankside.views.line_diagram import LineDiagram, line_diagram
from tankside.views.state_looks import look_of
from tankside.views.states import StateWords


@dataclass(frozen=True)
class PlantPicture:
    """The plant as it may be at one moment."""

    diagram: LineDiagram
    #: the same in words
    says: str


def plant_pictures(stepping: Stepping, run: Run, words: StateWords) -> Mapping[str, PlantPicture]:
    """Return a picture for each step that changes the plant, by its name."""
    facts, parts = stepping.setting.facts, stepping.setting.plant.parts
    changed = {step: {aspect.tag for aspect in words.changed(taken)} - {""} for step, taken in run.taken.items()}
    used = {tag for tags in changed.values() for tag in tags} | set(_paths(stepping, run))
    drawn = [str(tag) for tag, piece in facts.equipment.equipment.items() if tag in used and piece.at]
    found = {}
    for step, tags in changed.items():
        if drawn and tags:
            states = states_after(run, step)
            looks = {tag: look_of(part, states) for tag, part in parts.items()}
            diagram = line_diagram(facts.equipment, facts.materials, words.say, state=looks, only=drawn, changed=tags)
            says = "; ".join(words.now(states, [each.tag for each in diagram.pieces])) or words.say("state-rest")
            found[step] = PlantPicture(diagram, says)
    return found


def _paths(stepping: Stepping, run: Run) -> Iterator[str]:
    for step in every(stepping.procedure.steps):
        if isinstance(step, Step) and str(step.name) in run.taken:
            for effect in stepping.effects(step):
                if isinstance(effect, Flows):
                    yield from path_of(effect)
