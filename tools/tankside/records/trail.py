"""The trail of a working copy: what was done in order, and what comes next (``copy-trail.js``)."""

from tankside.quantities.portable import Portable
from tankside.records.copy import Copy, State, Visit
from tankside.records.script import AWAY, DECIDE, DECIDES, ENDS, Exit


def complete(copy: Copy, visit: Visit, event: Portable, state: State) -> None:
    """Finish a step, and take the way that its answer leads to."""
    visit.state, visit.done = state, event["seq"]
    visit.exit = 0 if visit.node < 0 else max(copy.node_of(visit).exit(visit.answer), 0)
    if visit.exit > 0:
        _cut(copy, visit)
        copy.tip = visit


def _cut(copy: Copy, visit: Visit) -> None:
    """Drop what lay ahead on the way that is not taken; what was begun there already stays to be seen as it is."""
    after = copy.trail.index(visit) + 1
    kept = [each for each in copy.trail[after:] if each.state is not State.NOT_STARTED]
    copy.trail[after:] = kept
    for each in kept:
        each.is_aside = True


def extend(copy: Copy) -> None:
    """Lead the trail on, to what is to be done next; where the work is known by heart, on to the end of the section."""
    while not (copy.is_through or copy.ended):
        if not copy.trail:
            _go(copy, 0, Exit(copy.script.parts[0].program["start"], "", "", ()))
        elif all(not visit.is_open for visit in copy.trail):
            assert copy.tip is not None, "a trail has a tip"
            _follow(copy, copy.tip)
        elif not _look_ahead(copy):
            return


def _follow(copy: Copy, visit: Visit) -> None:
    """Go on behind a visit that is done."""
    if visit.node >= 0:
        assert visit.exit is not None, "it is done"
        _go(copy, visit.part, copy.node_of(visit).exits[visit.exit])
    elif visit.answer == "end":
        copy.is_through = copy.is_cut_short = True
    else:
        sender = visit.sender
        assert sender is not None, "only a step sends one away"
        _add(copy, Visit(sender.part, sender.node, sender.kind, sender.name))


def _add(copy: Copy, visit: Visit) -> None:
    copy.trail.append(visit)
    copy.tip = visit


def _last_on_the_way(copy: Copy, part: int) -> Visit | None:
    """Return the last step of a part that stands in no section into which one is only sent."""
    steps = (each for each in reversed(copy.trail) if each.part == part and each.node >= 0 and not each.is_aside)
    return next((each for each in steps if copy.section_of(each) not in copy.part_of(each).apart), None)


def _go(copy: Copy, part: int, way: Exit) -> None:
    if way.away:
        _add(copy, Visit(part, -1, AWAY, way.away, sender=copy.tip))
    elif way.to == DECIDES:
        _add(copy, Visit(part, -1, DECIDE, "", sender=_last_on_the_way(copy, part) or copy.tip))
    elif way.to != ENDS:
        node = copy.script.parts[part].nodes[int(way.to)]
        _add(copy, Visit(part, int(way.to), node.kind, node.step))
    elif part + 1 < len(copy.script.parts):
        _go(copy, part + 1, Exit(copy.script.parts[part + 1].program["start"], "", "", ()))
    else:
        copy.is_through = True


def _look_ahead(copy: Copy) -> bool:
    """Lead the trail on past a step that is not done yet; return whether it could be."""
    last = copy.trail[-1]
    if not copy.script.is_loose or not last.is_open or not copy.is_loose(last):
        return False
    way = copy.node_of(last).exits[0]
    if way.away or way.to in (ENDS, DECIDES):
        return False
    ahead = copy.part_of(last).nodes[int(way.to)].step
    if copy.part_of(last).sections[ahead] != copy.section_of(last):
        return False
    _go(copy, last.part, way)
    return True
