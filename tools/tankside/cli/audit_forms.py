"""The forms that an audit is printed in."""

import json
from collections import Counter
from collections.abc import Callable, Mapping
from itertools import groupby
from textwrap import fill, indent

from tankside.audit import RULES, Audit, Finding, Granted, Rule, Weight
from tankside.audit.unchecked import NOT_CHECKED
from tankside.cli.showing import counted
from tankside.problem_formats import problems_as_github, problems_as_sarif

WIDTH = 100


def as_text(audit: Audit) -> str:
    """Return what a person reads: each finding in two lines, the exceptions, and what it comes to."""
    blocks = ["\n".join(each.as_text() for each in audit.findings)]
    blocks.append("\n".join(map(_exception, audit.granted)))
    blocks.append("Not checked:\n" + "\n".join(f"  - {each}" for each in NOT_CHECKED))
    blocks.append(_sum(audit))
    return "\n\n".join(block for block in blocks if block)


def _exception(granted: Granted) -> str:
    written = granted.written
    state = f"expired on {written.until}, it counts again" if granted.is_expired else f"until {written.until}"
    what = f"{written.rule.span}: exception: [{written.rule}] at '{written.at}', {state}"
    return f"{what}: {counted(len(granted.findings), 'finding')}\n    reason: {written.reason} ({written.approved})"


def _sum(audit: Audit) -> str:
    counts = Counter(each.weight for each in audit.findings)
    found = ", ".join(f"{counts[weight]} '{weight}'" for weight in Weight)
    drafts = f"; not for use: {', '.join(sorted(audit.drafts))}" if audit.drafts else ""
    return f"{counted(len(audit.rules), 'rule')} on {audit.day}: {found}{drafts}"


def as_json(audit: Audit) -> str:
    """Return an audit as other programs take it."""
    plain = {
        "day": audit.day.isoformat(),
        "is_clean": not audit.has_must,
        "rules": [_rule(each) for each in audit.rules],
        "findings": [_finding(each) for each in audit.findings],
        "exceptions": [_granted(each) for each in audit.granted],
        "not_checked": list(NOT_CHECKED),
    }
    return json.dumps(plain, indent=2, ensure_ascii=False)


def _rule(rule: Rule) -> dict[str, object]:
    sources = list(map(str, rule.sources))
    return {
        "code": rule.code,
        "family": rule.family.value,
        "weight": rule.weight.value,
        "summary": rule.summary,
        "sources": sources,
    }


def _finding(finding: Finding) -> dict[str, object]:
    found = finding.found
    return {
        "rule": finding.rule.code,
        "family": finding.rule.family.value,
        "weight": finding.weight.value,
        "at": found.at,
        "path": found.span.path,
        "line": found.span.line,
        "column": found.span.column,
        "message": found.message,
        "hint": found.hint,
    }


def _granted(granted: Granted) -> dict[str, object]:
    written = granted.written
    said = {name: str(getattr(written, name)) for name in ("rule", "at", "reason", "approved", "since", "until")}
    return {**said, "is_expired": granted.is_expired, "count": len(granted.findings)}


def as_github(audit: Audit) -> str:
    """Return one workflow command a finding."""
    return problems_as_github(each.as_problem() for each in audit.findings)


def as_sarif(audit: Audit) -> str:
    """Return a SARIF log that knows every rule applied."""
    about = {rule.code: (rule.summary, explanation(rule)) for rule in audit.rules}
    return problems_as_sarif((each.as_problem() for each in audit.findings), about)


FORMS: Mapping[str, Callable[[Audit], str]] = {
    "text": as_text,
    "json": as_json,
    "github": as_github,
    "sarif": as_sarif,
}


def explanation(rule: Rule) -> str:
    """Return the manual page of a rule."""
    law = f", in a book under the law of {rule.law}; elsewhere good practice" if rule.law else ""
    head = f"{rule.code} ({rule.family}, {rule.weight}{law})\n{rule.summary}"
    sources = "Sources:\n" + "\n".join(fill(f"- {each}", WIDTH, subsequent_indent="  ") for each in rule.sources)
    return f"{head}\n\n{rule.manual}\n\n{sources}"


def list_of_rules() -> str:
    """Return every rule in a line, family by family."""
    width = max(len(rule.code) for rule in RULES)
    blocks = []
    for family, rules in groupby(RULES, lambda rule: rule.family):
        lines = "\n".join(f"{rule.code:{width}}  {rule.weight:6}  {rule.summary}" for rule in rules)
        blocks.append(f"{family}\n{indent(lines, '  ')}")
    return "\n\n".join(blocks)
