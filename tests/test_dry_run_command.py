"""`tankside dry-run` from the outside: the table, the counts, what it refuses, and the JSON."""

import json
import os
import shutil
import subprocess
import sys
from dataclasses import dataclass
from fractions import Fraction
from math import log, pi
from pathlib import Path
from typing import Any

import pytest
from demo_book import ROOT, replace

BASE = Path(__file__).parent / "base"
FLUSH = "procedures/filling/flush.yaml"
#: the line of the base book holds pi/4 * (20 mm)**2 * 3 m and 0.2 L of fittings [L]
HOLD_UP = pi / 4 * 0.20**2 * 30 + 0.2
TABLE = """\
flush: Flush the filling line
Step                      What it changes             If stopped here, stays
                                                        behind
------------------------  --------------------------  --------------------------
1 look                    seen: tank-1 released       -
                          seen: tank-1 holds 10 to
                            100 L of descaler
2 open-v1                 V1 open                     -
3 move-descaler           tank-1 holds 4.85 to 95.9   tank-1 holds 4.85 to 95.9
                            L of descaler               L of descaler
                          line-1, pail-1 dirty        line-1 holds about 1.14 L
                          line-1 holds about 1.14 L     of descaler
                            of descaler               pail-1 holds 3 to 4 L of
                          pail-1 holds 3 to 4 L of      descaler
                            descaler
4 shut-v1                 V1 shut                     (as above)

4 steps taken, 4 states looked at, 0 ways on followed: no findings
"""


@dataclass(frozen=True)
class Ran:
    code: int
    out: str
    err: str


def run(*arguments: str, columns: int = 80) -> Ran:
    environment = {**os.environ, "COLUMNS": str(columns), "PYTHONUTF8": "1"}
    command = (sys.executable, "-m", "tankside", "dry-run", *arguments)
    done = subprocess.run(command, env=environment, capture_output=True, text=True, encoding="utf-8", timeout=60)
    assert "Traceback" not in done.stdout + done.stderr
    return Ran(done.returncode, done.stdout, done.stderr)


def plain(*arguments: str) -> Any:
    ran = run(*arguments, "--format", "json")
    assert ran.err == ""
    return json.loads(ran.out)


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return Path(shutil.copytree(BASE, tmp_path / "book"))


# --- the table


def test_numbers_of_the_table_are_those_worked_out_by_hand() -> None:
    # 3.42 L flush the line to 5 %, that is 3.5 L on a pail with marks of 0.5 L, and 0.5 L more or less.
    assert 3 < HOLD_UP * log(1 / 0.05) < 3.5
    least, most = 3.5 - 0.5, 3.5 + 0.5
    assert (least, most) == (3, 4)
    # The tank has 10 L to 100 L; the line, which was empty, is filled too. Three digits, outward.
    assert round(10 - most - HOLD_UP, 4) == 4.8575
    assert round(100 - least - HOLD_UP, 4) == 95.8575
    assert round(HOLD_UP, 2) == 1.14
    assert run("flush", "--book", str(BASE)) == Ran(0, TABLE, "")


@pytest.mark.parametrize("name", ["clean-mixing-tank", "lock-out-transfer-pump", "open-the-workshop"])
@pytest.mark.parametrize("columns", [80, 120])
def test_no_line_is_longer_than_the_terminal(name: str, columns: int) -> None:
    ran = run(name, "--book", str(ROOT), columns=columns)
    assert (ran.code, ran.err) == (0, "")
    lines = ran.out.splitlines()
    assert max(map(len, lines)) <= columns
    assert lines[-1].endswith("no findings")


def test_steps_carry_the_numbers_of_the_page() -> None:
    out = run("clean-mixing-tank", "--book", str(ROOT)).out
    # The repetition is step 40 of the page, its second step opens the water.
    assert "\n40 rinses " in out
    assert "\n40.2 open-v1-rinse " in out


def test_several_states_of_one_step_are_told_as_what_may_be_so() -> None:
    steps = plain("clean-mixing-tank", "--book", str(ROOT))["steps"]
    # 'still-dirty' is entered from places with the hose in the drum and from others with the hose in its clip.
    (shut_and_off,) = [each for each in steps if each["step"] == "shut-and-off"]
    assert len(shut_and_off["states"]) > 1
    assert "N1 joined to waste-drum-alkaline or joined to nothing" in shut_and_off["left"]


def test_nothing_is_written(book: Path) -> None:
    before = {path: path.read_bytes() for path in book.rglob("*") if path.is_file()}
    assert run("flush", "--book", str(book)).code == 0
    assert {path: path.read_bytes() for path in book.rglob("*") if path.is_file()} == before


# --- findings


