"""Every name resolved: what is not defined, what is never used, what is of the wrong kind."""

import re
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import PurePosixPath
from typing import Any

from tankside.catalogue.names import Names
from tankside.catalogue.walking import texts
from tankside.loading.values import Text
from tankside.memory import remembered
from tankside.model.claims import Claim, ClaimUnclearError, kinds_of, read_claim
from tankside.model.fields import shape
from tankside.model.procedures import Checklist, Procedure
from tankside.model.references import Claims, Refers
from tankside.model.steps import Caution, Section, Step, every
from tankside.problems import Problem, meant, quoted
from tankside.quantities.registry import HELPERS

#: an amount inside a text
PLACEHOLDER = re.compile(r"<([^<>\s]+)>")
#: what may be a tag inside a text
WORD = re.compile(r"[A-Za-z][A-Za-z0-9]*(?:-[A-Za-z0-9]+)*")
#: what each sort of name is called in a sentence
CALLED = {
    "role": "role",
    "tag": "tag",
    "material": "material",
    "product": "product",
    "wearable": "protective equipment",
    "condition": "condition",
    "group": "reactivity group",
    "procedure": "procedure",
    "checklist": "checklist",
    "limit": "limit (material.name)",
    "energy": "source of energy (machine.name)",
    "helper": "helper",
    "picture": "picture in site_src/pictures",
    "step": "step of this procedure",
    "place": "section of this procedure or procedure",
    "procedure-part": "procedure or procedure/section",
    "amount": "amount",
    "input or amount": "input or amount of this procedure",
    "section": "section",
    "wall": "place where sheets hang",
    "path": "path of training",
}
#: the sorts of names that must be used somewhere in the book once they are defined
MUST_BE_USED = ("role", "tag", "material", "wearable", "condition", "group")

#: kinds of equipment that serve where they stand, so that nothing need name them
USED_BY_STANDING = ("tray",)


@dataclass(frozen=True)
class Linked:
    """The parts of a book whose names are to be resolved."""

    names: Names
    plant: tuple[Any, ...]
    procedures: tuple[Procedure, ...]
    checklists: tuple[Checklist, ...]
    pictures: frozenset[str]
    #: False when some file had problems; what seems unused may then be used there
    is_complete: bool


@dataclass
class _Linker:
    names: Names
    pictures: frozenset[str]
    used: set[tuple[str, str]] = field(default_factory=set)

    def unknown(
        self, name: Text, what: str, known: Collection[str], fitting: Collection[str] = ()
    ) -> Iterator[Problem]:
        """Return a problem when the name is not among the known ones; note its use when it is.

        `fitting` are the known names to suggest, where not all of them would do.
        """
        if what in self.names.unread or (what == "limit" and "material" in self.names.unread):
            return
        if name in known:
            self.used.add((what, str(name)))
            return
        message = f"{quoted(name)} is not a known {CALLED[what]}"
        listed = ", ".join(sorted(fitting or known)[:8]) or "none is defined"
        yield Problem(name.span, "name-unknown", message, meant(name, fitting or known, f"known are: {listed}"))

    def resolve(self, name: Text, refers: Refers) -> Iterator[Problem]:
        """Return the problems of a name that means the same everywhere in the book."""
        if refers.to == "limit":
            yield from self.unknown(name, "limit", self.names.limits)
        elif refers.to == "energy":
            yield from self.unknown(name, "energy", self.names.energy)
        elif refers.to == "helper":
            yield from self.unknown(name, "helper", HELPERS)
        elif refers.to == "picture":
            yield from self.unknown(name, "picture", self.pictures)
        elif refers.to == "procedure-part":
            parts = set(self.names.of("procedure"))
            parts |= {f"{each}/{section}" for each in parts for section in self.names.sections.get(each, ())}
            yield from self.unknown(name, "procedure-part", parts)
        else:
            yield from self.unknown(name, refers.to, self.names.defined.get(refers.to, {}), self._fitting(refers))
            yield from self.wrong_kind(name, refers)

    def _fitting(self, refers: Refers) -> tuple[str, ...]:
        """Return the tags of the kinds that will do, none when any will."""
        return tuple(sorted(tag for tag, kind in self.names.kinds.items() if kind in refers.kinds))

    def sections_of(self, procedure: Procedure) -> set[str]:
        """Return the sections of a procedure, those included that could not be read whole."""
        return self.names.sections[PurePosixPath(procedure.span.path).stem]

    def mention(self, text: Text) -> None:
        """Note the tags that stand in plain words; they are in use."""
        self.used.update(("tag", word) for word in WORD.findall(text) if word in self.names.kinds)

    def claim(self, text: Text) -> Iterator[Problem]:
        """Return the problems of a claim: that it cannot be read, or that it names what is not there."""
        try:
            claim = read_claim(text)
        except ClaimUnclearError as error:
            yield Problem(text.span, "claim-unclear", error.sentence, error.hint)
            return
        for name, refers in named_in(claim):
            yield from self.resolve(name, refers)

    def wrong_kind(self, name: Text, refers: Refers) -> Iterator[Problem]:
        kind = self.names.kinds.get(name)
        if refers.to == "tag" and refers.kinds and kind and kind not in refers.kinds:
            wanted = " or ".join(refers.kinds)
            message = f"'{name}' is {_one(kind)}, not {_one(wanted)}"
            choices = ", ".join(self._fitting(refers)) or "none in the book"
            yield Problem(name.span, "tag-wrong-kind", message, f"one of: {choices}")


