"""Invented procedures for sheets: what no sensible book holds, and what many do."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from tankside.views.procedures import ProcedureView
from tankside.views.steps import BranchView, Detail, Entry, SectionView
from tankside.views.wording import Run, Sentence


def words(text: str) -> Sentence:
    return (Run(text),)


def step(number: str, text: str, **more: Any) -> Entry:
    return Entry("step", "do", words(text), number=number, name=f"step-{number}", **more)


def caution(kind: str, length: int) -> Entry:
    details = (Detail("Harm", words("It burns.")), Detail("Avoid", words("word " * length + "end.")))
    return Entry("caution", kind, words("It is there."), details=details)


def invented_view(base: ProcedureView, *entries: Entry, **more: Any) -> ProcedureView:
    """A procedure with one section."""
    return replace(base, sections=(SectionView("only", "Only section", False, entries),), **more)


class Inventor:
    """Invents procedures: long ones, short ones, with long words, nested, with many cautions or none."""

    WORDS = ("lid", "valve", "the", "slowly", "rinse", "carefully", "drum", "of", "inlet", "unscrews", "A7", "seal")
    LONG = "Polyoxyethylenealkylbenzenesulfonateneutralisation"

    def __init__(self, seed: int) -> None:
        self.random = random.Random(seed)
        self.count = 0

    def text(self, most: int) -> str:
        chosen = self.random.choices(self.WORDS, k=self.random.randint(2, most))
        if self.random.random() < 0.15:
            chosen.insert(self.random.randrange(len(chosen)), self.LONG)
        self.count += 1
        return " ".join((*chosen, f"no{self.count}."))

    def details(self, most: int) -> tuple[Detail, ...]:
        labels = self.random.sample(("Until", "Within", "If not", "Where", "With"), self.random.randint(0, most))
        return tuple(Detail(label, words(self.text(15))) for label in labels)

    def caution(self) -> Entry:
        kind = self.random.choice(("danger", "warning", "caution", "notice"))
        details = tuple(Detail(label, words(self.text(12))) for label in ("Harm", "Avoid"))
        return Entry("caution", kind, words(self.text(9)), details=details)

    def step(self, number: str, depth: int, *, is_alone: bool) -> Entry:
        more: dict[str, Any] = {"details": self.details(4 if is_alone else 2)}
        if is_alone and self.random.random() < 0.1:
            more |= {"picture": "tank-valve-pump.svg", "picture_says": "A tank"}
        if depth and self.random.random() < 0.07:
            more["entries"] = self.entries(f"{number}.", self.random.randint(1, 3), depth - 1)
            return replace(step(number, self.text(25), **more), kind="repeat")
        if depth and self.random.random() < 0.07:
            more["branches"] = tuple(self.branch(number, letter, depth) for letter in "ABC")
            return replace(step(number, self.text(25), **more), kind="choose")
        return replace(step(number, self.text(25), **more), kind=self.random.choice(("do", "check", "hold")))

    def branch(self, number: str, letter: str, depth: int) -> BranchView:
        go_to = words('go to "Elsewhere"') if letter == "C" else None
        inside = () if go_to else self.entries(f"{number}{letter}.", self.random.randint(1, 2), depth - 1)
        return BranchView(letter, words(f"If {self.text(12)}"), go_to, inside)

    def entries(self, prefix: str, count: int, depth: int, first: int = 1) -> tuple[Entry, ...]:
        found: list[Entry] = []
        for number in range(first, first + count):
            # A step that others stand in, its cautions and theirs could together be longer than a page.
            begins_inside = depth < 2 and number == first
            if not begins_inside and self.random.random() < 0.1:
                found.append(Entry("note", "note", words(self.text(25))))
            cautions = 0 if begins_inside else self.random.choices((0, 1, 2), weights=(70, 20, 10))[0]
            found.extend(self.caution() for _ in range(cautions))
            found.append(self.step(f"{prefix}{number}", depth, is_alone=not cautions))
        return tuple(found)

    def sections(self) -> Iterator[SectionView]:
        first = 1
        for number in range(self.random.randint(1, 2)):
            count = 40 if self.random.random() < 0.02 else self.random.randint(1, 5)
            yield SectionView(f"s{number}", f"Part {self.text(9)}", number == 1, self.entries("", count, 2, first))
            first += count

    def view(self, base: ProcedureView) -> ProcedureView:
        title = self.text(self.random.choice((4, 40)))
        return replace(
            base,
            control=replace(base.control, title=title, id="-".join(["long"] * self.random.randint(1, 12))),
            stop_safely=(Run(self.text(40)), Run(" P1", "tag"), Run(" off.")),
            scope=words(self.text(60)),
            sections=tuple(self.sections()),
            # What stands around the steps is the same on every sheet and is looked at on those of the demonstration.
            remedies=base.remedies[:1],
            hazards=(),
            first_aid=(),
            energy=(),
        )
