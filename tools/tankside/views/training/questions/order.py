"""Which step comes next."""

from collections.abc import Iterator
from itertools import pairwise

from tankside.model.steps import Choose, Hold, Repeat, Step
from tankside.views.training.question import Question
from tankside.views.training.questions.likeness import reads_the_same, says_the_same, stems
from tankside.views.training.questions.posing import Answer, posed
from tankside.views.training.questions.subject import ACTS, Subject

#: after these nobody has done anything yet that the next step follows from
LOOKED = ("check", "measure", "record", "notify", "wait", "labels")
#: what changes the plant, isolates it, or holds the work
MATTERS = (*ACTS, "lock", "unlock", "hold")


def order_questions(subject: Subject) -> Iterator[Question]:
    """Return for each step of the main way what comes right after it, where only one step can.

    Not asked: across a choice, a repetition or the end of a section; where the two steps are of one kind, such as
    two valves that are shut, because their order may not matter; where neither follows from the other; where either
    reads like another step.
    """
    after = dict(_pairs(subject))
    steps = {str(step.name): step for step in subject.main}
    for step in subject.best_first(steps[name] for name in after):
        yield from _question(subject, step, after[str(step.name)])


def _pairs(subject: Subject) -> Iterator[tuple[str, Step]]:
    for run in subject.runs:
        for step, following in pairwise(run):
            if _can_be_asked(subject, step, following):
                yield str(step.name), following


def _can_be_asked(subject: Subject, step: Step, following: Step) -> bool:
    if isinstance(step, (Choose, Repeat)) or isinstance(following, (Choose, Repeat)):
        return False
    is_one_kind = step.kind == following.kind and not (step.kind == "do" and subject.covering(following))
    is_plain = step.kind in LOOKED or following.kind in ("record", "labels")
    are_told_apart = subject.is_said_once(step) and subject.is_said_once(following)
    return not is_one_kind and not is_plain and are_told_apart and _belong_together(subject, step, following)


def _belong_together(subject: Subject, step: Step, following: Step) -> bool:
    """Whether one follows from the other: not so on a round, where this and that is looked at."""
    if step.kind in MATTERS or following.kind in MATTERS:
        return True
    is_one_danger = any(each in subject.covering(following) for each in subject.covering(step))
    first, second = subject.brief(step), subject.brief(following)
    is_one_thing = not stems(first).isdisjoint(stems(second)) or not subject.tags_in(first).isdisjoint(
        subject.tags_in(second)
    )
    return is_one_danger or is_one_thing


def _question(subject: Subject, step: Step, following: Step) -> Iterator[Question]:
    says, number = subject.sentence(following), subject.number(following)
    key = "ask-next-released" if isinstance(step, Hold) else "ask-next"
    said = subject.words(step.text) if isinstance(step, Hold) else subject.sentence(step)
    asked = subject.about_step("order", step, subject.say(key, step=said), own="next")
    right = Answer(says, subject.say("ask-next-why", number=number))
    yield from posed(asked, right, _others(subject, step, following))


def _others(subject: Subject, step: Step, following: Step) -> Iterator[Answer]:
    """Return the steps after the next one, as when one is left out, then those before."""
    at = subject.main.index(step)
    later = [each for each in subject.main[at + 2 :] if _may_be_offered(subject, each, following)]
    before = [each for each in reversed(subject.main[:at]) if _may_be_offered(subject, each, following)]
    for each in (*later[:2], *before[:1], *later[2:], *before[1:]):
        key = "ask-next-before" if each in before else "ask-next-later"
        yield Answer(subject.sentence(each), subject.say(key, number=subject.number(each)))


def _may_be_offered(subject: Subject, step: Step, following: Step) -> bool:
    is_plain = isinstance(step, (Choose, Repeat)) or step.kind in ("record", "labels", "notify")
    one, other = subject.brief(step), subject.brief(following)
    # Two things to do or to look at that are much alike may be done the other way round.
    is_round = step.kind == following.kind and step.kind in ("do", "check") and says_the_same(one, other)
    alike = is_round or reads_the_same(one, other)
    return not is_plain and not alike and subject.is_said_once(step)
