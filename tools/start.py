#!/usr/bin/env python3
"""Set everything up, then build the book or run the tests.

usage: python3 tools/start.py build                        make the site and the step sheets, in build/
       python3 tools/start.py test [options for pytest]    run every check: style, types, tests

Needs Python 3.11 or later. The first run fetches packages into .venv; later runs need no network.
"""
# Standard library only, since nothing is installed yet; and syntax that Python 3.7 can read, so that an old Python
# gets a sentence and not a syntax error.

from __future__ import annotations

import contextlib
import ctypes
import ctypes.util
import hashlib
import importlib.util
import io
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from enum import Enum
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
#: Says what .venv holds; absent while it is half made.
STAMP = Path(".venv", "installed.txt")

# What a system may lack goes by the names of its Debian packages.
VENV, CHROMIUM = "python3-venv", "chromium"
PANGO, PANGOFT2, SUBSET = "libpango-1.0-0", "libpangoft2-1.0-0", "libharfbuzz-subset0"
IN_WORDS = {
    PANGO: "Pango, which sets the text of the step sheets",
    PANGOFT2: "PangoFT2 and Fontconfig, which find the fonts of the step sheets",
    SUBSET: "HarfBuzz-subset, which puts the fonts into the step sheets",
    CHROMIUM: "Chromium, in which the pages are tested (TANKSIDE_CHROMIUM may hold the path of the program)",
    VENV: "Python's own modules venv and ensurepip",
}
# Elsewhere one package brings all print libraries, and Python is never without venv.
NAME_ELSEWHERE = {PANGO: "pango", PANGOFT2: "pango", SUBSET: "pango", CHROMIUM: "chromium"}

# What WeasyPrint loads: the file names it asks for on Linux, macOS and Windows, then the name that ctypes searches
# for. It can do without harfbuzz-subset, but then it warns, and a warning fails a build.
PRINT_LIBRARIES = (
    (PANGO, ("libgobject-2.0.so.0", "libgobject-2.0.0.dylib", "libgobject-2.0-0.dll", "gobject-2.0")),
    (PANGO, ("libpango-1.0.so.0", "libpango-1.0.dylib", "libpango-1.0-0.dll", "pango-1.0")),
    (PANGO, ("libharfbuzz.so.0", "libharfbuzz.0.dylib", "libharfbuzz-0.dll", "harfbuzz")),
    (PANGOFT2, ("libfontconfig.so.1", "libfontconfig.1.dylib", "libfontconfig-1.dll", "fontconfig")),
    (PANGOFT2, ("libpangoft2-1.0.so.0", "libpangoft2-1.0.dylib", "libpangoft2-1.0-0.dll", "pangoft2-1.0")),
    (SUBSET, ("libharfbuzz-subset.so.0", "libharfbuzz-subset.0.dylib", "libharfbuzz-subset-0.dll", "harfbuzz-subset")),
)
# Folders the loader leaves out: Homebrew's on Apple silicon (children get it by environment), WeasyPrint's on Windows.
HOMEBREW = "/opt/homebrew/lib"
LIBRARY_FOLDERS = (HOMEBREW, "C:/msys64/ucrt64/bin", "C:/msys64/mingw64/bin")

BROWSERS = ("chromium", "chromium-browser", "google-chrome")
CHECKS = (("ruff", "check"), ("ruff", "format", "--check"), ("mypy",))
# A process for each core; a file of tests stays whole, because what it builds first is built once.
SHARED_OUT = ("-n", "auto", "--dist", "loadfile")


class StartError(Exception):
    """Why the run cannot go on, as a sentence for the person at the keyboard."""


class Show(Enum):
    """When the output of a command is shown."""

    ALWAYS = 1
    ON_FAILURE = 2
    NEVER = 3


def has_module(name: str) -> bool:
    # It may have been installed since the last look.
    importlib.invalidate_caches()
    return importlib.util.find_spec(name) is not None


