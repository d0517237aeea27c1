"""`tankside training` from the outside: what each verb says, in which form, and what it leaves with.

Days: 180 days after 2026-05-25 are 2026-11-21, 365 days are 2027-05-25; 180 days after 2026-12-01 are 2027-05-30, after
2026-09-01 they are 2027-02-28 (date(1)). The demonstration book has 365 and 180 days.
"""

import csv
import io
import json
import subprocess
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from competence_making import BOOK, Making, written
from demo_book import copy_book, replace
from record_files import finished_text, rewritten, text_of

from tankside.checkup import check_book
from tankside.cli import tankside
from tankside.cli.training_book import TaughtBook
from tankside.memory import Memory
from tankside.texts import words
from tankside.views.training.paths import path_views

Taught = Mapping[str, Any]
BLEED = "bleed-cleaner-line"
FILE = "procedures/filling/bleed-cleaner-line.yaml"
VERBS = ("standing", "due", "holds", "gaps", "work", "duties")
#: everything that a verb needs beside its files
NEEDS = {"work": ("--records", "records.json")}


@pytest.fixture(scope="module", autouse=True)
def remembering() -> Iterator[None]:
    # Files that are as they were are read once.
    with Memory().in_use():
        yield


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory, remembering: None) -> Path:
    return copy_book(tmp_path_factory.mktemp("training") / "book")


@pytest.fixture(scope="module")
def told(book: Path) -> TaughtBook:
    checkup = check_book(book)
    assert checkup.book is not None
    return TaughtBook(book, checkup.book, checkup.editions)


@pytest.fixture(scope="module")
def taught(told: TaughtBook) -> Mapping[str, Taught]:
    return {name: json.loads(json.dumps(each.taught.portable)) for name, each in told.procedures.items()}


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder in which the command runs."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def run(*arguments: object) -> Result:
    done = CliRunner().invoke(tankside, ["training", *map(str, arguments)])
    assert done.exception is None or isinstance(done.exception, SystemExit), done.exception
    return done


def told_of(book: Path, verb: str, *arguments: object) -> dict[str, Any]:
    done = run(verb, *arguments, "--book", book, "--format", "json")
    assert done.exit_code == 0, done.output
    found: dict[str, Any] = json.loads(done.stdout)
    return found


def earlier(taught: Taught, key: str, **changed: Any) -> Taught:
    """Return what was taught before an element of it was changed."""
    elements = [{**each, **(changed if each["key"] == key else {})} for each in taught["elements"]]
    return {**taught, "revision": taught["revision"] - 1, "content": "ab" * 32, "elements": elements}


def without(taught: Taught, key: str) -> Taught:
    elements = [each for each in taught["elements"] if each["key"] != key]
    assert len(elements) == len(taught["elements"]) - 1
    return {**taught, "revision": taught["revision"] - 1, "content": "ab" * 32, "elements": elements}


def standing_of(book: Path, path: Path, name: str, on: str, *arguments: object) -> str:
    rows = told_of(book, "standing", path, "--procedure", name, "--on", on, *arguments)["rows"]
    (row,) = rows
    return str(row["says"])


# --- standing


def test_standing_is_said_in_words_person_by_person(folder: Path, book: Path, taught: Mapping[str, Taught]) -> None:
    one, other = Making("TA"), Making("TB", role="authorised-person")
    one.read("2026-05-02", taught["leave-now"])
    one.signed("2026-05-03", "shown", taught["protective-equipment"])
    one.signed("2026-05-04", "supervised", taught["start-of-day"])
    one.signed("2026-05-25", "alone", taught[BLEED])
    one.signed("2026-05-26", "alone", taught["splash"], result="needs-more")
    written(folder, one.file, "TA.json")
    written(folder, other.file, "TB.json")
    done = run("standing", ".", "--book", book, "--on", "2026-06-01")
    assert (done.exit_code, done.stderr) == (0, "")
    assert done.stdout.splitlines() == [
        "As far as these files say. Initials are claims, no signatures; nothing here stops work that has begun.",
        "",
        "TA",
        "  protective-equipment: shown",
        "  leave-now: read",
        "  splash: needs more",
        "  small-spill: never",
        "  caught-or-shock: never",
        "  two-sides: never",
        "  lock-out-transfer-pump: never",
        "  start-of-day: under supervision",
        "  end-of-day: never",
        "  last-look: never",
        "  clean-mixing-tank: never",
        f"  {BLEED}: valid, lapses on 2026-11-21",
        "  fill-cleaner-bottles: never",
        "  hold-a-lot: never",
        "  blend-milk-line-cleaner: never",
        "",
        "TB",
        "  caught-or-shock: never",
        "  lock-out-mixer: never",
        "  lock-out-transfer-pump: never",
        "  lock-out-drum-pumps: never",
        "  lock-out-descaler-pump: never",
        "  lock-out-degreaser-side: never",
    ]


