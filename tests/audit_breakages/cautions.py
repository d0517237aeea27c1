"""What is broken for the rules of the family `cautions`."""

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import yaml

from audit_breakages.breakage import Breakage, Harmless, procedure_paths, text_of

BLEED = "procedures/filling/bleed-cleaner-line.yaml"
BLEED_DESCALER = "procedures/filling/bleed-descaler-line.yaml"
BLEND = "procedures/batch/blend-milk-line-cleaner.yaml"
CLEAN = "procedures/cleaning/clean-mixing-tank.yaml"
DEGREASER = "procedures/batch/blend-degreaser.yaml"
EQUIPMENT = "procedures/plant/equipment.yaml"
LOCK_MIXER = "procedures/lockout/lock-out-mixer.yaml"
SPILL = "procedures/safety/small-spill.yaml"
#: a caution statement whose texts stand on a line each
STATEMENT = re.compile(
    r"(?m)^ *- (?P<word>danger|warning|caution|notice): (?P<hazard>.+)\n"
    r" *harm: (?P<harm>.+)\n *avoid: (?P<avoid>.+)\n(?: *if_it_happens: .+\n)? *covers: \[(?P<covers>.+)\]\n"
)
#: the valves at whose other side a nozzle is open to the air
OUTLETS = ("V3", "V5", "D-V3", "G-V3")
#: kinds of step whose own value is a tag
TURNING = ("open", "start")


class Texts(yaml.SafeLoader):
    """Reads every value as a text, as books are read."""


Texts.yaml_implicit_resolvers = {}


@dataclass(frozen=True)
class Statement:
    """A caution statement of a file."""

    path: str
    text: str
    word: str
    hazard: str
    harm: str
    avoid: str
    covers: tuple[str, ...]

    @property
    def where(self) -> str:
        return f"{self.path.rpartition('/')[2].removesuffix('.yaml')}, {self.hazard}"

    def broken(self, what: str, old: str, new: str, code: str, at: str) -> Breakage:
        assert self.text.count(old) == 1, (self.path, old)
        return Breakage(f"{what} in {self.where}", self.path, self.text, self.text.replace(old, new), code, at)

    def with_word(self, word: str, code: str) -> Breakage:
        """Return the breakage that gives it another signal word."""
        new = f"- {word}: {self.hazard}"
        return self.broken(f"{word} for {self.word}", f"- {self.word}: {self.hazard}", new, code, f"{new[2:]}")

    def without(self, step: str, code: str, at: str) -> Breakage:
        """Return the breakage that covers a step no more; where it is the only one, the whole statement goes."""
        others = ", ".join(name for name in self.covers if name != step)
        what = f"{step} is covered no more in {self.where}"
        new = self.text.replace(f"covers: [{', '.join(self.covers)}]", f"covers: [{others}]") if others else ""
        return Breakage(what, self.path, self.text, new, code, at)


def statements(path: str) -> tuple[Statement, ...]:
    """Return the caution statements of a file."""
    found = STATEMENT.finditer(text_of(path))
    return tuple(
        Statement(path, each[0], each["word"], each["hazard"], each["harm"], each["avoid"], names(each["covers"]))
        for each in found
    )


def names(listed: str) -> tuple[str, ...]:
    return tuple(listed.split(", "))


def of_every(*words: str) -> Iterator[tuple[Statement, ...]]:
    """Return for each procedure that has any its statements with these signal words."""
    for path in procedure_paths():
        found = tuple(each for each in statements(path) if each.word in words)
        if found:
            yield found


def steps(path: str) -> Iterator[tuple[str, str, Mapping[str, Any]]]:
    """Return the steps of a procedure: name, how the line begins where it is found, and all of it."""
    yield from _steps(yaml.load(text_of(path), Texts)["steps"])


