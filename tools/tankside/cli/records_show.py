"""A record as a person reads it: deviations first, then every step with its state and its entries."""

from collections.abc import Iterable, Iterator
from textwrap import wrap

from tankside.cli.records_entries import EntryWords, mark_of
from tankside.cli.records_steps import PartWords, visit_in_words, within
from tankside.cli.records_words import CLAIMS, clean, moment, offset_of, signed, state_of
from tankside.cli.showing import counted
from tankside.records.copy import Visit
from tankside.records.examining import SHORT
from tankside.records.judging import Entry
from tankside.records.record import Record
from tankside.records.script import NO_STEPS, every

#: columns of a terminal
WIDTH = 100
_STEP, _ENTRY = "  ", "      "


def shown(record: Record) -> str:
    """Return the whole record for a terminal."""
    return "\n".join(_Show(record).lines())


class _Show:
    def __init__(self, record: Record) -> None:
        self.record, self.copy = record, record.copy
        self.words = EntryWords(record)
        self.parts = {number: PartWords(part) for number, part in enumerate(self.copy.script.parts)}
        self.steps: dict[int, list[Entry]] = {}
        self.visits: dict[int, Visit] = {id(visit): visit for visit in self.copy.trail}
        for entry in record.entries:
            if entry.visit is not None:
                # What was taken back on a way that was not taken stands on the trail no more.
                self.visits.setdefault(id(entry.visit), entry.visit)
                self.steps.setdefault(id(entry.visit), []).append(entry)

    def lines(self) -> Iterator[str]:
        yield from self._head()
        yield from self._start()
        yield from self._listed("DEVIATIONS", filter(self.words.is_deviation, self.record.entries))
        yield from self._listed("RED-LINES", self._of_kind("redline"))
        yield from self._listed("NOTES", self._of_kind("note"))
        yield from self._steps()
        yield from self._beside()

    def _head(self) -> Iterator[str]:
        record, script = self.record, self.copy.script
        lot = f"lot {clean(record.lot)}" if record.lot else "no lot"
        offset = offset_of(record.first["at"])
        first, last = (moment(event["at"], offset) for event in (record.first, record.last))
        yield from wrapped(
            f"{clean(record.title)} ({clean(script.id)}), revision {record.revision}, content {script.hash[:SHORT]}"
        )
        yield from wrapped(f"{lot}, working copy {record.name}, book {clean(script.edition['book'])}")
        yield from wrapped(f"{counted(len(record.entries), 'event')}, {first} to {last} ({offset}): {state_of(record)}")
        yield ""
        yield from wrapped(CLAIMS)

    def _start(self) -> Iterator[str]:
        event = self.record.first
        yield from ("", "START")
        yield self._signed(self.record.entries[0], "begun")
        people = ", ".join(f"{clean(each['who'])} {clean(each['role'])}" for each in event["people"])
        yield from wrapped(f"people: {people}", _ENTRY)
        for label, value in self._chosen():
            yield from wrapped(f"{label}: {value}", _ENTRY)
        for name in event.get("confirmed", []):
            yield from wrapped(f"found to be so: {self._condition(name)}", _ENTRY)

    def _chosen(self) -> Iterator[tuple[str, str]]:
        event = self.record.first
        yield from (
            (label, clean(event[key]))
            for label, key in (("product", "product"), ("bottles", "bottle"))
            if event.get(key)
        )
        for procedure, name, asked in self.copy.script.inputs():
            yield clean(asked.get("asks", name)), f"{self.copy.inputs[procedure][name]} ({procedure})"

    def _condition(self, name: str) -> str:
        editions = (part.edition for part in self.copy.script.parts)
        says = (within(edition, "conditions", name, "says") for edition in editions)
        return clean(next(filter(None, says), name))

    def _of_kind(self, kind: str) -> Iterator[Entry]:
        return (entry for entry in self.record.entries if entry.event["kind"] == kind)

    def _listed(self, head: str, entries: Iterable[Entry]) -> Iterator[str]:
        yield from ("", head)
        lines = [line for entry in entries for line in self._entry(entry, self._about(entry))]
        yield from lines or [f"{_STEP}none"]

    def _about(self, entry: Entry) -> str:
        """Return the step that an entry is about, for a place where it does not stand below it."""
        if entry.visit is None:
            step = clean(entry.event.get("step", ""))
            return f"at '{step}': " if step else ""
        number, action = visit_in_words(self.copy, entry.visit, self.parts)
        return f"{number} {entry.visit.name}: ".lstrip() if number else f"{action}: "

    def _steps(self) -> Iterator[str]:
        yield from ("", "STEPS")
        place = (-1, "")
        for visit in self.visits.values():
            section = self.copy.section_of(visit) if visit.node >= 0 else place[1]
            if (visit.part, section) != place:
                place = (visit.part, section)
                yield from self._heading(visit.part, section)
            yield from self._visit(visit)
        yield from self._not_reached()

    def _heading(self, part: int, section: str) -> Iterator[str]:
        words = self.parts[part]
        title = words.titles.get(section, "")
        named = f"{words.title}: {title}" if len(self.parts) > 1 and title else title or words.title
        yield ""
        yield from wrapped(named)

    def _visit(self, visit: Visit) -> Iterator[str]:
        number, action = visit_in_words(self.copy, visit, self.parts)
        name = f" ({clean(visit.name)})" if visit.node >= 0 else ""
        yield from wrapped(f"{number} [{mark_of(visit)}] {action}{name}".lstrip(), _STEP)
        for entry in self.steps.get(id(visit), []):
            yield from self._entry(entry)

    def _not_reached(self) -> Iterator[str]:
        reached = {(visit.part, visit.name) for visit in self.visits.values()}
        for number, words in self.parts.items():
            items = every(words.edition["written"]["steps"])
            names = (item["name"] for item in items if item["kind"] not in NO_STEPS)
            left = [f"{words.numbers[name]} {clean(name)}" for name in names if (number, name) not in reached]
            if left:
                yield ""
                yield from wrapped(f"{words.title}, not reached: {', '.join(left)}")

    def _beside(self) -> Iterator[str]:
        beside = [entry for entry in self.record.entries[1:] if entry.visit is None]
        yield from ("", "BESIDE THE STEPS")
        yield from [line for entry in beside for line in self._entry(entry)] or [f"{_STEP}none"]

    def _entry(self, entry: Entry, about: str = "") -> list[str]:
        return wrapped(self._signed(entry, f"{about}{self.words.said(entry)}").lstrip(), _ENTRY)

    def _signed(self, entry: Entry, words: str) -> str:
        event = entry.event
        return f"{_ENTRY}{event['seq'] + 1}  {self.words.moment(event['at'])}  {signed(event)}  {words}"


def wrapped(text: str, indent: str = "") -> list[str]:
    """Return the lines of a text, those behind the first indented more."""
    return wrap(text, WIDTH, initial_indent=indent, subsequent_indent=f"{indent}    ", break_on_hyphens=False)
