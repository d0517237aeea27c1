"""The demo book as tests use it: copied away from the sources, built by the command as a reader runs it."""

import os
import shutil
import subprocess
import sys
from collections.abc import Mapping
from hashlib import sha256
from pathlib import Path

ROOT = Path(__file__).parent.parent
PARTS = ("procedures", "checklists", "site_src")
COMMAND = (sys.executable, "-m", "tankside")


def copy_book(folder: Path) -> Path:
    """Copy the demo book into a new folder and return it."""
    for name in PARTS:
        shutil.copytree(ROOT / name, folder / name)
    shutil.copy(ROOT / "mkdocs.yml", folder)
    return folder


def overlaid(book: Path, folder: Path) -> Path:
    """Copy a book into a new folder and return it."""
    return Path(shutil.copytree(book, folder))


def built(folder: Path, **environment: str) -> subprocess.CompletedProcess[str]:
    """Return how `tankside build` of a book ended."""
    return subprocess.run(
        [*COMMAND, "build", str(folder)],
        capture_output=True,
        text=True,
        encoding="utf-8",
        env={**os.environ, **environment},
        timeout=300,
        check=False,
    )


def hashes(folder: Path) -> Mapping[str, str]:
    """Return the hash of each file of a folder."""
    files = (path for path in sorted(folder.rglob("*")) if path.is_file())
    return {path.relative_to(folder).as_posix(): sha256(path.read_bytes()).hexdigest() for path in files}


def replace(path: Path, old: str, new: str) -> None:
    """Replace a text that stands in a file exactly once."""
    text = path.read_text(encoding="utf-8")
    assert text.count(old) == 1, f"{path}: {old!r} stands there {text.count(old)} times"
    path.write_text(text.replace(old, new), encoding="utf-8", newline="\n")
