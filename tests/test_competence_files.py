"""Competence files: whatever they hold ends in sentences with a place, and what is sound still counts."""

import ast
import errno
import json
import os
import re
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import IO, Any

import pytest
from click.testing import CliRunner
from competence_examples import ELSEWHERE, EXAMPLES
from competence_making import SEEN, TAUGHT, File, Making, rechained, several, usual, written
from demo_book import ROOT
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from tankside.catalogue import Book, load
from tankside.cli.schema import schema as schema_command
from tankside.loading.sources import Folder
from tankside.problems import Severity, has_errors
from tankside.publish.building import _own_assets
from tankside.records import files as record_files
from tankside.records.sorts import COMPETENCE
from tankside.training.files import Read, read_competences
from tankside.training.in_book import unknown_in

PACKAGE = ROOT / "tools/tankside"
SCHEMA = PACKAGE / "schema/competence.schema.json"
FITTING = Draft202012Validator(json.loads(SCHEMA.read_text(encoding="utf-8")))
CODE = re.compile(r"competence-[a-z]+(-[a-z0-9]+)*")
#: rooms that say something of competence files
SAYING = (*(PACKAGE / "training").glob("*.py"), *(PACKAGE / "cli").glob("training*.py"))


def read(folder: Path, *contents: File | str | bytes) -> Read:
    """Return what is found in files with these contents: 0.json, 1.json ..."""
    return read_competences([written(folder, each, f"{number}.json") for number, each in enumerate(contents)])


def codes(found: Read) -> list[str]:
    return [each.code for each in found.problems]


# --- every code


@pytest.mark.parametrize("code", EXAMPLES)
def test_example_raises_its_code_and_only_it(tmp_path: Path, code: str) -> None:
    make, severity, message = EXAMPLES[code]
    found = read(tmp_path, *make()).problems
    said = [re.sub(r"\b[0-9a-f]{8}\b", "########", each.message.replace(f"{tmp_path}/", "")) for each in found]
    assert [(each.code, each.severity.value) for each in found] == [(code, severity)], said
    assert said == [message]
    assert found[0].hint


def test_every_code_of_the_source_has_an_example_and_no_example_is_left_over() -> None:
    trees = (ast.parse(path.read_text(encoding="utf-8")) for path in SAYING)
    texts = (node.value for tree in trees for node in ast.walk(tree) if isinstance(node, ast.Constant))
    found = {text for text in texts if isinstance(text, str) and CODE.fullmatch(text)} - {"competence-unknown"}
    unknown = {f"competence-unknown-{what}" for what in ("role", "procedure", "path")}
    assert found | unknown | {*COMPETENCE.codes} == EXAMPLES.keys() | ELSEWHERE.keys()


def test_example_elsewhere_is_there() -> None:
    for code, name in ELSEWHERE.items():
        assert f'"{code}"' in (Path(__file__).parent / name).read_text(encoding="utf-8"), code


def test_byte_that_is_no_text_is_said_at_its_place(tmp_path: Path) -> None:
    (problem,) = read(tmp_path, b'{"a":\n\xff"}').problems
    assert (problem.code, problem.span.line, problem.span.column) == ("competence-not-utf-8", 2, 1)


def test_file_that_is_too_big_is_not_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(record_files, "MOST_BYTES", 2 * 1024 * 1024)
    (problem,) = read(tmp_path, b" " * (2 * 1024 * 1024 + 1)).problems
    assert (problem.code, problem.hint) == ("competence-too-big", "save fewer people in one file")


def test_file_that_may_not_be_read_is_a_problem(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # Who runs the tests may be allowed to read everything, so the refusal is played.
    path = written(tmp_path, usual().file)

    def refusing(opened: Path, *arguments: str, **options: str) -> IO[Any]:
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))

    monkeypatch.setattr(Path, "open", refusing)
    (problem,) = read_competences([path]).problems
    assert (problem.code, problem.message) == ("competence-unreadable", "this file cannot be read: permission denied")


def test_schema_is_one_of_those_that_the_command_prints_and_the_site_has() -> None:
    text = SCHEMA.read_text(encoding="utf-8")
    assert CliRunner().invoke(schema_command, ["competence"]).output == text
    assert dict(_own_assets())["competence.schema.json"] == text.encode()
    # Whoever fetches it from the site has no other file.
    assert "common.schema.json" not in text