#: day -> what is said of somebody who was signed off on 2026-05-25 and used it nowhere
LAPSING = {
    "2026-05-24": "never",
    "2026-05-25": "valid, lapses on 2026-11-21",
    "2026-11-20": "valid, lapses on 2026-11-21",
    "2026-11-21": "lapsed since 2026-11-21: not done for too long",
    "2027-05-25": "lapsed since 2026-11-21: last seen on 2026-05-25; not done for too long",
}


@pytest.mark.requirement(number=24)
@pytest.mark.parametrize("on", LAPSING)
def test_standing_lapses_to_the_day(folder: Path, book: Path, taught: Mapping[str, Taught], on: str) -> None:
    making = Making()
    making.signed("2026-05-25", "alone", taught[BLEED])
    assert standing_of(book, written(folder, making.file), BLEED, on) == LAPSING[on]


def test_drill_counts_as_use(folder: Path, book: Path, taught: Mapping[str, Taught]) -> None:
    making = Making()
    making.signed("2026-05-25", "alone", taught["splash"])
    making.drill("2026-09-01", taught["splash"])
    assert standing_of(book, written(folder, making.file), "splash", "2026-11-21") == "valid, lapses on 2027-02-28"


def by(who: str, text: str) -> str:
    """Return a record in which the one who works has other initials, its chain made anew."""
    record = json.loads(text.replace('"who":"AB"', f'"who":"{who}"'))
    return text_of(rewritten(record))


def test_working_copy_counts_as_use_of_who_marked_its_steps(
    folder: Path, book: Path, taught: Mapping[str, Taught]
) -> None:
    for person in ("TA", "TB"):
        making = Making(person)
        making.signed("2026-06-10", "alone", taught[BLEED])
        written(folder, making.file, f"{person}.json")
    (folder / "records").mkdir()
    written(folder / "records", by("ta", finished_text()), "a.json")
    given = ("--records", folder / "records")
    assert standing_of(book, folder / "TA.json", BLEED, "2026-12-07", *given) == "valid, lapses on 2027-05-30"
    assert standing_of(book, folder / "TA.json", BLEED, "2026-12-07") == (
        "lapsed since 2026-12-07: not done for too long"
    )
    assert standing_of(book, folder / "TB.json", BLEED, "2026-12-07", *given).startswith("lapsed since 2026-12-07")


#: what was taught before -> what is said now
CHANGED = {
    ("amount:most-to-run", "Most to run into the pail: 10 L"): "to be shown before the next time: amount 'Most to run "
    "into the pail' changed from 10 L to 11.5 L (about 3.04 US gal)",
    ("step:start-p1", "Start P9"): "lapsed: step 9 (Start P1 (transfer pump)) changed from 'Start P9' to "
    "'Start P1 (transfer pump)'",
    ("hazard:milk-line-cleaner:H290", "It itches"): "to be shown before the next time: hazard changed from 'It itches' "
    "to 'Milk-line cleaner, chlorinated alkaline: May be corrosive to metals'",
}


#: what was taught of a long caution before, and what is said of it: only where the two part
LONG = {
    "its key": "caution:last-conductivity",
    "before": "The cup is open, and the cleaner in it splashes.; Harm: It burns eyes and skin and can blind.; Avoid: "
    "Face shield down, cup in the blue tray, the cell of the meter let in slowly.; If it happens: go to procedure "
    '"Splash in the eyes or on the skin"',
    "said": "to be shown before the next time: caution changed from '… cup in the blue tray, the cell …' to '… cup in "
    "the red tray, the cell …'",
}