def claim_problems(text: Text, names: Names) -> Iterator[Problem]:
    """Return the problems of a claim that stands in no book, with what a book defines."""
    return _Linker(names, frozenset()).claim(text)


def named_in(claim: Claim) -> Iterator[tuple[Text, Refers]]:
    """Return the names that stand in a claim, each with what it must be the name of."""
    for subject in claim.subjects:
        if claim.is_worn:
            if subject != "wear":
                yield subject, Refers("wearable")
        else:
            tag, _, source = subject.partition(".")
            yield Text(tag, subject.span), Refers("tag", kinds_of(claim.state))
            if source:
                yield subject, Refers("energy")
    for material in claim.materials:
        yield material, Refers("material")
    if claim.other is not None:
        yield claim.other, Refers("tag")


def _one(noun: str) -> str:
    return f"{'an' if noun[0] in 'aeiou' else 'a'} {noun}"


@dataclass(frozen=True)
class _Resolved:
    """What came of the names of one part of a book."""

    problems: tuple[Problem, ...]
    #: what is used, and its sort
    used: frozenset[tuple[str, str]]


def link_problems(linked: Linked, defined: Mapping[str, Mapping[str, Text]]) -> Iterator[Problem]:
    """Return the problems of all names in the book; `defined` says where each one stands now."""
    parts = (*linked.plant, *linked.procedures, *linked.checklists)
    resolved = tuple(_resolved(linked.names, linked.pictures, part) for part in parts)
    for each in resolved:
        yield from each.problems
    if linked.is_complete:
        used = frozenset[tuple[str, str]]().union(*(each.used for each in resolved))
        for what in MUST_BE_USED:
            for name, place in defined.get(what, {}).items():
                if (what, name) not in used and linked.names.kinds.get(name) not in USED_BY_STANDING:
                    yield _unused(place, what)


@remembered
def _resolved(names: Names, pictures: frozenset[str], part: object) -> _Resolved:
    linker = _Linker(names, pictures)
    if isinstance(part, Procedure):
        problems = tuple(_in_procedure(linker, part))
    elif isinstance(part, Checklist):
        problems = tuple(_in_checklist(linker, part))
    else:
        problems = tuple(_everywhere(linker, part))
    return _Resolved(problems, frozenset(linker.used))


def _everywhere(linker: _Linker, part: object) -> Iterator[Problem]:
    for text, meaning in texts(part):
        if isinstance(meaning, Refers):
            yield from linker.resolve(text, meaning)
        elif isinstance(meaning, Claims):
            yield from linker.claim(text)
        else:
            linker.mention(text)


def _unused(name: Text, what: str) -> Problem:
    message = f"{CALLED[what]} '{name}' is defined and never used"
    return Problem(name.span, "name-unused", message, "use it or delete it")


def _in_checklist(linker: _Linker, checklist: Checklist) -> Iterator[Problem]:
    yield from _everywhere(linker, checklist)
    for item in checklist.items:
        sections = linker.names.sections.get(item.procedure)
        if item.section is not None and sections is not None:
            yield from linker.unknown(item.section, "section", sections)