def _steps(items: list[Mapping[str, Any]]) -> Iterator[tuple[str, str, Mapping[str, Any]]]:
    for item in items:
        kind = next((kind for kind in TURNING if kind in item), "")
        if "step" in item:
            yield item["step"], f"step: {item['step']}", item
        elif kind:
            yield f"{kind}-{item[kind].lower()}", f"{kind}: {item[kind]}", item
        yield from _steps(item.get("steps", []))
        for branch in item.get("branches", []):
            yield from _steps(branch.get("steps", []))


def kinds() -> Mapping[str, str]:
    return {tag: piece["kind"] for tag, piece in yaml.load(text_of(EQUIPMENT), Texts)["equipment"].items()}


def uncovered(code: str, is_meant: Callable[[Mapping[str, Any]], bool]) -> Iterator[Breakage]:
    """Return breakages for the steps that are meant and that one statement about people alone covers."""
    for path in procedure_paths():
        covering = [each for each in statements(path) if each.word != "notice"]
        for name, at, item in steps(path):
            by = [each for each in covering if name in each.covers]
            if len(by) == 1 and is_meant(item):
                yield by[0].without(name, code, at)


def first_and_last_of_each(found: Iterator[Breakage]) -> Iterator[Breakage]:
    """Return of the breakages of each file the first and the last."""
    by_path: dict[str, list[Breakage]] = {}
    for each in found:
        by_path.setdefault(each.path, []).append(each)
    for all_ in by_path.values():
        yield from dict.fromkeys((all_[0], all_[-1]))


def exposures() -> Iterator[Breakage]:
    found = uncovered("exposure-not-covered", lambda step: "exposes" in step and "works_on" not in step)
    yield from first_and_last_of_each(found)


def machines() -> Iterator[Breakage]:
    kind_of = kinds()
    starts = uncovered("machine-not-covered", lambda step: kind_of.get(step.get("start", "")) in ("pump", "mixer"))
    yield from first_and_last_of_each(starts)


def openings() -> Iterator[Breakage]:
    yield from uncovered("opening-not-covered", lambda step: step.get("open") in OUTLETS)


def work_on_machines() -> Iterator[Breakage]:
    yield from uncovered("lockout-work-not-covered", lambda step: "works_on" in step)


def words_too_weak() -> Iterator[Breakage]:
    for number, (first, *others) in enumerate(of_every("warning", "danger")):
        yield first.with_word("caution", "signal-word-too-weak")
        yield from (each.with_word("notice", "signal-word-too-weak") for each in others[-1:] if number % 2)
    for first, *_ in of_every("caution"):
        yield first.with_word("notice", "signal-word-too-weak")


def words_for_property() -> Iterator[Breakage]:
    for all_ in of_every("notice"):
        yield from (each.with_word("caution", "signal-word-for-property") for each in all_)


def responses_left_out() -> Iterator[Breakage]:
    for each, *_ in list(of_every("warning"))[::2]:
        exposing = {name for name, _, step in steps(each.path) if "exposes" in step}
        if exposing.intersection(each.covers):
            new = re.sub(r" *if_it_happens: .+\n", "", each.text.replace("- warning:", "- caution:"))
            what = f"nothing to do when it happens in {each.where}"
            at = f"caution: {each.hazard}"
            yield Breakage(what, each.path, each.text, new, "caution-without-response", at)


def steps_in_cautions() -> Iterator[Breakage]:
    hidden = (
        "Open V2 slowly.",
        "Shut the hatch first.",
        "Add the rest by hand.",
        "Record the time on the card.",
        "Then stop P1.",
        "Check each joint.",
        "Tell the lead.",
    )
    for number, (each, *_) in enumerate(of_every("danger", "warning", "caution")):
        new = f"avoid: {each.avoid} {hidden[number % len(hidden)]}"
        yield each.broken("a step is hidden", f"avoid: {each.avoid}", new, "caution-holds-step", new)
    for number, (*_, each) in enumerate(of_every("danger", "warning")):
        new = f"avoid: {each.avoid.removesuffix('.')}, {hidden[number % len(hidden)].lower()}"
        if number % 4 == 1:
            yield each.broken("a step behind a comma", f"avoid: {each.avoid}", new, "caution-holds-step", new)