def test_of_a_long_sentence_it_is_said_where_it_parts(folder: Path, book: Path, taught: Mapping[str, Taught]) -> None:
    making = Making()
    before = earlier(taught[BLEED], LONG["its key"], says=LONG["before"], words="1" * 16)
    making.signed("2026-05-25", "alone", before)
    assert standing_of(book, written(folder, making.file), BLEED, "2026-06-01") == LONG["said"]


@pytest.mark.requirement(number=24)
@pytest.mark.parametrize("before", CHANGED)
def test_what_changed_since_is_said_from_what_to_what(
    folder: Path, book: Path, taught: Mapping[str, Taught], before: tuple[str, str]
) -> None:
    key, says = before
    making = Making()
    making.signed("2026-05-25", "alone", earlier(taught[BLEED], key, says=says, facts="1" * 16))
    assert standing_of(book, written(folder, making.file), BLEED, "2026-06-01") == CHANGED[before]


def test_step_that_was_added_or_taken_out_is_said(folder: Path, book: Path, taught: Mapping[str, Taught]) -> None:
    making = Making()
    making.signed("2026-05-25", "alone", without(taught[BLEED], "step:shut-v2"))
    path = written(folder, making.file)
    assert standing_of(book, path, BLEED, "2026-06-01") == (
        "lapsed: step 12 (Shut V2 (outlet of the mixing tank)) added"
    )


def test_standing_is_narrowed(folder: Path, book: Path) -> None:
    for person, role in (("TA", "line-operator"), ("TB", "authorised-person")):
        written(folder, Making(person, role=role).file, f"{person}.json")
    files = (folder / "TA.json", folder / "TB.json")

    def both(*arguments: str) -> set[tuple[str, str]]:
        return {(each["person"], each["procedure"]) for each in told_of(book, "standing", *files, *arguments)["rows"]}

    assert {person for person, _ in both("--person", "tb")} == {"TB"}
    assert both("--procedure", "caught-or-shock") == {("TA", "caught-or-shock"), ("TB", "caught-or-shock")}
    assert {person for person, _ in both("--role", "authorised-person")} == {"TB"}
    assert both("--procedure", "clean-descaler-tank") == set()
    assert both("--procedure", "clean-descaler-tank", "--all", "--person", "TA") == {("TA", "clean-descaler-tank")}


def test_wanted_is_what_the_paths_of_all_roles_say(folder: Path, book: Path, taught: Mapping[str, Taught]) -> None:
    making = Making()
    making.signed("2026-05-25", "supervised", taught["blend-milk-line-cleaner"])
    path = written(folder, making.file)
    # The path of a line operator leads to doing it under supervision; 2026-11-21 is 180 days later.
    assert standing_of(book, path, "blend-milk-line-cleaner", "2026-06-01") == "valid, lapses on 2026-11-21"
    # To read how a pump is locked out is enough for a line operator, but not for an authorised person.
    making.read("2026-05-26", taught["lock-out-transfer-pump"])
    path = written(folder, making.file)
    assert standing_of(book, path, "lock-out-transfer-pump", "2026-06-01") == "valid"
    making.appointed("2026-05-27", "authorised-person")
    path = written(folder, making.file)
    assert standing_of(book, path, "lock-out-transfer-pump", "2026-05-26") == "valid"
    assert standing_of(book, path, "lock-out-transfer-pump", "2026-05-27") == "read"


# --- due


def test_due_lists_what_lapses_and_which_drills_are_due(folder: Path, book: Path, taught: Mapping[str, Taught]) -> None:
    making = Making()
    making.signed("2026-05-25", "alone", taught[BLEED])
    making.signed("2026-05-25", "alone", taught["splash"])
    making.drill("2026-08-25", taught["splash"])
    path = written(folder, making.file)

    def lines(on: str, within: int) -> list[tuple[str, str, str, str]]:
        rows = told_of(book, "due", path, "--on", on, "--within", within)["rows"]
        return [(each["day"], each["kind"], each["person"], each["procedure"]) for each in rows]

    # 180 days after 2026-08-25 are 2027-02-21 (date(1)); book.yaml has drills on 2027-02-24 and later.
    unpractised = [("2026-11-01", "practise", "TA", name) for name in ("caught-or-shock", "leave-now", "small-spill")]
    assert lines("2026-11-01", 19) == unpractised
    assert lines("2026-11-01", 20) == [*unpractised, ("2026-11-21", "lapses", "TA", BLEED)]
    found = lines("2026-11-21", 95)
    assert found[0] == ("2026-11-21", "lapsed", "TA", BLEED)
    assert ("2027-02-21", "lapses", "TA", "splash") in found
    assert ("2027-02-21", "practise", "TA", "splash") in found
    assert [each for each in found if each[1] == "drill"] == [
        ("2027-02-24", "drill", "", "leave-now"),
        ("2027-02-24", "drill", "", "splash"),
    ]


