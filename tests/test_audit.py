"""The audit of a whole book: what counts, what is excepted, what is stamped; and `tankside audit` from the outside."""

import json
import subprocess
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from demo_book import overlaid, replace

from tankside.audit import RULES, Audit, Family, Weight, audit_of
from tankside.audit.day import today
from tankside.audit.standards import STANDARDS, checked
from tankside.checkup import read_book
from tankside.cli.audit import audit

BASE = Path(__file__).parent / "audited"
FACTS = "procedures/plant/book.yaml"
BLEND = "procedures/batch/blend-sample-batch.yaml"
DAY = date(2026, 12, 1)
CODE = "exposure-not-covered"
COVERED = [rule for rule in RULES if rule.code == CODE]
EXCEPTION = """\
exceptions:
  - rule: exposure-not-covered
    at: blend-sample-batch
    reason: The caution is being rewritten with the maker of the concentrate.
    approved: workshop-lead
    since: 2026-11-20
    until: 2026-12-31
"""


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """The book of the rules' examples, with one caution that covers too little."""
    folder = overlaid(BASE, tmp_path / "book")
    replace(folder / BLEND, "    covers: [weigh, add-sample-concentrate]\n", "    covers: [add-sample-concentrate]\n")
    return folder


def audited(book: Path, day: date = DAY) -> Audit:
    read = read_book(book)
    assert read.rehearsal is not None, "\n".join(each.as_text() for each in read.problems)
    return audit_of(read.rehearsal, day, COVERED)


def steps(found: Audit, at: str = "blend-sample-batch") -> set[str]:
    return {each.found.message.split("'")[1] for each in found.findings if each.found.at == at}


def run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(audit, [str(each) for each in arguments])


def add(book: Path, facts: str) -> None:
    with (book / FACTS).open("a", encoding="utf-8", newline="\n") as file:
        file.write(facts)


def test_open_must_makes_a_draft_of_its_procedure_alone(book: Path) -> None:
    found = audited(book)
    assert "weigh" in steps(found)
    assert "blend-sample-batch" in found.drafts
    assert all(each.found.at == name for name, all_ in found.drafts.items() for each in all_)
    assert "splash" not in found.drafts


def test_exception_takes_a_finding_out_until_its_last_day(book: Path) -> None:
    add(book, EXCEPTION)
    last = audited(book, date(2026, 12, 31))
    assert steps(last) == set()
    assert "blend-sample-batch" not in last.drafts
    (granted,) = last.granted
    assert not granted.is_expired
    assert "weigh" in {each.found.message.split("'")[1] for each in granted.findings}


def test_expired_exception_counts_again_and_stays_listed(book: Path) -> None:
    add(book, EXCEPTION)
    after = audited(book, date(2027, 1, 1))
    assert "weigh" in steps(after)
    (granted,) = after.granted
    assert granted.is_expired


def test_exception_holds_for_its_own_procedure_and_rule_alone(book: Path) -> None:
    add(book, EXCEPTION.replace("at: blend-sample-batch", "at: splash"))
    assert "weigh" in steps(audited(book))


def test_rule_of_us_law_is_advice_in_a_book_elsewhere() -> None:
    national = [rule for rule in RULES if rule.law == "US" and rule.weight is Weight.MUST]
    assert national
    assert {rule.weight_in("US") for rule in national} == {Weight.MUST}
    assert {rule.weight_in("EU") for rule in national} == {Weight.SHOULD}


def test_every_source_stands_on_the_page_of_standards() -> None:
    cited = {source.standard for rule in RULES for source in rule.sources if source.standard}
    assert sorted(cited - set(STANDARDS)) == []
    idle = [each.name for each in checked(RULES, "US") if not each.rules and not each.standard.reminded]
    assert idle == []


def test_every_family_has_rules() -> None:
    assert {rule.family for rule in RULES} == set(Family)


def test_day_is_that_of_the_build_where_one_is_set(monkeypatch: pytest.MonkeyPatch) -> None:
    # 1 767 225 600 s after 1970-01-01 is 2026-01-01 (20 454 days of 86 400 s)
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1767225600")
    assert today() == date(2026, 1, 1)
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "not a number")
    assert today() == date.today()


