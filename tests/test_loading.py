"""Bytes to text values: every value knows its line and column, stays text, and nothing that is read crashes."""

import os
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tankside.loading.reading import read
from tankside.loading.sources import MOST_BYTES, File, Folder
from tankside.loading.values import Row, Table, Text, Value
from tankside.problems import Problem

MIB = 1024 * 1024


def value_of(text: str | bytes) -> Value:
    value, problems = read(File("x.yaml", text if isinstance(text, bytes) else text.encode("utf-8")))
    assert problems == ()
    assert value is not None
    return value


def problems_of(text: str | bytes) -> list[tuple[int, int, str]]:
    _, problems = read(File("x.yaml", text if isinstance(text, bytes) else text.encode("utf-8")))
    return [(each.span.line, each.span.column, each.code) for each in problems]


def places(value: Value) -> list[tuple[str, int, int]]:
    """Return each key and each text with its line and column, in reading order."""
    if isinstance(value, Text):
        return [(str(value), value.span.line, value.span.column)]
    if isinstance(value, Row):
        return [place for each in value for place in places(each)]
    return [place for key, each in value.items() for place in (*places(key), *places(each))]


def test_each_key_and_value_knows_its_place() -> None:
    text = "title: Rinse\nsteps:\n  - open: V2\n  -   shut:   V3\n"
    assert places(value_of(text)) == [
        ("title", 1, 1),
        ("Rinse", 1, 8),
        ("steps", 2, 1),
        ("open", 3, 5),
        ("V2", 3, 11),
        ("shut", 4, 7),
        ("V3", 4, 15),
    ]


def test_tables_and_rows_know_their_place() -> None:
    value = value_of("steps:\n  - open: V2\n    how: slowly\n")
    assert isinstance(value, Table)
    steps = value.at("steps")
    assert isinstance(steps, Row)
    assert isinstance(steps[0], Table)
    assert [(each.span.line, each.span.column) for each in (value, steps, steps[0])] == [(1, 1), (2, 3), (2, 5)]


def test_place_of_a_text_over_several_lines_is_where_it_begins() -> None:
    text = 'a: one\n  two\nb: >-\n  three\n  four\nc: |\n  five\nd: "six\n  seven"\ne: eight\n'
    assert places(value_of(text)) == [
        ("a", 1, 1),
        ("one two", 1, 4),
        ("b", 3, 1),
        ("three four", 3, 4),
        ("c", 6, 1),
        ("five\n", 6, 4),
        ("d", 8, 1),
        ("six seven", 8, 4),
        ("e", 10, 1),
        ("eight", 10, 4),
    ]


def test_columns_count_characters_and_not_bytes() -> None:
    # é is two bytes in UTF-8, 漢 three, 🧪 four (two units of UTF-16); each is one character.
    assert places(value_of("é漢🧪: [é, 漢, 🧪, x]\n"))[1:] == [("é", 1, 7), ("漢", 1, 10), ("🧪", 1, 13), ("x", 1, 16)]


@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r"])
def test_line_ends_of_every_system_count_as_one(line_end: str) -> None:
    assert places(value_of(line_end.join(("a: b", "", "c: d", "")))) == [
        ("a", 1, 1),
        ("b", 1, 4),
        ("c", 3, 1),
        ("d", 3, 4),
    ]


def test_byte_order_mark_takes_no_column() -> None:
    assert places(value_of(b"\xef\xbb\xbfa: b\n")) == [("a", 1, 1), ("b", 1, 4)]


@pytest.mark.parametrize(
    "written",
    [
        *("no", "yes", "on", "off", "true", "false", "null", "~", "N"),
        *("12:30", "010", "0x1f", "0b1", "1e3", "1_000", ".inf", ".nan", "2026-11-25", "1.50", "-0", "+5", "="),
    ],
)
def test_scalar_stays_the_text_it_is(written: str) -> None:
    value = value_of(f"a: {written}\n{written}: b\n")
    assert isinstance(value, Table)
    assert value.at("a") == written
    assert type(value.at("a")) is Text
    assert list(value) == ["a", written]


