"""What is written by hand at each step of a record sheet: boxes, initials and times, values, answers."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from tankside.edition import Edition
from tankside.model.steps import Add, Check, Choose, Hold, Item, Labels, Measure, Record, Repeat, Step, Wait
from tankside.texts import Words
from tankside.units import Quantity, parse_quantity
from tankside.views.numbers import exact_text
from tankside.views.record_fields import (
    BOX,
    LINE,
    MIDDLE,
    PRINTED,
    RING,
    SHORT,
    WIDE,
    Field,
    Row,
    StepWriting,
    for_each,
)
from tankside.views.steps import LETTERS
from tankside.views.wording import with_degrees

#: how often something may be put in before the sheet has no room for it
POURS = 4


@dataclass(frozen=True)
class Writer:
    """Says what is written at the steps of one procedure."""

    #: of a procedure; for one lot its amounts depend on nothing any more
    edition: Edition
    #: the size of the bottles, empty on a blank
    bottle: str
    say: Words

    def writings(self) -> Mapping[str, StepWriting]:
        """Return what is written at each step, by the names of the steps."""
        return dict(self._all(getattr(self.edition.written, "steps", ()), ()))

    def _all(self, items: Iterable[Item], passes: tuple[str, ...]) -> Iterator[tuple[str, StepWriting]]:
        """Return what is written at each step; `passes` are those of the repetition that the steps stand in."""
        for step in (item for item in items if isinstance(item, Step)):
            yield str(step.name), self._many(step, passes) if passes else self._once(step)
            if isinstance(step, Repeat):
                yield from self._all(step.steps, _passes(step, passes))
            elif isinstance(step, Choose):
                for branch in step.branches:
                    yield from self._all(branch.steps, passes)

    def _once(self, step: Step) -> StepWriting:
        return StepWriting(
            boxes=self._boxes(step),
            signs=(*self._signs(step), *self._second(step)),
            fields=(*self._printed(step), *self._values(step)),
            rows=self._pours(step) if isinstance(step, Add) else (),
            passes=self._pass_lines(step, ()) if isinstance(step, Repeat) else (),
        )

    def _many(self, step: Step, passes: tuple[str, ...]) -> StepWriting:
        """Return what is written at a step of a repetition: who and when stands in the line of the pass."""
        ticks = (Row(words, tuple(Field(BOX, each) for each in passes)) for words in self._boxes(step))
        asked = [*self._values(step), *self._second(step)[:1]]
        if isinstance(step, Add):
            asked.append(Field(SHORT, self.say("paper-put-in"), self._unit(step)))
        elif isinstance(step, Wait | Hold):
            asked = [*self._signs(step), *asked]
        return StepWriting(
            boxes=(),
            signs=(),
            fields=tuple(self._printed(step)),
            rows=(*ticks, *(for_each(field, passes) for field in asked)),
            passes=self._pass_lines(step, passes) if isinstance(step, Repeat) else (),
        )

    def _boxes(self, step: Step) -> tuple[str, ...]:
        return (self.say("yes"), self.say("no")) if isinstance(step, Check) else ("",)

    def _signs(self, step: Step) -> tuple[Field, ...]:
        who, when = self._field("paper-initials"), self._field("paper-time")
        match step:
            case Wait():
                return self._field("paper-start"), self._field("paper-stop"), who
            case Hold():
                return who, when, self._field("paper-role", WIDE)
        return who, when

    def _second(self, step: Step) -> tuple[Field, ...]:
        is_wanted = step.second_person == "yes"
        return (self._field("paper-second"), self._field("paper-time")) if is_wanted else ()

    def _printed(self, step: Step) -> Iterator[Field]:
        """Return what stands beside the places to write, so that both can be compared."""
        match step:
            case Add() if not self._depends(step):
                low, high = self._tolerated(step)
                within = self.say("limits-both", low=exact_text(low), high=exact_text(high))
                yield Field(PRINTED, self.say("paper-right"), text=within)
            case Labels(counted="out"):
                codes = self.edition.labels[step.product].codes
                for size in (each for each in codes if self.bottle in ("", each)):
                    yield Field(PRINTED, self.say("code-for", size=size), text=codes[size])

    def _values(self, step: Step) -> Iterator[Field]:
        """Return what is found out at a step and written down."""
        match step:
            case Add():
                if self._depends(step):
                    yield Field(MIDDLE, self.say("paper-target"), self._unit(step))
                if self._has_label(step):
                    yield self._field("paper-label-says", WIDE)
                    yield self._field("paper-drum-lot", WIDE)
            case Measure():
                yield self._field("paper-due", MIDDLE)
                yield Field(MIDDLE, self.say("paper-value"), self._unit_of_limits(step))
            case Record():
                yield self._field("paper-written", LINE)
            case Labels(counted="out"):
                yield self._field("paper-code", MIDDLE)
                yield self._field("paper-issued")
            case Labels():
                yield from map(self._field, ("paper-used", "paper-spoiled", "paper-left"))
            case Choose():
                yield Field(RING, self.say("paper-ring"), answers=tuple(LETTERS[: len(step.branches)]))

    def _pours(self, step: Add) -> tuple[Row, ...]:
        unit = self._unit(step)
        places = tuple(Field(SHORT, str(number), unit) for number in range(1, POURS + 1))
        return Row(self.say("paper-put-in"), places), Row(self.say("paper-total"), places)

    def _pass_lines(self, step: Repeat, outside: tuple[str, ...]) -> tuple[Row, ...]:
        count = int(step.at_most)
        return tuple(self._pass_line(name, (at + 1) % count == 0) for at, name in enumerate(_passes(step, outside)))

    def _pass_line(self, name: str, is_last: bool) -> Row:
        """Return a line to answer the question at the end of a pass, with who and when."""
        ends = ("paper-enough", "paper-not-enough" if is_last else "paper-again")
        answers = (Field(BOX, text=self.say(key)) for key in ends)
        return Row(self.say("paper-pass", number=name), (*answers, *map(self._field, ("paper-initials", "paper-time"))))

    def _depends(self, step: Add) -> bool:
        return self.edition.amounts[_amount(step)].input is not None

    def _unit(self, step: Add) -> str:
        return with_degrees(self.edition.amounts[_amount(step)].usual.shown.unit.symbol)

    def _tolerated(self, step: Add) -> tuple[Quantity, Quantity]:
        """Return the least and the most that is in tolerance, as working copies judge it."""
        amount = self.edition.amounts[_amount(step)]
        assert amount.tolerance is not None
        wanted, off = amount.usual.shown, amount.tolerance.value
        return Quantity(max(wanted.value - off, Fraction(0)), wanted.unit), Quantity(wanted.value + off, wanted.unit)

    def _has_label(self, step: Add) -> bool:
        return step.from_ is None or self.edition.equipment[step.from_].kind != "supply"

    def _unit_of_limits(self, step: Measure) -> str:
        limits = self.edition.limits[step.limits]
        return with_degrees(parse_quantity(str(limits.from_ or limits.to)).unit.symbol)

    def _field(self, key: str, size: str = SHORT) -> Field:
        return Field(size, self.say(key))


def _amount(step: Add) -> str:
    return str(step.amount).strip("<>")


def _passes(step: Repeat, outside: tuple[str, ...]) -> tuple[str, ...]:
    """Return what its passes are called: "1", or "2.1" for the first one within the second pass of another."""
    own = tuple(str(number) for number in range(1, int(step.at_most) + 1))
    return tuple(f"{other}.{each}" for other in outside for each in own) or own
