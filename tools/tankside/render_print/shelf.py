"""Sheets that were laid out before: the same text in the same style need not be laid out again."""

import os
from pathlib import Path


class Shelf:
    """A folder of finished sheets, each named by a digest of all that it was made of; it may be deleted at any time."""

    def __init__(self, folder: Path) -> None:
        """Keep sheets in `folder`, which is made when the first one is put there."""
        self._folder = folder
        self._asked: set[Path] = set()

    def place(self, digest: str) -> Path:
        """Return where the sheet of this digest is kept, or will be."""
        place = self._folder / f"{digest}.pdf"
        self._asked.add(place)
        return place

    def clear_unasked(self) -> None:
        """Remove every sheet whose place nobody has asked for."""
        for path in set(self._folder.iterdir() if self._folder.is_dir() else ()) - self._asked:
            path.unlink()


def put_whole(place: Path, data: bytes) -> None:
    """Keep a sheet at its place: whole or not at all, whatever stops us."""
    place.parent.mkdir(parents=True, exist_ok=True)
    new = place.with_suffix(f".{os.getpid()}")
    new.write_bytes(data)
    new.replace(place)