def test_finding_has_its_place_and_the_exit_code_is_that_of_a_faulty_book(book: Path) -> None:
    replace(book / FLUSH, "  - open: V1\n", "")
    ran = run("flush", "--book", str(book))
    line = (book / FLUSH).read_text(encoding="utf-8").splitlines().index("  - move: descaler") + 1
    assert ran.code == 1
    assert f"{FLUSH}:{line}:5: error: 'V1' is shut, and the path goes through it [path-shut]\n    hint: " in ran.out
    assert ran.out.endswith(": 1 finding\n")
    (finding,) = plain("flush", "--book", str(book))["findings"]
    assert (finding["path"], finding["line"], finding["code"]) == (FLUSH, line, "path-shut")
    assert (finding["procedure"], finding["step"], finding["way"]) == ("flush", "move-descaler", [])


def test_finding_names_the_way_that_leads_to_it() -> None:
    # Nobody is dressed at the start; who is sent to test the lot once more meets it.
    findings = plain("hold-a-lot", "--book", str(ROOT), "--from", "tank-250 released")["findings"]
    assert {"'Test it once more' at 'decision'"} == {way for each in findings for way in each["way"]}
    assert "not-dressed" in {each["code"] for each in findings}


# --- from where


def test_start_is_rest_and_the_claims_and_nothing_else() -> None:
    found = plain("bleed-cleaner-line", "--book", str(ROOT), "--from", "V2 open; tank-250 at most 40 L; boots on")
    assert found["start"]["worn"] == ["boots"]
    pieces = found["start"]["pieces"]
    assert pieces["V2"] == {"is_open": True}
    assert pieces["tank-250"]["contents"]["volume"] == {"from": "0", "to": "40"}
    assert set(pieces) == {"V2", "tank-250"}
    usual = plain("bleed-cleaner-line", "--book", str(ROOT))["start"]
    assert "alkali-gloves" in usual["worn"]
    assert "V2" not in usual["pieces"]


def test_wear_stands_for_what_the_procedure_lists() -> None:
    found = plain("bleed-cleaner-line", "--book", str(ROOT), "--from", "wear on")
    assert found["start"]["worn"] == ["alkali-gloves", "apron", "boots", "face-shield", "splash-goggles"]


@pytest.mark.parametrize(
    ("claims", "said"),
    [
        ("tank-1 hold water", "'tank-1 hold water' cannot be read as a claim about the plant; did you mean 'holds'?"),
        ("V1 opend", "'V1 opend' cannot be read as a claim about the plant; did you mean 'open'?"),
        ("V1 open; hatch-3 shut", "'hatch-3' is not a known tag; did you mean 'hatch-2'?"),
        ("tank-1 holds acidd", "'acidd' is not a known material; did you mean 'acid'?"),
        ("glove on", "'glove' is not a known protective equipment; did you mean 'gloves'?"),
        ("tank-1 running", "'tank-1' is a tank, not a pump or mixer or exhaust; one of: "),
        ("tank-1 at most 4 foo", "unit 'foo' of '4 foo' is not known; "),
        ("tank-1 at least 200 L", "'tank-1 at least 200 L' cannot be so, "),
        ("M1.main verified", "'M1.main' is not a known source of energy (machine.name); did you mean 'M1.mains'?"),
        ("V1.head dissipated", "'V1.head' is not a known source of energy (machine.name); "),
    ],
)
def test_claim_that_cannot_be_meant_is_wrong_usage_with_a_way_out(claims: str, said: str) -> None:
    ran = run("flush", "--book", str(BASE), "--from", claims)
    assert (ran.code, ran.out) == (2, "")
    _, _, sentence = ran.err.partition("Error: --from: ")
    assert said in sentence


# --- along which ways


def steps_of(*arguments: str) -> list[str]:
    return [each["step"] for each in plain(*arguments)["steps"]]


def test_only_the_answer_that_was_asked_for_is_followed() -> None:
    base = ("blend", "--book", str(BASE))
    assert steps_of(*base) == ["read-water", "add-acid", "wait-the-water-to"]
    assert steps_of(*base, "--branch", "read-water=outside") == ["read-water", "wait-the-water-to"]
    assert steps_of(*base, "--branch", "read-water=inside") == ["read-water", "add-acid"]
    assert steps_of(*base, "--branch", "blend/read-water=inside") == ["read-water", "add-acid"]


def test_answers_of_a_choice_go_by_their_words_or_their_letter() -> None:
    demo = ("hold-a-lot", "--book", str(ROOT))
    by_words = steps_of(*demo, "--branch", "decision=It is waste")
    assert by_words == steps_of(*demo, "--branch", "decision=it IS waste")
    text = (ROOT / "procedures/batch/hold-a-lot.yaml").read_text(encoding="utf-8")
    answers = [line.partition("if: ")[2] for line in text.splitlines() if "- if: " in line]
    letter = "ABCDEFGH"[answers.index("It is waste")]
    assert by_words == steps_of(*demo, "--branch", f"decision={letter}")
    assert len(by_words) < len(steps_of(*demo))


def test_several_answers_of_one_step_are_all_followed() -> None:
    demo = ("hold-a-lot", "--book", str(ROOT))
    both = steps_of(*demo, "--branch", "decision=A", "--branch", "decision=B")
    alone = {step for letter in "AB" for step in steps_of(*demo, "--branch", f"decision={letter}")}
    assert set(both) == alone