def can_load(name: str) -> bool:
    """Return whether WeasyPrint will find this library: by its file name, else by ctypes' search."""
    for path in (name, *(f"{folder}/{name}" for folder in LIBRARY_FOLDERS), ctypes.util.find_library(name)):
        with contextlib.suppress(OSError):
            if path and ctypes.CDLL(path):
                return True
    return False


def run(command: Sequence[str], environment: Mapping[str, str], show: Show) -> int:
    """Run a command in the project's folder and return its exit code."""
    with tempfile.TemporaryFile() as kept:
        # A command whose output is not seen must not wait for an answer.
        source, sink = (None, None) if show is Show.ALWAYS else (subprocess.DEVNULL, kept)
        try:
            child = subprocess.Popen(command, cwd=ROOT, env=environment, stdin=source, stdout=sink, stderr=sink)
            try:
                code = child.wait()
            finally:
                # When this is interrupted, so is the child, and it has things to put away: a browser, a database.
                child.wait()
        except OSError as error:
            kept.write(f"{command[0]}: {error.strerror}\n".encode())
            code = 127
        if code < 0:
            kept.write(f"{command[0]} was stopped by signal {-code}\n".encode())
        if code and show is not Show.NEVER:
            kept.seek(0)
            print(kept.read().decode("utf-8", "replace"), end="", file=sys.stderr, flush=True)
    # A shell says 128 + N where Python says -N.
    return code if code >= 0 else 128 - code


@dataclass(frozen=True)
class Machine:
    """The computer this runs on: what is true of it, and the ways to ask it and to make it work."""

    root: Path = ROOT
    executable: str = sys.executable
    python: tuple[int, int, int] = sys.version_info[:3]
    platform: str = sys.platform
    is_root: bool = hasattr(os, "geteuid") and os.geteuid() == 0
    environment: Mapping[str, str] = field(default_factory=lambda: dict(os.environ))
    #: The path of a program, None when there is none.
    which: Callable[[str], str | None] = shutil.which
    has_module: Callable[[str], bool] = has_module
    can_load: Callable[[str], bool] = can_load
    run: Callable[[Sequence[str], Mapping[str, str], Show], int] = run


def main(arguments: Sequence[str], machine: Machine) -> int:
    """Do what the verb asks; return the exit code."""
    verb, rest = (arguments[0] if arguments else ""), arguments[1:]
    if {"-h", "--help"} & set(arguments[:2]):
        print(__doc__)
        return 0
    if verb not in {"build", "test"} or (verb == "build" and rest):
        print(__doc__, file=sys.stderr)
        return 2
    try:
        return start(machine, verb, rest)
    except StartError as error:
        print(f"\n{error}", file=sys.stderr)
    except OSError as error:
        print(f"\nThe system refused: {error}. Correct that, then run this again.", file=sys.stderr)
    except KeyboardInterrupt:
        print("\nInterrupted. Run the same command again to go on.", file=sys.stderr)
        return 130
    return 1


def start(machine: Machine, verb: str, rest: Sequence[str]) -> int:
    if machine.python < (3, 11):
        version = ".".join(map(str, machine.python))
        raise StartError(
            f"Tankside needs Python 3.11 or later; {machine.executable} is Python {version}.\n"
            f"Install a newer one and run this with it, for example: python3.11 tools/start.py {verb}"
        )
    missing = provide_system(machine, verb)
    provide_venv(machine, verb)
    return build(machine, can_print=not missing) if verb == "build" else test(machine, rest)


def provide_system(machine: Machine, verb: str) -> tuple[str, ...]:
    """Install what the system lacks, where that is allowed; return what is missing still and can be done without."""
    missing = missing_packages(machine, verb)
    if missing and machine.is_root and machine.which("apt-get"):
        apt_install(machine, missing)
        missing = missing_packages(machine, verb)
    if missing and (verb == "test" or VENV in missing):
        raise StartError(advice(machine, missing))
    if missing:
        print(f"\nNO STEP SHEETS WILL BE MADE. The site is built without them.\n{advice(machine, missing)}\n")
    return missing


