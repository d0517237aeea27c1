"""YAML text to values: one pass over the events of the C parser, which refuses what a book must not hold."""

from dataclasses import dataclass, field
from typing import Any

import yaml

from tankside.loading.breaks import broken, place_of_byte
from tankside.loading.sources import MOST_BYTES, File
from tankside.loading.values import Row, Table, Text, Value
from tankside.problems import Problem, Span, quoted

DEEPEST = 20


def read(file: File) -> tuple[Value | None, tuple[Problem, ...]]:
    """Return the value of a YAML file and what is wrong with it; no value when it cannot be read at all."""
    start = Span(file.path)
    if file.leaves_book:
        message = "this is no file of the book: it is a link out of it, to a folder or to nothing"
        return None, (Problem(start, "link-leaves-book", message, "put the file itself here, not a link to it"),)
    if file.refused:
        message = f"this file cannot be read: {file.refused[:1].lower()}{file.refused[1:]}"
        return None, (Problem(start, "file-unreadable", message, "allow yourself to read it"),)
    if len(file.data) > MOST_BYTES:
        message = "this file is larger than 1 MiB, the most that is read"
        return None, (Problem(start, "file-too-big", message, "split it: one procedure a file"),)
    try:
        text = file.data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        # The byte-order mark is cut off before the count.
        before = error.object[: error.start]
        message = f"byte 0x{error.object[error.start]:02x} is not UTF-8 text"
        return None, (
            Problem(
                place_of_byte(file.path, before), "yaml-not-utf-8", message, "save the file as UTF-8 in your editor"
            ),
        )
    builder = _Builder(file.path, text.splitlines())
    try:
        value = builder.build(text)
    except yaml.YAMLError as error:
        problem = broken(file.path, text, error)
        # What was begun at that place has been complained of already, less well.
        builder.problems = [each for each in builder.problems if each.span != problem.span] + [problem]
        value = None
    except _GiveUpError:
        value = None
    return value, tuple(builder.problems)


class _GiveUpError(Exception):
    """The file holds something after which the rest cannot be trusted; the problem is noted."""


@dataclass
class _Open:
    """A table or list that is being filled."""

    value: Table | Row
    is_flow: bool
    key: Text | None = None


