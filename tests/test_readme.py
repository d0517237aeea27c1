"""What README.md says is true."""

import json
import re
import shutil
import subprocess
import sys
import textwrap
from pathlib import Path

import pytest

from tankside.model.claims import STATES, WORN
from tankside.model.steps import STEP_CLASSES

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")


def tankside(*arguments: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "tankside", *arguments]
    return subprocess.run(command, capture_output=True, text=True, encoding="utf-8", check=False)


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A copy of the demonstration book with the README's own first procedure in it."""
    for part in ("procedures", "checklists", "site_src"):
        shutil.copytree(ROOT / part, tmp_path / part)
    shutil.copy(ROOT / "mkdocs.yml", tmp_path)
    found = re.search(r"```yaml\n(.*?)```", README, re.DOTALL)
    assert found is not None
    written = textwrap.dedent("   " + found[1])
    (tmp_path / "procedures/filling/check-the-nozzle.yaml").write_text(written, encoding="utf-8", newline="\n")
    return tmp_path


def test_the_first_procedure_is_clean(book: Path) -> None:
    done = tankside("check", str(book))
    assert done.returncode == 0
    assert done.stdout.count("\n") == 1


def test_a_mistyped_tag_is_answered_as_the_readme_says(book: Path) -> None:
    path = book / "procedures/filling/check-the-nozzle.yaml"
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("steps:\n", "steps:\n  - open: V7\n"), encoding="utf-8", newline="\n")
    done = tankside("check", str(book))
    assert done.returncode == 1
    answer = re.search(r"`('V7' .*?)  (hint: .*?)`", README)
    assert answer is not None
    assert answer[1] in done.stdout
    assert answer[2] in done.stdout


def test_the_example_of_calc_prints_what_the_readme_shows() -> None:
    example = re.search(r"\$ tankside calc (.*?)\n(.*?)```", README, re.DOTALL)
    assert example is not None
    arguments = [part.replace('"', "") for part in re.findall(r'[^\s"]+(?:"[^"]*")?', example[1])]
    assert tankside("calc", *arguments).stdout == example[2]


def test_steps_that_explain_claims_are_those_of_a_new_book(tmp_path: Path) -> None:
    _, example, _ = re.findall(r"```yaml\n(.*?)```", README, re.DOTALL)
    assert tankside("new", "book", str(tmp_path / "book")).returncode == 0
    path = tmp_path / "book/procedures/cleaning/rinse-tank.yaml"
    text = path.read_text(encoding="utf-8")
    steps = re.split(r"^(?=  - )", example, flags=re.MULTILINE)[1:]
    assert len(steps) == 4
    assert [step for step in steps if step not in text] == []
    answer = re.search(r"Without `(.*?)` the answer would be `(.*?)`", README)
    assert answer is not None
    path.write_text(text.replace(f"      - {answer[1]}\n", ""), encoding="utf-8", newline="\n")
    assert f"error: {answer[2]}\n" in tankside("check", str(tmp_path / "book")).stdout


def test_the_example_of_a_sheet_is_one_of_the_demonstration() -> None:
    *_, example = re.findall(r"```yaml\n(.*?)```", README, re.DOTALL)
    written = (ROOT / "procedures/plant/sheets.yaml").read_text(encoding="utf-8")
    places, sheets = re.fullmatch(r"places:\n(.+?)sheets:\n(.+)", example, re.DOTALL).groups()  # type: ignore[union-attr]
    assert places in written and sheets in written


def test_every_kind_of_sheet_stands_in_the_readme() -> None:
    section = README.partition("\n### Sheets on the wall")[2].partition("\n### ")[0]
    schema = json.loads((ROOT / "tools/tankside/schema/sheets.schema.json").read_text(encoding="utf-8"))
    kinds = schema["properties"]["sheets"]["additionalProperties"]["properties"]["kind"]["enum"]
    assert re.findall(r"^\| `([\w-]+)` \|", section, re.MULTILINE) == kinds


def test_every_state_that_a_claim_can_say_stands_in_the_readme() -> None:
    section = README.partition("\n## Claims")[2].partition("\n## ")[0]
    said = " ".join(re.findall(r"`([^`]+)`", re.sub(r"```.*?```", "", section, flags=re.DOTALL)))
    assert [state for state in (*STATES, *WORN) if not re.search(rf"\b{state}\b", said)] == []


def test_every_kind_of_step_stands_in_the_readme_with_the_keys_that_it_needs() -> None:
    section = README.partition("\n## Kinds of steps")[2].partition("\n## ")[0]
    rows = dict(re.findall(r"^\| (`[^|]+) \| ([^|]+) \|$", section, re.MULTILINE))
    said = {kind: keys for kinds, keys in rows.items() for kind in re.findall(r"`(\w+)`", kinds)}
    assert set(said) == {kind for each in STEP_CLASSES for kind in each.KINDS}
    definitions = json.loads((ROOT / "tools/tankside/schema/procedure.schema.json").read_text("utf-8"))["$defs"]
    for kind, keys in said.items():
        needed = set(definitions[kind]["required"]) - {kind, "step"}
        assert needed <= set(re.findall(r"`(\w+)", keys)), kind


def test_ci_runs_the_test_command_and_nothing_else() -> None:
    lines = (ROOT / ".ci/run").read_text(encoding="utf-8").splitlines()
    commands = [line for line in lines if line and not line.startswith(("#", "set ", "cd "))]
    assert commands == ["exec python3 tools/start.py test"]
    assert "python3 tools/start.py test" in README


def test_every_command_of_the_readme_exists() -> None:
    shown = set(re.findall(r"^tankside ([\w-]+)", README, re.MULTILINE))
    making = {"check", "dry-run", "audit", "build", "serve", "sheets", "new", "schema"}
    assert shown == making | {"records", "training", "calc"}
    assert all(tankside(verb, "--help").returncode == 0 for verb in shown)