@pytest.mark.parametrize(
    ("branch", "said"),
    [
        ("read-water", "write STEP=ANSWER, not 'read-water'"),
        ("read-watr=inside", "'read-watr' is no step here; did you mean 'read-water'?"),
        ("add-acid=yes", "'add-acid' gives no answers; these do: read-water"),
        ("read-water=outsid", "'read-water' does not give the answer 'outsid'; did you mean 'outside'?"),
        ("read-water=yes", "'read-water' does not give the answer 'yes'; it gives: inside; outside"),
    ],
)
def test_branch_that_is_not_there_is_wrong_usage_with_a_way_out(branch: str, said: str) -> None:
    ran = run("blend", "--book", str(BASE), "--branch", branch)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.endswith(f"Error: --branch: {said}\n")


# --- which


def test_wrong_id_suggests_the_one_that_was_meant() -> None:
    ran = run("flsh", "--book", str(BASE))
    assert ran.code == 2
    assert ran.err.endswith("Error: 'flsh' is no procedure, checklist or day of this book; did you mean 'flush'?\n")


def test_checklist_of_titles_names_what_to_rehearse_instead() -> None:
    ran = run("first-batch", "--book", str(BASE))
    assert ran.code == 2
    assert "Error: checklist 'first-batch' only lists titles; rehearse what it lists: blend, flush\n" in ran.err


def test_checklist_and_day_show_each_procedure_under_its_name(book: Path) -> None:
    replace(book / "checklists/first-batch.yaml", "lists: titles", "lists: steps")
    replace(book / "checklists/first-batch.yaml", "  - procedure: blend\n", "")
    facts = book / "procedures/plant/book.yaml"
    facts.write_text(facts.read_text(encoding="utf-8") + "days:\n  monday: [first-batch]\n", encoding="utf-8")
    expected = TABLE.replace("flush: Flush", "first-batch/flush: Flush", 1)
    assert run("first-batch", "--book", str(book)) == Ran(0, expected, "")
    assert run("monday", "--book", str(book)) == Ran(0, expected, "")
    found = plain("monday", "--book", str(book))
    assert (found["sort"], {each["checklist"] for each in found["steps"]}) == ("day", {"first-batch"})


def test_what_one_procedure_of_a_day_leaves_is_still_there_in_the_next() -> None:
    steps = plain("cleaner-day", "--book", str(ROOT))["steps"]
    blended = [each for each in steps if each["procedure"] == "blend-milk-line-cleaner"]
    bled = [each for each in steps if each["procedure"] == "bleed-cleaner-line"]
    assert any(words.startswith("waste-drum-alkaline holds ") for words in blended[0]["left"])
    assert any(words.startswith("tank-250 holds ") for words in bled[0]["left"])


def test_broken_book_is_not_rehearsed_and_its_problems_are_shown(book: Path) -> None:
    replace(book / FLUSH, "approved: lead", "approved: leed")
    ran = run("flush", "--book", str(book))
    assert (ran.code, ran.out) == (1, "")
    assert "error: 'leed' is not a known role [name-unknown]\n    hint: did you mean 'lead'?" in ran.err
    assert ran.err.endswith("Nothing was rehearsed.\n")


def test_folder_that_holds_no_book_is_wrong_usage(tmp_path: Path) -> None:
    ran = run("flush", "--book", str(tmp_path))
    assert ran.code == 2
    assert "this folder holds no book" in ran.err


# --- the JSON


def test_json_has_the_shape_that_the_help_describes() -> None:
    found = plain("flush", "--book", str(BASE))
    assert list(found) == ["id", "sort", "start", "steps", "ends", "findings", "visited", "ways"]
    assert (found["id"], found["sort"], found["visited"], found["ways"]) == ("flush", "procedure", 4, 0)
    told = run("--help").out
    for key in (*found, *found["steps"][0]):
        assert key in told, key


def test_json_gives_exact_litres_and_leaves_out_what_is_as_at_rest() -> None:
    move = plain("flush", "--book", str(BASE))["steps"][2]
    (state,) = move["states"]
    assert set(state["pieces"]) == {"tank-1", "V1", "line-1", "pail-1"}
    pail = state["pieces"]["pail-1"]["contents"]
    assert pail == {"volume": {"from": "3", "to": "4"}, "materials": {"descaler": {"from": "3", "to": "4"}}}
    line = state["pieces"]["line-1"]["contents"]["volume"]
    assert line["from"] == line["to"]
    assert abs(Fraction(line["from"]) - Fraction(HOLD_UP)) < Fraction(1, 10**9)
    (stopped,) = move["stopped"]
    # 'stop_leaves' shuts the valve.
    assert (state["pieces"]["V1"]["is_open"], "is_open" in stopped["pieces"]["V1"]) == (True, False)


def test_help_says_what_the_model_does_not_see() -> None:
    told = " ".join(run("--help").out.split())
    assert "It sees no leak, dead leg or wrong label, and never replaces looking." in told