def test_overdue_drill_is_said(folder: Path, book: Path) -> None:
    path = written(folder, Making().file)
    text = run("due", path, "--book", book, "--on", "2027-02-25", "--within", 0).stdout
    assert "2027-02-24  drill     splash: the drill of the book is overdue" in text


# --- holds and gaps


def holds_at(book: Path, path: Path, on: str, step: str) -> str:
    rows = told_of(book, "holds", path, "--on", on)["rows"]
    (row,) = [each for each in rows if (each["procedure"], each["step"]) == (BLEED, step)]
    return str(row["says"])


def test_hold_is_released_by_who_is_appointed_and_competent(
    folder: Path, book: Path, taught: Mapping[str, Taught]
) -> None:
    # Step 18 of it is released by the second person, step 34 by the workshop lead.
    competent, appointed, both = Making("TA"), Making("TB"), Making("TC")
    for making in (competent, both):
        making.signed("2026-05-25", "alone", taught[BLEED])
    for making in (appointed, both):
        making.appointed("2026-05-26", "second-person")
    for making in (competent, appointed, both):
        written(folder, making.file, f"{making.person}.json")
    assert holds_at(book, folder, "2026-06-01", "18") == "TC"
    assert holds_at(book, folder, "2026-06-01", "34") == "nobody today"
    assert holds_at(book, folder, "2026-05-25", "18") == "nobody today"
    assert holds_at(book, folder, "2026-11-21", "18") == "nobody today"


def test_hold_is_released_also_where_something_is_to_be_shown_first(
    folder: Path, book: Path, taught: Mapping[str, Taught]
) -> None:
    making = Making()
    making.signed("2026-05-25", "alone", earlier(taught[BLEED], "amount:most-to-run", facts="1" * 16))
    making.appointed("2026-05-25", "second-person")
    assert holds_at(book, written(folder, making.file), "2026-06-01", "18") == "TA"


def test_who_only_works_under_supervision_releases_nothing(
    folder: Path, book: Path, taught: Mapping[str, Taught]
) -> None:
    making = Making()
    making.signed("2026-05-25", "supervised", taught["blend-milk-line-cleaner"])
    making.appointed("2026-05-25", "second-person")
    rows = told_of(book, "holds", written(folder, making.file), "--on", "2026-06-01")["rows"]
    assert {each["says"] for each in rows} == {"nobody today"}


def test_every_hold_point_of_the_book_is_listed(folder: Path, book: Path) -> None:
    rows = told_of(book, "holds", written(folder, Making().file))["rows"]
    texts = [path.read_text(encoding="utf-8") for path in (book / "procedures").rglob("*.yaml")]
    assert len(rows) == sum(text.count("released_by: ") for text in texts) > 30


def test_gaps_are_the_procedures_that_nobody_can_do_alone(
    folder: Path, book: Path, taught: Mapping[str, Taught]
) -> None:
    making = Making()
    making.signed("2026-05-25", "alone", taught[BLEED])
    making.signed("2026-05-25", "supervised", taught["splash"])
    rows = told_of(book, "gaps", written(folder, making.file), "--on", "2026-06-01")["rows"]
    says = {each["procedure"]: each["says"] for each in rows}
    assert says.keys() == taught.keys() - {BLEED}
    assert (says["splash"], says["leave-now"]) == ("TA: under supervision", "nobody has begun")


# --- work


