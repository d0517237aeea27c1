"""What would stand on a sheet many times, put together: a page can be scrolled, a wall has no room."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby

from tankside.views.procedures import HazardView, PartView, ProcedureView
from tankside.views.steps import BranchView, Detail, Entry, SectionView


@dataclass(frozen=True)
class Meeting:
    """What some materials must never meet: the same for all of them."""

    materials: tuple[str, ...]
    #: what they must never meet, and what happens then
    never_with: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Aid:
    """First aid that is the same for some materials."""

    materials: tuple[str, ...]
    lines: tuple[Detail, ...]


@dataclass(frozen=True)
class Hazards:
    """What the labels of some materials have in common."""

    materials: tuple[str, ...]
    signal_word: str
    pictograms: tuple[str, ...]
    says: tuple[str, ...]
    #: of each whose code alone is shown: that it is a trade secret, and who tells a doctor
    withheld: tuple[str, ...]


@dataclass(frozen=True)
class PartGroup:
    """Items of a checklist that follow one another and belong to one procedure."""

    view: ProcedureView
    parts: tuple[PartView, ...]
    #: sections of the procedure to which a step of these parts sends, and which are no part themselves
    sent_to: tuple[SectionView, ...]


def meetings(hazards: Iterable[HazardView]) -> tuple[Meeting, ...]:
    """Return every forbidden pair once, under the materials it holds for."""
    materials: dict[tuple[str, str], list[str]] = {}
    for hazard in hazards:
        for pair in hazard.never_with:
            materials.setdefault(pair, []).append(hazard.name)
    pairs: dict[tuple[str, ...], list[tuple[str, str]]] = {}
    for pair, names in materials.items():
        pairs.setdefault(tuple(names), []).append(pair)
    return tuple(Meeting(names, tuple(found)) for names, found in pairs.items())


def hazard_groups(hazards: Iterable[HazardView]) -> tuple[Hazards, ...]:
    """Return the labels of hazardous materials, equal ones once."""
    found: dict[tuple[str, tuple[str, ...], tuple[str, ...]], list[HazardView]] = {}
    for each in hazards:
        if each.signal_word:
            found.setdefault((each.signal_word, each.pictograms, each.says), []).append(each)
    return tuple(
        Hazards(tuple(each.name for each in alike), *label, tuple(each.withheld for each in alike if each.withheld))
        for label, alike in found.items()
    )


def aids(first_aid: Iterable[tuple[str, tuple[Detail, ...]]]) -> tuple[Aid, ...]:
    """Return every first aid once, with the materials it holds for."""
    found: dict[tuple[Detail, ...], list[str]] = {}
    for name, lines in first_aid:
        found.setdefault(lines, []).append(name)
    return tuple(Aid(tuple(names), lines) for lines, names in found.items())


def part_groups(parts: Iterable[PartView]) -> tuple[PartGroup, ...]:
    """Return the items of a checklist that lists steps, by procedure."""
    return tuple(_group(tuple(inside)) for _, inside in groupby(parts, key=lambda part: part.procedure))


def _group(parts: tuple[PartView, ...]) -> PartGroup:
    view = parts[0].view
    assert view is not None
    shown = [section for part in parts for section in part.sections]
    wanted = _targets(entry for section in shown for entry in section.entries)
    names = {section.name for section in shown}
    sent_to: list[SectionView] = []
    while missing := [each for each in view.sections if each.name in wanted - names]:
        sent_to += missing
        names |= {each.name for each in missing}
        wanted = _targets(entry for section in missing for entry in section.entries)
    return PartGroup(view, parts, tuple(sent_to))


def _targets(entries: Iterable[Entry]) -> set[str]:
    return {name for entry in entries for name in _sections_named(entry)}


def _sections_named(entry: Entry) -> Iterator[str]:
    sentences = [detail.words for detail in entry.details]
    sentences += [branch.go_to for branch in entry.branches if branch.go_to is not None]
    for run in (run for sentence in sentences for run in sentence):
        if run.target is not None and run.target[0] == "section":
            yield run.target[1]
    for inner in (*entry.entries, *_inside(entry.branches)):
        yield from _sections_named(inner)


def _inside(branches: Iterable[BranchView]) -> Iterator[Entry]:
    return (entry for branch in branches for entry in branch.entries)