# --- what is sound counts


def test_sound_file_says_who_learnt_what(tmp_path: Path) -> None:
    found = read(tmp_path, usual().file)
    (person,) = found.people
    assert found.problems == ()
    assert (person.initials, person.called) == ("TA", "Trainee A")
    assert person.roles("2026-06-02") == ("line-operator",)
    assert person.roles("2026-06-03") == ("line-operator", "second-person")
    (appointment,) = person.appointed("2026-06-03")
    assert (appointment.role, appointment.day, appointment.by) == ("second-person", "2026-06-03", "WL")
    assert [each["kind"] for each in person.entries] == [
        *("signed", "signed", "signed", "signed", "answered", "drill", "went", "appointed"),
    ]
    assert len(person.about("bleed-cleaner-line")) == 6
    assert person.drills("bleed-cleaner-line") == {"2026-06-01"}
    assert person.about("splash") == ()


def test_file_made_here_fits_the_schema() -> None:
    file = usual()
    file.struck("2026-06-10", 4)
    assert list(FITTING.iter_errors(file.file)) == []
    assert list(FITTING.iter_errors(several(usual().file, usual("TB").file))) == []


@pytest.mark.parametrize("code", EXAMPLES)
def test_whole_schema_agrees_with_the_check_event_by_event(tmp_path: Path, code: str) -> None:
    for number, each in enumerate(EXAMPLES[code][0]()):
        if not isinstance(each, str):
            shapeless = {"competence-key-missing", "competence-key-unknown", "competence-value"}
            is_shapeless = bool(shapeless & {*codes(read(tmp_path, each))})
            assert FITTING.is_valid(each) is not is_shapeless, number


def test_what_was_struck_out_does_not_count(tmp_path: Path) -> None:
    making = usual()
    making.struck("2026-06-10", 4)
    (person,) = read(tmp_path, making.file).people
    methods = [each["method"] for each in person.entries if each["kind"] == "signed"]
    assert methods == ["read", "shown", "supervised"]


#: what strikes out in a wrong way -> what is said of it
STRIKING = {
    (0,): "event 10 (struck) strikes out event 1, which nobody can",
    (9,): "event 10 (struck) strikes out event 10, which does not stand before it",
    (40,): "event 10 (struck) strikes out event 41, which does not stand before it",
    (4, 4): "event 11 (struck) strikes out event 5, which was struck out before",
    (4, 9): "event 11 (struck) strikes out event 10, which nobody can",
}


@pytest.mark.parametrize("corrects", STRIKING)
def test_what_cannot_be_struck_out_is_said(tmp_path: Path, corrects: tuple[int, ...]) -> None:
    making = usual()
    for each in corrects:
        making.struck("2026-06-10", each)
    found = read(tmp_path, making.file)
    assert [(each.code, each.message) for each in found.problems] == [("competence-struck", STRIKING[corrects])]
    (person,) = found.people
    assert len(person.entries) == (7 if 4 in corrects else 8)


def test_where_the_chain_breaks_what_stands_before_it_counts(tmp_path: Path) -> None:
    file = usual().file
    file["events"][4]["result"] = "needs-more"
    found = read(tmp_path, file)
    (person,) = found.people
    assert [each["method"] for each in person.entries] == ["read", "shown", "supervised"]
    assert found.problems[0].hint.startswith("the 4 before it hold together; ")


#: entries of competence that nobody may rely on, and what they are called
AGAINST: dict[str, dict[str, Any]] = {
    "competence-unwatched": {"method": "read", "assessor": "TA"},
    "competence-self-assessed": {"method": "supervised", "assessor": "Ta "},
    "competence-needs-more": {"method": "supervised", "seen": {"step:open-v2": "needs-more"}},
    "competence-not-looked-at": {"seen": {}},
}


@pytest.mark.requirement(number=24)
@pytest.mark.parametrize("code", AGAINST)
def test_entry_against_the_rules_does_not_count(tmp_path: Path, code: str) -> None:
    making = Making()
    making.other("2026-05-10", **AGAINST[code])
    found = read(tmp_path, making.file)
    assert codes(found) == [code]
    assert "it does not count" in found.problems[0].hint
    assert found.people[0].entries == ()