def test_work_by_who_was_not_valid_is_listed(folder: Path, book: Path, taught: Mapping[str, Taught]) -> None:
    record = written(folder, by("TA", finished_text()), "record.json")
    #: what was entered -> what is said of the work on 2026-12-01
    cases: list[tuple[list[tuple[str, str]], str | None]] = [
        ([], "never"),
        ([("2026-11-20", "shown")], "shown"),
        ([("2026-11-20", "alone")], None),
        ([("2026-05-25", "alone")], "lapsed since 2026-11-21: not done for too long"),
        # What was signed after the work says nothing about it.
        ([("2026-11-20", "shown"), ("2026-12-02", "alone")], "shown"),
    ]
    for entries, expected in cases:
        making = Making()
        for day, method in entries:
            making.signed(day, method, taught[BLEED])
        rows = told_of(
            *(book, "work", written(folder, making.file), "--records", record, "--on", "2026-12-24"),
        )["rows"]
        assert [each["says"] for each in rows] == ([] if expected is None else [expected])
        if rows:
            assert (rows[0]["day"], rows[0]["person"], rows[0]["procedure"]) == ("2026-12-01", "TA", BLEED)


def test_work_of_somebody_without_a_file_is_listed(folder: Path, book: Path) -> None:
    record = written(folder, finished_text(), "record.json")
    (row,) = told_of(book, "work", written(folder, Making().file), "--records", record, "--on", "2026-12-24")["rows"]
    assert (row["person"], row["standing"]) == ("AB", "no-file")
    assert row["says"] == "no competence file of theirs is among those named"


def test_work_by_an_edition_that_nobody_knows_says_so(folder: Path, book: Path, taught: Mapping[str, Taught]) -> None:
    record = json.loads(finished_text())
    record["edition"]["written"]["purpose"] = "Quite another one."
    path = written(folder, by("TA", text_of(rewritten(record))), "record.json")
    making = Making()
    making.signed("2026-05-25", "alone", taught[BLEED])
    (row,) = told_of(book, "work", written(folder, making.file), "--records", path, "--on", "2026-12-24")["rows"]
    assert row["says"].endswith("; what changed up to the edition that was followed is not known")


def test_assessor_who_was_not_competent_is_remarked(folder: Path, book: Path, taught: Mapping[str, Taught]) -> None:
    making, lead = Making("TA"), Making("WL", role="workshop-lead")
    making.signed("2026-05-25", "alone", taught[BLEED])
    lead.signed("2026-05-25", "alone", taught["splash"], assessor="TX")
    written(folder, making.file, "TA.json")
    written(folder, lead.file, "WL.json")
    record = written(folder, finished_text(), "r.txt")
    given = ("work", folder / "TA.json", folder / "WL.json", "--records", record, "--on", "2026-12-24")
    problems = told_of(book, *given)["problems"]
    assert [(each["code"], each["severity"], each["message"]) for each in problems] == [
        ("competence-assessor", "remark", "event 2 (signed) was attested by WL, who stood in it on that day: never")
    ]
    lead.signed("2026-05-20", "alone", taught[BLEED], assessor="TX")
    written(folder, lead.file, "WL.json")
    assert "competence-assessor" not in {each["code"] for each in told_of(book, *given)["problems"]}


# --- changes


def git(book: Path, *arguments: str) -> None:
    command = ["git", "-C", str(book), "-c", "user.name=x", "-c", "user.email=x@x", *arguments]
    subprocess.run(command, check=True, capture_output=True)


@pytest.fixture
def revised(tmp_path: Path) -> Path:
    """A book in a repository whose procedure was changed after the commit, with its revision raised."""
    book = copy_book(tmp_path / "own")
    (book / ".gitignore").write_text("build/\n", encoding="utf-8", newline="\n")
    for arguments in (("init", "-q"), ("add", "."), ("commit", "-qm", "First")):
        git(book, *arguments)
    replace(book / FILE, "      remaining: 5 %\n", "      remaining: 3 %\n")
    replace(book / FILE, "The sight tube stands at 40 L or higher.", "The sight tube stands at 45 L or higher.")
    for name in (FILE, "checklists/fill-cleaner.yaml"):
        raised(book / name)
    return book