@dataclass
class _Builder:
    path: str
    lines: list[str]
    problems: list[Problem] = field(default_factory=list)
    stack: list[_Open] = field(default_factory=list)
    top: Value | None = None

    def build(self, text: str) -> Value | None:
        for event in yaml.parse(text, Loader=yaml.CBaseLoader):
            self._take(event)
        if self.top is None:
            self._problem(Span(self.path), "yaml-no-value", "this file is empty", "delete it or write it")
        return self.top

    def _take(self, event: Any) -> None:
        if isinstance(event, yaml.ScalarEvent):
            self._refuse_marks(event)
            self._scalar(event)
        elif isinstance(event, (yaml.MappingStartEvent, yaml.SequenceStartEvent)):
            self._refuse_marks(event)
            self._begin(event)
        elif isinstance(event, (yaml.MappingEndEvent, yaml.SequenceEndEvent)):
            done = self.stack.pop()
            if done.is_flow and not self._in_flow():
                self._refuse_rest_of_line(event.end_mark)
        elif isinstance(event, yaml.AliasEvent):
            message = f"{quoted(f'*{event.anchor}')} would copy another part of the file"
            self._problem(
                self._span(event), "yaml-anchor", message, "write it out, or quote the text if the * is meant"
            )
            self._put(Text(f"*{event.anchor}", self._span(event)))
        elif isinstance(event, yaml.DocumentStartEvent) and self.top is not None:
            message = "a second document begins here"
            self._problem(
                self._span(event), "yaml-many-documents", message, "keep one document a file; delete the '---'"
            )
            raise _GiveUpError

    def _span(self, event: Any) -> Span:
        return Span(self.path, event.start_mark.line + 1, event.start_mark.column + 1)

    def _problem(self, span: Span, code: str, message: str, hint: str) -> None:
        self.problems.append(Problem(span, code, message, hint))

    def _in_flow(self) -> bool:
        return bool(self.stack) and self.stack[-1].is_flow

    def _refuse_marks(self, event: Any) -> None:
        if event.anchor:
            message = f"{quoted(f'&{event.anchor}')} names a part of the file to copy it elsewhere"
            self._problem(self._span(event), "yaml-anchor", message, "delete it, or quote the text if the & is meant")
        if event.tag:
            message = f"{quoted(event.tag)} is a type tag"
            self._problem(self._span(event), "yaml-tag", message, "delete it, or quote the text if the ! is meant")

    def _begin(self, event: Any) -> None:
        span = self._span(event)
        is_table = isinstance(event, yaml.MappingStartEvent)
        if is_table and event.flow_style:
            message = "a table in braces { } loses text at its first comma"
            self._problem(span, "yaml-flow-mapping", message, "write one 'key: value' a line, indented")
        if len(self.stack) >= DEEPEST:
            message = f"this is nested more than {DEEPEST} deep"
            self._problem(span, "yaml-too-deep", message, "make it flatter; a section heading often serves")
            raise _GiveUpError
        value: Table | Row = Table(span) if is_table else Row(span)
        self._put(value)
        self.stack.append(_Open(value, bool(event.flow_style)))

    def _scalar(self, event: Any) -> None:
        text = Text(event.value, self._span(event))
        is_key = bool(self.stack) and isinstance(self.stack[-1].value, Table) and self.stack[-1].key is None
        if not is_key and not event.style and not event.value:
            self._refuse_missing(text)
        elif not is_key:
            self._refuse_text_after(event)
        self._put(text)

    def _refuse_missing(self, text: Text) -> None:
        owner = self.stack[-1].key if self.stack else None
        what = f"{quoted(owner)} has no value" if owner else "this item is empty"
        self._problem(text.span, "yaml-no-value", what, "write a value; if the text begins with #, quote it")

    def _refuse_text_after(self, event: Any) -> None:
        if event.style in ("|", ">"):
            header = self._line(event.start_mark)
            rest = header[event.start_mark.column :].lstrip("|>+-0123456789").lstrip()
            if rest:
                self._refuse_rest(event.start_mark.line, len(header) - len(rest), rest)
        elif not self._in_flow():
            self._refuse_rest_of_line(event.end_mark)

    def _refuse_rest_of_line(self, mark: Any) -> None:
        rest = self._line(mark)[mark.column :]
        if rest.strip():
            self._refuse_rest(mark.line, mark.column + len(rest) - len(rest.lstrip()), rest)

    def _refuse_rest(self, line: int, column: int, rest: str) -> None:
        message = f"{quoted(rest.strip())} after the value would be lost"
        hint = "quote the whole value if the # belongs to it; else put the comment on a line of its own"
        self._problem(Span(self.path, line + 1, column + 1), "yaml-text-after-value", message, hint)

    def _line(self, mark: Any) -> str:
        return self.lines[mark.line] if mark.line < len(self.lines) else ""

    def _put(self, value: Value) -> None:
        if not self.stack:
            self.top = value
            return
        into = self.stack[-1]
        if isinstance(into.value, Row):
            into.value.append(value)
        elif into.key is None:
            into.key = self._key(into.value, value)
        else:
            into.value.add(into.key, value)
            into.key = None

    def _key(self, table: Table, key: Value) -> Text:
        if not isinstance(key, Text):
            self._problem(
                key.span, "yaml-syntax", "a key must be a word", "write 'key: value'; quote text that begins with ["
            )
            raise _GiveUpError
        if key == "<<":
            hint = "write the keys out; nothing is inherited in a book"
            self._problem(key.span, "yaml-merge-key", "'<<' would merge another table into this one", hint)
        elif key in table:
            message = f"key {quoted(key)} is already used at line {table.key_span(key).line}"
            hint = "delete one of the two; YAML would silently keep the last"
            self._problem(key.span, "yaml-duplicate-key", message, hint)
        return key
