"""Each rule of the audit is tried on the two examples of its own manual page, put into the book in `audited`."""

import re
from collections.abc import Iterator, Mapping
from datetime import date
from pathlib import Path
from typing import Any

import pytest
import yaml
from demo_book import overlaid

from tankside.audit import RULES, Rule, audit_of
from tankside.checkup import read_book
from tankside.memory import Memory

BASE = Path(__file__).parent / "audited"
DAY = date(2026, 12, 1)
#: of a manual page: whether it fails or passes, and what is put where
EXAMPLE = re.compile(r"^(Fails|Passes):\n((?: {4}.*\n|\n)+)", re.MULTILINE)
FILE = re.compile(r"^# (\S+)\n", re.MULTILINE)
#: what a procedure cannot be without; an example writes only what matters to it
TEMPLATE = """\
procedure: example
title: An example
family: filling
situation: filling
revision: 1
effective: 2026-11-01
review: 2027-11-01
approved: workshop-lead
purpose: It shows what a rule looks at.
scope: Tests only.
done_by: operator
second_person: in the room
stop_safely: Stop what runs, shut what is open.
stop_leaves:
  - P1 stopped
  - V1, V2 and V3 shut
steps:
  - do: Look at the tank.
if_it_goes_wrong:
  - sign: Water on the floor
    do: Call the lead.
sources:
  - Common practice, no source.
history:
  - revision: 1
    date: 2026-11-01
    change: First issue.
"""


class Texts(yaml.SafeLoader):
    """Reads every value as a text, as books are read."""


Texts.yaml_implicit_resolvers = {}


def merged(whole: Any, part: Any) -> Any:
    """Return a document with a part put over it: tables key by key, everything else as a whole."""
    if not (isinstance(whole, dict) and isinstance(part, dict)):
        return part
    return {**whole, **{key: merged(whole.get(key), value) for key, value in part.items()}}


def examples(rule: Rule) -> Mapping[str, Mapping[str, Any]]:
    """Return what an example that fails and one that passes put into which files."""
    found = {}
    for which, text in EXAMPLE.findall(f"{rule.manual}\n"):
        _, *parts = FILE.split(re.sub(r"^ {4}", "", text, flags=re.MULTILINE))
        found[which] = {path: yaml.load(part, Texts) for path, part in zip(parts[::2], parts[1::2], strict=True)}
    return found


def put(book: Path, parts: Mapping[str, Any]) -> None:
    for path, part in parts.items():
        file = book / path
        family, name = file.parent.name, file.stem
        template = TEMPLATE.replace("family: filling", f"family: {family}").replace("example\n", f"{name}\n", 1)
        text = file.read_text(encoding="utf-8") if file.exists() else "" if family == "plant" else template
        file.parent.mkdir(exist_ok=True)
        whole = merged(yaml.load(text, Texts) or {}, part)
        written = yaml.dump(whole, sort_keys=False, allow_unicode=True, width=10**6, Dumper=yaml.SafeDumper)
        file.write_text(written, encoding="utf-8", newline="\n")


def findings(book: Path, rule: Rule) -> set[tuple[str, str, str]]:
    read = read_book(book)
    assert read.rehearsal is not None, "\n".join(each.as_text() for each in read.problems)
    return {each.same for each in audit_of(read.rehearsal, DAY, (rule,)).findings}


@pytest.fixture(scope="module", autouse=True)
def memory() -> Iterator[None]:
    """What stays the same from one example to the next is read once."""
    with Memory().in_use():
        yield


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.code)
def test_rule_finds_its_failing_example_and_not_its_passing_one(rule: Rule, tmp_path: Path) -> None:
    both = examples(rule)
    assert set(both) == {"Fails", "Passes"}, "its docstring has both"
    failing, passing = overlaid(BASE, tmp_path / "failing"), overlaid(BASE, tmp_path / "passing")
    put(failing, both["Fails"])
    put(passing, both["Passes"])
    before = findings(BASE, rule)
    assert findings(failing, rule) - before
    assert not findings(passing, rule) - before


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.code)
def test_rule_says_what_it_rests_on(rule: Rule) -> None:
    assert rule.summary.endswith(".")
    assert rule.manual
    assert rule.sources
    assert all(source.says for source in rule.sources)