def raised(path: Path) -> None:
    """Raise the revision of a file, and say so in its history."""
    before, history, rest = path.read_text(encoding="utf-8").partition("\nhistory:\n")
    revision = int(before.partition("\nrevision: ")[2].partition("\n")[0])
    before = before.replace(f"\nrevision: {revision}\n", f"\nrevision: {revision + 1}\n")
    lines = rest.splitlines(keepends=True)
    end = next((number for number, line in enumerate(lines) if not line.startswith(" ")), len(lines))
    lines.insert(end, f"  - revision: {revision + 1}\n    date: 2026-11-27\n    change: More is run off.\n")
    path.write_text(f"{before}{history}{''.join(lines)}", encoding="utf-8", newline="\n")


def test_changes_since_a_commit_are_said_with_what_follows_and_which_sheets(revised: Path) -> None:
    done = run("changes", BLEED, "--against", "HEAD", "--book", revised)
    assert (done.exit_code, done.stderr) == (0, "")
    lines = done.stdout.splitlines()
    assert lines[0] == f"{BLEED} (Bleed the filling line, milk-line cleaner)"
    # ln(1 / 0.03) / ln(1 / 0.05) = 1.1705; times more than 11 L and up to 11.5 L, that is 12.9 L to 13.5 L
    assert lines[1].startswith("  amount 'Most to run into the pail' changed from 11.5 L (about 3.04 US gal) to 13")
    assert lines[1].endswith(": show before the next time")
    assert lines[2].startswith("  step 2 (Check: The sight tube stands at 45 L or higher.) changed from ")
    assert lines[2].endswith(": show before the next time")
    assert lines[3:5] == ["", "posted sheets to be replaced"]
    assert any(f": {BLEED}, content " in line for line in lines[5:])


def test_changes_of_a_role_and_of_all(revised: Path) -> None:
    for arguments, expected in (
        (("--role", "line-operator"), {BLEED}),
        (("--role", "authorised-person"), set()),
        ((), {BLEED}),
        (("splash",), set()),
    ):
        done = run("changes", *arguments, "--against", "HEAD", "--book", revised, "--format", "json")
        assert {each["procedure"] for each in json.loads(done.stdout)["rows"]} == expected, arguments


def test_nothing_changed_right_after_a_commit(revised: Path) -> None:
    git(revised, "commit", "-qam", "Second")
    done = run("changes", "--against", "HEAD", "--book", revised)
    assert (done.exit_code, done.stdout) == (0, "nothing changed that is taught\n")


def test_changes_since_the_last_sign_off_need_no_git(folder: Path, book: Path, taught: Mapping[str, Taught]) -> None:
    making = Making()
    making.signed("2026-05-25", "alone", earlier(taught[BLEED], "step:start-p1", says="Start P9", facts="1" * 16))
    making.signed("2026-05-25", "alone", taught["splash"])
    rows = told_of(book, "changes", "--people", written(folder, making.file))["rows"]
    assert [(each["about"], each["key"], each["what"], each["follows"]) for each in rows] == [
        (f"TA, {BLEED}", "step:start-p1", "changed", "observe again")
    ]
    assert (rows[0]["before"], rows[0]["now"]) == ("Start P9", "Start P1 (transfer pump)")


# --- duties


def test_duties_show_entries_and_assert_nothing(
    folder: Path, book: Path, told: TaughtBook, taught: Mapping[str, Taught]
) -> None:
    titles = {name: each["title"] for name, each in taught.items()}
    path = path_views(told.plant, titles, words("en"))["line-operator"]
    pairs = next(each for each in path.items if each.kind == "pairs")
    making = Making()
    making.signed("2026-05-03", "shown", taught["protective-equipment"])
    making.went("2026-05-04", pairs.key)
    file = written(folder, making.file)
    rows = told_of(book, "duties", file, "--on", "2026-06-01")["rows"]
    worn = [(each["item"], each["says"]) for each in rows if each["duty"] == "protective-equipment"]
    assert worn == [
        ("protective-equipment (shown)", "entered on 2026-05-03"),
        ("protective-equipment (alone)", "no entry"),
    ]
    days = [each["day"] for each in rows if each["duty"] == "chemicals-at-first" and each["path"] == "line-operator"]
    assert sorted(days) == ["", "", "2026-05-04"]
    assert {each["clause"] for each in rows} == {
        *(f"29 CFR 1910.147(c)(7)(i)({letter})" for letter in "ABC"),
        *("29 CFR 1910.1200(h)", "29 CFR 1910.132(f)"),
    }
    text = run("duties", file, "--book", book).stdout
    assert text.startswith("This shows what was entered and when. It asserts nothing about the law")
    assert "complian" not in text.lower()
    assert "from memory" in text
    assert "shown as good practice" not in text


