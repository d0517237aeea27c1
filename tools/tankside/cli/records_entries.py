"""What each event of a record says, in words. What was entered first stays readable beside its correction."""

from collections.abc import Callable, Mapping

from tankside.cli.records_words import clean, moment, offset_of, sheet
from tankside.quantities.portable import Portable
from tankside.records.copy import Visit, label_of
from tankside.records.judging import Entry
from tankside.records.record import Record
from tankside.records.script import AWAY
from tankside.views.wording import with_degrees

#: kind of event -> what it says where nothing else is to be said of it
_PLAIN = {
    "begin": "begun",
    "take": "went where the procedure says for a reading outside",
    "second": "looked, second person",
    "release": "hold released",
    "receive": "took the work over",
    "join": "came",
    "leave": "went",
    "finish": "work finished",
}
#: kind of event -> what stands before its reason
_REASONED = {
    "alone": "NOT INDEPENDENT, nobody looked a second time, because",
    "allow": "allowed it to go on, because",
    "skip": "not applicable, because",
    "deviate": "done in another way, because",
    "abandon": "gave the work up, because",
    "pause": "paused:",
    "stop": "stopped safely:",
}
_REDLINES = {"wrong": "it is wrong", "could-not": "it cannot be done so", "near-miss": "somebody was nearly hurt"}
_DECISIONS = {"again": "back to the step before", "end": "the work ends here"}
#: kinds of events that the person who approves looks at first
_DEVIATING = ("take", "alone", "allow", "skip", "deviate", "decide", "correct", "unmark", "stop", "abandon")


