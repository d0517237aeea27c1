"""Write the files of a site; those that have not changed are not written again."""

import os
import shutil
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from tankside.memory import store


@dataclass(frozen=True)
class _Written:
    """What stood at an address, and how its file looked right after it was written."""

    content: bytes | Path
    look: tuple[int, int, int]


def write_files(found: Mapping[str, bytes | Path], staging: Path, site: Path) -> None:
    """Write every file into a new folder; `site` is where the files of the last time are.

    A content is data, or a file to copy that never changes under its name.
    """
    written: dict[str, _Written] = store("written", str(site))
    for folder in sorted({(staging / address).parent for address in found}):
        folder.mkdir(parents=True, exist_ok=True)
    now = {}
    for address, content in found.items():
        before, path = written.get(address), staging / address
        # Another name for the same file costs nothing; one that somebody has changed meanwhile is not it.
        if before is None or before.content != content or not _linked(site / address, path, before.look):
            _write(content, path)
        now[address] = _Written(content, _look(path))
    written.clear()
    written.update(now)


def _write(content: bytes | Path, path: Path) -> None:
    if isinstance(content, Path):
        shutil.copyfile(content, path)
    else:
        path.write_bytes(content)


def _linked(old: Path, new: Path, look: tuple[int, int, int]) -> bool:
    try:
        if _look(old) != look:
            return False
        os.link(old, new)
    except OSError:
        return False
    return True


def _look(path: Path) -> tuple[int, int, int]:
    found = path.stat()
    return found.st_ino, found.st_size, found.st_mtime_ns