def test_new_hazard_since_the_last_sign_off_is_said(folder: Path, book: Path, taught: Mapping[str, Taught]) -> None:
    making = Making()
    making.signed("2026-05-25", "alone", without(taught[BLEED], "hazard:milk-line-cleaner:EUH031"))
    rows = told_of(book, "duties", written(folder, making.file), "--on", "2026-06-01")["rows"]
    (row,) = [each for each in rows if each["item"] == BLEED]
    assert row["says"] == (
        "new since the last sign-off, not shown yet: hazard added: 'Milk-line cleaner, chlorinated alkaline: Contact "
        "with acids liberates toxic gas'"
    )


def test_under_another_law_duties_are_good_practice(folder: Path) -> None:
    book = copy_book(folder / "own")
    replace(book / "procedures/plant/book.yaml", "jurisdiction: US\n", "jurisdiction: EU\n")
    done = run("duties", written(folder, Making().file), "--book", book)
    assert done.exit_code == 0, done.output
    assert "This book is not under US law; these clauses are shown as good practice." in done.stdout


# --- forms, and what it leaves with


@pytest.fixture
def several(folder: Path, taught: Mapping[str, Taught]) -> Path:
    """A folder with two people, and a record beside it."""
    (folder / "people").mkdir()
    for person in ("TA", "TB"):
        making = Making(person)
        making.signed("2026-05-25", "alone", earlier(taught[BLEED], "amount:most-to-run", facts="1" * 16))
        making.appointed("2026-05-26", "second-person")
        written(folder / "people", making.file, f"{person}.json")
    written(folder, by("TA", finished_text()), "records.json")
    return folder / "people"


@pytest.mark.parametrize("verb", VERBS)
def test_each_form_says_the_same(several: Path, book: Path, verb: str) -> None:
    given = (verb, several, *NEEDS.get(verb, ()), "--book", book, "--on", "2026-12-24")
    text, table, plain = (run(*given, "--format", form) for form in ("text", "csv", "json"))
    assert {each.exit_code for each in (text, table, plain)} == {0}
    rows = json.loads(plain.stdout)["rows"]
    assert rows
    assert json.loads(plain.stdout)["on"] == "2026-12-24"
    cells = [
        {name: cell.removeprefix("'") for name, cell in row.items()}
        for row in csv.DictReader(io.StringIO(table.stdout))
    ]
    assert cells == [{name: cell.removeprefix("'") for name, cell in row.items()} for row in rows]
    for row in rows:
        assert row["says"] in text.stdout


@pytest.mark.parametrize("verb", VERBS)
def test_error_in_a_file_leaves_with_1_and_what_is_sound_is_told(several: Path, book: Path, verb: str) -> None:
    path = several / "TB.json"
    path.write_bytes(path.read_bytes()[:-40])
    done = run(verb, several, *NEEDS.get(verb, ()), "--book", book, "--on", "2026-12-24")
    assert done.exit_code == 1
    assert "[competence-cut-off]" in done.stderr
    assert done.stdout