def test_text_says_place_weight_and_way_out_and_leaves_with_1(book: Path) -> None:
    done = run(book, "--rule", CODE, "--on", "2026-12-01")
    assert done.exit_code == 1
    lines = done.stdout.splitlines()
    at = next(number for number, line in enumerate(lines) if "'weigh'" in line)
    assert lines[at].startswith(f"{BLEND}:")
    assert ": must: no caution covers step 'weigh'" in lines[at]
    assert lines[at].endswith(f"[{CODE}]")
    assert lines[at + 1] == "    hint: write a caution before it and name the step under 'covers'"
    assert "Not checked:" in lines
    assert lines[-1].startswith("1 rule on 2026-12-01: ")
    assert "blend-sample-batch" in lines[-1]


def test_no_open_must_leaves_with_0(book: Path) -> None:
    done = run(book, "--family", "stopping", "--on", "2026-12-01", "--format", "json")
    assert (done.exit_code == 0) is json.loads(done.stdout)["is_clean"]
    add(book, EXCEPTION)
    found = json.loads(run(book, "--rule", CODE, "--on", "2026-12-01", "--format", "json").stdout)
    assert [each["at"] for each in found["exceptions"]] == ["blend-sample-batch"]
    assert "blend-sample-batch" not in {each["at"] for each in found["findings"]}


def test_json_has_rule_place_and_sources(book: Path) -> None:
    plain = json.loads(run(book, "--rule", CODE, "--format", "json", "--on", "2026-12-01").stdout)
    assert plain["day"] == "2026-12-01"
    assert plain["is_clean"] is False
    (rule,) = plain["rules"]
    assert (rule["code"], rule["family"], rule["weight"]) == (CODE, "cautions", "must")
    assert rule["sources"]
    weigh = next(each for each in plain["findings"] if "'weigh'" in each["message"])
    line = (book / BLEND).read_text(encoding="utf-8").splitlines()[weigh["line"] - 1]
    assert (weigh["path"], weigh["weight"], weigh["at"]) == (BLEND, "must", "blend-sample-batch")
    assert line.strip().startswith("- do: Weigh")
    assert plain["not_checked"]


def test_sarif_explains_its_rules_and_github_marks_lines(book: Path) -> None:
    log = json.loads(run(book, "--rule", CODE, "--format", "sarif").stdout)
    (described,) = log["runs"][0]["tool"]["driver"]["rules"]
    assert described["id"] == CODE
    assert "Sources:" in described["help"]["text"]
    assert {each["level"] for each in log["runs"][0]["results"]} == {"error"}
    marked = run(book, "--rule", CODE, "--format", "github").stdout.splitlines()
    assert all(line.startswith("::error file=procedures/") for line in marked)


def test_since_shows_what_is_new_only(book: Path) -> None:
    for command in ("init -q", "add .", "-c user.name=x -c user.email=x@x commit -qm x"):
        subprocess.run(["git", "-C", str(book), *command.split()], check=True)
    assert "'weigh'" in run(book, "--rule", CODE).stdout
    assert "'weigh'" not in run(book, "--rule", CODE, "--since", "HEAD").stdout
    # Moved down by a note, it is still what was found before; what is new is shown.
    replace(book / BLEND, "  - section: concentrate-in\n", "  - note: One at a time.\n  - section: concentrate-in\n")
    replace(book / BLEND, "    covers: [add-sample-concentrate]\n", "    covers: [weigh]\n")
    new = run(book, "--rule", CODE, "--since", "HEAD").stdout
    assert "'weigh'" not in new
    assert "'add-sample-concentrate'" in new


def test_unknown_rule_and_commit_are_wrong_usage(book: Path) -> None:
    mistyped = run(book, "--rule", "exposure-not-coverd")
    assert mistyped.exit_code == 2
    assert "did you mean 'exposure-not-covered'?" in mistyped.stderr
    assert run(book, "--since", "no-such-commit").exit_code == 2


def test_book_that_cannot_be_read_is_not_audited(book: Path) -> None:
    replace(book / BLEND, "title: Blend a sample batch\n", "")
    done = run(book)
    assert done.exit_code == 1
    assert "[key-missing]" in done.stderr
    assert "cannot be audited" in done.stderr


def test_explain_gives_the_manual_page_and_all_lists_every_rule() -> None:
    page = run("--explain", CODE).stdout
    assert page.startswith(f"{CODE} (cautions, must)\n")
    assert "Fails:\n" in page
    assert "Sources:\n- IEC/IEEE 82079-1" in page
    listed = run("--explain", "all").stdout
    assert all(f"  {rule.code} " in listed for rule in RULES)