def steps_far_away() -> Iterator[Breakage]:
    for first, *_ in list(of_every("danger", "warning", "caution"))[::2]:
        *_, (last, _, _) = steps(first.path)
        if last not in first.covers:
            covers = ", ".join(first.covers)
            new = f"covers: [{covers}, {last}]"
            yield first.broken(f"{last}, pages away,", f"covers: [{covers}]", new, "caution-far", new)


def too_many() -> Iterator[Breakage]:
    for path in procedure_paths()[::6]:
        *all_, (last, _, _) = steps(path)
        one = f"    harm: It bruises feet.\n    avoid: Boots on.\n    covers: [{last}]\n"
        more = "".join(f"  - caution: Edge {number} is sharp.\n{one}" for number in range(len(all_) // 3 + 3))
        name = path.rpartition("/")[2].removesuffix(".yaml")
        yield Breakage(
            f"cautions everywhere in {name}", path, "\nsteps:\n", f"\nsteps:\n{more}", "wallpaper", f"procedure: {name}"
        )


def headings() -> Iterator[Breakage]:
    for number, path in enumerate(procedure_paths()[::2]):
        word = ("Caution:", "WARNING:", "Notice!", "Danger -")[number % 4]
        for kind, text in re.findall(r"(?m)^ *- (note|do): ([A-Z][^\":\n]+)$", text_of(path))[:1]:
            new = f'{kind}: "{word} {text}"'
            what = f"{word} in {path}"
            yield Breakage(what, path, f"- {kind}: {text}\n", f"- {new}\n", "vocabularies-mixed", new)


def words_of_labels() -> Iterator[Breakage]:
    for number, (each, *_) in enumerate(list(of_every("danger", "warning"))[::3]):
        said = ("Mortal DANGER.", "It is H314.", "WARNING to all.", "It has EUH031.")[number % 4]
        new = f"harm: {each.harm} {said}"
        yield each.broken(said, f"harm: {each.harm}", new, "vocabularies-mixed", new)
    whole = text_of(EQUIPMENT)
    labels = re.findall(r"(?m)^ *(label: .+ Danger\..+)$", whole)
    for label in [each for each in labels if whole.count(f"{each}\n") == 1][:4]:
        new = label.replace("Danger.", "Caution.")
        yield Breakage(f"Caution on a {label}", EQUIPMENT, f"{label}\n", f"{new}\n", "vocabularies-mixed", new)


BREAKAGES: tuple[Breakage, ...] = (
    Breakage(
        "a step that a caution names is named no more",
        BLEED,
        "covers: [open-v3, open-v2, start-p1, run-off, catch-a-sample, pail-away",
        "covers: [open-v3, open-v2, start-p1, run-off, pail-away",
        "exposure-not-covered",
        "catch-a-sample",
    ),
    Breakage(
        "a notice in place of the warning leaves the loop without a caution",
        CLEAN,
        "- warning: The wash sprays hard inside the tank, and out of any gap.",
        "- notice: The wash sprays hard inside the tank, and out of any gap.",
        "machine-not-covered",
        "start-p1-wash",
    ),
    *exposures(),
    *machines(),
    *openings(),
    *work_on_machines(),
    *words_too_weak(),
    *words_for_property(),
    *responses_left_out(),
    *steps_in_cautions(),
    *steps_far_away(),
    *too_many(),
    *headings(),
    *words_of_labels(),
)
HARMLESS: tuple[Harmless, ...] = (
    Harmless(
        "a caution in other words",
        BLEED,
        "Cleaner under pressure can spray from the nozzle.",
        "The nozzle can spray cleaner that is under pressure.",
    ),
    Harmless(
        "a stronger signal word than is needed",
        BLEED,
        "- warning: Cleaner under pressure can spray from the nozzle.",
        "- danger: Cleaner under pressure can spray from the nozzle.",
    ),
    Harmless(
        "how things stand, and how to keep out of the way",
        BLEED,
        "avoid: Splash guard down, body to the side of the nozzle, face never over the pail.",
        "avoid: V2 opened slowly, splash guard down. Turn your face aside, stay to the side of the nozzle.",
    ),
    Harmless(
        "the covered steps in another order",
        BLEED,
        "covers: [open-v3, open-v2, start-p1, run-off, catch-a-sample",
        "covers: [run-off, open-v3, start-p1, open-v2, catch-a-sample",
    ),
    Harmless(
        "a caution directly before its section, not in it",
        BLEED_DESCALER,
        """\
  - section: bleed
    title: Run off the rinse water
  - warning: Descaler under pressure can spray from the nozzle.
    harm: It burns eyes and irritates skin. It can blind.
    avoid: Splash guard down, body to the side of the nozzle, face never over the pail.
    if_it_happens: splash
    covers: [open-d-v3, open-d-v1, start-d-p1, run-off, stop-d-p1, shut-d-v1, catch-a-sample, shut-d-v3, pail-aside]
""",
        """\
  - warning: Descaler under pressure can spray from the nozzle.
    harm: It burns eyes and irritates skin. It can blind.
    avoid: Splash guard down, body to the side of the nozzle, face never over the pail.
    if_it_happens: splash
    covers: [open-d-v3, open-d-v1, start-d-p1, run-off, stop-d-p1, shut-d-v1, catch-a-sample, shut-d-v3, pail-aside]
  - section: bleed
    title: Run off the rinse water
""",
    ),
    Harmless(
        "a notice about what leaks and burns out, but hurts nobody",
        CLEAN,
        """\
  - notice: P1 is spoiled when it runs dry.
    harm: Its bearings run hot and break, and the line leaks.
""",
        """\
  - notice: P1 is spoiled when it runs dry.
    harm: Its bearings burn out, its seals are cut, and the back of the pump head leaks.
""",
    ),
    Harmless(
        "a caution with one more word on equipment beside people",
        DEGREASER,
        """\
  - caution: A full drum on its dolly weighs about 53 kg, 117 lb.
    harm: It bruises feet and strains backs.
""",
        """\
  - caution: A full drum on its dolly weighs about 53 kg, 117 lb.
    harm: It bruises feet, strains backs and bends the scale.
""",
    ),
    Harmless(
        "a tag that is called DANGER",
        LOCK_MIXER,
        "avoid: Everybody is behind the yellow line, guard and hatch closed.",
        "avoid: Everybody is behind the yellow line, no DANGER tag hangs, guard and hatch closed.",
    ),
    Harmless(
        "a word of the label in a note",
        BLEED,
        "- note: The last runnings come from the nozzle.",
        "- note: Danger stands on the label of the pail, too. The last runnings come from the nozzle.",
    ),
    Harmless(
        "the label word where a step writes a label",
        SPILL,
        "- do: Write on the pail what it is, the date, Danger, burns eyes and skin.",
        "- do: Write on the pail what it is, the date, and DANGER, burns eyes and skin.",
    ),
    Harmless(
        "a verb that is a noun in a caution",
        CLEAN,
        "- warning: Cleaner under pressure sprays from a loose joint or from the drum.",
        "- warning: Rinse that is under pressure sprays from a loose joint. Open drums splash, pump heads drip.",
    ),
    Harmless(
        "one more caution where there are few",
        BLEND,
        "  - do: Take the green CLEAN tag off V3.\n",
        """\
  - caution: The card of the tag has sharp edges.
    harm: It cuts fingers.
    avoid: Gloves on.
    covers: [clean-tag-off]
  - do: Take the green CLEAN tag off V3.
""",
    ),
)