class EntryWords:
    """Says what the events of a record say."""

    def __init__(self, record: Record) -> None:
        """Speak of a record."""
        self.record, self.copy = record, record.copy
        self.offset = offset_of(record.first["at"])

    def said(self, entry: Entry) -> str:
        """Return what an event says."""
        own = _OWN.get(entry.event["kind"])
        words = self._usual(entry.event) if own is None else own(self, entry)
        paper = entry.event.get("paper")
        typed = entry.event.get("entered_at")
        when = f", typed in {self.moment(typed)}" if typed else ""
        return with_degrees(f"{words} [from sheet {sheet(paper)}{when}]" if paper else words)

    def moment(self, at: str) -> str:
        """Return a time of the record, with the day only where it is another one than that of the start."""
        return moment(at, self.offset).removeprefix(f"{self.record.first['at'][:10]} ")

    def is_deviation(self, entry: Entry) -> bool:
        """Return whether an event is one that the person who approves looks at first."""
        event, visit = entry.event, entry.visit
        is_wrong = event["kind"] == "look" and visit is not None and not self._is_right(event, visit)
        is_outside = event["kind"] == "read" and not event["inside"]
        return event["kind"] in _DEVIATING or is_outside or is_wrong

    def _usual(self, event: Portable) -> str:
        kind = event["kind"]
        if kind in _PLAIN:
            return _PLAIN[kind]
        reason = clean(event.get("reason", ""))
        return f"{_REASONED[kind]} {reason}" if reason else _REASONED[kind].rstrip(":")

    def _mark(self, entry: Entry) -> str:
        answer, text = clean(entry.event.get("answer", "")), clean(entry.event.get("text", ""))
        said = [f"answered: {answer}"] if answer else []
        said += [f'wrote down "{text}"'] if text else []
        return self._struck(entry, ", ".join(said) or "done")

    def _look(self, entry: Entry) -> str:
        event, visit = entry.event, entry.visit
        lot = clean(event.get("lot", ""))
        read = f"label read: {clean(event['says'])}{f', lot {lot}' if lot else ''}"
        if visit is not None and not self._is_right(event, visit):
            read += f"; WRONG, the step asks for {clean(label_of(self.copy, visit))}"
        return self._struck(entry, read)

    def _is_right(self, event: Portable, visit: Visit) -> bool:
        return bool(event["says"] == label_of(self.copy, visit))

    def _pour(self, entry: Entry) -> str:
        event = entry.event
        unit = f" {event['unit']}".rstrip()
        ends = f"{event['target']}{unit} wanted, {event['low']}{unit} to {event['high']}{unit}"
        inside = "inside" if event["inside"] else "not inside"
        put = self._struck(entry, f"{event['value']}{unit} put in")
        return f"{put}; {event['total']}{unit} in all, {inside} ({ends})"

    def _read(self, entry: Entry) -> str:
        event = entry.event
        unit = f" {event['unit']}".rstrip()
        low, high = event["low"], event["high"]
        both = f"{low}{unit} to {high}{unit}" if low and high else f"{low}{unit} or more"
        limits = both if low else f"{high}{unit} or less"
        read = self._struck(entry, f"{event['value']}{unit}")
        return f"{read} on {clean(event['instrument'])}; {'inside' if event['inside'] else 'OUTSIDE'} ({limits})"

    def _count(self, entry: Entry) -> str:
        return self._struck(entry, _counts(entry.event))

    def _checked(self, entry: Entry) -> str:
        event = entry.event
        standard = clean(event.get("with", "")) or "its standard"
        due = f", calibrated until {event['due']}" if event["due"] else ""
        return f"{clean(event['instrument'])} compared with {standard} and right{due}"

    def _decide(self, entry: Entry) -> str:
        event, visit = entry.event, entry.visit
        back = "back from there, " if visit is not None and visit.kind == AWAY else ""
        return f"{back}decided: {_DECISIONS[event['then']]}, because {clean(event['reason'])}"

    def _correct(self, entry: Entry) -> str:
        event = entry.event
        first = self.record.entries[event["corrects"]]
        seen = f", seen by {clean(event['second'])}" if event.get("second") else ""
        because = f"because {clean(event['reason'])}{seen}"
        return self._struck(entry, f"event {event['corrects'] + 1} is to say {_value(event, first.event)}, {because}")

    def _struck(self, entry: Entry, words: str) -> str:
        """Return the words of an entry; of one that was corrected, struck through in words."""
        corrected = self.copy.corrected.get(entry.event["seq"])
        if corrected is None:
            return words
        event = self.record.entries[corrected].event
        by = f"{clean(event['who'])} at {self.moment(event['at'])} because {clean(event['reason'])}"
        how = "taken back" if event["kind"] == "unmark" else "corrected"
        return f"was {words}, {how} by {by} (event {corrected + 1})"

    def _unmark(self, entry: Entry) -> str:
        event = entry.event
        return f"mark of event {event['corrects'] + 1} taken back, because {clean(event['reason'])}"

    def _resume(self, entry: Entry) -> str:
        sure = {"yes": "the last step is done", "no": "the last step was not done"}.get(entry.event.get("sure", ""), "")
        reason = clean(entry.event.get("reason", ""))
        return ", ".join(filter(None, ("went on", sure, reason)))

    def _give(self, entry: Entry) -> str:
        text = clean(entry.event.get("text", ""))
        return f'gave the work away: "{text}"' if text else "gave the work away"

    def _note(self, entry: Entry) -> str:
        return f'note: "{clean(entry.event["text"])}"'

    def _redline(self, entry: Entry) -> str:
        text = clean(entry.event.get("text", ""))
        about = f"red-line, {_REDLINES[entry.event['about']]}"
        return f'{about}: "{text}"' if text else about


def _counts(event: Portable) -> str:
    if "issued" in event:
        return f"{event['issued']} labels taken out"
    return f"labels: {event.get('used')} used, {event.get('spoiled')} spoiled, {event.get('left')} left"


def _value(event: Portable, corrected: Portable) -> str:
    """Return what a correction puts in the place of an entry."""
    if "value" in event:
        return f"{event['value']} {event.get('unit', '')}".rstrip()
    if "issued" in event or "used" in event:
        return _counts(event)
    if corrected["kind"] == "look" or "text" not in event:
        return f"lot {clean(event.get('lot', ''))}"
    return f'"{clean(event["text"])}"'


_OWN: Mapping[str, Callable[[EntryWords, Entry], str]] = {
    "mark": EntryWords._mark,
    "look": EntryWords._look,
    "pour": EntryWords._pour,
    "read": EntryWords._read,
    "count": EntryWords._count,
    "checked": EntryWords._checked,
    "decide": EntryWords._decide,
    "correct": EntryWords._correct,
    "unmark": EntryWords._unmark,
    "resume": EntryWords._resume,
    "give": EntryWords._give,
    "note": EntryWords._note,
    "redline": EntryWords._redline,
}


def mark_of(visit: Visit) -> str:
    """Return the state of a step in words."""
    return "left aside" if visit.is_aside and visit.exit is None else str(visit.state)
