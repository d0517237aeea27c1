"""tools/start.py: what it decides, on machines made up here, and the few things it asks of this one."""

from __future__ import annotations

import ast
import importlib.util
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parent.parent
START = ROOT / "tools" / "start.py"


def load_start() -> ModuleType:
    spec = importlib.util.spec_from_file_location("start", START)
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    # A dataclass looks its own module up there.
    sys.modules["start"] = module
    spec.loader.exec_module(module)
    return module


start = load_start()


@dataclass
class Workshop:
    """A made-up computer that notes every command, and does of it what start.py can see."""

    root: Path
    #: Exit codes of commands, by a word that stands in them; the others succeed.
    codes: dict[str, int] = field(default_factory=dict)
    #: Pieces of library names, programs and modules that are not there.
    lacking: set[str] = field(default_factory=set)
    programs: tuple[str, ...] = ("chromium", "apt-get")
    #: Whether apt-get can reach its servers.
    apt_works: bool = True
    commands: list[list[str]] = field(default_factory=list)
    environments: list[Mapping[str, str]] = field(default_factory=list)

    def run(self, command: Sequence[str], environment: Mapping[str, str], show: Any) -> int:
        if command[-1] == "pass":
            return self.codes.get("pass", 0) or int(not Path(command[0]).exists())
        self.commands.append(list(command))
        self.environments.append(environment)
        if "venv" in command:
            self.make_venv()
        if list(command[:2]) == ["apt-get", "install"]:
            if not self.apt_works:
                return 100
            self.lacking = set()
        return next((code for word, code in self.codes.items() if word in command), 0)

    def make_venv(self) -> None:
        shutil.rmtree(self.root / ".venv", ignore_errors=True)
        python = self.root / ".venv" / "bin" / "python"
        python.parent.mkdir(parents=True)
        python.touch()

    def has(self, name: str) -> bool:
        return not any(piece in name for piece in self.lacking)

    def machine(self, **facts: Any) -> Any:
        made_up = start.Machine(
            root=self.root,
            executable="/usr/bin/python3",
            python=(3, 11, 2),
            platform="linux",
            is_root=False,
            environment={"HOME": "/home/lead"},
            which=lambda name: f"/usr/bin/{name}" if name in self.programs and self.has(name) else None,
            has_module=self.has,
            can_load=self.has,
            run=self.run,
        )
        return replace(made_up, **facts)

    def said(self) -> list[str]:
        """Return what was run, without the path of the Python."""
        return [" ".join(command[1:] if "python" in command[0] else command) for command in self.commands]


@pytest.fixture
def workshop(tmp_path: Path) -> Workshop:
    root = tmp_path / "a shop"
    (root / "tools").mkdir(parents=True)
    for verb in ("build", "test"):
        (root / "tools" / f"{verb}.lock").write_text(f"{verb} 1\n", encoding="utf-8", newline="\n")
    return Workshop(root)


def run_pip(workshop: Workshop, verb: str) -> tuple[str, str]:
    """Return the two calls that install a lock and the package."""
    pip = "-m pip install --quiet --root-user-action=ignore"
    lock = workshop.root / "tools" / f"{verb}.lock"
    return f"{pip} --require-hashes -r {lock}", f"{pip} --no-deps --no-build-isolation -e {workshop.root}"


def make_venv(workshop: Workshop) -> str:
    return f"-m venv --clear {workshop.root / '.venv'}"


def run_build(workshop: Workshop) -> str:
    return f"-m tankside build {workshop.root}"


RUN_CHECKS = ("-m ruff check", "-m ruff format --check", "-m mypy", "-m pytest -n auto --dist loadfile")


def start_again(workshop: Workshop, verb: str, **facts: Any) -> list[str]:
    workshop.commands.clear()
    assert start.main([verb], workshop.machine(**facts)) == 0
    return workshop.said()


# The command line


