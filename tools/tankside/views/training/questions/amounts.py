"""How much of something, worked out for a value of the input that is not the usual one."""

from collections.abc import Iterator, Mapping
from typing import Final

from tankside.catalogue.walking import texts
from tankside.compute.measuring import measured
from tankside.compute.worked import Worked, WorkedAmount
from tankside.edition.shown import key
from tankside.model.steps import Step, every
from tankside.quantities.calculation import result_of
from tankside.quantities.registry import HELPERS
from tankside.units import Quantity
from tankside.views.numbers import exact_text, primary_text
from tankside.views.training.question import Question
from tankside.views.training.questions.posing import Answer, Asked, posed
from tankside.views.training.questions.slips import Slip, Sum, is_believed, slips_of
from tankside.views.training.questions.subject import Subject

#: helper -> its argument that says for how much of what is made it works an amount out
MADE: Final[Mapping[str, str]] = {"dilute": "make", "dilute-into": "water"}


def amount_questions(subject: Subject) -> Iterator[Question]:
    """Return for each amount how much it is: right as the page shows it, wrong by mistakes that people make.

    A wrong amount that shows the same text, or that the tolerance of the amount would let pass, is not offered. An
    emergency asks for no amounts.
    """
    if subject.procedure.is_emergency:
        return
    found = ((amount, _step_with(subject, amount.name)) for amount in subject.edition.amounts.values())
    needed = [(amount, step) for amount, step in found if step is not None]
    for amount, step in sorted(needed, key=lambda each: subject.weight(each[1])):
        yield from _question(subject, amount, step)


def _question(subject: Subject, amount: WorkedAmount, step: Step) -> Iterator[Question]:
    asked_for = Sum(subject, amount, _worked(amount))
    value = _size(asked_for)
    key_ = "ask-amount" if value else "ask-amount-plain"
    asks = subject.say(key_, title=amount.title, value=value)
    asked = subject.about_step("amounts", step, asks, own="amount")
    own = Asked(f"{amount.name}.amount", asked.kind, asks, asked.about, asked.place)
    right = Answer(_shown(subject, asked_for.worked.shown), subject.say(f"{key_}-why", value=value))
    yield from posed(own, right, _wrong(asked_for, right.says))


def _size(asked: Sum) -> str:
    """Return what the amount is for: the value of the input, or what is made where that never changes."""
    if asked.worked.at is not None:
        return exact_text(asked.worked.at)
    given = MADE.get(asked.amount.helper)
    return "" if given is None else exact_text(asked.argument(given))


def _worked(amount: WorkedAmount) -> Worked:
    """Return the amount for the value that is asked for: the last of the table that is not the usual one."""
    other = [each for each in amount.table if each.at != amount.usual.at]
    return other[-1] if other else amount.usual


def _wrong(asked: Sum, right: str) -> Iterator[Answer]:
    for slip in slips_of(asked):
        shown = _measured(asked, slip)
        says = _shown(asked.subject, shown)
        is_one_form = _is_about(asked.subject, says) == _is_about(asked.subject, right)
        if says != right and is_one_form and is_believed(slip, asked.right) and not _would_pass(asked, shown):
            yield Answer(says, asked.subject.say(f"ask-slip-{slip.reason}", **slip.filled))


def _would_pass(asked: Sum, wrong: Quantity) -> bool:
    """Whether it would be within the tolerance, of what is exact or of what is shown."""
    tolerance = asked.amount.tolerance
    ends = (asked.worked.exact.value, asked.worked.shown.value)
    return tolerance is not None and any(abs(wrong.value - end) <= tolerance.value for end in ends)


def _measured(asked: Sum, slip: Slip) -> Quantity:
    """Return a wrong amount rounded to the same vessel in the same direction as the right one."""
    amount, exact = asked.amount, Quantity(slip.exact, asked.worked.exact.unit)
    if amount.measure_in is None:
        return exact
    direction = result_of(HELPERS[amount.helper], amount.result).direction
    return measured(asked.subject.plant.equipment, key(amount.measure_in), exact, direction).shown


def _shown(subject: Subject, quantity: Quantity) -> str:
    return primary_text(quantity, str(subject.plant.facts.units), subject.say)


def _is_about(subject: Subject, says: str) -> bool:
    """Whether a text says that digits were left away, which would tell it apart."""
    return says.startswith(subject.say("about", value=""))


def _step_with(subject: Subject, name: str) -> Step | None:
    """Return the first step that needs an amount, itself, in a note before it, or through another amount."""
    is_said = False
    for item in every(subject.procedure.steps):
        is_said = is_said or any(f"<{name}>" in text for text, _ in texts(item))
        if is_said and isinstance(item, Step):
            return item
    users = (other for other, amount in subject.procedure.amounts.items() if name in amount.with_.values())
    found = (_step_with(subject, str(other)) for other in users)
    return next((step for step in found if step is not None), None)
