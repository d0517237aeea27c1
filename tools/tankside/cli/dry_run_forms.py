"""A dry run as a table for people and as JSON for programs."""

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import zip_longest
from textwrap import wrap

from tankside.cli.rehearsing import Rehearsed
from tankside.plant.rehearsal import Rehearsal, as_problem
from tankside.plant.running import Finding, Leg
from tankside.plant.state import Piece, State
from tankside.plant.volumes import Contents, Interval
from tankside.quantities.decimal_text import decimal_text
from tankside.texts import Words
from tankside.views.dry_run import DryRunView, dry_run_view, states_after, touched_in
from tankside.views.states import FIELDS, Aspect, StateWords

#: characters of the first column; the others share what is left
FIRST, GAP = 24, 2
HEADS = ("Step", "What it changes", "If stopped here, stays behind")
SAME, NONE = ("(as above)",), ("-",)


def views(rehearsal: Rehearsal, found: Rehearsed, say: Words) -> Iterator[tuple[Leg, DryRunView]]:
    """Return each procedure that was rehearsed, with its steps in words."""
    words = StateWords(rehearsal.rehearsing.setting, say)
    touched: dict[Aspect, None] = {}
    for leg in found.legs:
        stepping = rehearsal.rehearsing.stepping(leg.procedure)
        yield leg, dry_run_view(stepping, leg.run, words, found.start, touched)
        touched |= dict.fromkeys(touched_in(leg.run, words))


def table(view: DryRunView, width: int) -> Iterator[str]:
    """Return the lines of a table of steps, no longer than `width`."""
    other = (width - FIRST - 2 * GAP) // 2
    widths = (FIRST, other, other)
    yield from _row([(head,) for head in HEADS], widths)
    yield (" " * GAP).join("-" * each for each in widths)
    before: tuple[str, ...] = ()
    for step in view.steps:
        done = (*step.changes, *(f"seen: {each}" for each in step.seen))
        left = SAME if step.left and step.left == before else step.left
        yield from _row(((f"{step.number} {step.name}",), done or NONE, left or NONE), widths)
        before = step.left


def _row(cells: Iterable[Sequence[str]], widths: Sequence[int]) -> Iterator[str]:
    """Return the lines of a row; each thing that is said in a cell begins a line."""
    wrapped = [
        [line for each in said for line in wrap(each, width, subsequent_indent="  ", break_on_hyphens=at == 0)]
        for at, (said, width) in enumerate(zip(cells, widths, strict=True))
    ]
    for line in zip_longest(*wrapped, fillvalue=""):
        yield (" " * GAP).join(part.ljust(width) for part, width in zip(line, widths, strict=True)).rstrip()


def as_json(rehearsal: Rehearsal, found: Rehearsed, findings: Iterable[Finding], say: Words) -> str:
    """Return all that a dry run gave."""
    rest = rehearsal.rehearsing.setting.at_rest
    plain = {
        "id": found.id,
        "sort": found.sort,
        "start": _state(rest, found.start),
        "steps": [step for leg, view in views(rehearsal, found, say) for step in _steps(rest, leg, view)],
        "ends": [_state(rest, each) for each in found.run.ends],
        "findings": [_finding(each) for each in findings],
        "visited": found.run.visited,
        "ways": found.run.ways,
    }
    return json.dumps(plain, ensure_ascii=False)


def _steps(rest: State, leg: Leg, view: DryRunView) -> Iterator[Mapping[str, object]]:
    for step in view.steps:
        yield {
            "checklist": leg.checklist or None,
            "procedure": str(leg.procedure.procedure),
            "section": leg.section,
            "number": step.number,
            "step": step.name,
            "changes": step.changes,
            "seen": step.seen,
            "left": step.left,
            "exposed": step.exposed,
            "states": [_state(rest, each) for each in states_after(leg.run, step.name)],
            "stopped": [_state(rest, each) for each in leg.run.stopped.get(step.name, ())],
        }


def _finding(finding: Finding) -> Mapping[str, object]:
    own = {"procedure": finding.procedure, "step": finding.step, "within": finding.within, "way": finding.way}
    return {**as_problem(finding).as_plain(), **own}


def _state(rest: State, state: State) -> Mapping[str, object]:
    """Return a state as what is not as at rest."""
    pieces = {tag: _piece(rest[tag], piece) for tag, piece in state.pieces.items()}
    return {"worn": sorted(state.worn), "pieces": {tag: found for tag, found in pieces.items() if found}}


def _piece(rest: Piece, piece: Piece) -> Mapping[str, object]:
    values = {
        field: getattr(piece, field) for field in (*FIELDS, "traces") if getattr(piece, field) != getattr(rest, field)
    }
    return {field: _plain(value) for field, value in values.items()}


def _plain(value: object) -> object:
    if isinstance(value, Contents):
        return {"volume": _litres(value.volume), "materials": {name: _litres(part) for name, part in value.parts}}
    return sorted(value) if isinstance(value, frozenset) else value


def _litres(volume: Interval) -> Mapping[str, str]:
    return {"from": decimal_text(volume.low), "to": decimal_text(volume.high)}
