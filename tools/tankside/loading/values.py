"""What a YAML file is read into: text, tables and rows, each with its place in the file."""

from tankside.problems import Span


class Text(str):
    """A scalar, always read as text, with the place where it stands."""

    span: Span

    def __new__(cls, value: str, span: Span) -> "Text":
        """Return `value` as a text that stands at `span`."""
        text = super().__new__(cls, value)
        text.span = span
        return text


class Table(dict[Text, "Value"]):
    """A mapping; its keys know their place too."""

    def __init__(self, span: Span) -> None:
        """Begin an empty table that stands at `span`."""
        super().__init__()
        self.span = span
        #: the keys by themselves, so that the place of one is found at once
        self._own: dict[str, Text] = {}

    def add(self, key: Text, value: "Value") -> None:
        """Put in a key with its value, unless the key is there already."""
        if key not in self._own:
            self._own[key] = key
            self[key] = value

    def at(self, key: str) -> "Value | None":
        """Return the value of a key, None when the table has no such key."""
        return self.get(key)  # type: ignore[call-overload, no-any-return]

    def key_span(self, key: str) -> Span:
        """Return where the key stands, or the table itself when it has no such key."""
        return self._own[key].span if key in self._own else self.span


class Row(list["Value"]):
    """A list."""

    def __init__(self, span: Span) -> None:
        """Begin an empty list that stands at `span`."""
        super().__init__()
        self.span = span


Value = Text | Table | Row
