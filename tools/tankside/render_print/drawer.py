"""Sheets that are written once: whole or not at all, and never over another file."""

import os
from pathlib import Path


def put_new(path: Path, data: bytes) -> None:
    """Write a new file; whatever stops us, there is either all of it or nothing under its name.

    Raises:
        FileExistsError: something has this name already; it stays as it is.
        OSError: it cannot be written.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    if os.path.lexists(path):
        raise FileExistsError(str(path))
    unfinished = path.with_suffix(f".{os.getpid()}")
    try:
        unfinished.write_bytes(data)
        _give_name(unfinished, path)
    finally:
        unfinished.unlink(missing_ok=True)


def _give_name(unfinished: Path, path: Path) -> None:
    """Name a finished file; unlike a renaming, a second name is refused where the name is taken meanwhile."""
    try:
        os.link(unfinished, path)
    except FileExistsError:
        raise
    except OSError:
        # Some sticks know no second names. There the name is taken first, and what it stands for comes at once.
        path.open("xb").close()
        unfinished.replace(path)
