"""Problems as other programs take them: JSON, GitHub's workflow commands, SARIF 2.1.0 (OASIS)."""

import json
from collections.abc import Callable, Iterable, Mapping
from urllib.parse import quote

from tankside.problems import Problem, Severity

_GITHUB_LEVEL = {Severity.ERROR: "error", Severity.REMARK: "notice"}
_SARIF_LEVEL = {Severity.ERROR: "error", Severity.REMARK: "note"}
SARIF_SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"


def problems_as_json(problems: Iterable[Problem]) -> str:
    """Return the problems as a JSON list, for editors and other programs."""
    return json.dumps([problem.as_plain() for problem in problems], indent=2, ensure_ascii=False)


def problems_as_github(problems: Iterable[Problem]) -> str:
    """Return one workflow command a problem, which GitHub shows beside the line it is about."""
    return "\n".join(_command(problem) for problem in problems)


def _command(problem: Problem) -> str:
    place = {
        "file": problem.span.path,
        "line": str(problem.span.line),
        "col": str(problem.span.column),
        "title": problem.code,
    }
    properties = ",".join(f"{name}={_escaped(value, ',:')}" for name, value in place.items())
    return f"::{_GITHUB_LEVEL[problem.severity]} {properties}::{_escaped(f'{problem.message}; {problem.hint}')}"


def _escaped(text: str, also: str = "") -> str:
    """Return a text with what would end it written as its number; % first, or it would be written twice."""
    for character in f"%\r\n{also}":
        text = text.replace(character, f"%{ord(character):02X}")
    return text


def problems_as_sarif(problems: Iterable[Problem], about: Mapping[str, tuple[str, str]] | None = None) -> str:
    """Return the problems as a SARIF log with one run; `about` has a summary and a manual page for each code."""
    found = tuple(problems)
    known = about or {}
    rules = [_rule(code, known.get(code)) for code in sorted({*known, *(each.code for each in found)})]
    driver = {"name": "tankside", "rules": rules}
    run = {"tool": {"driver": driver}, "columnKind": "unicodeCodePoints", "results": [_result(each) for each in found]}
    return json.dumps({"$schema": SARIF_SCHEMA, "version": "2.1.0", "runs": [run]}, indent=2, ensure_ascii=False)


def _rule(code: str, about: tuple[str, str] | None) -> dict[str, object]:
    if about is None:
        return {"id": code}
    return {"id": code, "shortDescription": {"text": about[0]}, "help": {"text": about[1]}}


def _result(problem: Problem) -> dict[str, object]:
    place = {
        "artifactLocation": {"uri": quote(problem.span.path)},
        "region": {"startLine": problem.span.line, "startColumn": problem.span.column},
    }
    return {
        "ruleId": problem.code,
        "level": _SARIF_LEVEL[problem.severity],
        "message": {"text": f"{problem.message}; {problem.hint}"},
        "locations": [{"physicalLocation": place}],
    }


FORMATS: Mapping[str, Callable[[Iterable[Problem]], str]] = {
    "json": problems_as_json,
    "github": problems_as_github,
    "sarif": problems_as_sarif,
}
