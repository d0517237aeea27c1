"""Where the files of a book come from: a folder, or a tree in git."""

import os
import subprocess
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path, PurePosixPath
from typing import Protocol

from tankside.memory import same_if_equal

#: the folders whose YAML files make the book
PARTS = ("procedures", "checklists")
PICTURES = "site_src/pictures"
MOST_BYTES = 1024 * 1024


@dataclass(frozen=True)
class File:
    """One file of a book."""

    #: path inside the book, with forward slashes
    path: str
    #: its bytes, at most one more than MOST_BYTES; empty when the link leaves the book
    data: bytes
    leaves_book: bool = False
    #: why the system would not let it be read; empty when it did
    refused: str = ""


class Source(Protocol):
    """Anything a book can be loaded from."""

    def files(self) -> Iterator[File]:
        """Return the files under PARTS, sorted by path."""

    def pictures(self) -> frozenset[str]:
        """Return the names of the files in PICTURES."""

    def picture_bytes(self, names: Collection[str]) -> Mapping[str, bytes]:
        """Return what the named pictures hold, at most one byte more than MOST_BYTES; without those not there."""


@dataclass(frozen=True)
class Folder:
    """A book in a folder on disk."""

    root: Path

    def files(self) -> Iterator[File]:
        """Return the files under PARTS, sorted by path."""
        for part in PARTS:
            yield from self._below(self.root / part)

    def pictures(self) -> frozenset[str]:
        """Return the names of the files in PICTURES that lie inside the book."""
        folder = self.root / PICTURES
        if not folder.is_dir():
            return frozenset()
        return frozenset(path.name for path in folder.iterdir() if path.is_file() and self._inside(path))

    def picture_bytes(self, names: Collection[str]) -> Mapping[str, bytes]:
        """Return what the named pictures hold, at most one byte more than MOST_BYTES; without those not there."""
        found = {name: self._file(self.root / PICTURES / name) for name in sorted(self.pictures() & set(names))}
        return {name: file.data for name, file in found.items()}

    def _below(self, folder: Path) -> Iterator[File]:
        if not folder.is_dir():
            return
        if not self._inside(folder):
            yield File(folder.relative_to(self.root).as_posix(), b"", leaves_book=True)
            return
        for path in sorted(folder.iterdir(), key=lambda each: each.name):
            if path.name.startswith("."):
                continue
            # A link to a folder may lead back to where it stands, round and round.
            if path.is_dir() and not path.is_symlink():
                yield from self._below(path)
            else:
                yield self._file(path)

    def _file(self, path: Path) -> File:
        name = os.fsencode(path.relative_to(self.root).as_posix()).decode("utf-8", "replace")
        if not path.is_file() or not self._inside(path):
            return File(name, b"", leaves_book=True)
        try:
            with path.open("rb") as stream:
                return File(name, stream.read(MOST_BYTES + 1))
        except OSError as error:
            return File(name, b"", refused=error.strerror or str(error))

    @cached_property
    def _real_root(self) -> str:
        return os.path.realpath(self.root)

    def _inside(self, path: Path) -> bool:
        real = os.path.realpath(path)
        return Path(real).exists() and (real == self._real_root or real.startswith(self._real_root + os.sep))


def picture_data(book: Path) -> Mapping[str, bytes]:
    """Return everything in the folder of pictures of a book, by its path there."""
    folder = book / PICTURES
    found = (path for path in sorted(folder.rglob("*")) if path.is_file())
    return same_if_equal("pictures", {path.relative_to(folder).as_posix(): path.read_bytes() for path in found})


@dataclass(frozen=True)
class GitTree:
    """A book as it stands in a commit; `root` is its folder inside a git checkout."""

    root: Path
    revision: str

    def files(self) -> Iterator[File]:
        """Return the files under PARTS, sorted by path."""
        listed = [entry for part in PARTS for entry in self._listed(part)]
        for (path, is_link, _), data in zip(listed, self._contents([name for _, _, name in listed]), strict=True):
            yield File(path, b"" if is_link else data[: MOST_BYTES + 1], leaves_book=is_link)

    def pictures(self) -> frozenset[str]:
        """Return the names of the files in PICTURES."""
        return frozenset(PurePosixPath(path).name for path, is_link, _ in self._listed(PICTURES) if not is_link)

    def picture_bytes(self, names: Collection[str]) -> Mapping[str, bytes]:
        """Return what the named pictures hold, at most one byte more than MOST_BYTES; without those not there."""
        if not names:
            return {}
        wanted = {f"{PICTURES}/{name}": name for name in names}
        listed = [
            (wanted[path], blob) for path, is_link, blob in self._listed(PICTURES) if path in wanted and not is_link
        ]
        data = self._contents([blob for _, blob in listed])
        return {name: each[: MOST_BYTES + 1] for (name, _), each in zip(listed, data, strict=True)}

    def _listed(self, part: str) -> list[tuple[str, bool, str]]:
        found = []
        for line in git(self.root, "ls-tree", "-r", "-z", self.revision, "--", f"{part}/").split(b"\0"):
            if line:
                about, _, path = line.partition(b"\t")
                mode, kind, name = about.decode("ascii").split()
                # Names that begin with a dot are no part of a book; what is no blob is another repository.
                if kind == "blob" and not _is_hidden(path):
                    found.append((path.decode("utf-8", "replace"), mode == "120000", name))
        return sorted(found)

    def _contents(self, names: list[str]) -> Iterator[bytes]:
        answer = git(self.root, "cat-file", "--batch", given="".join(f"{name}\n" for name in names).encode("ascii"))
        at = 0
        for _ in names:
            end = answer.index(b"\n", at)
            size = int(answer[at:end].split()[2])
            yield answer[end + 1 : end + 1 + size]
            at = end + 1 + size + 1


def _is_hidden(path: bytes) -> bool:
    return any(part.startswith(b".") for part in path.split(b"/"))


class GitUnavailableError(Exception):
    """Git is not installed, the folder is in no checkout, or it has no such revision."""


def git(folder: Path, *arguments: str, given: bytes = b"") -> bytes:
    """Return what `git` prints when run in `folder`.

    Raises:
        GitUnavailableError: git could not be run or answered with an error.
    """
    try:
        done = subprocess.run(["git", "-C", str(folder), *arguments], input=given, capture_output=True, check=True)
    except (OSError, subprocess.CalledProcessError) as error:
        raise GitUnavailableError(str(error)) from error
    return done.stdout
