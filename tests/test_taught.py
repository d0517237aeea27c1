"""What changed between two editions, and what follows for who was trained before.

A hundred and more edits are made in the YAML of the demonstration book. What follows from each is said by a rule of the
kind of edit and by what stands in the YAML around it; the code under test is not asked.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml
from demo_book import ROOT, copy_book

from tankside.catalogue import load
from tankside.compute.amounts import WorkedBook
from tankside.edition import Audience, procedure_edition
from tankside.loading.sources import Folder
from tankside.memory import Memory
from tankside.texts import words
from tankside.training.changes import Change, changes, follows
from tankside.training.spelling import without_spelling
from tankside.training.taught import Taught, taught_from
from tankside.views.procedures import procedure_view
from tankside.views.training.teaching import taught_of

Data = dict[str, Any]
PROCEDURES = {
    "bleed-cleaner-line": "filling",
    "blend-descaler": "batch",
    "clean-mixing-tank": "cleaning",
    "fill-cleaner-bottles": "filling",
    "lock-out-transfer-pump": "lockout",
    "lock-out-mixer": "lockout",
    "hold-a-lot": "batch",
    "start-of-day": "safety",
    "small-spill": "safety",
}
#: kinds of step that act on the plant or decide: somebody is watched at them
ACTING = ("open", "shut", "start", "stop", "move", "add", "measure", "lock", "unlock", "hold", "choose")
SENTENCES = ("do", "check", "record", "hold", "measure")
CAUTIONS = ("danger", "warning", "caution", "notice")


@dataclass(frozen=True)
class Edit:
    """An edit of a procedure, and what follows from it."""

    name: str
    make: Callable[[Data, random.Random], str | None]


def items(data: Data) -> list[Data]:
    found: list[Data] = data["steps"]
    return found


def steps(data: Data) -> Iterator[Data]:
    return (each for each in items(data) if not {"section", "note", *CAUTIONS} & each.keys())


def name_of(step: Data) -> str | None:
    """The name of a step that says it, or that a caution can only mean by its kind and tag."""
    kind = next(iter(key for key in step if key in ("open", "shut", "start", "stop", "lock", "unlock")), None)
    return step.get("step") or (None if kind is None else f"{kind}-{step[kind].lower()}")


def is_watched(data: Data, step: Data) -> bool:
    covered = {name for each in items(data) for name in each.get("covers", ())}
    is_acting = bool(set(ACTING) & step.keys())
    named = name_of(step) in covered or name_of(step) in data.get("observe", ())
    return is_acting or named or step.get("second_person") == "yes" or data.get("emergency") == "yes"


def with_key(data: Data, *keys: str) -> list[Data]:
    return [each for each in steps(data) if set(keys) & each.keys()]


def turned_into_another(data: Data, dice: random.Random) -> str | None:
    """Another valve, pump or lock: what is seen is another deed."""
    tags = {each[kind] for each in steps(data) for kind in ("open", "shut") if kind in each}
    found = [(each, kind) for each in steps(data) for kind in ("open", "shut") if kind in each and "step" in each]
    if len(tags) < 2 or not found:
        return None
    step, kind = dice.choice(found)
    step[kind] = dice.choice(sorted(tags - {step[kind]}))
    return "observe"


def taken_out(data: Data, dice: random.Random) -> str | None:
    step = dice.choice([*steps(data)])
    is_seen = is_watched(data, step)
    items(data).remove(step)
    for each in items(data):
        if "covers" in each:
            each["covers"] = [name for name in each["covers"] if name != name_of(step)] or each["covers"]
    return "observe" if is_seen else "show"


def put_in(data: Data, dice: random.Random) -> str:
    is_seen = dice.random() < 0.5
    new = {"do": "Knock twice on the wall of the tank.", "step": "knock-twice"}
    items(data).append(new | ({"second_person": "yes"} if is_seen else {}))
    return "observe" if is_seen or data.get("emergency") == "yes" else "show"


def turned_round(data: Data, dice: random.Random) -> str | None:
    """Two steps that stand beside each other change places."""
    own = items(data)
    named = [at for at in range(len(own) - 1) if "step" in own[at] and "step" in own[at + 1]]
    if not named:
        return None
    at = dice.choice(named)
    are_seen = is_watched(data, own[at]) and is_watched(data, own[at + 1])
    own[at], own[at + 1] = own[at + 1], own[at]
    return "observe" if are_seen else "show"


def said_otherwise(data: Data, dice: random.Random) -> str | None:
    found = [each for each in with_key(data, *SENTENCES) if "step" in each]
    if not found:
        return None
    step = dice.choice(found)
    kind = next(key for key in SENTENCES if key in step)
    step[kind] = f"{step[kind]} Do it with the left hand."
    return "observe" if is_watched(data, step) else "show"


def done_in_another_way(data: Data, dice: random.Random) -> str | None:
    found = with_key(data, "how")
    if not found:
        return None
    step = dice.choice(found)
    step["how"] = f"{step['how']}, with the left hand"
    return "observe"


def released_by_another(data: Data, dice: random.Random) -> str | None:
    found = [each for each in with_key(data, "hold") if each["released_by"] != "lockout-inspector"]
    if not found:
        return None
    dice.choice(found)["released_by"] = "lockout-inspector"
    return "observe"


def leaves_something_else(data: Data, dice: random.Random) -> str | None:
    found = [each for each in with_key(data, "leaves", "finds") if is_watched(data, each)]
    if not found:
        return None
    step = dice.choice(found)
    key = "leaves" if "leaves" in step else "finds"
    step[key] = [*step[key], "apron on"]
    return "observe"


def stopped_otherwise(data: Data, dice: random.Random) -> str:
    data["stop_safely"] = f"Call out loud. {data['stop_safely']}"
    return "observe"


def stop_leaves_more(data: Data, dice: random.Random) -> str:
    data["stop_leaves"] = [*data.get("stop_leaves", ()), "apron on"]
    return "observe"


def caution_reworded(data: Data, dice: random.Random) -> str | None:
    found = [each for each in items(data) if set(CAUTIONS) & each.keys()]
    if not found:
        return None
    key = dice.choice(("harm", "avoid"))
    caution = dice.choice(found)
    caution[key] = f"{caution[key]} This holds for gloves, too."
    return "show"


def caution_taken_out(data: Data, dice: random.Random) -> str | None:
    """The steps under it stay what they were; only that they are dangerous is not said any more."""
    found = [each for each in items(data) if set(CAUTIONS) & each.keys()]
    if not found:
        return None
    items(data).remove(dice.choice(found))
    return "show"


def worse_caution(data: Data, dice: random.Random) -> str | None:
    found = [each for each in items(data) if {"warning", "caution"} & each.keys()]
    if not found:
        return None
    caution = dice.choice(found)
    kind = "warning" if "warning" in caution else "caution"
    caution["danger"] = caution.pop(kind)
    return "show"


def other_amount(data: Data, dice: random.Random) -> str | None:
    amounts = [each for each in data.get("amounts", {}).values() if "tolerance" in each]
    if not amounts:
        return None
    amount = dice.choice(amounts)
    number, _, unit = amount["tolerance"].partition(" ")
    amount["tolerance"] = f"{number}1 {unit}" if "." in number else f"{number}.1 {unit}"
    return "show"


def less_worn(data: Data, dice: random.Random) -> str | None:
    if len(data.get("wear", ())) < 2:
        return None
    data["wear"] = data["wear"][1:]
    return "show"


def remedy_added(data: Data, dice: random.Random) -> str:
    data["if_it_goes_wrong"] = [*data.get("if_it_goes_wrong", ()), {"sign": "It smokes", "do": "Leave now."}]
    return "show"


def remedy_otherwise(data: Data, dice: random.Random) -> str | None:
    if not data.get("if_it_goes_wrong"):
        return None
    remedy = dice.choice(data["if_it_goes_wrong"])
    remedy["do"] = f"{remedy['do']} Tell the neighbours."
    return "show"


def retitled(data: Data, dice: random.Random) -> str:
    data[dice.choice(("title", "purpose"))] = "Quite another title"
    return ""


def other_paper(data: Data, dice: random.Random) -> str:
    data["review"], data["effective"] = "2031-05-04", "2026-11-27"
    data["sources"] = [*data.get("sources", ()), "Common practice, no source."]
    return ""


def noted(data: Data, dice: random.Random) -> str:
    at = dice.randrange(len(items(data)))
    items(data).insert(at, {"note": "The tank stood elsewhere until last year."})
    return ""


def section_retitled(data: Data, dice: random.Random) -> str | None:
    found = [each for each in items(data) if "section" in each]
    if not found:
        return None
    dice.choice(found)["title"] = "Quite another heading"
    return ""


def misspelt(data: Data, dice: random.Random) -> str | None:
    """Two letters inside a long word change places."""
    return spelt(data, dice, lambda word: word[:2] + word[3] + word[2] + word[4:])


def doubled(data: Data, dice: random.Random) -> str | None:
    return spelt(data, dice, lambda word: word[:3] + word[2] + word[3:])


def in_capitals(data: Data, dice: random.Random) -> str | None:
    return spelt(data, dice, str.capitalize)


def spelt(data: Data, dice: random.Random, change: Callable[[str], str]) -> str | None:
    """A word of seven letters or more is spelt in another way, in a step or a caution."""
    named = [(each, key) for each in items(data) if "step" in each for key in ("do", "check", "hold") if key in each]
    texts = [*named, *((each, key) for each in items(data) for key in ("harm", "avoid", "how") if key in each)]
    found = [(each, key, word) for each, key in texts for word in each[key].split() if len(word) > 6 and word.isalpha()]
    if not found:
        return None
    each, key, word = dice.choice(found)
    each[key] = each[key].replace(word, change(word), 1)
    return ""


def punctuated(data: Data, dice: random.Random) -> str:
    data["stop_safely"] = data["stop_safely"].replace(", ", "; ").replace(". ", ";  ")
    return ""


EDITS = tuple(
    Edit(each.__name__, each)
    for each in (
        *(turned_into_another, taken_out, put_in, turned_round, said_otherwise, done_in_another_way),
        *(released_by_another, leaves_something_else, stopped_otherwise, stop_leaves_more),
        *(caution_reworded, caution_taken_out, worse_caution, other_amount, less_worn, remedy_added, remedy_otherwise),
        *(retitled, other_paper, noted, section_retitled, misspelt, doubled, in_capitals, punctuated),
    )
)


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    # Files that are as they were are read once.
    with Memory().in_use():
        yield copy_book(tmp_path_factory.mktemp("taught") / "book")


@cache
def written(name: str) -> str:
    return (ROOT / "procedures" / PROCEDURES[name] / f"{name}.yaml").read_text(encoding="utf-8")


def taught(book: Path, name: str, text: str) -> Taught:
    path = book / "procedures" / PROCEDURES[name] / f"{name}.yaml"
    path.write_text(text, encoding="utf-8")
    loaded = load(Folder(book))
    assert loaded.book is not None, [each.as_text() for each in loaded.problems]
    edition = procedure_edition(WorkedBook(loaded.book), loaded.book.procedures[name], Audience.FLOOR, "en")
    path.write_text(written(name), encoding="utf-8")
    return taught_of(edition, procedure_view(edition, loaded.book.plant.facts, words("en"), is_laminated=False))


def edited(name: str, edit: Edit, seed: int) -> tuple[str, str] | None:
    """The file after an edit, and what follows from it; None where there is nothing to edit in this way."""
    data = yaml.load(written(name), Loader=yaml.BaseLoader)
    found = edit.make(data, random.Random(f"{name} {edit.name} {seed}"))
    return None if found is None else (yaml.safe_dump(data, sort_keys=False, allow_unicode=True, width=1000), found)


MADE: Mapping[tuple[str, str, int], tuple[str, str]] = {
    (name, edit.name, seed): made
    for name in PROCEDURES
    for edit in EDITS
    for seed in (1,)
    if (made := edited(name, edit, seed)) is not None
}


def test_there_are_a_hundred_edits_and_more_of_each_class() -> None:
    classes = [follow for _, follow in MADE.values()]
    assert len(MADE) >= 150
    assert min(classes.count(each) for each in ("observe", "show", "")) >= 30


@pytest.mark.requirement(number=24)
@pytest.mark.parametrize("name", PROCEDURES)
def test_what_follows_from_an_edit_is_what_its_kind_says(book: Path, name: str) -> None:
    before = taught(book, name, written(name))
    wrong = []
    for (of, edit, seed), (text, expected) in MADE.items():
        if of == name:
            found = changes(before, taught(book, name, text))
            if follows(found) != expected:
                wrong.append((edit, seed, expected, follows(found), found[:3]))
    assert not wrong, "\n".join(map(str, wrong))


def with_revision(data: Data, meaning: str | None) -> Data:
    """The next revision, with a line of the history."""
    data["revision"] = str(int(data["revision"]) + 1)
    line = {"revision": data["revision"], "date": "2026-11-27", "change": "Said in other words."}
    data["history"] = [*data["history"], line | ({} if meaning is None else {"meaning": meaning})]
    return data


@pytest.mark.parametrize(
    ("name", "make", "meaning", "expected"),
    [
        ("bleed-cleaner-line", stopped_otherwise, None, "observe"),
        ("bleed-cleaner-line", stopped_otherwise, "same", ""),
        ("bleed-cleaner-line", said_otherwise, "same", ""),
        # Only the wording is the author's to judge: a tag, a tolerance or a step is not.
        ("blend-descaler", turned_into_another, "same", "observe"),
        ("bleed-cleaner-line", other_amount, "same", "show"),
        ("bleed-cleaner-line", released_by_another, "same", "observe"),
    ],
)
def test_authors_may_say_that_only_the_wording_changed(
    book: Path, name: str, make: Callable[[Data, random.Random], str | None], meaning: str | None, expected: str
) -> None:
    data = yaml.load(written(name), Loader=yaml.BaseLoader)
    assert make(data, random.Random(3)) is not None
    text = yaml.safe_dump(with_revision(data, meaning), sort_keys=False, allow_unicode=True, width=1000)
    assert follows(changes(taught(book, name, written(name)), taught(book, name, text))) == expected


def test_wording_counts_for_who_knows_a_revision_before_the_last_change_of_meaning(book: Path) -> None:
    name = "bleed-cleaner-line"
    data = yaml.load(written(name), Loader=yaml.BaseLoader)
    stopped_otherwise(data, random.Random(1))
    second = with_revision(with_revision(data, None), "same")
    text = yaml.safe_dump(second, sort_keys=False, allow_unicode=True, width=1000)
    now = taught(book, name, text)
    assert now.same_since == now.revision - 1
    assert follows(changes(taught(book, name, written(name)), now)) == "observe"


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Open V2 slowly.", "open v2, SLOWLY"),
        ("The cleaner drips", "The clenaer drips"),
        ("Be careful", "Be carefull"),
        ("face shield", "face-shield"),
        ("25 °C", "25°C"),
    ],
)
def test_these_differ_in_spelling_alone(one: str, other: str) -> None:
    assert without_spelling(one) == without_spelling(other)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("sodium sulfate", "sodium sulfite"),
        ("sodium chlorite", "sodium chloride"),
        ("Do not open it", "Do now open it"),
        ("It is on", "It is no"),
        ("Shut V2", "Shut V3"),
        ("Add 0.5 L", "Add 5 L"),
        ("Add 1.5 L", "Add 15 L"),
        ("Keep it at -5 °C", "Keep it at 5 °C"),
        ("above 5 %", "above 5"),
        ("pH < 5", "pH > 5"),
        ("ethanol", "methanol"),
        ("at this angle", "at this angel"),
        ("the inlet", "the intel"),
        ("lower the pail", "slower the pail"),
        ("left hand", "right hand"),
        ("one cap", "two caps"),
    ],
)
def test_these_mean_something_else(one: str, other: str) -> None:
    assert without_spelling(one) != without_spelling(other)


def test_what_a_file_holds_is_what_was_taught(book: Path) -> None:
    now = taught(book, "lock-out-mixer", written("lock-out-mixer"))
    again = taught_from(now.portable)
    assert (again, again.hash) == (now, now.hash)
    assert changes(again, now) == ()


def test_a_change_says_from_what_to_what(book: Path) -> None:
    name = "bleed-cleaner-line"
    text = (
        written(name).replace("remaining: 5 %", "remaining: 1 %").replace("Splash guard down, body", "Visor down, body")
    )
    found = changes(taught(book, name, written(name)), taught(book, name, text))
    # ln(100) / ln(20) = 1.537 times as much is run off, to the half litre of the pail
    amount, caution = found
    assert amount == Change("amount:most-to-run", "changed", "show", amount.before, amount.now)
    assert ("11.5 L" in amount.before, "17" in amount.now) == (True, True), amount
    assert ("Splash guard down" in caution.before, "Visor down" in caution.now) == (True, True), caution


def test_of_an_emergency_all_steps_are_watched(book: Path) -> None:
    now = taught(book, "small-spill", written("small-spill"))
    kinds = {each.is_critical for each in now.elements if each.key.startswith("step:")}
    assert kinds == {True}
