"""What readers are told while the last good site stays, and how they hear that something changed."""

import threading
import time
from collections import deque
from dataclasses import dataclass

#: how long a page is kept waiting for news before it has to ask again
PATIENCE = 25.0
#: questions of one computer that may wait at a time: a browser has about six connections, and needs some for pages
MOST_WAITING = 3


@dataclass(frozen=True)
class Notice:
    """Why the site is not what the book says now."""

    title: str
    #: one for each problem, of one line or more
    lines: tuple[str, ...] = ()


class NoticeBoard:
    """What is to be shown now, and a version that changes with it."""

    def __init__(self, notice: Notice | None = None) -> None:
        """Begin with a notice; no version of an earlier run is the same, so that its pages reload."""
        self._changed = threading.Condition()
        self._run, self._count = time.time_ns(), 0
        self._notice = notice
        self._waiting: dict[str, deque[object]] = {}

    def read(self) -> tuple[str, Notice | None]:
        """Return the version and what is to be shown."""
        with self._changed:
            return self._version, self._notice

    @property
    def _version(self) -> str:
        return f"{self._run}-{self._count}"

    def settle(self, notice: Notice | None, *, is_published: bool) -> None:
        """Show a notice or none; pages hear of it when it differs or the site does."""
        with self._changed:
            if is_published or notice != self._notice:
                self._notice = notice
                self._count += 1
                self._changed.notify_all()

    def wait(self, version: str, who: str) -> bool:
        """Wait until the version is another one, and return whether it is."""
        asked = object()
        with self._changed:
            waiting = self._waiting.setdefault(who, deque())
            waiting.append(asked)
            if len(waiting) > MOST_WAITING:
                waiting.popleft()
                self._changed.notify_all()
            self._changed.wait_for(lambda: self._version != version or asked not in waiting, PATIENCE)
            if asked in waiting:
                waiting.remove(asked)
            return self._version != version
