"""What is taught of an edition: its parts with their words and digests, and which of them are watched."""

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import count

from tankside.edition import Edition
from tankside.memory import remembered
from tankside.model.fields import shape
from tankside.model.procedures import Procedure
from tankside.model.steps import Branch, Caution, Choose, Step, every
from tankside.training.spelling import without_spelling
from tankside.training.taught import Element, Taught, digest
from tankside.views.procedures import ProcedureView
from tankside.views.steps import Entry
from tankside.views.wording import Sentence, plain_text

#: steps that are always watched: what is turned, run, moved, measured, isolated, released or decided
WATCHED = ("open", "shut", "start", "stop", "move", "add", "measure", "lock", "unlock", "hold", "choose")
#: fields of a step, a branch or a caution that are wording; all others are facts
WORDING = ("text", "how", "until", "where", "about", "for_", "if_late", "if_", "hazard", "harm", "avoid")
#: fields that are taught elsewhere, or not at all
ELSEWHERE = ("name", "steps", "branches", "picture", "picture_says")


def watched_steps(procedure: Procedure) -> frozenset[str]:
    """Return the names of the steps at which a trainee is watched.

    Those that cautions cover, that a second person has a part in, whose kind is in WATCHED, and those that the
    procedure names under `observe`; of an emergency, all.
    """
    if procedure.is_emergency:
        return frozenset(str(item.name) for item in every(procedure.steps) if isinstance(item, Step))
    found = {str(name) for name in procedure.observe}
    for item in every(procedure.steps):
        if isinstance(item, Caution):
            found.update(map(str, item.covers))
        elif isinstance(item, Step) and (item.kind in WATCHED or item.second_person == "yes"):
            found.add(str(item.name))
    return frozenset(found)


@remembered
def taught_of(edition: Edition, shown: ProcedureView) -> Taught:
    """Return what is taught of the edition of a procedure; `shown` is its view."""
    procedure = edition.written
    assert isinstance(procedure, Procedure)
    found: dict[str, Element] = {}
    for each in _Teaching(edition, procedure, shown).elements():
        key = _free(each.key, found)
        found[key] = replace(each, key=key)
    about = (edition.id, str(procedure.title), int(procedure.revision), edition.hash, _same_since(procedure))
    return Taught(*about, tuple(found.values()))


def _free(key: str, taken: Collection[str]) -> str:
    """Return a key that is not taken: two cautions may cover the same steps."""
    numbered = (f"{key}:{number}" for number in count(2))
    return key if key not in taken else next(each for each in numbered if each not in taken)


def _same_since(procedure: Procedure) -> int:
    """Return the revision since which its authors say that nothing but the wording changed."""
    since = int(procedure.revision)
    for change in reversed(procedure.history):
        if int(change.revision) != since or change.meaning != "same":
            break
        since -= 1
    return since


