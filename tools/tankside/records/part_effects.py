"""What the parts of a working copy do to the plant and ask of it, as their editions carry it."""

from collections.abc import Iterable, Iterator

from tankside.plant.effects import Effect
from tankside.plant.fold import Rules
from tankside.plant.portable import read_effect, read_rules
from tankside.quantities.portable import Portable
from tankside.records.script import Part, Script


def asked(script: Script) -> Iterator[tuple[int, str]]:
    """Return what must be so at the start: place of a part, and each prerequisite that no earlier part brings about."""
    before: set[str] = set()
    for number, part in enumerate(script.parts):
        for name in part.edition["written"]["prerequisites"]:
            if part.edition["conditions"][name].get("procedure") not in before:
                yield number, name
        before.add(part.procedure)


def effects_in(written: Iterable[Portable]) -> tuple[Effect, ...]:
    """Return effects as an edition carries them, but for what somebody wears: that is about a person, not the plant."""
    return tuple(read_effect(each) for each in written if each["kind"] != "wears")


def effects_of(part: Part, name: str) -> tuple[Effect, ...]:
    """Return what a step does."""
    return effects_in(part.edition["effects"].get(name, ()))


def seen_at(part: Part, condition: str) -> tuple[Effect, ...]:
    """Return what is known of the plant when a prerequisite is so."""
    return effects_in(part.edition["seen"].get(condition, ()))


def rules_in(part: Part) -> Rules:
    """Return what a fold of a part's effects must know."""
    return read_rules(part.edition.get("fold_rules") or _NO_RULES)


_NO_RULES: Portable = {"held": {}, "lines": [], "supplies": [], "waters": [], "isolated_at": {}, "pressure": []}
