"""Whether an edition that was read from a file can be followed: everything that judging asks of it is asked once."""

from collections.abc import Iterable, Iterator
from fractions import Fraction

from tankside.plant.effects import Effect
from tankside.plant.fold import Rules, folded
from tankside.plant.state import State
from tankside.problems import quoted
from tankside.quantities.portable import Portable
from tankside.records.board import with_all
from tankside.records.copy import Copy
from tankside.records.part_effects import asked, effects_in, effects_of, rules_in, seen_at
from tankside.records.script import DECIDES, ENDS, Part, Script
from tankside.records.worth import Inputs, limits, target
from tankside.units import QuantityError, parse_quantity

#: the layouts of editions that this version can follow
LAYOUTS = ("tankside-edition-3",)
#: a day of the demonstration book has 30
MOST_PARTS = 500
#: what reading raises when it meets another shape than the one it is for
_OTHER_SHAPE = (LookupError, TypeError, ValueError, AttributeError, ArithmeticError, QuantityError, RecursionError)


class NotFollowedError(Exception):
    """An edition that nobody could have followed; the text says what was met."""


class _OddError(ValueError):
    """Something that no edition has; the text says what."""


def script_of(edition: Portable) -> Script:
    """Return what a working copy follows.

    Raises:
        NotFollowedError: the edition has not the shape of one.
    """
    try:
        script = Script(edition)
        _ask_script(script)
        for part in script.parts:
            _ask_part(part, is_loose=script.is_loose)
            _ask_effects(part)
    except _OTHER_SHAPE as error:
        raise NotFollowedError(_met(error)) from error
    return script


def ask_amounts(copy: Copy) -> None:
    """Work out every amount of a copy for what was chosen at its start.

    Raises:
        NotFollowedError: one cannot be worked out.
    """
    try:
        for part in copy.script.parts:
            _ask_targets(part, copy.inputs)
    except _OTHER_SHAPE as error:
        raise NotFollowedError(_met(error)) from error


def _met(error: Exception) -> str:
    """Return what was met, in words; a look-up names only what is not there."""
    if isinstance(error, KeyError) and isinstance(error.args[0], str):
        return f"it has no {quoted(error.args[0])}"
    if isinstance(error, (_OddError, QuantityError)):
        return str(error)
    return "a value in it has not the form that it has in an edition"


def _ask_script(script: Script) -> None:
    if not 0 < len(script.parts) <= MOST_PARTS:
        raise _OddError(f"it has {len(script.parts)} parts")
    _texts((script.id, script.edition["book"], script.edition["written"]["title"]))
    _texts(script.sizes)
    _ = (script.needs_second_person, script.needs_lot, script.is_loose)
    for _, _, each in script.inputs():
        low, high = parse_quantity(each["from"]), parse_quantity(each["to"])
        if low.unit.kind != high.unit.kind:
            raise _OddError("a range has ends of two kinds")
    _texts(name for _, name in asked(script))


def _texts(found: Iterable[Portable]) -> None:
    for each in found:
        if not isinstance(each, str):
            raise _OddError(f"{quoted(each)} stands where text is expected")


def _ask_part(part: Part, *, is_loose: bool) -> None:
    _texts((part.procedure, part.revision, part.approver, part.edition["written"]["title"], part.program["start"]))
    _ = (part.apart, int(part.revision))
    for name, step in part.steps.items():
        _texts((name, step["kind"], part.sections[name]))
        _ask_step(part, step)
    for node in part.nodes:
        _texts((node.step, node.kind, part.steps[node.step]["kind"], *(each.answer for each in node.exits)))
    _ask_ways(part)
    if is_loose:
        _ask_rounds(part)


def _ask_ways(part: Part) -> None:
    known = {*(str(number) for number, _ in enumerate(part.nodes)), ENDS}
    if part.program["start"] not in known:
        raise _OddError("no way leads in")
    for node in part.nodes:
        if not node.exits or any(not way.away and way.to not in {*known, DECIDES} for way in node.exits):
            raise _OddError(f"no way leads on from '{node.step}'")


def _ask_rounds(part: Part) -> None:
    """Refuse a way that leads round without anybody being asked: looking ahead on it never ends."""
    for start, _ in enumerate(part.nodes):
        seen, place = set[int](), start
        while part.nodes[place].is_loose and part.nodes[place].exits[0].to not in (ENDS, DECIDES, ""):
            if place in seen:
                raise _OddError(f"the way leads round at '{part.nodes[place].step}'")
            seen.add(place)
            place = int(part.nodes[place].exits[0].to)


def _ask_step(part: Part, step: Portable) -> None:
    match step["kind"]:
        case "wait":
            _ = parse_quantity(step["time"]).value
        case "measure":
            if limits(part, step) == (None, None):
                raise _OddError(f"'{step['name']}' has no limits")
            _texts((step["instrument"],))
        case "hold":
            _texts((step["released_by"],))
        case "add":
            source = part.edition["equipment"].get(step.get("from", ""))
            _texts((step["material"], step["amount"], *([] if source is None else [source["kind"]])))
        case "labels":
            _texts((step["product"], step["counted"], *part.edition["labels"][step["product"]]["codes"].values()))


def _ask_targets(part: Part, inputs: Inputs) -> None:
    for node in part.nodes:
        step = part.steps[node.step]
        if step["kind"] == "add" and node.kind == "add":
            target(part, step, inputs)


def _ask_effects(part: Part) -> None:
    """Fold all that a part may do to the plant once, one thing after the other, as a board would."""
    rules, effects = rules_in(part), tuple(_effects(part))
    state = with_all(State({}), rules, effects)
    _texts(state.pieces)
    for effect in effects:
        state = _after(state, rules, effect)
    for named in part.edition["volumes"].values():
        _ = Fraction(named["litres"]), part.edition["amounts"][named["amount"]]


def _after(state: State, rules: Rules, effect: Effect) -> State:
    after = folded(rules, state, effect)
    _texts(after.pieces)
    return after


def _effects(part: Part) -> Iterator[Effect]:
    for node in part.nodes:
        yield from effects_of(part, node.step)
        for way in node.exits:
            yield from effects_in(way.seen)
    for condition in part.edition["seen"]:
        yield from seen_at(part, condition)
    yield from effects_in(part.edition["stopping"])
