"""Our own sentences for text that the YAML parser cannot read."""

from typing import Any

import yaml

from tankside.problems import Problem, Span, quoted

#: what a plain text must not begin with
RESERVED = "@`%"
LOOK = "look at the indentation and quotes of this line and the one above"


def broken(path: str, text: str, error: yaml.YAMLError) -> Problem:
    """Return the problem that the parser met, at the place where a person would mend it."""
    if isinstance(error, yaml.reader.ReaderError):
        # The C parser counts bytes.
        place = place_of_byte(path, text.encode("utf-8")[: error.position])
        code_point = error.character if isinstance(error.character, int) else ord(error.character)
        return Problem(place, "yaml-syntax", f"character U+{code_point:04X} must not stand in a text file", "delete it")
    if isinstance(error, yaml.MarkedYAMLError) and error.problem_mark is not None:
        return _Break(path, text.splitlines(), error).problem()
    return Problem(Span(path), "yaml-syntax", f"this is not YAML: {error}", "compare with a file that works")


def place_of_byte(path: str, before: bytes) -> Span:
    """Return the place of what follows the bytes `before`."""
    lines = f"{before.decode('utf-8', 'replace')}.".splitlines()
    return Span(path, len(lines), len(lines[-1]))


class _Break:
    """A place where the parser gave up."""

    def __init__(self, path: str, lines: list[str], error: yaml.MarkedYAMLError) -> None:
        self.path = path
        self.lines = lines
        self.said = error.problem or ""
        self.doing = error.context or ""
        self.mark: Any = error.problem_mark
        self.begun: Any = error.context_mark or error.problem_mark

    def problem(self) -> Problem:
        line = self._line(self.mark)
        at = line[self.mark.column : self.mark.column + 1]
        if at == "\t" or "\t" in line[: len(line) - len(line.lstrip())]:
            message = "a tab stands where blanks indent"
            hint = "indent with blanks; set your editor to insert blanks"
            return self._at(self.mark, "yaml-tab", message, hint)
        if "mapping values are not allowed" in self.said:
            return self._colon(line)
        if at in ("-", *RESERVED) and ("cannot start" in self.said or "sequence entries" in self.said):
            message = f"{quoted(line[self.mark.column :])} begins with '{at}', which means something else in YAML"
            return self._at(self.mark, "yaml-needs-quotes", message, 'put quotes around it: "..."')
        return self._other()

    def _colon(self, line: str) -> Problem:
        head = line.find(": ")
        text = line[head + 2 :] if 0 <= head < self.mark.column else line
        message = f"{quoted(text)} holds a colon that YAML takes for the end of a key"
        hint = 'put quotes around the text: "..."; if it is a key, correct its indentation'
        return self._at(self.mark, "yaml-needs-quotes", message, hint)

    def _other(self) -> Problem:
        opening = self._line(self.begun)[self.begun.column : self.begun.column + 1]
        if "flow" in self.doing or ("quoted scalar" in self.doing and "end of stream" in self.said):
            message = f"what begins with {opening} here is not closed"
            return self._at(self.begun, "yaml-syntax", message, "close it; a list or text in quotes ends on its line")
        if "expected ':'" in self.said:
            message = f"{quoted(self._line(self.begun))} has no colon after its key"
            return self._at(self.begun, "yaml-syntax", message, "write 'key: value', or indent it under its key")
        return self._at(self.mark, "yaml-syntax", f"this is not YAML: {self.said}", LOOK)

    def _at(self, mark: Any, code: str, message: str, hint: str) -> Problem:
        return Problem(Span(self.path, mark.line + 1, mark.column + 1), code, message, hint)

    def _line(self, mark: Any) -> str:
        return self.lines[mark.line] if mark.line < len(self.lines) else ""
