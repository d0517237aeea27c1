"""Problems as other programs take them."""

import json
import subprocess
import sys
from pathlib import Path

import yaml

from tankside.problem_formats import FORMATS
from tankside.problems import Problem, Severity, Span

ROOT = Path(__file__).parent.parent
PROBLEMS = (
    Problem(Span("procedures/a b.yaml", 3, 7), "key-unknown", "key 'x' is not known: 50 % off", "delete it"),
    Problem(Span("checklists/c,d.yaml", 1, 1), "text-unconfirmed", "two\nlines", "confirm it", Severity.REMARK),
)


def test_github_gets_one_escaped_command_a_problem() -> None:
    # The escapes are those of GitHub's workflow commands: %25, %0A in a message; %3A, %2C also in a property.
    assert FORMATS["github"](PROBLEMS).split("\n") == [
        "::error file=procedures/a b.yaml,line=3,col=7,title=key-unknown::key 'x' is not known: 50 %25 off; delete it",
        "::notice file=checklists/c%2Cd.yaml,line=1,col=1,title=text-unconfirmed::two%0Alines; confirm it",
    ]


def test_sarif_has_what_the_standard_asks_for() -> None:
    log = json.loads(FORMATS["sarif"](PROBLEMS))
    # SARIF 2.1.0, 3.13 and 3.27: version, runs, tool.driver.name; ruleId, level, message.text, a region from 1.
    assert log["version"] == "2.1.0"
    (run,) = log["runs"]
    assert run["tool"]["driver"]["name"] == "tankside"
    assert [rule["id"] for rule in run["tool"]["driver"]["rules"]] == ["key-unknown", "text-unconfirmed"]
    first, second = run["results"]
    assert (first["ruleId"], first["level"], second["level"]) == ("key-unknown", "error", "note")
    place = first["locations"][0]["physicalLocation"]
    assert place["artifactLocation"]["uri"] == "procedures/a%20b.yaml"
    assert place["region"] == {"startLine": 3, "startColumn": 7}


def test_no_problem_is_an_empty_report() -> None:
    assert FORMATS["github"](()) == ""
    assert json.loads(FORMATS["json"](())) == []
    assert json.loads(FORMATS["sarif"](()))["runs"][0]["results"] == []


def test_hook_runs_a_command_that_there_is() -> None:
    (hook,) = yaml.safe_load((ROOT / ".pre-commit-hooks.yaml").read_text(encoding="utf-8"))
    command, *arguments = hook["entry"].split()
    assert command == "tankside"
    done = subprocess.run([sys.executable, "-m", "tankside", *arguments, str(ROOT)], capture_output=True, check=False)
    assert done.returncode == 0
    assert hook["pass_filenames"] is False
