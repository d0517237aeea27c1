"""The schemas themselves, and what they accept."""

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from tankside.loading.reading import read
from tankside.loading.sources import File
from tankside.model.steps import CLASS_OF_KIND
from tankside.problems import Problem
from tankside.schema.fitting import misfits

ROOT = Path(__file__).parent.parent
FOLDER = ROOT / "tools" / "tankside" / "schema"
SCHEMAS = {path.name: json.loads(path.read_text(encoding="utf-8")) for path in sorted(FOLDER.glob("*.schema.json"))}
#: keywords whose values are schemas ("not" only asks which kind a step is), a list of schemas, or a table of schemas
ONE = ("items", "additionalProperties", "propertyNames", "if", "then", "else", "contains")
LIST = ("anyOf", "allOf", "oneOf", "prefixItems")
TABLE = ("properties", "$defs", "patternProperties", "dependentSchemas")

PROCEDURE = """\
procedure: flush
title: Flush
family: filling
situation: filling
revision: 1
effective: 2026-11-25
review: 2027-11-25
approved: lead
purpose: Rinse water thins the first bottles.
scope: Before the first bottle.
done_by: operator
second_person: not needed
stop_safely: Shut V1.
if_it_goes_wrong:
  - sign: It leaks
    do: Shut V1.
sources:
  - Common practice.
history:
  - revision: 1
    date: 2026-11-25
    change: First issue.
steps:
"""
#: each kind of step of DESIGN, section 4, with what it cannot be without; then headings, cautions, notes
SMALLEST = {
    "open": "open: V2",
    "shut": "shut: V2",
    "start": "start: P1",
    "stop": "stop: P1",
    "move": "move: water\n    path: [tank-1, V2]",
    "add": "add: water\n    to: tank-1\n    amount: <water>",
    "lock": "lock: M1-plug",
    "unlock": "unlock: M1-plug",
    "do": "do: Shut the hatch.",
    "check": "check: The hatch is shut.",
    "measure": "measure: Temperature\n    instrument: T1\n    limits: water.temperature\n    if_outside: too-warm",
    "record": "record: Temperature",
    "labels": "labels: descaler\n    counted: out",
    "notify": "notify: lead\n    about: the reading",
    "wait": "wait: 5 min\n    for: the water to cool\n    if_late: Go on.",
    "choose": "choose: Is it warm?\n    branches:\n      - if: yes\n        go_to: too-warm\n"
    "      - if: no\n        steps:\n          - do: Go on.",
    "repeat": "repeat: Rinse\n    until: It is clear\n    at_most: 3\n    steps:\n      - do: Rinse.",
    "hold": "hold: P1 is off.\n    released_by: lead",
    "section": "section: ready\n    title: Get ready",
    "danger": "danger: Gas\n    harm: It kills.\n    avoid: No acid.\n    covers: [stop-p1]\n    if_it_happens: splash",
    "warning": "warning: Spray\n    harm: Burns.\n    avoid: Shield.\n    covers: [stop-p1]\n    if_it_happens: splash",
    "caution": "caution: Weight\n    harm: It crushes.\n    avoid: Push it.\n    covers: [stop-p1]",
    "notice": "notice: Dry running\n    harm: It breaks P1.\n    avoid: Open V2.\n    covers: [stop-p1]",
    "note": "note: A little foam is usual.",
}


def schemas_in(schema: Any, path: str = "#") -> Iterator[tuple[str, dict[str, Any]]]:
    """Return a schema and every schema inside it, each with its path."""
    if not isinstance(schema, dict):
        return
    yield path, schema
    for key in ONE:
        yield from schemas_in(schema.get(key), f"{path}/{key}")
    for key in LIST:
        for index, each in enumerate(schema.get(key, [])):
            yield from schemas_in(each, f"{path}/{key}/{index}")
    for key in TABLE:
        for name, each in schema.get(key, {}).items():
            yield from schemas_in(each, f"{path}/{key}/{name}")


def target(file: str, reference: str) -> dict[str, Any]:
    """Return what a $ref points to."""
    other, _, pointer = reference.partition("#")
    found: Any = SCHEMAS[other or file]
    for part in pointer.strip("/").split("/"):
        found = found[part]
    assert isinstance(found, dict)
    return found


EVERY = [(file, path, each) for file, schema in SCHEMAS.items() for path, each in schemas_in(schema)]


def misfits_of(step: str) -> list[Problem]:
    value, problems = read(File("x.yaml", f"{PROCEDURE}  - {step}\n".encode()))
    assert problems == ()
    assert value is not None
    return list(misfits(value, "procedure"))


def test_there_is_a_schema_for_each_sort_of_file() -> None:
    assert list(SCHEMAS) == [
        f"{name}.schema.json"
        for name in (
            "book",
            "checklist",
            "common",
            "competence",
            "equipment",
            "materials",
            "procedure",
            "products",
            "record",
            "roles",
            "sheets",
            "training",
        )
    ]