@pytest.mark.parametrize("arguments", [[], ["bulid"], ["build", "extra"]])
def test_wrong_usage_exits_2_and_does_nothing(
    workshop: Workshop, arguments: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert start.main(arguments, workshop.machine()) == 2
    assert workshop.commands == []
    assert "usage: python3 tools/start.py build" in capsys.readouterr().err


@pytest.mark.parametrize("arguments", [["--help"], ["-h"], ["test", "--help"]])
def test_help_exits_0_and_does_nothing(
    workshop: Workshop, arguments: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert start.main(arguments, workshop.machine()) == 0
    assert workshop.commands == []
    assert "usage: python3 tools/start.py build" in capsys.readouterr().out


def test_old_python_is_refused_in_a_sentence(workshop: Workshop, capsys: pytest.CaptureFixture[str]) -> None:
    assert start.main(["build"], workshop.machine(python=(3, 10, 13))) == 1
    assert workshop.commands == []
    assert "needs Python 3.11 or later; /usr/bin/python3 is Python 3.10.13." in capsys.readouterr().err


def test_old_python_can_read_the_file_far_enough_to_refuse() -> None:
    ast.parse(START.read_text(encoding="utf-8"), feature_version=(3, 7))


def test_interruption_exits_130(workshop: Workshop, capsys: pytest.CaptureFixture[str]) -> None:
    def interrupted(*_: Any) -> int:
        raise KeyboardInterrupt

    assert start.main(["build"], workshop.machine(run=interrupted)) == 130
    assert "Interrupted." in capsys.readouterr().err


def test_missing_lock_is_a_sentence(workshop: Workshop, capsys: pytest.CaptureFixture[str]) -> None:
    (workshop.root / "tools" / "build.lock").unlink()
    assert start.main(["build"], workshop.machine()) == 1
    assert "build.lock" in capsys.readouterr().err


# What the system must have


def test_root_on_debian_installs_just_what_is_missing(workshop: Workshop) -> None:
    workshop.lacking = {"pangoft2", "harfbuzz-subset", "chromium"}
    assert start.main(["test"], workshop.machine(is_root=True)) == 0
    assert workshop.said()[:2] == [
        "apt-get update",
        "apt-get install -y --no-install-recommends libpangoft2-1.0-0 libharfbuzz-subset0 chromium",
    ]
    assert [each.get("DEBIAN_FRONTEND") for each in workshop.environments[:3]] == ["noninteractive"] * 2 + [None]


def test_all_five_packages_are_asked_for_once_when_all_is_missing(workshop: Workshop) -> None:
    workshop.lacking = {"lib", "pango", "gobject", "harfbuzz", "fontconfig", "chromium", "ensurepip"}
    assert start.main(["test"], workshop.machine(is_root=True)) == 0
    assert workshop.said()[1] == (
        "apt-get install -y --no-install-recommends"
        " libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0 chromium python3-venv"
    )


def test_build_does_without_a_browser(workshop: Workshop) -> None:
    workshop.lacking = {"chromium"}
    assert start_again(workshop, "build", is_root=True)[0] == make_venv(workshop)


@pytest.mark.parametrize(
    ("programs", "platform", "is_root", "command"),
    [
        (
            ("apt-get",),
            "linux",
            False,
            "sudo apt-get update && sudo apt-get install -y --no-install-recommends libharfbuzz-subset0 chromium",
        ),
        (("dnf",), "linux", False, "sudo dnf install pango chromium"),
        (("pacman",), "linux", True, "pacman -S pango chromium"),
        (("brew",), "darwin", False, "brew install pango && brew install --cask chromium"),
    ],
)
def test_the_one_command_for_the_system_is_printed(
    workshop: Workshop,
    programs: tuple[str, ...],
    platform: str,
    is_root: bool,
    command: str,
    capsys: pytest.CaptureFixture[str],
) -> None:
    workshop.programs, workshop.lacking = programs, {"harfbuzz-subset"}
    assert start.main(["test"], workshop.machine(platform=platform, is_root=is_root)) == 1
    assert workshop.commands == []
    assert f"\n    {command}\n" in capsys.readouterr().err


def test_unknown_system_is_told_in_words(workshop: Workshop, capsys: pytest.CaptureFixture[str]) -> None:
    workshop.programs = ()
    assert start.main(["test"], workshop.machine()) == 1
    told = capsys.readouterr().err
    assert "  - Chromium, in which the pages are tested" in told
    assert "Install this, then run tools/start.py again." in told


def test_python_without_venv_is_fatal_to_build(workshop: Workshop, capsys: pytest.CaptureFixture[str]) -> None:
    workshop.lacking = {"ensurepip"}
    assert start.main(["build"], workshop.machine()) == 1
    assert workshop.commands == []
    assert "apt-get install -y --no-install-recommends python3-venv\n" in capsys.readouterr().err


def test_python_without_venv_does_not_matter_once_it_is_made(workshop: Workshop) -> None:
    start_again(workshop, "build")
    workshop.lacking = {"ensurepip"}
    assert start_again(workshop, "build") == [run_build(workshop)]


def test_failing_apt_ends_in_the_command_without_sudo(workshop: Workshop, capsys: pytest.CaptureFixture[str]) -> None:
    workshop.lacking, workshop.apt_works = {"chromium"}, False
    assert start.main(["test"], workshop.machine(is_root=True)) == 1
    assert workshop.said() == ["apt-get update", "apt-get install -y --no-install-recommends chromium"]
    told = capsys.readouterr().err
    assert "\n    apt-get update && apt-get install -y --no-install-recommends chromium\n" in told


@pytest.mark.parametrize("is_root", [False, True])
def test_build_goes_on_without_print_libraries_and_says_so_loudly(
    workshop: Workshop, is_root: bool, capsys: pytest.CaptureFixture[str]
) -> None:
    workshop.lacking, workshop.apt_works = {"pango-1.0"}, False
    assert start.main(["build"], workshop.machine(is_root=is_root)) == 0
    assert workshop.said()[-1] == run_build(workshop)
    told = capsys.readouterr().out
    assert "NO STEP SHEETS WILL BE MADE." in told
    assert "install -y --no-install-recommends libpango-1.0-0\n" in told
    assert "step sheets:  NOT MADE" in told


@pytest.mark.parametrize("lacking", ["chromium", "gobject", "ensurepip"])
def test_anything_missing_is_fatal_to_test_before_pip_runs(workshop: Workshop, lacking: str) -> None:
    workshop.lacking = {lacking}
    assert start.main(["test"], workshop.machine()) == 1
    assert workshop.commands == []


def test_any_of_a_librarys_names_will_do(workshop: Workshop) -> None:
    workshop.lacking = {".so", ".dll"}
    assert start.missing_packages(workshop.machine(), "build") == ()


def test_chosen_browser_wins_and_reaches_pytest(workshop: Workshop) -> None:
    workshop.programs = ("chromium", "my browser")
    machine = workshop.machine(environment={"TANKSIDE_CHROMIUM": "my browser"})
    assert start.main(["test"], machine) == 0
    assert workshop.environments[-1]["TANKSIDE_CHROMIUM"] == "/usr/bin/my browser"


def test_chosen_browser_that_is_not_there_is_named(workshop: Workshop, capsys: pytest.CaptureFixture[str]) -> None:
    machine = workshop.machine(environment={"TANKSIDE_CHROMIUM": "/opt/gone"}, is_root=True)
    assert start.main(["test"], machine) == 1
    assert workshop.commands == []
    assert "TANKSIDE_CHROMIUM is '/opt/gone', which is no program." in capsys.readouterr().err


def test_every_library_weasyprint_opens_is_looked_for() -> None:
    spec = importlib.util.find_spec("weasyprint")
    assert spec and spec.origin
    ffi = (Path(spec.origin).parent / "text" / "ffi.py").read_text(encoding="utf-8")
    opened = set(re.findall(r"'(lib[a-z0-9.-]+\.so\.\d+)'", ffi))
    # WeasyPrint does without harfbuzz-vector, and does not warn.
    assert opened - {"libharfbuzz-vector.so.0"} == {names[0] for _, names in start.PRINT_LIBRARIES}
    assert all(f"'{name}'" in ffi for _, names in start.PRINT_LIBRARIES for name in names)


def test_this_machine_can_print_and_lacks_what_is_not_there() -> None:
    assert start.missing_packages(start.Machine(), "build") == ()
    assert not start.can_load("libtankside-is-no-library.so.0")
    assert not start.has_module("tankside_is_no_such_module")


# The .venv folder


def test_first_build_makes_venv_installs_and_builds(workshop: Workshop) -> None:
    assert start_again(workshop, "build") == [
        make_venv(workshop),
        *run_pip(workshop, "build"),
        run_build(workshop),
    ]


@pytest.mark.parametrize("verb", ["build", "test"])
def test_second_call_installs_nothing(workshop: Workshop, verb: str) -> None:
    start_again(workshop, verb)
    assert start_again(workshop, verb) == ([run_build(workshop)] if verb == "build" else [*RUN_CHECKS])


def test_venv_for_test_is_good_for_build(workshop: Workshop) -> None:
    start_again(workshop, "test")
    assert start_again(workshop, "build") == [run_build(workshop)]


def test_venv_for_build_is_added_to_for_test(workshop: Workshop) -> None:
    start_again(workshop, "build")
    assert start_again(workshop, "test") == [*run_pip(workshop, "test"), *RUN_CHECKS]
    assert start_again(workshop, "test") == [*RUN_CHECKS]


def change_lock(workshop: Workshop) -> dict[str, Any]:
    (workshop.root / "tools" / "build.lock").write_text("build 2\n", encoding="utf-8", newline="\n")
    return {}


def move_project(workshop: Workshop) -> dict[str, Any]:
    workshop.root = workshop.root.rename(workshop.root.with_name("b shop"))
    return {}


def take_python_away(workshop: Workshop) -> dict[str, Any]:
    (workshop.root / ".venv" / "bin" / "python").unlink()
    return {}


def spoil_stamp(workshop: Workshop) -> dict[str, Any]:
    (workshop.root / ".venv" / "installed.txt").write_bytes(b"\xff\x00")
    return {}


def change_python(workshop: Workshop) -> dict[str, Any]:
    return {"python": (3, 11, 3)}


@pytest.mark.parametrize("change", [change_lock, move_project, take_python_away, spoil_stamp, change_python])
@pytest.mark.parametrize("before", ["build", "test"])
def test_venv_that_no_longer_fits_is_made_anew(
    workshop: Workshop, before: str, change: Callable[[Workshop], dict[str, Any]]
) -> None:
    start_again(workshop, before)
    facts = change(workshop)
    assert start_again(workshop, "build", **facts) == [
        make_venv(workshop),
        *run_pip(workshop, "build"),
        run_build(workshop),
    ]
    assert start_again(workshop, "build", **facts) == [run_build(workshop)]


@pytest.mark.parametrize("step", ["--require-hashes", "--no-deps"])
@pytest.mark.parametrize("before", [None, "build"])
def test_half_made_venv_is_made_anew(
    workshop: Workshop, step: str, before: str | None, capsys: pytest.CaptureFixture[str]
) -> None:
    if before:
        start_again(workshop, before)
    workshop.codes = {step: 1}
    assert start.main(["test"], workshop.machine()) == 1
    assert "failed with exit code 1; the lines above say why." in capsys.readouterr().err
    assert step in workshop.commands[-1]
    workshop.codes = {}
    assert start_again(workshop, "test") == [make_venv(workshop), *run_pip(workshop, "test"), *RUN_CHECKS]


def test_lock_for_tests_holds_all_of_the_lock_for_builds() -> None:
    build, test = (
        set(re.findall(r"^[^\s;]+==[^\s;]+", (ROOT / "tools" / f"{verb}.lock").read_text(encoding="utf-8"), re.M))
        for verb in ("build", "test")
    )
    assert {"hatchling", "editables", "weasyprint"} <= {each.partition("==")[0] for each in build}
    assert build <= test


# The work itself


def test_build_says_what_it_made_and_how_to_open_it(workshop: Workshop, capsys: pytest.CaptureFixture[str]) -> None:
    sheets = workshop.root / "build" / "site" / "sheets" / "filling"
    sheets.mkdir(parents=True)
    for name in ("rinse.pdf", "bleed.pdf"):
        (sheets / name).touch()
    start_again(workshop, "build")
    told = capsys.readouterr().out
    assert f"{workshop.root}/build/site/sheets (2 PDF files)" in told
    assert re.search(r"^  file:///\S+/a%20shop/build/site/index\.html$", told, re.M)


def test_exit_code_of_the_build_is_passed_on(workshop: Workshop, capsys: pytest.CaptureFixture[str]) -> None:
    workshop.codes = {"tankside": 3}
    assert start.main(["build"], workshop.machine()) == 3
    told = capsys.readouterr()
    assert "The build stopped with exit code 3" in told.err
    assert "file:" not in told.out


@pytest.mark.parametrize("tool", ["ruff", "mypy"])
def test_first_failing_check_ends_the_run(workshop: Workshop, tool: str, capsys: pytest.CaptureFixture[str]) -> None:
    start_again(workshop, "test")
    workshop.commands.clear()
    workshop.codes = {tool: 1}
    assert start.main(["test"], workshop.machine()) == 1
    assert tool in workshop.commands[-1]
    assert f"The check '{tool}" in capsys.readouterr().err


def test_pytest_gets_the_options_and_has_the_last_word(workshop: Workshop, capsys: pytest.CaptureFixture[str]) -> None:
    workshop.codes = {"pytest": 5}
    assert start.main(["test", "-k", "name"], workshop.machine()) == 5
    assert workshop.said()[-1] == "-m pytest -n auto --dist loadfile -k name"
    told = capsys.readouterr()
    assert told.out.endswith("Running the tests: pytest ...\n")
    assert told.err == ""


def test_children_do_not_inherit_another_python(workshop: Workshop) -> None:
    ours = {"PYTHONHOME": "/x", "PYTHONPATH": "/x", "VIRTUAL_ENV": "/x", "PYTHONUTF8": "1", "LANG": "C"}
    assert start.main(["test"], workshop.machine(environment=ours)) == 0
    assert dict(workshop.environments[-1]) == {
        "LANG": "C",
        "PIP_DISABLE_PIP_VERSION_CHECK": "1",
        "PIP_NO_INPUT": "1",
        "TANKSIDE_CHROMIUM": "/usr/bin/chromium",
    }


# For real


def python(*lines: str) -> list[str]:
    return [sys.executable, "-c", "\n".join(lines)]


def test_output_kept_back_is_shown_only_when_a_command_fails(capfd: pytest.CaptureFixture[str]) -> None:
    assert start.run(python("print('fine')"), os.environ, start.Show.ON_FAILURE) == 0
    assert capfd.readouterr() == ("", "")
    assert start.run(python("print('why')", "raise SystemExit(4)"), os.environ, start.Show.ON_FAILURE) == 4
    assert capfd.readouterr() == ("", "why\n")
    assert start.run(python("raise SystemExit('probe')"), os.environ, start.Show.NEVER) == 1
    assert capfd.readouterr() == ("", "")
    assert start.run(python("print('seen')"), os.environ, start.Show.ALWAYS) == 0
    assert capfd.readouterr() == ("seen\n", "")


def test_program_that_is_not_there_is_a_sentence(capfd: pytest.CaptureFixture[str]) -> None:
    assert start.run(["/no/such program"], os.environ, start.Show.ALWAYS) == 127
    assert capfd.readouterr().err == "/no/such program: No such file or directory\n"


@pytest.mark.skipif(os.name == "nt", reason="Windows has no signals of this kind")
def test_killed_command_is_a_sentence_and_a_shells_exit_code(capfd: pytest.CaptureFixture[str]) -> None:
    killed = python("import os", "os.kill(os.getpid(), 9)")
    assert start.run(killed, os.environ, start.Show.ALWAYS) == 137  # 128 + 9, POSIX shells
    assert capfd.readouterr().err.endswith("was stopped by signal 9\n")


@pytest.mark.skipif(os.name == "nt", reason="Windows makes no links without a right to")
def test_project_with_a_space_in_its_path_is_built_from_any_folder(workshop: Workshop, tmp_path: Path) -> None:
    shutil.copy(START, workshop.root / "tools")
    (workshop.root / "tankside").mkdir()
    writes = "import pathlib, sys\npathlib.Path(sys.argv[2], 'made').write_text(sys.argv[1], encoding='utf-8')\n"
    (workshop.root / "tankside" / "__main__.py").write_text(writes, encoding="utf-8", newline="\n")
    python_in_venv = workshop.root / ".venv" / "bin" / "python"
    python_in_venv.parent.mkdir(parents=True)
    python_in_venv.symlink_to(sys.executable)
    stamp = start.fingerprint(start.Machine(root=workshop.root.resolve()), "build")
    (workshop.root / ".venv" / "installed.txt").write_text(stamp, encoding="utf-8", newline="\n")
    # Nothing on PATH: no package manager can be called from here.
    done = subprocess.run(
        [sys.executable, workshop.root / "tools" / "start.py", "build"],
        cwd=tmp_path,
        env={"PATH": str(tmp_path)},
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert (workshop.root / "made").read_text(encoding="utf-8") == "build"
    assert "/a%20shop/build/site/index.html" in done.stdout


@pytest.mark.skipif(os.name == "nt", reason="the file is for a POSIX shell")
def test_ci_runs_the_readmes_test_command_and_nothing_else(workshop: Workshop, tmp_path: Path) -> None:
    (workshop.root / ".ci").mkdir()
    shutil.copy(ROOT / ".ci" / "run", workshop.root / ".ci")
    programs = tmp_path / "programs"
    programs.mkdir()
    (programs / "python3").write_text('#!/bin/sh\npwd\necho "$@"\nexit 7\n', encoding="utf-8", newline="\n")
    (programs / "python3").chmod(0o755)
    done = subprocess.run(
        [workshop.root / ".ci" / "run"],
        cwd=tmp_path,
        env={"PATH": f"{programs}{os.pathsep}{os.defpath}"},
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    assert done.returncode == 7
    assert done.stdout.splitlines() == [str(workshop.root.resolve()), "tools/start.py test"]
