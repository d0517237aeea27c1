"""`tankside new` and `tankside schema`: what a writer begins with is sound, and nothing is ever overwritten."""

import json
import os
import re
import subprocess
from datetime import date
from importlib import import_module
from pathlib import Path
from types import SimpleNamespace

import pytest
from click.testing import CliRunner, Result
from demo_book import COMMAND, built, copy_book, hashes
from test_build import without_print

from tankside.cli import tankside
from tankside.starting.books import write_book
from tankside.starting.procedures import NO_TITLE

FAMILIES = ("lockout", "safety", "filling")
DAY = date(2026, 11, 26)
#: what the audit finds in a new book and only the workshop can answer
OPEN = {
    # Somebody looks at each place: what can hurt there, and what is worn against it.
    "assessment-missing",
    # Somebody compares scale and meter with a known weight or volume.
    "calibration-unplanned",
    # The supplier sends the data sheet.
    "data-sheet-missing",
    # The days of drills are agreed on with the people.
    "drill-missing",
    # Whoever inspects the eyewash says when they come again.
    "eyewash-inspection-due",
    # Somebody walks to the eyewash and counts the seconds.
    "eyewash-out-of-reach",
    # The glove maker's table says how long which glove holds.
    "glove-not-proved",
    "glove-without-material",
    # Somebody watches the lockout being followed.
    "lockout-inspection-due",
    # Everybody agrees where to meet.
    "meeting-point",
    # Cautions and first aid were written for an invented workshop; somebody confirms them for this one.
    "starter-text",
    "unconfirmed-handled",
    # A carrier takes the waste away.
    "waste-route",
}
#: those of them for which no key is shown in a comment: texts that say themselves what is to be written or confirmed
WORDS = {"glove-without-material", "meeting-point", "starter-text", "unconfirmed-handled"}
#: a key that a new book shows in a comment, with what stands under it
SHOWN = re.compile(
    r"^( *)# (?:hazard_assessments|drills|inspections|data_sheet|data_sheet_at|calibration_due|route|reach"
    r"|inspection_due|holds_against):.*\n(?:\1#   .*\n)*",
    re.MULTILINE,
)
#: family -> what the audit finds in a procedure that was begun from its template
BEGUN = {
    # No checklist leads to it yet, and nobody has confirmed it.
    "filling": {"orphan", "starter-text"},
    "safety": {"orphan", "starter-text"},
    # Nor has anybody looked at the place, or watched it being followed.
    "lockout": {"orphan", "starter-text", "assessment-missing", "lockout-inspection-due"},
}


def run(*arguments: str | Path, answers: str = "") -> Result:
    return CliRunner().invoke(tankside, [str(each) for each in arguments], input=answers)


def codes(book: Path) -> set[str]:
    """Return the codes of what `check` finds, errors and remarks."""
    done = run("check", "--format", "json", book)
    assert done.exit_code == 0, done.output
    return set(re.findall(r'"code": "(.*?)"', done.output))


def audited(book: Path) -> set[tuple[str, str]]:
    """Return what `audit` finds on DAY: the code of each rule, and what it is about."""
    done = run("audit", "--format", "json", "--on", DAY.isoformat(), book)
    return {(each["rule"], each["at"]) for each in json.loads(done.output)["findings"]}


@pytest.fixture
def starter(tmp_path: Path) -> Path:
    """A book made by the command."""
    book = tmp_path / "our book"
    assert run("new", "book", book).exit_code == 0
    return book