def test_day_is_that_of_the_build_where_none_is_named(
    several: Path, book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # 20 597 days after 1970-01-01 are 2026-05-24, 20 598 are 2026-05-25 (date(1)).
    for days, expected in ((20_597, "2026-05-24"), (20_598, "2026-05-25")):
        monkeypatch.setenv("SOURCE_DATE_EPOCH", str(days * 86_400))
        assert told_of(book, "standing", several)["on"] == expected


@pytest.mark.parametrize("begins", ["=1+1", "+1", "-1", "@SUM(A1)", "\uff1d1"])
def test_cell_that_a_spreadsheet_would_take_for_a_formula_is_text(folder: Path, book: Path, begins: str) -> None:
    path = written(folder, Making(begins, name="00000000000000aa").file)
    done = run("standing", path, "--book", book, "--format", "csv")
    assert {row["person"] for row in csv.DictReader(io.StringIO(done.stdout))} == {f"'{begins}"}


def test_what_a_terminal_obeys_reaches_none(folder: Path, book: Path, taught: Mapping[str, Taught]) -> None:
    speaking = "\x1b[2J\x9b\u202e\x07"
    making = Making(f"T{speaking}A", name="00000000000000aa")
    changed = earlier(taught[BLEED], "amount:most-to-run", facts="1" * 16, says=f"Most{speaking}")
    making.signed("2026-05-25", "alone", changed)
    path = written(folder, making.file)
    record = written(folder, by("TA", finished_text()), "records.json")
    for verb in VERBS:
        for form in ("text", "csv", "json"):
            given = ("--records", record) if verb == "work" else ()
            done = run(verb, path, *given, "--book", book, "--format", form)
            assert not set(done.output) & set(speaking.replace("[2J", "")), (verb, form)
    done = run("changes", "--people", path, "--book", book)
    assert not set(done.output) & set(speaking.replace("[2J", ""))


@pytest.mark.parametrize(
    ("arguments", "expected"),
    [
        (("standing",), "Missing argument 'FILES...'"),
        (("standing", "nosuch.json"), "Path 'nosuch.json' does not exist"),
        (("standing", "empty"), "no file in empty ends in .json"),
        (("standing", "TA.json", "--person", "TZ"), "'TZ' is no person in these files"),
        (("standing", "TA.json", "--procedure", "splosh"), "'splosh' is no procedure; did you mean 'splash'?"),
        (
            ("standing", "TA.json", "--role", "line-operater"),
            "'line-operater' is no role; did you mean 'line-operator'?",
        ),
        (("standing", "TA.json", "--on", "tomorrow"), "'tomorrow' does not match the format '%Y-%m-%d'"),
        (("due", "TA.json", "--within", "-1"), "-1 is not in the range 0<=x<=3650"),
        (("work", "TA.json"), "name the files of working copies with --records"),
        (("changes", "splash"), "say since when: --against a git commit, or --people with competence files"),
        (("changes", "splosh", "--people", "TA.json"), "'splosh' is no procedure; did you mean 'splash'?"),
        (("changes", "--role", "x", "--people", "TA.json"), "'x' is no role"),
        (("changes", "--against", "nosuch"), "git knows no commit 'nosuch'"),
    ],
)
def test_wrong_usage_is_exit_code_2_with_a_sentence(
    folder: Path, book: Path, arguments: tuple[str, ...], expected: str
) -> None:
    written(folder, Making().file)
    (folder / "empty").mkdir()
    done = run(*arguments, "--book", book)
    assert (done.exit_code, done.stdout) == (2, "")
    assert expected in done.stderr


def test_book_that_is_broken_or_none_is_said(folder: Path) -> None:
    path = written(folder, Making().file)
    (folder / "empty").mkdir()
    assert run("standing", path, "--book", "empty").exit_code == 2
    book = copy_book(folder / "own")
    (book / "procedures/plant/roles.yaml").unlink()
    done = run("standing", path, "--book", book)
    assert done.exit_code == 1
    assert "Nothing can be said before that is mended." in done.stderr


def test_nothing_is_written(several: Path, book: Path) -> None:
    before = {path: path.read_bytes() for path in several.parent.rglob("*") if path.is_file()}
    for verb in VERBS:
        run(verb, several, *NEEDS.get(verb, ()), "--book", book)
    assert {path: path.read_bytes() for path in several.parent.rglob("*") if path.is_file()} == before


def test_record_of_another_book_is_left_out(folder: Path, book: Path) -> None:
    written(folder, Making("TA", book="bakery").file, "TA.json")
    written(folder, Making("TB", book=BOOK).file, "TB.json")
    done = run("standing", folder / "TA.json", folder / "TB.json", "--book", book)
    assert done.exit_code == 0
    assert "[competence-other-book]" in done.stderr
    assert "\nTA\n" not in done.stdout
    assert "\nTB\n" in done.stdout


def test_help_says_that_nothing_here_gates_an_emergency() -> None:
    said = " ".join(run("--help").output.split())
    assert "A lapse stops no work in the middle, and no emergency waits for a competence." in said
