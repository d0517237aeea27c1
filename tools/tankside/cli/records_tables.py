"""Records as tables for a spreadsheet: comma-separated values (RFC 4180), every cell text."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from tankside.cli.spreadsheets import as_text, kept, table
from tankside.quantities.portable import Portable
from tankside.records.copy import label_of, latest
from tankside.records.judging import Entry
from tankside.records.record import Record

#: what is a number or a day by the shape of a record, and may be one in a spreadsheet
NUMBERS = ("value", "target", "low", "high", "total", "corrected_value", "due")
Row = Mapping[str, Portable]
_ABOUT = ("file", "working_copy", "id", "title", "revision", "edition", "lot")
_WHEN = ("event", "at", "who", "role")
_STEP = ("procedure", "step")
_VALUE = ("value", "unit", "low", "high", "inside")
_CORRECTED = (
    "corrected_value",
    "corrected_unit",
    "corrected_at",
    "corrected_by",
    "corrected_because",
    "corrected_seen_by",
)
_PAPER = ("paper", "entered_at")
_LOG = (
    *("kind", *_STEP, "answer", "text", "says", "lot_on_label", "value", "unit", "target", "low", "high", "total"),
    *("inside", "instrument", "due", "with", "issued", "used", "spoiled", "left", "then", "about", "sure"),
    *("corrects_event", "reason", "second", *_PAPER, "device", "session", "clock", "build", "hash"),
)
COLUMNS: Mapping[str, Sequence[str]] = {
    "events": (*_ABOUT, *_WHEN, *_LOG),
    "readings": (*_ABOUT, *_WHEN, *_STEP, "instrument", "due", *_VALUE, *_CORRECTED, *_PAPER),
    "additions": (
        *(*_ABOUT, *_WHEN, *_STEP, "material", "into", "lot_on_label"),
        *("value", "unit", "target", "low", "high", "total", "inside", *_CORRECTED, *_PAPER),
    ),
    "labels": (
        *(*_ABOUT, *_WHEN, *_STEP, "product", "says", "counted", "issued", "used", "spoiled", "left"),
        *("corrected_issued", "corrected_used", "corrected_spoiled", "corrected_left", *_CORRECTED[2:], *_PAPER),
    ),
}


def as_csv(records: Iterable[Record], what: str) -> str:
    """Return one of COLUMNS of all records."""
    columns = COLUMNS[what]
    rows = ([_cell(column, row.get(column)) for column in columns] for record in records for row in _ROWS[what](record))
    return table(columns, rows)


def _cell(column: str, value: Portable) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    text = "" if value is None else str(value)
    return kept(text) if column in NUMBERS else as_text(text)


def _events(record: Record) -> Iterator[Row]:
    for entry in record.entries:
        event = entry.event
        corrects = {"corrects_event": event["corrects"] + 1} if "corrects" in event else {}
        # The lot of the start stands in the column of the working copy.
        label = {"lot_on_label": event["lot"]} if "lot" in event and event["kind"] != "start" else {}
        yield {**event, **_about(record, entry), **corrects, **label}


def _readings(record: Record) -> Iterator[Row]:
    for entry in _of_kind(record, "read"):
        yield {**entry.event, **_about(record, entry), **_correction(record, entry)}


def _additions(record: Record) -> Iterator[Row]:
    for entry in _of_kind(record, "pour"):
        assert entry.visit is not None, "something is put in at a step"
        step = record.copy.step_of(entry.visit)
        put = {"material": step["material"], "into": step["to"], "lot_on_label": _lot(record, entry)}
        yield {**entry.event, **_about(record, entry), **put, **_correction(record, entry)}


def _labels(record: Record) -> Iterator[Row]:
    for entry in _of_kind(record, "count"):
        assert entry.visit is not None, "labels are counted at a step"
        step = record.copy.step_of(entry.visit)
        said = {"product": step["product"], "counted": step["counted"], "says": label_of(record.copy, entry.visit)}
        yield {**entry.event, **_about(record, entry), **said, **_correction(record, entry)}


def _of_kind(record: Record, kind: str) -> Iterator[Entry]:
    return (entry for entry in record.entries if entry.event["kind"] == kind)


def _about(record: Record, entry: Entry) -> Row:
    script = record.copy.script
    visit = entry.visit
    named = {} if visit is None else {"procedure": record.copy.part_of(visit).procedure, "step": visit.name}
    return {
        **named,
        "file": record.path,
        "working_copy": record.name,
        "id": script.id,
        "title": record.title,
        "revision": record.revision,
        "edition": script.hash,
        "lot": record.lot,
        "event": entry.event["seq"] + 1,
    }


def _lot(record: Record, entry: Entry) -> str:
    """Return the lot on the label that was read last before something was put in, as it was corrected."""
    looks = [each for each in _of_kind(record, "look") if each.visit is entry.visit]
    before = [each for each in looks if each.event["seq"] < entry.event["seq"]]
    return str(latest(record.copy, before[-1].event["seq"]).get("lot", "")) if before else ""


def _correction(record: Record, entry: Entry) -> Row:
    last = latest(record.copy, entry.event["seq"])
    if last is entry.event:
        return {}
    said = {f"corrected_{key}": last.get(key) for key in ("value", "unit", "issued", "used", "spoiled", "left", "at")}
    return {
        **said,
        "corrected_by": last["who"],
        "corrected_because": last["reason"],
        "corrected_seen_by": last.get("second", ""),
    }


_ROWS: Mapping[str, Callable[[Record], Iterator[Row]]] = {
    "events": _events,
    "readings": _readings,
    "additions": _additions,
    "labels": _labels,
}