@pytest.fixture(params=["starter", "demo"])
def any_book(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    """The starter, then the demo book."""
    if request.param == "demo":
        return copy_book(tmp_path / "demo")
    assert run("new", "book", tmp_path / "starter").exit_code == 0
    return tmp_path / "starter"


def test_new_book_is_clean_but_for_texts_that_nobody_has_confirmed(starter: Path) -> None:
    assert codes(starter) == {"text-unconfirmed"}


def test_everything_of_the_starter_that_concerns_safety_is_marked(starter: Path) -> None:
    procedures = [path for path in starter.glob("procedures/*/*.yaml") if path.parent.name != "plant"]
    assert len(procedures) == 7
    assert all("\nunconfirmed: yes\n" in path.read_text(encoding="utf-8") for path in procedures)
    materials = (starter / "procedures/plant/materials.yaml").read_text(encoding="utf-8")
    assert materials.count("    wear: ") == materials.count("    unconfirmed: yes\n") == 3


def test_audit_of_a_new_book_finds_what_only_the_workshop_can_say(tmp_path: Path) -> None:
    write_book(tmp_path / "book", DAY)
    assert {code for code, _ in audited(tmp_path / "book")} == OPEN


def test_keys_that_a_new_book_shows_in_comments_answer_the_audit(tmp_path: Path) -> None:
    write_book(tmp_path / "book", DAY)
    for path in (tmp_path / "book/procedures/plant").glob("*.yaml"):
        text = path.read_text(encoding="utf-8")
        written = SHOWN.sub(lambda shown: re.sub(r"^( *)# ", r"\1", shown[0], flags=re.MULTILINE), text)
        path.write_text(written, encoding="utf-8", newline="\n")
    assert codes(tmp_path / "book") == {"text-unconfirmed"}
    assert {code for code, _ in audited(tmp_path / "book")} == WORDS


def test_every_procedure_of_a_new_book_is_not_for_use_until_it_is_confirmed(tmp_path: Path) -> None:
    write_book(tmp_path / "book", DAY)
    procedures = {path.stem for path in (tmp_path / "book").glob("procedures/*/*.yaml") if path.parent.name != "plant"}
    assert procedures <= {at for code, at in audited(tmp_path / "book") if code == "starter-text"}


def test_first_line_of_each_file_leads_to_its_schema(starter: Path) -> None:
    files = [*starter.glob("procedures/*/*.yaml"), *starter.glob("checklists/*.yaml")]
    assert len(files) == 15
    for path in files:
        first = path.read_text(encoding="utf-8").partition("\n")[0]
        target = path.parent / first.removeprefix("# yaml-language-server: $schema=")
        assert "title" in json.loads(target.read_text(encoding="utf-8"))


def test_new_book_says_what_it_made_and_two_commands_that_work(starter: Path, tmp_path: Path) -> None:
    done = run("new", "book", tmp_path / "other book")
    assert "7 procedures, 1 checklist" in done.output
    # The path has a blank in it.
    assert f'  tankside check "{tmp_path / "other book"}"\n  tankside build "' in done.output


def test_days_of_a_new_book_are_today_and_a_year_later(tmp_path: Path) -> None:
    write_book(tmp_path / "book", date(2028, 2, 29))
    days = {
        day
        for path in (tmp_path / "book").rglob("*.yaml")
        for day in re.findall(r"\d{4}-\d\d-\d\d", path.read_text(encoding="utf-8"))
    }
    assert days == {"2028-02-29", "2029-02-28"}  # 365 days later, no 29 February in 2029


def test_new_book_builds_and_one_sheet_of_it_is_made(starter: Path, tmp_path: Path) -> None:
    assert built(starter, **without_print(tmp_path)).returncode == 0
    page = (starter / "build/site/procedures/batch/blend-sample-batch.html").read_text(encoding="utf-8")
    assert "A starter, to be rewritten for your own workshop." in page
    assert (starter / "build/site/about.html").is_file()
    command = [*COMMAND, "sheets", "--book", str(starter), "splash"]
    done = subprocess.run(command, capture_output=True, encoding="utf-8", env=dict(os.environ), check=False)
    assert done.returncode == 0, done.stderr
    assert (starter / "build/sheets/splash.pdf").read_bytes().startswith(b"%PDF")


def test_folder_with_anything_in_it_is_refused_and_left_alone(starter: Path) -> None:
    (starter / "mkdocs.yml").write_text("own words\n", encoding="utf-8", newline="\n")
    before = hashes(starter)
    done = run("new", "book", starter)
    assert done.exit_code == 2
    assert "is not empty" in done.output
    assert hashes(starter) == before


def test_file_in_place_of_the_folder_is_refused(tmp_path: Path) -> None:
    (tmp_path / "book").write_text("own words\n", encoding="utf-8", newline="\n")
    done = run("new", "book", tmp_path / "book")
    assert done.exit_code == 2
    assert "is a file" in done.output
    assert (tmp_path / "book").read_text(encoding="utf-8") == "own words\n"


def test_empty_folder_will_do(tmp_path: Path) -> None:
    assert run("new", "book", tmp_path).exit_code == 0


@pytest.mark.parametrize("family", ["safety", "filling"])
def test_claims_that_a_template_shows_in_comments_hold_as_they_stand(starter: Path, family: str) -> None:
    run("new", "procedure", family, "my-own", "--book", starter)
    path = starter / f"procedures/{family}/my-own.yaml"
    text = path.read_text(encoding="utf-8")
    shown = re.compile(r"^( *)# (stop_leaves|finds|leaves):\n *#   - (.*)$", re.MULTILINE)
    assert {key for _, key, _ in shown.findall(text)} >= {"stop_leaves", "leaves"}
    path.write_text(shown.sub(r"\1\2:\n\1  - \3", text), encoding="utf-8", newline="\n")
    assert codes(starter) == {"text-unconfirmed"}


@pytest.mark.parametrize("family", FAMILIES)
def test_new_procedure_is_clean_in_any_book(any_book: Path, family: str) -> None:
    before = hashes(any_book)
    done = run("new", "procedure", family, "my-own", "--book", any_book)
    assert done.exit_code == 0, done.output
    assert codes(any_book) == {"text-unconfirmed"}
    added = hashes(any_book).items() - before.items()
    assert [path for path, _ in added] == [f"procedures/{family}/my-own.yaml"]


@pytest.mark.parametrize("family", FAMILIES)
def test_audit_of_a_new_procedure_finds_what_only_its_writer_can_say(
    any_book: Path, family: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = audited(any_book)
    monkeypatch.setattr(import_module("tankside.cli.new"), "date", SimpleNamespace(today=lambda: DAY))
    run("new", "procedure", family, "my-own", "--book", any_book)
    assert audited(any_book) - before == {(code, "my-own") for code in BEGUN[family]}


def test_new_procedure_names_its_schema_as_the_book_does(any_book: Path) -> None:
    run("new", "procedure", "filling", "my-own", "--book", any_book)
    own, old = (any_book / "procedures" / name for name in ("filling/my-own.yaml", "safety/splash.yaml"))
    lines = [path.read_text(encoding="utf-8").partition("\n")[0] for path in (own, old)]
    assert lines[0] == lines[1]


def test_lockout_template_takes_machine_locks_and_sources_of_energy_of_the_book(starter: Path) -> None:
    run("new", "procedure", "lockout", "my-own", "--book", starter)
    text = (starter / "procedures/lockout/my-own.yaml").read_text(encoding="utf-8")
    assert "  - stop: P1\n" in text
    # The starter's P1: its plug cuts off the mains, V2 the liquid in tank and line.
    assert "    step: cut-off-p1-plug\n    leaves:\n      - P1.mains dissipated\n" in text
    assert re.findall(r"  - shut: (.*)", text) == ["V2"]
    assert re.findall(r"  - lock: (.*)", text) == ["P1-plug", "V2"]
    assert re.findall(r"  - unlock: (.*)", text) == ["V2", "P1-plug"]
    assert re.findall(r"    step: let-go-(.*)", text) == ["head", "run-back"]
    assert "      - P1.mains, P1.head and P1.run-back verified\n" in text
    assert "done_by: authorised-person\n" in text
    assert "\nwear: [apron, goggles, gloves]\n" in text
    assert "\nprerequisites: [eyewash-clear]\n" in text
    assert "    if_it_happens: splash\n    covers: [the-work]\n" in text


def test_lockout_of_a_book_without_an_emergency_shows_where_one_is_named(starter: Path) -> None:
    for path in (*starter.glob("procedures/[!p]*/*.yaml"), *starter.glob("checklists/*.yaml")):
        path.unlink()
    for name, cut in (("book", r"^days:\n  .*\n"), ("equipment", r"^    from: .*\n")):
        path = starter / f"procedures/plant/{name}.yaml"
        text = path.read_text(encoding="utf-8")
        path.write_text(re.sub(cut, "", text, flags=re.MULTILINE), encoding="utf-8", newline="\n")
    run("new", "procedure", "lockout", "my-own", "--done-by", "authorised-person", "--book", starter)
    text = (starter / "procedures/lockout/my-own.yaml").read_text(encoding="utf-8")
    assert "  - caution: What still hurts at P1" in text
    assert "    # if_it_happens: splash\n    covers: [the-work]\n" in text
    # With nothing but this lockout in it the book has facts that nobody uses; the lockout itself is sound.
    found = json.loads(run("check", "--format", "json", starter).output)
    assert [each["code"] for each in found if "my-own" in each["path"]] == ["text-unconfirmed"]


def test_new_lockout_is_rehearsed_from_the_first_minute(any_book: Path) -> None:
    run("new", "procedure", "lockout", "my-own", "--book", any_book)
    path = any_book / "procedures/lockout/my-own.yaml"
    text = path.read_text(encoding="utf-8")
    for cut, found in (
        (r"  - lock: .*\n    how: .*\n", "not-isolated"),
        (r"    leaves:\n      - wear on\n", "not-dressed"),
    ):
        path.write_text(re.sub(cut, "", text, count=1), encoding="utf-8", newline="\n")
        assert f"[{found}]" in run("check", any_book).output


def test_without_a_terminal_nothing_is_asked_and_the_place_of_the_title_is_plain(starter: Path) -> None:
    done = run("new", "procedure", "filling", "my-own", "--book", starter, answers="never read\n")
    assert "Title" not in done.output
    text = (starter / "procedures/filling/my-own.yaml").read_text(encoding="utf-8")
    assert f"\ntitle: {NO_TITLE}\n" in text


def test_on_a_terminal_title_and_role_are_asked_for(starter: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(import_module("tankside.cli.new"), "is_terminal", lambda: True)
    answers = "Change the filter\nnobody\nsecond-person\n"
    done = run("new", "procedure", "filling", "my-own", "--book", starter, answers=answers)
    assert done.exit_code == 0, done.output
    text = (starter / "procedures/filling/my-own.yaml").read_text(encoding="utf-8")
    assert "\ntitle: Change the filter\n" in text
    assert "\ndone_by: second-person\n" in text


def test_what_is_given_is_not_asked_for(starter: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(import_module("tankside.cli.new"), "is_terminal", lambda: True)
    given = ("--title", "Change it", "--done-by", "operator")
    done = run("new", "procedure", "filling", "my-own", "--book", starter, *given)
    assert done.exit_code == 0
    assert "Title" not in done.output


@pytest.mark.parametrize("title", ["Stop: now", "- a #1 'quoted' title", "{a}", "5 % more", '"said"', "no", "$done_by"])
def test_any_title_is_read_back_as_it_was_given(starter: Path, title: str) -> None:
    done = run("new", "procedure", "filling", "my-own", "--book", starter, "--title", title)
    assert done.exit_code == 0, done.output
    assert codes(starter) == {"text-unconfirmed"}
    # PyYAML is another reader of the same file.
    yaml = import_module("yaml")
    text = (starter / "procedures/filling/my-own.yaml").read_text(encoding="utf-8")
    assert yaml.load(text, yaml.BaseLoader)["title"] == title


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (("filling", "My-Own"), "'My-Own' is no id"),
        (("filling", "../out"), "'../out' is no id"),
        (("filling", "my-own\n"), "is no id"),
        (("Filling", "my-own"), "'Filling' is no family"),
        (("../x", "my-own"), "'../x' is no family"),
        (("plant", "my-own"), "holds the facts of the workshop"),
        (("filling", "splash"), "taken already, by procedures/safety/splash.yaml"),
        (("filling", "make-a-batch"), "taken already, by checklists/make-a-batch.yaml"),
        (("filling", "my-own", "--title", " "), "the title is empty"),
        (("filling", "my-own", "--title", "two\nlines"), "cannot be printed"),
        (("filling", "my-own", "--done-by", "operater"), "did you mean 'operator'?"),
    ],
)
def test_what_does_not_fit_is_refused_with_a_sentence(starter: Path, arguments: tuple[str, ...], sentence: str) -> None:
    before = hashes(starter)
    done = run("new", "procedure", *arguments, "--book", starter)
    assert done.exit_code == 2
    assert sentence in done.output
    assert hashes(starter) == before


def test_file_that_is_no_part_of_the_book_yet_is_not_overwritten(starter: Path) -> None:
    path = starter / "procedures/filling/my-own.yaml"
    path.parent.mkdir()
    path.write_text("half: written: thoughts\n", encoding="utf-8", newline="\n")
    done = run("new", "procedure", "filling", "my-own", "--book", starter)
    assert done.exit_code == 2
    assert "nothing is ever overwritten" in done.output
    assert path.read_text(encoding="utf-8") == "half: written: thoughts\n"


def test_family_that_is_a_link_out_of_the_book_is_refused(starter: Path, tmp_path: Path) -> None:
    (tmp_path / "outside").mkdir()
    (starter / "procedures/filling").symlink_to(tmp_path / "outside")
    done = run("new", "procedure", "filling", "my-own", "--book", starter)
    assert done.exit_code == 2
    assert "is a link to another place" in done.output
    assert list((tmp_path / "outside").iterdir()) == []


def test_folder_without_a_book_gets_no_procedure(tmp_path: Path) -> None:
    done = run("new", "procedure", "filling", "my-own", "--book", tmp_path)
    assert done.exit_code == 2
    assert "[book-missing]" in done.output
    assert list(tmp_path.iterdir()) == []


def test_lockout_without_a_machine_to_lock_is_refused(starter: Path) -> None:
    path = starter / "procedures/plant/equipment.yaml"
    text = path.read_text(encoding="utf-8")
    cut = re.sub(r"    energy_sources:\n(      .*\n)+", "", text)
    assert cut != text
    path.write_text(cut, encoding="utf-8", newline="\n")
    done = run("new", "procedure", "lockout", "my-own", "--book", starter)
    assert done.exit_code == 2
    assert "no machine in equipment.yaml" in done.output


def test_schemas_are_listed_printed_and_written(tmp_path: Path) -> None:
    names = run("schema").output.split()
    of_plant = ["book", "equipment", "materials", "products", "roles", "sheets", "training"]
    assert sorted(names) == sorted([*of_plant, "checklist", "common", "procedure", "record", "competence"])
    assert json.loads(run("schema", "roles").output)["$id"] == "roles.schema.json"
    assert run("schema", "--into", tmp_path / "deep/er").exit_code == 0
    assert sorted(path.name for path in (tmp_path / "deep/er").iterdir()) == [
        f"{name}.schema.json" for name in sorted(names)
    ]


def test_unknown_schema_is_wrong_usage() -> None:
    assert run("schema", "recipe").exit_code == 2
    assert run("schema", "roles", "--into", "x").exit_code == 2