def missing_packages(machine: Machine, verb: str) -> tuple[str, ...]:
    """Return what the verb needs and the system lacks, each named once."""
    missing = [package for package, names in PRINT_LIBRARIES if not any(map(machine.can_load, names))]
    if verb == "test" and not find_browser(machine):
        missing.append(CHROMIUM)
    if not all(map(machine.has_module, ("venv", "ensurepip"))) and not is_ready(machine, verb):
        missing.append(VENV)
    return tuple(dict.fromkeys(missing))


def find_browser(machine: Machine) -> str | None:
    chosen = machine.environment.get("TANKSIDE_CHROMIUM")
    found = next(filter(None, map(machine.which, [chosen] if chosen else BROWSERS)), None)
    if chosen and not found:
        raise StartError(f"TANKSIDE_CHROMIUM is '{chosen}', which is no program. Correct it or take it away.")
    # Tests run in another folder than the one a relative path was meant for.
    return found and str(Path(found).absolute())


def apt_install(machine: Machine, packages: Sequence[str]) -> None:
    """Try to install Debian packages; the caller looks again at what is missing."""
    print(f"Installing {', '.join(packages)} ...")
    environment = child_environment(machine, DEBIAN_FRONTEND="noninteractive")
    # An update that fails for one source may leave lists that are good enough.
    machine.run(["apt-get", "update"], environment, Show.ON_FAILURE)
    command = ["apt-get", "install", "-y", "--no-install-recommends", *packages]
    machine.run(command, environment, Show.ON_FAILURE)


def advice(machine: Machine, missing: Sequence[str]) -> str:
    """Return what is missing in words, and the one command that brings it."""
    words = "".join(f"  - {IN_WORDS[package]}\n" for package in missing)
    command = install_command(machine, missing)
    remedy = f"To install this, run:\n    {command}\nThen run" if command else "Install this, then run"
    return f"Missing on this computer:\n{words}{remedy} tools/start.py again."


def install_command(machine: Machine, missing: Sequence[str]) -> str | None:
    sudo = "" if machine.is_root else "sudo "
    elsewhere = tuple(dict.fromkeys(NAME_ELSEWHERE.get(package, "") for package in missing))
    if machine.which("apt-get"):
        command = f"apt-get install -y --no-install-recommends {' '.join(missing)}"
        return f"{sudo}apt-get update && {sudo}{command}"
    if "" in elsewhere:
        return None
    if machine.platform == "darwin":
        return " && ".join(f"brew install {'--cask ' * (name == 'chromium')}{name}" for name in elsewhere)
    managers = {"dnf": "dnf install", "pacman": "pacman -S"}
    return next((f"{sudo}{managers[name]} {' '.join(elsewhere)}" for name in managers if machine.which(name)), None)


def provide_venv(machine: Machine, verb: str) -> None:
    """Make .venv hold what the verb's lock names."""
    if is_ready(machine, verb):
        return
    print(f"Setting up .venv to {verb} (once, takes a minute or two) ...")
    # Only what `build` installed may be added to; any other .venv may hold packages that no lock names.
    if stamps(machine) != [fingerprint(machine, "build")]:
        command = [machine.executable, "-m", "venv", "--clear", str(machine.root / ".venv")]
        must_run(machine, command, "Making the folder .venv", "Delete that folder, then run this again.")
    (machine.root / STAMP).unlink(missing_ok=True)
    install(machine, verb)
    # The lock for tests holds all of the lock for builds.
    covered = ("build", "test") if verb == "test" else ("build",)
    lines = "".join(f"{fingerprint(machine, each)}\n" for each in covered)
    (machine.root / STAMP).write_text(lines, encoding="utf-8", newline="\n")


def is_ready(machine: Machine, verb: str) -> bool:
    return fingerprint(machine, verb) in stamps(machine)


def fingerprint(machine: Machine, verb: str) -> str:
    """Return a hash of all that .venv depends on; its scripts and the editable install hold the project's path."""
    lock = (machine.root / "tools" / f"{verb}.lock").read_bytes()
    return hashlib.sha256(os.fsencode(f"{verb} {machine.python} {machine.root}\n") + lock).hexdigest()