@pytest.mark.requirement(number=24)
@pytest.mark.parametrize("kind", ["drill", "appointed", "went"])
def test_nobody_attests_their_own_drill_appointment_or_way(tmp_path: Path, kind: str) -> None:
    making = Making()
    own: dict[str, dict[str, Any]] = {
        "drill": making.about(TAUGHT),
        "appointed": {"role": "second-person"},
        "went": {"path": "line-operator", "item": "tell-0123abcd"},
    }
    making.enter(kind, "2026-05-10", **own[kind], assessor="TA", assessor_role="workshop-lead")
    found = read(tmp_path, making.file)
    assert (codes(found), found.people[0].entries) == (["competence-self-assessed"], ())


@pytest.mark.parametrize(
    ("seen", "expected"),
    [
        (SEEN, []),
        ({**SEEN, "stop": "not-seen"}, ["competence-not-looked-at"]),
        ({**SEEN, "step:open-v2": "not-seen"}, ["competence-not-seen"]),
        ({**SEEN, "step:open-v2": "not-seen", "step:start-p1": "not-seen"}, ["competence-not-looked-at"]),
        ({**SEEN, "step:note-it": "competent"}, []),
        ({key: SEEN[key] for key in ("step:open-v2", "step:start-p1")}, ["competence-not-looked-at"]),
    ],
)
def test_competent_alone_says_what_was_looked_at(tmp_path: Path, seen: dict[str, str], expected: list[str]) -> None:
    making = Making()
    making.other("2026-05-10", seen=seen)
    assert codes(read(tmp_path, making.file)) == expected


def test_what_an_entry_names_must_be_as_it_was_taught(tmp_path: Path) -> None:
    file = usual().file
    (held,) = file["taught"].values()
    held["revision"] = 4
    (person,) = read(tmp_path, file).people
    assert [each["kind"] for each in person.entries] == ["went", "appointed"]


def test_second_beginning_is_said_and_changes_nothing(tmp_path: Path) -> None:
    making = usual()
    making.enter("begin", "2026-06-10", name="Somebody else", role="workshop-lead")
    found = read(tmp_path, making.file)
    assert [(each.code, each.message) for each in found.problems] == [
        ("competence-begin", "event 10 (begin) begins what was begun already")
    ]
    assert (found.people[0].called, found.people[0].roles("2026-06-02")) == ("Trainee A", ("line-operator",))


def test_shapeless_event_ends_what_is_read(tmp_path: Path) -> None:
    file = usual().file
    file["events"][3]["method"] = "by heart"
    (person,) = read(tmp_path, file).people
    assert len(person.entries) == 2


# --- several files


def test_several_people_in_one_file(tmp_path: Path) -> None:
    found = read(tmp_path, several(usual("TB").file, usual("TA").file))
    assert [each.initials for each in found.people] == ["TA", "TB"]
    assert found.problems == ()


def test_longer_file_counts_where_one_begins_like_the_other(tmp_path: Path) -> None:
    short = {**usual().file, "events": usual().file["events"][:3]}
    for contents in ((short, usual().file), (usual().file, short)):
        (person,) = read(tmp_path, *contents).people
        assert len(person.entries) == 8


def test_two_chains_of_the_same_initials_are_one_person_in_the_order_of_days(tmp_path: Path) -> None:
    other = Making(" ta", name="00000000000000aa", role="authorised-person", begun="2026-05-15")
    other.signed("2026-05-20", "shown")
    found = read(tmp_path, usual().file, other.file)
    (person,) = found.people
    assert codes(found) == ["competence-two-records"]
    assert person.roles("2026-05-20") == ("line-operator", "authorised-person")
    days = [each["at"][:10] for each in person.about("bleed-cleaner-line")]
    assert days == sorted(days)
    assert "2026-05-20" in days


def test_entries_of_another_person_do_not_count(tmp_path: Path) -> None:
    newcomer = Making("TB")
    found = read(tmp_path, usual("TA").file, newcomer.file)
    one, other = found.people
    assert (len(one.about("bleed-cleaner-line")), other.about("bleed-cleaner-line")) == (6, ())


# --- beside a book


@pytest.fixture(scope="module")
def book() -> Book:
    loaded = load(Folder(ROOT))
    assert loaded.book is not None
    return loaded.book