@dataclass(frozen=True)
class _Teaching:
    """The parts of one procedure."""

    edition: Edition
    procedure: Procedure
    shown: ProcedureView

    def elements(self) -> Iterator[Element]:
        """Return them in reading order."""
        written = self.procedure
        yield _element("stop", True, said(self.shown.stop_safely), written.stop_leaves, written.stop_safely)
        if written.leave_if is not None:
            lines = (*map(said, self.shown.leave_if), said(self.shown.leave_then))
            yield _element("leave", True, " / ".join(lines), "", *written.leave_if.any_of, written.leave_if.then)
        if self.edition.call is not None:
            yield _element("call", False, self.edition.call.number, self.edition.call)
        yield _element("scope", False, said(self.shown.scope), "", written.scope)
        yield _element("second-person", False, self.shown.second_person, written.second_person)
        yield from self._around()
        yield from self._steps()
        yield from self._behind()

    def _around(self) -> Iterator[Element]:
        for wearable, wear in zip(self.procedure.wear, self.shown.wear, strict=True):
            facts, words = (wear.sign, wear.breakthrough), (wear.name, wear.made_of, wear.look_for)
            yield _element(f"wear:{wearable}", False, f"{wear.name}: {wear.look_for}", facts, *words)
        for name, condition in self.edition.conditions.items():
            yield _element(f"condition:{name}", False, condition.says, condition.procedure, condition.says)
        for name, material in self.edition.materials.items():
            for hazard in material.hazards:
                says = f"{material.name}: {hazard.says}"
                yield _element(f"hazard:{name}:{hazard.code}", False, says, hazard.code, hazard.says)
            for group, consequence in material.never_with.items():
                says = f"{material.name}, {group}: {consequence}"
                yield _element(f"never:{name}:{group}", False, says, "", consequence)
        for tag, piece in self.edition.equipment.items():
            for source in piece.energy_sources:
                says = f"{source.source}, {source.magnitude}; {source.release}; {source.verify}"
                facts = (source.magnitude, source.isolate_at)
                yield _element(
                    f"energy:{tag}.{source.name}", True, says, facts, source.source, source.release, source.verify
                )
        for (name, amount), view in zip(self.edition.amounts.items(), self.shown.amounts, strict=True):
            says = f"{view.title}: {' '.join(filter(None, (view.value, view.at)))}"
            yield _element(f"amount:{name}", False, says, (amount.tree, amount.tolerance, amount.measure_in))

    def _steps(self) -> Iterator[Element]:
        watched = watched_steps(self.procedure)
        entries = {each.name: each for each in _entries(self.shown) if each.form == "step"}
        cautions = (each for each in _entries(self.shown) if each.form == "caution")
        for item in every(self.procedure.steps):
            if isinstance(item, Caution):
                entry = next(cautions)
                key = f"caution:{'+'.join(item.covers) or without_spelling(item.hazard)}"
                yield _element(key, False, _in_words(entry), _facts(item), *_wording(item))
            elif isinstance(item, Step):
                name = str(item.name)
                branches = item.branches if isinstance(item, Choose) else ()
                facts = (_facts(item), *map(_facts, branches), self._limits(item))
                words = (*_wording(item), *(each for branch in branches for each in _wording(branch)))
                yield _element(f"step:{name}", name in watched, _in_words(entries[name]), facts, *words)

    def _limits(self, step: Step) -> object:
        name = getattr(step, "limits", None)
        return "" if name is None else self.edition.limits[str(name)]

    def _behind(self) -> Iterator[Element]:
        for remedy, view in zip(self.procedure.if_it_goes_wrong, self.shown.remedies, strict=True):
            says = f"{said(view.sign)}: {said(view.do)}"
            yield _element(f"remedy:{without_spelling(remedy.sign)}", False, says, str(remedy.go_to), remedy.do)
        if self.procedure.waste is not None:
            says = " ".join(map(said, self.shown.waste))
            yield _element("waste", False, says, str(self.procedure.waste.into), self.procedure.waste.note)


def said(words: Sentence) -> str:
    """Return a sentence as plain text."""
    return plain_text(words)


def _element(key: str, is_critical: bool, says: str, facts: object, *words: str) -> Element:
    return Element(key, is_critical, says, digest(facts), digest([without_spelling(each) for each in words]))


def _entries(shown: ProcedureView) -> Iterator[Entry]:
    return (each for section in shown.sections for each in _all(section.entries))


def _all(entries: Iterable[Entry]) -> Iterator[Entry]:
    for entry in entries:
        yield entry
        yield from _all(entry.entries)
        for branch in entry.branches:
            yield from _all(branch.entries)


def _in_words(entry: Entry) -> str:
    details = (f"{each.label}: {said(each.words)}" for each in entry.details)
    return "; ".join((said(entry.words), *details))


def _fields(item: Step | Caution | Branch) -> Iterator[tuple[str, object]]:
    for each in shape(type(item)):
        if not each.is_bookkeeping and each.name not in ELSEWHERE:
            yield each.name, getattr(item, each.name)


def _facts(item: Step | Caution | Branch) -> object:
    return {name: value for name, value in _fields(item) if name not in WORDING and value is not None}


def _wording(item: Step | Caution | Branch) -> tuple[str, ...]:
    return tuple(str(value) for name, value in _fields(item) if name in WORDING and value is not None)
