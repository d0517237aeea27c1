"""What writes one generated procedure: words drawn as they fall in real texts, steps, amounts, lines of YAML."""

import json
import re
from collections.abc import Sequence
from itertools import accumulate
from pathlib import Path
from random import Random
from typing import Any

#: an entry of the list of steps
Item = dict[str, Any]

_GIVEN = json.loads((Path(__file__).parent / "words.json").read_text(encoding="utf-8"))
SENTENCES: dict[str, list[str]] = _GIVEN.pop("sentence")
WORDS: dict[str, list[str]] = {kind: list(dict.fromkeys(text.split())) for kind, text in _GIVEN.items()}
#: how often a part is named by a compound of two words: it makes the vocabulary grow with the book
COMPOUNDS = 0.4
SLOT = re.compile(r"{(\w+)}")
EMERGENCIES = ("splash", "leave-now", "small-spill", "caught-or-shock")


class Author:
    """Writes one procedure."""

    def __init__(self, family: str, draw: Random, taste: Random) -> None:
        """Draw everything with `draw`; `taste` sets the favourite words of the family."""
        self.family = family
        self.draw = draw
        self.amounts: dict[str, Any] = {}
        self.inputs: dict[str, Any] = {}
        self._words = {kind: taste.sample(words, len(words)) for kind, words in WORDS.items()}
        self._names: dict[str, int] = {}

    def word(self, kind: str) -> str:
        """Return a word of a kind; the n-th of its list comes about 1/n as often as the first (Zipf)."""
        if kind == "code":
            return f"{self.draw.choice('BCEFGHK')}{self.draw.randint(100, 999)}"
        if kind == "part":
            compound = self.draw.random() < COMPOUNDS
            return self.word("first") + self.word("second") if compound else self.word("thing")
        words = self._words[kind]
        weights = list(accumulate(1 / (rank + 2) for rank in range(len(words))))
        return self.draw.choices(words, cum_weights=weights)[0]

    def say(self, kind: str) -> str:
        """Return a sentence of a kind."""

        def filled(slot: re.Match[str]) -> str:
            word = self.word(slot[1].lower())
            return word.capitalize() if slot[1][0].isupper() else word

        return SLOT.sub(filled, self.draw.choice(SENTENCES[kind]))

    def several(self, kind: str, low: int, high: int) -> list[str]:
        """Return from `low` to `high` sentences of a kind."""
        return [self.say(kind) for _ in range(self.draw.randint(low, high))]

    def date(self, year: int) -> str:
        """Return a day of a year."""
        return f"{year}-{self.draw.randint(1, 12):02}-{self.draw.randint(1, 28):02}"

    def new_name(self, sort: str) -> str:
        """Return a name that the procedure does not have yet."""
        self._names[sort] = self._names.get(sort, 0) + 1
        return f"{sort}-{self._names[sort]}"

    def step(self, kind: str, own: str = "", **keys: Any) -> Item:
        """Return a step with a name of its own."""
        return {kind: own or self.say(kind), "step": self.new_name(kind), **keys}

    def section(self) -> Item:
        """Return a heading."""
        return {"section": self.new_name("section"), "title": self.say("section")}

    def caution(self, kind: str, covered: Sequence[Item]) -> Item:
        """Return a caution statement, to stand before the steps it covers."""
        harm = self.say("spoiled" if kind == "notice" else "harm")
        written = {kind: self.say("hazard"), "harm": harm, "avoid": self.say("avoid")}
        if kind != "notice":
            written["if_it_happens"] = self.draw.choice(EMERGENCIES)
        return {**written, "covers": tuple(step["step"] for step in covered)}

    def amount(self, helper: str, given: dict[str, str], **keys: str) -> str:
        """Add an amount and return what stands for it in texts."""
        name = self.new_name("amount")
        self.amounts[name] = {"title": f"{self.say('section')}, {name}", "calculate": helper, "with": given, **keys}
        return f"<{name}>"


def block(value: Any) -> list[str]:
    """Return a value as lines of YAML in block style; a tuple is a list of names and stands in one line."""
    if isinstance(value, dict):
        return [line for key, inner in value.items() for line in _entry(f"{key}:", inner)]
    lines = []
    for item in value:
        first, *rest = block(item) if isinstance(item, dict) else [str(item)]
        lines += [f"- {first}", *(f"  {line}" for line in rest)]
    return lines


def _entry(key: str, value: Any) -> list[str]:
    if isinstance(value, tuple):
        return [f"{key} [{', '.join(value)}]"]
    if isinstance(value, dict | list):
        return [key, *(f"  {line}" for line in block(value))]
    return [f"{key} {value}"]
