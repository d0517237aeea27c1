"""The steps of an edition that was read from a file, in words; a record must speak when its book has long changed."""

from collections.abc import Iterator, Mapping
from functools import cached_property
from string import ascii_uppercase

from tankside.catalogue.links import PLACEHOLDER
from tankside.cli.records_words import clean
from tankside.quantities.portable import Portable
from tankside.records.copy import Copy, Visit
from tankside.records.script import AWAY, NO_STEPS, Part
from tankside.texts import Words, words
from tankside.views.wording import with_degrees

#: the language of what is said about an edition in a language that this version does not speak
OTHERWISE = "en"
#: kind of step -> what of it stands in its sentence: the gap, and the key
_PLAIN = {
    "wait": (("time", "time"), ("for", "for")),
    **dict.fromkeys(("check", "measure", "record", "choose", "repeat", "hold"), (("text", "text"),)),
}
_TURNED = ("open", "shut", "start", "stop", "lock", "unlock")


class PartWords:
    """Says what the steps of a part are, in the language of its edition."""

    def __init__(self, part: Part) -> None:
        """Speak of a part."""
        self.part, self.edition = part, part.edition
        self.say = _words(str(part.edition.get("language")))

    @property
    def title(self) -> str:
        """What the part is called."""
        title = self.edition["written"]["title"]
        section = self.titles.get(self.part.section)
        return clean(f"{title}: {section}" if section else title)

    @cached_property
    def titles(self) -> Mapping[str, str]:
        """The title of each section."""
        items = self.edition["written"]["steps"]
        return {item["section"]: clean(item.get("title", "")) for item in items if item["kind"] == "section"}

    @cached_property
    def numbers(self) -> Mapping[str, str]:
        """The number of each step as page and sheet have it: "3", "5.2" in a repetition, "7B.1" in an answer."""
        return dict(_numbered(self.edition["written"]["steps"]))

    def action(self, step: Portable) -> str:
        """Return the one action of a step."""
        how = f", {step['how']}" if step.get("how") else ""
        return with_degrees(
            clean(PLACEHOLDER.sub(lambda found: self._amount(found[1]), f"{self._sentence(step)}{how}"))
        )

    def _sentence(self, step: Portable) -> str:
        kind = step["kind"]
        if kind in _PLAIN:
            return self.say(f"step-{kind}", **{gap: str(step.get(key, "")) for gap, key in _PLAIN[kind]})
        if kind in _TURNED:
            tag = str(step.get("target", ""))
            return self.say(f"step-{kind}", tag=f"{tag} ({self._name('equipment', tag)})")
        match kind:
            case "move" | "add":
                material = self._name("materials", step.get("material"))
                return self.say(f"step-{kind}", material=material, tag=str(step.get("to", "")))
            case "labels":
                return self.say(f"step-labels-{step['counted']}", product=self._name("labels", step["product"]))
            case "notify":
                role = self._name("roles", step.get("role"))
                return self.say("step-notify", role=role, about=str(step.get("about", "")))
        return str(step.get("text", step["name"]))

    def _name(self, where: str, id_: Portable) -> str:
        """Return the name behind an id as it stands inside a sentence: a capital that only begins it is lowered."""
        found = within(self.edition, where, str(id_))
        name = str(within(found, "name") or (found if isinstance(found, str) else id_))
        return name[:1].lower() + name[1:] if name.split(" ")[0][1:].islower() else name

    def _amount(self, name: str) -> str:
        """Return what stands in a text for an amount: its value, or its title where it depends on what was chosen."""
        amount = within(self.edition, "amounts", name)
        usual = within(amount, "usual", "shown", "text")
        if not self.edition["written"]["inputs"] and usual:
            return str(usual)
        return f"[{within(amount, 'title') or name}]"


def within(value: Portable, *keys: str) -> Portable:
    """Return what keys lead to, None when it is not there: for the words of an edition, which nothing has judged."""
    for key in keys:
        value = value.get(key) if isinstance(value, dict) else None
    return value


def _words(language: str) -> Words:
    try:
        return words(language)
    except KeyError:
        return words(OTHERWISE)


def _numbered(items: list[Portable], prefix: str = "") -> Iterator[tuple[str, str]]:
    steps = (item for item in items if item["kind"] not in NO_STEPS)
    for count, step in enumerate(steps, 1):
        number = f"{prefix}{count}"
        yield step["name"], number
        yield from _numbered(step.get("steps", []), f"{number}.")
        for at, branch in enumerate(step.get("branches", [])):
            letter = ascii_uppercase[at % len(ascii_uppercase)]
            yield from _numbered(branch["steps"], f"{number}{letter}.")


def visit_in_words(copy: Copy, visit: Visit, words_of: Mapping[int, PartWords]) -> tuple[str, str]:
    """Return the number and the action of a visit."""
    about = words_of[visit.part]
    if visit.node < 0:
        what = f"Sent to the procedure '{clean(visit.name)}'" if visit.kind == AWAY else "Decide what follows"
        return "", what
    number = about.numbers[visit.name]
    if visit.kind == "question":
        return number, f"Once more? {about.action(copy.step_of(visit))}"
    return number, about.action(copy.step_of(visit))
