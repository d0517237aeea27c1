"""Sees every change of what a site is made from."""

import threading
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from watchdog.events import FileSystemEvent, FileSystemEventHandler
from watchdog.observers import Observer
from watchdog.observers.api import ObservedWatch

from tankside.loading.sources import PARTS
from tankside.publish.building import SITE_SOURCE
from tankside.render_site.theme import CONFIG

_PACKAGE = Path(__file__).resolve().parent.parent
#: opening and closing a file to read it are events, too
_CHANGES = {"created", "modified", "moved", "deleted"}


@dataclass(frozen=True)
class Inputs:
    """A folder, and what in it is watched: files, and folders with all that is in them."""

    folder: Path
    names: frozenset[str]


def inputs_of(book: Path) -> tuple[Inputs, ...]:
    """Return everything that the site of a book is made from and that its author may be writing."""
    own = Inputs(book.resolve(), frozenset((*PARTS, SITE_SOURCE, CONFIG)))
    return (own, *package_inputs(_PACKAGE))


def package_inputs(package: Path) -> tuple[Inputs, ...]:
    """Return what is watched of a package: nothing where it is installed, for nobody writes there."""
    if not (package.parent.parent / "pyproject.toml").is_file():
        return ()
    return (Inputs(package, frozenset(("assets", "texts.json"))),)


def asset_data() -> Mapping[str, bytes]:
    """Return the files of the package that are watched, by path."""
    found = (_PACKAGE / "texts.json", *sorted((_PACKAGE / "assets").rglob("*")))
    return {str(path): path.read_bytes() for path in found if path.is_file()}


class Watcher:
    """Calls `changed` at every change, from a thread of its own."""

    def __init__(self, inputs: Iterable[Inputs], changed: Callable[[], None]) -> None:
        """Watch from `start` on."""
        self._inputs = tuple(inputs)
        self._changed = changed
        self._observer = Observer()
        self._lock = threading.Lock()
        #: path of a folder -> what told it from another of this name, and its watch
        self._folders: dict[Path, tuple[int, ObservedWatch]] = {}

    def start(self) -> None:
        """Begin.

        Raises:
            OSError: the system allows no more watching.
        """
        for each in self._inputs:
            self._observer.schedule(_Handler(self._changed, each), str(each.folder))
        self.refresh()
        self._observer.start()

    def refresh(self) -> None:
        """Watch folders that are new; one that was taken away and made again is another folder to the system."""
        with self._lock:
            there = dict(self._there())
            for path, (number, watch) in list(self._folders.items()):
                if there.get(path) != number:
                    self._observer.unschedule(watch)
                    del self._folders[path]
            for path in there.keys() - self._folders.keys():
                watch = self._observer.schedule(_Handler(self._changed), str(path), recursive=True)
                self._folders[path] = there[path], watch

    def _there(self) -> Iterator[tuple[Path, int]]:
        for each in self._inputs:
            for path in (each.folder / name for name in sorted(each.names)):
                if path.is_dir():
                    yield path, path.stat().st_ino

    def stop(self) -> None:
        """End."""
        self._observer.stop()
        self._observer.join()


class _Handler(FileSystemEventHandler):
    def __init__(self, changed: Callable[[], None], inputs: Inputs | None = None) -> None:
        self._changed = changed
        self._inputs = inputs

    def on_any_event(self, event: FileSystemEvent) -> None:
        paths = [Path(str(path)) for path in (event.src_path, event.dest_path) if path]
        if event.event_type in _CHANGES and any(map(self._is_input, paths)):
            self._changed()

    def _is_input(self, path: Path) -> bool:
        if self._inputs is None:
            # Files that editors keep for themselves.
            return not path.name.startswith(".")
        return path.parent == self._inputs.folder and path.name in self._inputs.names