def test_quoted_text_loses_its_quotes_only() -> None:
    value = value_of('a: "Stop: line under pressure"\nb: \'pump #2\'\nc: ""\n')
    assert [place[0] for place in places(value)] == [
        "a",
        "Stop: line under pressure",
        "b",
        "pump #2",
        "c",
        "",
    ]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("a: b # lost\n", (1, 6, "yaml-text-after-value")),
        ("a: [b, c] # lost\n", (1, 11, "yaml-text-after-value")),
        ("a: | # lost\n  b\n", (1, 6, "yaml-text-after-value")),
        ("a: 'b' # lost\n", (1, 8, "yaml-text-after-value")),
        ("é: é # lost\n", (1, 6, "yaml-text-after-value")),
        ("a:\n", (1, 3, "yaml-no-value")),
        ("a: b\nc:\n  -\n  - d\n", (3, 4, "yaml-no-value")),
        ("", (1, 1, "yaml-no-value")),
        ("# only a comment\n", (1, 1, "yaml-no-value")),
        ("a: b: c\n", (1, 5, "yaml-needs-quotes")),
        ("a: b\n  c: d\n", (2, 4, "yaml-needs-quotes")),
        ("a: @b\n", (1, 4, "yaml-needs-quotes")),
        ("a: - b\n", (1, 4, "yaml-needs-quotes")),
        ("a: 'b\nc: d\n", (1, 4, "yaml-syntax")),
        ("a: [b\nc: d\n", (1, 4, "yaml-syntax")),
        ("a: b\nc\n", (2, 1, "yaml-syntax")),
        ("a: b\n\tc: d\n", (2, 1, "yaml-tab")),
        ("[a]: b\n", (1, 1, "yaml-syntax")),
        ("é: é\n\x07x: y\n", (2, 1, "yaml-syntax")),
        ("a: b\r\nc: \x01\r\n", (2, 4, "yaml-syntax")),
        ("a: b\rc: \x01\r", (2, 4, "yaml-syntax")),
        (b"\xef\xbb\xbfa: b\nc: \xb0\n", (2, 4, "yaml-not-utf-8")),
        (b"a: \xc3\xa9\r\nb: \xc3\xa9\xff\r\n", (2, 5, "yaml-not-utf-8")),
        ("a: b\n".encode("utf-16"), (1, 1, "yaml-not-utf-8")),
    ],
)
def test_what_a_book_must_not_hold_is_refused_at_its_place(text: str | bytes, expected: tuple[int, int, str]) -> None:
    assert problems_of(text) == [expected]


def test_comment_on_a_line_of_its_own_is_no_problem() -> None:
    assert places(value_of("# one\na:\n  # two\n  - b\n")) == [("a", 2, 1), ("b", 4, 5)]


def test_link_leaving_the_book_and_large_file_are_not_read() -> None:
    for file in (File("x.yaml", b"a: b", leaves_book=True), File("x.yaml", b"a" * (MOST_BYTES + 1))):
        value, problems = read(file)
        assert value is None
        assert len(problems) == 1


def test_file_of_exactly_the_most_bytes_is_read() -> None:
    assert MOST_BYTES == MIB
    start, end = b'a: "', b'"\n'
    assert len(places(value_of(start + b"x" * (MIB - len(start) - len(end)) + end))[1][0]) == MIB - 6


def test_folder_reads_only_a_little_more_than_the_most_bytes(tmp_path: Path) -> None:
    (tmp_path / "procedures").mkdir()
    (tmp_path / "procedures" / "x.yaml").write_bytes(b"x" * 3 * MIB)
    assert [len(file.data) for file in Folder(tmp_path).files()] == [MIB + 1]


@pytest.mark.parametrize(
    "bomb",
    [
        "[" * MIB,
        "{" * MIB,
        "- " * (MIB // 2),
        "? " * (MIB // 2),
        "a: &a [" * (MIB // 7),
        "\n".join(f"{' ' * depth}a:" for depth in range(1400)),
    ],
    ids=["lists", "tables", "dashes", "questions", "anchors", "indents"],
)
def test_deep_nesting_is_refused_and_does_not_crash(bomb: str) -> None:
    assert problems_of(bomb)[-1][2] in ("yaml-too-deep", "yaml-syntax")


def test_twenty_deep_is_read() -> None:
    assert places(value_of("[" * 20 + "a" + "]" * 20)) == [("a", 1, 21)]


def test_copies_of_copies_are_refused_and_not_followed() -> None:
    lines = ["a0: &a0 x", *(f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 9))]
    assert {code for _, _, code in problems_of("\n".join(lines))} == {"yaml-anchor"}


def test_large_file_of_used_keys_is_read_in_a_moment() -> None:
    keys = [f"k{n}: v" for n in range(20_000)]
    assert len(problems_of("\n".join((*keys, *keys)))) == 20_000


def test_fifo_is_not_waited_for(tmp_path: Path) -> None:
    (tmp_path / "procedures").mkdir()
    os.mkfifo(tmp_path / "procedures" / "x.yaml")
    assert [file.leaves_book for file in Folder(tmp_path).files()] == [True]


def is_value_or_problems(data: bytes) -> None:
    value, problems = read(File("x.yaml", data))
    assert value is not None or problems
    assert all(isinstance(each, Problem) and each.as_text() for each in problems)
    lines = data.decode("utf-8", "replace").splitlines()
    for each in problems:
        assert 1 <= each.span.line <= len(lines) + 1
        assert each.span.column >= 1


@settings(max_examples=300, deadline=None, derandomize=True)
@given(st.binary(max_size=200))
def test_random_bytes_give_a_value_or_problems(data: bytes) -> None:
    is_value_or_problems(data)


@settings(max_examples=1000, deadline=None, derandomize=True)
@given(st.text(alphabet=st.sampled_from("ab: -\n\t'\"[]{}#&*!|>%@`,?~<.\r\u00e9\U0001f9ea\x07\u2028"), max_size=60))
def test_random_yaml_gives_a_value_or_problems(text: str) -> None:
    is_value_or_problems(text.encode("utf-8"))
