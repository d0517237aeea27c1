"""Sheets that were laid out before: the same text in the same style need not be laid out again."""

import os
import shutil
from pathlib import Path


class Shelf:
    """A folder of finished sheets, each named by a digest of all that it was made of; it may be deleted at any time."""

    def __init__(self, folder: Path) -> None:
        """Keep sheets in `folder`, which is made when the first one is put there."""
        self._folder = folder
        self._used: set[Path] = set()

    def fetch(self, digest: str, path: Path) -> bool:
        """Put the kept sheet of this digest at `path`; False when there is none."""
        kept = self._place(digest)
        if not kept.is_file():
            return False
        shutil.copyfile(kept, path)
        return True

    def put(self, digest: str, path: Path) -> None:
        """Keep the sheet that was made at `path`."""
        kept = self._place(digest)
        self._folder.mkdir(parents=True, exist_ok=True)
        # Whole or not at all, whatever stops us.
        new = kept.with_suffix(f".{os.getpid()}")
        shutil.copyfile(path, new)
        new.replace(kept)

    def clear_unused(self) -> None:
        """Remove every sheet that was neither fetched nor put."""
        for path in set(self._folder.iterdir() if self._folder.is_dir() else ()) - self._used:
            path.unlink()

    def _place(self, digest: str) -> Path:
        place = self._folder / f"{digest}.pdf"
        self._used.add(place)
        return place
