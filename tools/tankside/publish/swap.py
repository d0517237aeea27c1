"""Put a finished folder in the place of the last one, so that at every moment one of the two is whole."""

import ctypes
import os
import shutil
import sys
from pathlib import Path

_AT_FDCWD = -100
_RENAME_EXCHANGE = 2


def put_in_place(finished: Path, place: Path) -> None:
    """Make `finished` the folder at `place`, and remove what stood there before."""
    if place.exists():
        before = _before(place)
        if not _exchanged(finished, place):
            # Two renames where the system cannot exchange: `restore` mends a kill between them.
            place.rename(before)
            finished.rename(place)
            finished = before
        shutil.rmtree(finished)
    else:
        finished.rename(place)


def restore(place: Path) -> None:
    """Bring back the last good folder when an earlier run was stopped between its two renames."""
    before = _before(place)
    if before.exists():
        if place.exists():
            shutil.rmtree(before)
        else:
            before.rename(place)


def _before(place: Path) -> Path:
    return place.with_name(f"{place.name}.before")


def _exchanged(first: Path, second: Path) -> bool:
    """Exchange two folders in one step; False where the system cannot."""
    if not sys.platform.startswith("linux"):
        return False
    rename = getattr(ctypes.CDLL(None, use_errno=True), "renameat2", None)
    if rename is None:
        return False
    names = os.fsencode(first), os.fsencode(second)
    return bool(rename(_AT_FDCWD, names[0], _AT_FDCWD, names[1], _RENAME_EXCHANGE) == 0)
