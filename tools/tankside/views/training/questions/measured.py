"""The limits of a measurement, and what is done outside them."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from tankside.compute.facts import quantity
from tankside.loading.values import Text
from tankside.model.facts import Limits
from tankside.model.steps import Measure
from tankside.quantities.decimal_text import decimal_text, with_unit
from tankside.units import Quantity
from tankside.views.numbers import limits_text
from tankside.views.training.question import Question
from tankside.views.training.questions.posing import Answer, posed
from tankside.views.training.questions.subject import Subject


def measured_questions(subject: Subject) -> Iterator[Question]:
    """Return for each measurement of the main way its limits, and what one does outside them."""
    steps = [step for step in subject.main if isinstance(step, Measure)]
    for step in subject.best_first(steps):
        assert isinstance(step, Measure)
        yield from _limits(subject, step)
        yield from _outside(subject, step)


def _limits(subject: Subject, step: Measure) -> Iterator[Question]:
    limits = subject.edition.limits[step.limits]
    asks = subject.say("ask-limits", text=subject.words(step.text))
    asked = subject.about_step("measured", step, asks, own="limits")
    says = limits_text(limits, subject.say)
    right = Answer(says, subject.say("ask-limits-why"))
    own, *others = (*_of_other_things(subject, step, limits), None)
    wrong = (each for each in (own, *_shifted(subject, limits)[:1], *others, *_shifted(subject, limits)[1:]) if each)
    yield from posed(asked, right, wrong)


def _of_other_things(subject: Subject, step: Measure, limits: Limits) -> Iterator[Answer]:
    unit = _ends(limits).unit
    materials = subject.plant.materials.materials.items()
    for name, material in sorted(materials, key=lambda each: each[0] not in subject.edition.materials):
        for limit, other in material.limits.items():
            if f"{name}.{limit}" != step.limits and _ends(other).unit == unit:
                why = subject.say("ask-limits-other", material=material.name, limit=str(limit).replace("-", " "))
                yield Answer(limits_text(other, subject.say), why)


def _shifted(subject: Subject, limits: Limits) -> list[Answer]:
    """Return limits moved up or down by their own width; one end alone is doubled or halved."""
    ends, why = _ends(limits), subject.say("ask-limits-shifted", limits=limits_text(limits, subject.say))
    moved = (ends.moved(1), ends.moved(-1), ends.moved(Fraction(1, 2))) if ends.is_pair else (ends.times(2),)
    changed = (*moved, *(() if ends.is_pair else (ends.times(Fraction(1, 2)),)))
    sensible = (each for each in changed if each.is_sensible(ends))
    return [Answer(limits_text(each.written_like(limits), subject.say), why) for each in sensible]


def _outside(subject: Subject, step: Measure) -> Iterator[Question]:
    say = subject.say
    asks = say("ask-outside", text=subject.words(step.text))
    asked = subject.about_step("measured", step, asks, own="outside")
    place = subject.go_to(step.if_outside)
    right = Answer(f"{place[:1].upper()}{place[1:]}.", say("ask-outside-why"))
    ways = ("again", "later", "little")
    yield from posed(asked, right, (Answer(say(f"ask-outside-{way}"), say(f"ask-outside-{way}-why")) for way in ways))


@dataclass(frozen=True)
class _Ends:
    """The two ends of limits, one of which may be missing."""

    low: Quantity | None
    high: Quantity | None

    @property
    def _one(self) -> Quantity:
        found = self.low or self.high
        assert found is not None, "limits have an end"
        return found

    @property
    def unit(self) -> str:
        return self._one.unit.symbol

    @property
    def is_pair(self) -> bool:
        return self.low is not None and self.high is not None

    def moved(self, widths: int | Fraction) -> "_Ends":
        assert self.low is not None
        assert self.high is not None
        by = (self.high.value - self.low.value) * widths
        return _Ends(Quantity(self.low.value + by, self.low.unit), Quantity(self.high.value + by, self.high.unit))

    def times(self, factor: int | Fraction) -> "_Ends":
        low, high = (each and Quantity(each.value * factor, each.unit) for each in (self.low, self.high))
        return _Ends(low, high)

    def is_sensible(self, like: "_Ends") -> bool:
        """Whether no number is below 0 where none was."""
        return self._one.number >= 0 or like._one.number < 0

    def written_like(self, limits: Limits) -> Limits:
        """Return these ends with as many decimals as the author wrote, so that these do not tell them apart."""
        return Limits(_like(self.low, limits.from_), _like(self.high, limits.to))


def _like(end: Quantity | None, written: Text | None) -> Text | None:
    if end is None or written is None:
        return None
    number, wanted = decimal_text(end.number), _decimals(written.split(" ")[0])
    missing = max(0, wanted - _decimals(number))
    point = "." if missing and "." not in number else ""
    return Text(with_unit(f"{number}{point}{'0' * missing}", end.unit.symbol), written.span)


def _decimals(number: str) -> int:
    return len(number.partition(".")[2])


def _ends(limits: Limits) -> _Ends:
    low, high = (None if each is None else quantity(each) for each in (limits.from_, limits.to))
    return _Ends(low, high)