def remarked(folder: Path, book: Book, file: File) -> list[tuple[str, str]]:
    records = [record for person in read(folder, file).people for record in person.records]
    problems = list(unknown_in(records, book))
    assert {each.severity for each in problems} <= {Severity.REMARK}
    return [(each.code, each.message) for each in problems]


def test_book_knows_the_names_of_a_usual_file(tmp_path: Path, book: Book) -> None:
    assert remarked(tmp_path, book, usual().file) == []


def test_record_of_another_book_is_said(tmp_path: Path, book: Book) -> None:
    message = "this competence record is of another book, 'bakery'"
    assert remarked(tmp_path, book, Making(book="bakery").file) == [("competence-other-book", message)]


def test_names_that_the_book_does_not_know_are_said_once(tmp_path: Path, book: Book) -> None:
    making = Making(role="line-operater")
    making.drill("2026-05-10", {**TAUGHT, "procedure": "milk-the-cow"})
    making.drill("2026-05-11", {**TAUGHT, "procedure": "milk-the-cow"}, assessor_role="milker")
    making.went("2026-05-12", "find-0123abcd", path="milker-path")
    assert remarked(tmp_path, book, making.file) == [
        ("competence-unknown-role", "event 1 (begin) names the role 'line-operater', which the book does not know"),
        (
            "competence-unknown-procedure",
            "event 2 (drill) names the procedure 'milk-the-cow', which the book does not know",
        ),
        ("competence-unknown-role", "event 3 (drill) names the role 'milker', which the book does not know"),
        ("competence-unknown-path", "event 4 (went) names the path 'milker-path', which the book does not know"),
    ]


# --- whatever a file holds


def paths(value: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    """Return the way to every value."""
    yield path
    inside = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for name, each in inside:
        yield from paths(each, (*path, name))


WHOLE = several(usual().file)
PATHS = [path for path in paths(WHOLE) if path]
JUNK = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-2, 10**14),
    st.text(max_size=20),
    st.sampled_from(
        ["", "TB", "competent", "needs-more", "9999-12-31T23:59:59.999-14:00", "0001-01-01T00:00:00.000+14:00"]
    ),
    st.sampled_from([[], {}, ["x"], {"kind": "signed"}, "\x1b[2J", "\ud800"]),
)


def changed(file: File, path: tuple[str | int, ...], value: Any) -> File:
    whole: Any = json.loads(json.dumps(file))
    inside = whole
    for name in path[:-1]:
        inside = inside[name]
    inside[path[-1]] = value
    return whole  # type: ignore[no-any-return]


@settings(max_examples=300, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(path=st.sampled_from(PATHS), value=JUNK, is_rechained=st.booleans())
def test_any_value_in_any_place_is_read_and_nothing_unsound_counts(
    tmp_path: Path, path: tuple[str | int, ...], value: Any, is_rechained: bool
) -> None:
    file = changed(WHOLE, path, value)
    with suppress(AttributeError, KeyError, TypeError, IndexError):
        file = several(rechained(file["competences"][0])) if is_rechained else file
    found = read(tmp_path, json.dumps(file))
    is_in_event = len(path) > 4 and path[2] == "events" and path[4] != "exported"
    if file != WHOLE and not is_rechained and is_in_event:
        assert has_errors(found.problems), path
    for problem in found.problems:
        assert problem.hint
        assert problem.message.isprintable()
        assert CODE.fullmatch(problem.code), problem.code
    for person in found.people:
        for entry in person.entries:
            assert entry.get("assessor", "").strip().lower() != "ta" or entry.get("method") == "read"
            assert entry.get("result") != "competent" or entry["method"] in ("supervised", "alone")
            assert entry.get("taught", "") in {"", *person.taught}


@settings(max_examples=200, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_bytes_cut_out_or_put_in_end_in_no_traceback(tmp_path: Path, data: st.DataObject) -> None:
    whole = json.dumps(usual().file).encode()
    start = data.draw(st.integers(0, len(whole)))
    end = data.draw(st.integers(start, min(start + 40, len(whole))))
    found = read(tmp_path, whole[:start] + data.draw(st.binary(max_size=8)) + whole[end:])
    assert all(each.code in {*COMPETENCE.codes, *EXAMPLES} for each in found.problems)
