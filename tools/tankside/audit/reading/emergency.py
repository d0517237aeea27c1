"""Emergency procedures: what each is for, by what it needs and how it begins, and what it tells people."""

import re
from collections.abc import Callable, Iterator

from tankside.audit.audited import Audited, placed
from tankside.audit.reading.wording import in_english, sentences, texts_of
from tankside.audit.rule import Found
from tankside.loading.values import Text
from tankside.model.procedures import Procedure
from tankside.problems import quoted

#: how the first step of a procedure begins that leads people out
LEAVING = re.compile(r"(leave|get out|go out|walk out|everybody out|everyone out|evacuate)\b", re.IGNORECASE)
CALLING = re.compile(r"\b(call|calls|called|dial|dialled|dialed|phone|phoned|ring)\b", re.IGNORECASE)
#: what a book says where a fact has not been written yet
UNWRITTEN = re.compile(r"\((write|fill in)\b|\bnot (yet )?(decided|written|chosen|known)\b", re.IGNORECASE)


def emergencies(audited: Audited) -> tuple[Procedure, ...]:
    """Return the emergency procedures."""
    return tuple(each for each in audited.procedures if each.is_emergency)


def needing(audited: Audited, kind: str) -> tuple[Procedure, ...]:
    """Return the emergency procedures that need a piece of some kind: a spill kit, an eyewash."""
    kinds = {str(tag): str(piece.kind) for tag, piece in audited.plant.equipment.equipment.items()}
    return tuple(each for each in emergencies(audited) if any(kinds[str(tag)] == kind for tag in each.needs))


def against_spills(audited: Audited) -> tuple[Procedure, ...]:
    """Return the emergency procedures by which a spill is taken up: they need a spill kit."""
    return needing(audited, "spill-kit")


def against_splashes(audited: Audited) -> tuple[Procedure, ...]:
    """Return the emergency procedures by which a splash is washed off: they need an eyewash or a shower."""
    return needing(audited, "eyewash")


def leading_out(audited: Audited) -> tuple[Procedure, ...]:
    """Return the emergency procedures that begin with leaving."""
    return tuple(each for each in in_english(audited) if each.is_emergency and _begins_with_leaving(each))


def _begins_with_leaving(procedure: Procedure) -> bool:
    first = next(iter(placed(procedure)), None)
    return first is not None and any(LEAVING.match(text) for text in texts_of(first.step))


def said_in(procedure: Procedure) -> Iterator[Text]:
    """Return what a procedure tells people to do: its steps, what the bright line leads to, its remedies."""
    for each in placed(procedure):
        yield from texts_of(each.step)
    if procedure.leave_if is not None:
        yield procedure.leave_if.then
    yield from (remedy.do for remedy in procedure.if_it_goes_wrong)


def calls(procedure: Procedure, number: str) -> bool:
    """Return whether it tells people to call a number."""
    dialled = re.compile(rf"(?<!\w){re.escape(number)}(?!\w)")
    spoken = (sentence for text in said_in(procedure) for sentence in sentences(text))
    return any(dialled.search(sentence) and CALLING.search(sentence) for sentence in spoken)


def unhandled(audited: Audited, handled: Callable[[str], bool], what: str, hint: str) -> Iterator[Found]:
    """Return the hazardous materials for which there is no emergency procedure of some sort."""
    for name in audited.plant.materials.materials:
        if name in audited.rehearsal.setting.hazardous and not handled(str(name)):
            yield Found(str(name), name.span, f"no emergency procedure is for {what} of {quoted(name)}", hint)