def _in_procedure(linker: _Linker, procedure: Procedure) -> Iterator[Problem]:
    own = _Own(procedure)
    for text, meaning in texts(procedure):
        if isinstance(meaning, Claims):
            yield from linker.claim(text)
        elif not isinstance(meaning, Refers):
            yield from own.placeholders(linker, text)
        elif meaning.to == "step":
            if procedure.is_complete and not own.is_misnamed(linker, text):
                yield from linker.unknown(text, "step", own.steps)
        elif meaning.to == "place":
            own.sent_to.add(str(text))
            yield from linker.unknown(text, "place", linker.sections_of(procedure) | set(linker.names.of("procedure")))
        else:
            yield from linker.resolve(text, meaning)
    yield from own.arguments(linker)
    if procedure.is_complete:
        yield from own.unused()


def is_number(value: str) -> bool:
    """Return whether an argument of an amount is written as a number rather than a name."""
    return value[:1].isdigit() or value[:1] in ("+", "-", ".")


def is_word(helper: str, argument: str) -> bool:
    """Return whether an argument of a helper is one word of a few."""
    known = HELPERS[helper].arguments if helper in HELPERS else ()
    return any(each.name == argument and bool(each.choices) for each in known)


class _Own:
    """The names that a procedure defines for itself, and which of them it uses."""

    def __init__(self, procedure: Procedure) -> None:
        self.procedure = procedure
        self.steps = {str(item.name) for item in every(procedure.steps) if isinstance(item, Step)}
        self.used: set[str] = set()
        self.sent_to: set[str] = set()

    def is_misnamed(self, linker: _Linker, name: str) -> bool:
        """Return whether a name misses only because the step it is made of names something unknown itself."""
        return name not in self.steps and any(name.startswith(f"{kind}-") for kind in self._misnamed(linker))

    def _misnamed(self, linker: _Linker) -> Iterator[str]:
        for item in every(self.procedure.steps):
            own = next((each for each in shape(type(item)) if each.name == item.OWN), None)
            meaning = None if own is None else own.meaning
            if isinstance(meaning, Refers) and getattr(item, item.OWN) not in linker.names.of(meaning.to):
                yield item.kind

    def placeholders(self, linker: _Linker, text: Text) -> Iterator[Problem]:
        """Resolve the amounts and tags that stand inside a text."""
        linker.mention(text)
        for name in PLACEHOLDER.findall(text):
            self.used.add(name)
            # What is not found may stand in the part that could not be read.
            if self.procedure.is_complete:
                known = {str(each) for each in self.procedure.amounts}
                yield from linker.unknown(Text(name, text.span), "amount", known)

    def arguments(self, linker: _Linker) -> Iterator[Problem]:
        """Resolve what the arguments of amounts name."""
        for amount in self.procedure.amounts.values():
            for key, value in amount.with_.items():
                if key == "product":
                    yield from linker.resolve(value, Refers("product"))
                elif is_number(value) or ("." not in value and is_word(amount.calculate, key)):
                    continue
                elif "." in value:
                    yield from linker.resolve(Text(value.partition(".")[0], value.span), Refers("tag"))
                else:
                    self.used.add(str(value))
                    known = {str(name) for name in (*self.procedure.inputs, *self.procedure.amounts)}
                    if self.procedure.is_complete:
                        yield from linker.unknown(value, "input or amount", known)

    def unused(self) -> Iterator[Problem]:
        """Return what is defined here and never used."""
        for name in (*self.procedure.inputs, *self.procedure.amounts):
            if name not in self.used:
                yield _unused(name, "input or amount")
        for item in self.procedure.steps:
            if isinstance(item, Section) and item.entered is not None and item.section not in self.sent_to:
                yield _unused(item.section, "section")


def caution_problems(procedure: Procedure) -> Iterator[Problem]:
    """Return the cautions that stand after a step they cover (IEC/IEEE 82079-1: before it)."""
    seen: set[str] = set()
    for item in every(procedure.steps):
        if isinstance(item, Step):
            seen.add(str(item.name))
        elif isinstance(item, Caution):
            for name in item.covers:
                if name in seen:
                    message = f"this {item.kind} stands after step '{name}', which it covers"
                    yield Problem(item.span, "caution-after-step", message, "move it above that step")