def stamps(machine: Machine) -> list[str]:
    """Return the fingerprints of what .venv holds: none when its Python has gone."""
    probe, stamp = [venv_python(machine), "-c", "pass"], machine.root / STAMP
    if not stamp.is_file() or machine.run(probe, child_environment(machine), Show.NEVER):
        return []
    return stamp.read_text(encoding="utf-8", errors="replace").split()


def venv_python(machine: Machine) -> str:
    inside = "Scripts/python.exe" if machine.platform == "win32" else "bin/python"
    return str(machine.root / ".venv" / inside)


def install(machine: Machine, verb: str) -> None:
    pip = [venv_python(machine), "-m", "pip", "install", "--quiet", "--root-user-action=ignore"]
    locked = ["--require-hashes", "-r", str(machine.root / "tools" / f"{verb}.lock")]
    must_run(machine, pip + locked, "Installing the packages", "Check the network, then run this again.")
    # A second call, because a folder has no hash; without isolation it takes the locked build backend.
    ours = ["--no-deps", "--no-build-isolation", "-e", str(machine.root)]
    must_run(machine, pip + ours, "Installing Tankside itself", "Check that no file of the project is missing.")


def must_run(machine: Machine, command: Sequence[str], doing: str, remedy: str) -> None:
    code = machine.run(command, child_environment(machine), Show.ON_FAILURE)
    if code:
        raise StartError(f"{doing} failed with exit code {code}; the lines above say why. {remedy}")


def build(machine: Machine, *, can_print: bool) -> int:
    print("Building the book ...")
    # Not by .venv/bin/tankside: the first line of a script cannot hold a path with a space.
    command = [venv_python(machine), "-m", "tankside", "build", str(machine.root)]
    code = machine.run(command, child_environment(machine), Show.ALWAYS)
    if code:
        print(f"\nThe build stopped with exit code {code}; the lines above say why.", file=sys.stderr)
        return code
    page, sheets = machine.root / "build" / "site" / "index.html", machine.root / "build" / "site" / "sheets"
    made = f"{sheets} ({len(list(sheets.rglob('*.pdf')))} PDF files)" if can_print else "NOT MADE, see above"
    print(f"\nThe book is checked and built.\n  site:         {page}\n  step sheets:  {made}")
    print(f"To read it, open this address in a browser:\n  {page.as_uri()}")
    return 0


def test(machine: Machine, pytest_options: Sequence[str]) -> int:
    """Run the checks up to the first that fails; the last line is pytest's own."""
    environment = child_environment(machine, TANKSIDE_CHROMIUM=find_browser(machine) or "")
    # The tests have to hold in the encoding that users have.
    environment.pop("PYTHONUTF8", None)
    for tool in CHECKS:
        name = " ".join(tool)
        print(f"Checking: {name} ...")
        code = machine.run([venv_python(machine), "-m", *tool], environment, Show.ALWAYS)
        if code:
            raise StartError(f"The check '{name}' failed with exit code {code}; correct what the lines above show.")
    print("Running the tests: pytest ...")
    return machine.run([venv_python(machine), "-m", "pytest", *SHARED_OUT, *pytest_options], environment, Show.ALWAYS)


def child_environment(machine: Machine, **extra: str) -> dict[str, str]:
    """Return our environment without what would lead the Python of .venv astray."""
    astray = {"VIRTUAL_ENV", "PYTHONHOME", "PYTHONPATH"}
    kept = {name: value for name, value in machine.environment.items() if name not in astray}
    if machine.platform == "darwin":
        kept.setdefault("DYLD_FALLBACK_LIBRARY_PATH", f"{HOMEBREW}:/usr/local/lib:/usr/lib")
    return {**kept, "PIP_DISABLE_PIP_VERSION_CHECK": "1", "PIP_NO_INPUT": "1", **extra}


if __name__ == "__main__":
    for stream in (sys.stdout, sys.stderr):
        # A console that lacks a letter is to show a question mark, not to stop the run; and a line that announces
        # a command must come before the command's own.
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace", line_buffering=True)
    sys.exit(main(sys.argv[1:], Machine()))
