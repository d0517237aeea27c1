"""What questions are made of: a procedure, with what is often asked for already found."""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from tankside.catalogue.links import WORD
from tankside.edition import Edition
from tankside.edition.shown import key
from tankside.model.facts import Plant
from tankside.model.procedures import Procedure
from tankside.model.questions import STOP_SAFELY
from tankside.model.steps import Caution, Drive, Hold, Isolate, Item, Section, Step, TurnValve, every
from tankside.texts import Words
from tankside.views.amounts import AmountTexts
from tankside.views.procedures import ProcedureView
from tankside.views.steps import StepTexts
from tankside.views.training.questions.likeness import folded
from tankside.views.training.questions.posing import Asked
from tankside.views.wording import plain_text

#: signal words, the gravest first
GRAVITY: Final = ("danger", "warning", "caution", "notice")
#: kinds of step that change the plant
ACTS: Final = ("open", "shut", "start", "stop", "move", "add")


@dataclass(frozen=True)
class Subject:
    """A procedure of which questions are made."""

    edition: Edition
    shown: ProcedureView
    plant: Plant
    say: Words

    @cached_property
    def procedure(self) -> Procedure:
        """What was written."""
        assert isinstance(self.edition.written, Procedure)
        return self.edition.written

    @cached_property
    def _texts(self) -> StepTexts:
        units = str(self.plant.facts.units)
        amounts = AmountTexts(self.edition.id, self.edition.amounts, self.say, units, is_laminated=False, is_live=False)
        return StepTexts(self.edition, amounts, self.say, units)

    @cached_property
    def steps(self) -> tuple[Step, ...]:
        """All steps in reading order, also those of answers, repetitions and sections that one is sent to."""
        return tuple(item for item in every(self.procedure.steps) if isinstance(item, Step))

    @cached_property
    def cautions(self) -> tuple[Caution, ...]:
        """All cautions that cover a step, in reading order."""
        return tuple(item for item in every(self.procedure.steps) if isinstance(item, Caution) and item.covers)

    @cached_property
    def runs(self) -> tuple[tuple[Step, ...], ...]:
        """The steps that everybody does who follows it, by section: not those inside others."""
        return tuple(tuple(item for item in items if isinstance(item, Step)) for items in self._sections())

    def _sections(self) -> Iterator[tuple[Item, ...]]:
        inside: list[Item] = []
        is_passed = True
        for item in self.procedure.steps:
            if isinstance(item, Section):
                yield tuple(inside)
                inside, is_passed = [], item.entered is None
            elif is_passed:
                inside.append(item)
        yield tuple(inside)

    @cached_property
    def main(self) -> tuple[Step, ...]:
        """The steps of all runs."""
        return tuple(step for run in self.runs for step in run)

    def step(self, name: str) -> Step:
        """Return a step by its name."""
        return next(step for step in self.steps if step.name == name)

    def number(self, step: Step) -> str:
        """Return the number of a step as it is printed."""
        return self._texts.numbers[str(step.name)]

    def action(self, step: Step) -> str:
        """Return the words of a step."""
        return plain_text(self._texts.action(step))

    def brief(self, step: Step) -> str:
        """Return the words of a step without how it is done."""
        how = getattr(step, "how", None)
        return self.action(step) if how is None else self.action(step).removesuffix(f", {self.words(how)}")

    def sentence(self, step: Step) -> str:
        """Return the words of a step without how it is done, as a sentence."""
        said = self.brief(step)
        return said if said.endswith((".", "!", "?")) else f"{said}."

    def tags_in(self, text: str) -> frozenset[str]:
        """Return the tags of the plant that a text names."""
        return frozenset(tag for tag in WORD.findall(text) if key(tag) in self.plant.equipment.equipment)

    def words(self, text: str) -> str:
        """Return a text of the procedure as it is read."""
        return plain_text(self._texts.words(text))

    def go_to(self, place: str) -> str:
        """Return the words that send a reader somewhere."""
        return plain_text(self._texts.go_to(place))

    @cached_property
    def _said(self) -> Counter[str]:
        return Counter(folded(self.brief(step)) for step in self.steps)

    def is_said_once(self, step: Step) -> bool:
        """Whether no other step reads the same, but for how it is done."""
        return self._said[folded(self.brief(step))] == 1

    def covering(self, step: Step) -> tuple[Caution, ...]:
        """Return the cautions that cover a step."""
        return tuple(each for each in self.cautions if step.name in each.covers)

    def weight(self, step: Step) -> int:
        """Return how little a step matters: 0 under a danger, then what isolates or holds, other cautions, acts."""
        gravest = min((GRAVITY.index(each.kind) for each in self.covering(step)), default=len(GRAVITY))
        if gravest == 0:
            return 0
        if isinstance(step, (Isolate, Hold)):
            return 1
        return gravest + 1 if gravest < len(GRAVITY) else len(GRAVITY) + (2 if step.kind not in ACTS else 1)

    def best_first(self, steps: Iterable[Step]) -> list[Step]:
        """Return steps by weight, the heaviest of each section before the second of any."""
        section = {str(step.name): at for at, run in enumerate(self.runs) for step in run}
        taken: Counter[int] = Counter()
        ranked = []
        for step in sorted(steps, key=self.weight):
            at = section.get(str(step.name), -1)
            ranked.append((taken[at], self.weight(step), step))
            taken[at] += 1
        return [step for _, _, step in sorted(ranked, key=lambda each: each[:2])]

    def about_step(self, kind: str, step: Step, asks: str, *, own: str) -> Asked:
        """Return what is asked about a step; `own` tells it from other questions about the step."""
        short = self.brief(step)
        if isinstance(step, (TurnValve, Drive, Isolate)):
            short = self.say(f"step-{step.kind}", tag=step.target)
        place = self.say("ask-place-step", number=self.number(step), step=short)
        return Asked(f"{step.name}.{own}", kind, asks, str(step.name), place)

    def about_caution(self, kind: str, caution: Caution, asks: str, *, own: str) -> Asked:
        """Return what is asked about a caution."""
        first = str(caution.covers[0])
        same = [each for each in self.cautions if each.covers[0] == first]
        which = f"-{same.index(caution) + 1}" if len(same) > 1 else ""
        place = self.say("ask-place-caution", number=self.number(self.step(first)))
        return Asked(f"{first}.{own}{which}", kind, asks, first, place)

    def about_stopping(self, kind: str, asks: str, *, own: str) -> Asked:
        """Return what is asked about stopping safely."""
        return Asked(own, kind, asks, STOP_SAFELY, self.say("ask-place-stop"))
