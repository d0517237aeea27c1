"""Training of a book: whether its paths can be walked in their order."""

from collections.abc import Iterator, Mapping
from itertools import pairwise

from tankside.loading.values import Text
from tankside.model.facts import Plant
from tankside.model.procedures import Procedure
from tankside.model.steps import Add, Drive, Isolate, Item, Move, Step, TurnValve, every
from tankside.model.training import ALONE, SUPERVISED, USUAL, Path, PathItem, Training
from tankside.problems import Problem, meant, quoted

KINDS = ("learn", "find", "pairs", "tell")


def training_disagreements(plant: Plant, procedures: Mapping[str, Procedure]) -> Iterator[Problem]:
    """Return what keeps a path from being walked, and lapses of what is not there."""
    training = plant.training
    families = sorted({str(each.family) for each in procedures.values()})
    for name in training.lapses:
        if name != USUAL and name not in procedures and name not in families:
            message = f"{quoted(name)} is no family and no procedure"
            hint = meant(name, (*families, *procedures), f"families are: {', '.join(families)}")
            yield Problem(name.span, "lapse-of-unknown", message, hint)
    for name, path in training.paths.items():
        yield from _round(name, path, training)
        yield from _days(path)
        yield from _items(name, path, _before(training, path), procedures)


def _round(name: Text, path: Path, training: Training) -> Iterator[Problem]:
    seen, at = {str(name)}, path
    while at.builds_on is not None and at.builds_on in training.paths:
        if str(at.builds_on) in seen:
            message = f"path '{name}' builds on itself"
            assert path.builds_on is not None
            yield Problem(path.builds_on.span, "path-round", message, "take out one of the 'builds_on'")
            return
        seen.add(str(at.builds_on))
        at = training.paths[at.builds_on]


def _days(path: Path) -> Iterator[Problem]:
    for before, part in pairwise(path.parts):
        if int(part.day) < int(before.day):
            message = f"this part begins on day {part.day}, after one on day {before.day}"
            yield Problem(part.day.span, "path-days", message, "list the parts in the order of their days")


def _before(training: Training, path: Path) -> dict[str, str]:
    """Return how far one came with each procedure on the paths that were walked before."""
    far: dict[str, str] = {}
    walked = [path]
    while (name := walked[-1].builds_on) is not None:
        earlier = training.paths.get(name)
        if earlier is None or earlier in walked:
            break
        walked.append(earlier)
        far = {str(item.learn): str(item.to) for item in earlier.items if item.learn is not None} | far
    return far


def _items(name: Text, path: Path, far: dict[str, str], procedures: Mapping[str, Procedure]) -> Iterator[Problem]:
    for part in path.parts:
        for item in part.items:
            yield from _kind(item, name)
            yield from _order(item, far, str(part.touching) == "no", procedures)
            if item.learn is not None:
                far[str(item.learn)] = str(item.to)


def _kind(item: PathItem, name: Text) -> Iterator[Problem]:
    given = [key for key in KINDS if getattr(item, key)]
    if len(given) != 1:
        said = " and ".join(f"'{key}'" for key in given) or "nothing of them"
        at = _place(item, name)
        message = f"an item has exactly one of {', '.join(KINDS)}; here stands {said}"
        yield Problem(at.span, "path-item", message, "make an item of each")
    elif (item.learn is None) != (item.to is None):
        at = _place(item, name)
        message = "'learn' and 'to' belong together: which procedure, and how far"
        yield Problem(at.span, "path-item", message, "add 'to: read', shown, supervised or alone behind 'learn'")


def _place(item: PathItem, otherwise: Text) -> Text:
    found = (item.learn, item.to, *item.find, item.pairs, item.tell, *item.after, *item.covers)
    return next((each for each in found if each is not None), otherwise)


def _order(
    item: PathItem, far: Mapping[str, str], hands_off: bool, procedures: Mapping[str, Procedure]
) -> Iterator[Problem]:
    """Return what is asked for before it can have been learnt; `far` says how far the path led before."""
    for name in item.after:
        if name in procedures and far.get(str(name)) != ALONE:
            message = f"before this, nobody has come to do '{name}' alone"
            hint = f"put 'learn: {name}' with 'to: alone' before it, or take it out of 'after'"
            yield Problem(name.span, "path-order", message, hint)
    if not hands_off or item.learn is None or item.learn not in procedures or item.to not in (SUPERVISED, ALONE):
        return
    procedure = procedures[str(item.learn)]
    if not procedure.is_emergency and any(map(_touches, every(procedure.steps))):
        message = f"'{item.learn}' moves liquids or works machines, and nothing may be touched yet in this part"
        yield Problem(item.learn.span, "path-order", message, "write 'to: shown' here, and go on in a later part")


def _touches(item: Item) -> bool:
    return isinstance(item, (TurnValve, Drive, Isolate, Move, Add)) or (isinstance(item, Step) and bool(item.exposes))