@pytest.mark.parametrize("file", SCHEMAS)
def test_schema_is_valid_2020_12_and_names_itself(file: str) -> None:
    assert SCHEMAS[file]["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert SCHEMAS[file]["$id"] == file
    Draft202012Validator.check_schema(SCHEMAS[file])


def test_nothing_is_one_of_several_since_editors_cannot_say_which() -> None:
    assert [f"{file}{path}" for file, path, each in EVERY if "oneOf" in each] == []


def test_every_table_says_what_may_stand_in_it() -> None:
    def is_closed(each: dict[str, Any]) -> bool:
        rest = each.get("additionalProperties")
        return rest is False or ("propertyNames" in each and isinstance(rest, dict))

    # A list entry leaves it to the schema of its kind, which dependentSchemas chooses by its key.
    tables = [(f"{file}{path}", each) for file, path, each in EVERY if each.get("type") == "object"]
    assert len(tables) > 40
    open_tables = [where for where, each in tables if not is_closed(each) and "dependentSchemas" not in each]
    assert open_tables == []


def test_every_key_has_a_description_for_the_editor() -> None:
    lacking = []
    for file, path, each in EVERY:
        for name, key in each.get("properties", {}).items():
            shared = target(file, key["$ref"]) if "$ref" in key else {}
            if not key.get("description") and not shared.get("description"):
                lacking.append(f"{file}{path}/{name}")
    assert lacking == []


def test_every_reference_leads_somewhere() -> None:
    for file, _, each in EVERY:
        if "$ref" in each:
            assert target(file, each["$ref"])


@pytest.mark.parametrize("kind", SMALLEST)
def test_kind_of_step_is_accepted_in_its_smallest_form(kind: str) -> None:
    assert misfits_of(SMALLEST[kind]) == []


@pytest.mark.parametrize("kind", [kind for kind, step in SMALLEST.items() if "\n" in step])
def test_kind_of_step_is_refused_without_each_of_its_keys(kind: str) -> None:
    own, *others = re.split(r"\n    (?=\w)", SMALLEST[kind])
    for left_out in others:
        step = "\n    ".join((own, *(each for each in others if each is not left_out)))
        key = left_out.partition(":")[0]
        assert [each.message for each in misfits_of(step)] == [f"key '{key}' is missing"]


def test_the_model_knows_the_same_kinds_of_step() -> None:
    assert set(SMALLEST) == set(CLASS_OF_KIND)


@pytest.mark.parametrize("kind", SMALLEST)
def test_two_kinds_in_one_step_are_one_problem_at_the_second(kind: str) -> None:
    other = "note: It is so." if kind != "note" else "do: Look."
    (problem,) = misfits_of(
        f"{SMALLEST[kind]}\n    {other}\n    stop: P1" if kind != "stop" else "stop: P1\n    note: x"
    )
    assert problem.code == "step-kind"
    assert f"both '{kind}' and '" in problem.message


@pytest.mark.parametrize("key", ["note", "open"])
def test_a_kind_of_step_as_a_wrong_key_elsewhere_is_a_wrong_key(key: str) -> None:
    text = PROCEDURE.replace("    do: Shut V1.\n", f"    do: Shut V1.\n    {key}: V1\n") + "  - do: Look.\n"
    value, _ = read(File("x.yaml", text.encode()))
    assert value is not None
    (problem,) = misfits(value, "procedure")
    assert (problem.code, problem.span.line, problem.span.column) == ("key-unknown", 17, 5)


def test_a_wrong_value_of_a_whole_table_is_said_once() -> None:
    text = PROCEDURE.replace("situation: filling", "situation:\n  - filling") + "  - do: Look.\n"
    value, _ = read(File("x.yaml", text.encode()))
    assert value is not None
    (problem,) = misfits(value, "procedure")
    assert (problem.code, problem.span.line, problem.span.column) == ("value-kind", 5, 3)


@pytest.mark.parametrize(
    "path",
    sorted((*ROOT.glob("procedures/**/*.yaml"), *ROOT.glob("checklists/*.yaml"))),
    ids=lambda path: path.relative_to(ROOT).as_posix(),
)
def test_file_of_the_demonstration_names_its_schema_for_editors(path: Path) -> None:
    first = path.read_text(encoding="utf-8").splitlines()[0]
    named = re.fullmatch(r"# yaml-language-server: \$schema=(\S+)", first)
    assert named is not None
    schema = (path.parent / named[1]).resolve()
    assert schema.is_file()
    sort = {"plant": path.stem, "checklists": "checklist"}.get(path.parent.name, "procedure")
    assert schema == FOLDER / f"{sort}.schema.json"
