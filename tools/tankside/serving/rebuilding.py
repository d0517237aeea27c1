"""One thread that builds again after each change."""

import threading
import traceback
from collections.abc import Callable
from pathlib import Path

from tankside.publish.making import Outcome
from tankside.serving.notice import Notice, NoticeBoard
from tankside.texts import words

#: a file that is saved causes several events, a change of branch hundreds; seconds without one end it
QUIET = 0.2
STAYS = "The last good site is shown until this is mended."


class Rebuilder:
    """Builds whenever `changed` was called, and puts on the board what came of it."""

    def __init__(self, make: Callable[[], Outcome], board: NoticeBoard, say: Callable[[Outcome | str], None]) -> None:
        """Build with `make`, and tell the person at the terminal with `say`."""
        self._make = make
        self._board = board
        self._say = say
        self._event = threading.Event()

    def changed(self) -> None:
        """Ask for a build."""
        self._event.set()

    def start(self) -> None:
        """Build once now, and then after each change."""
        self._event.set()
        # It dies with the server; whatever a build was doing, a whole site is left.
        threading.Thread(target=self._run, daemon=True, name="rebuild").start()

    def _run(self) -> None:
        while True:
            self._event.wait()
            while self._event.is_set():
                self._event.clear()
                self._event.wait(QUIET)
            self.build()

    def build(self) -> None:
        """Build, and show what came of it; the server goes on whatever happens."""
        words.cache_clear()
        try:
            outcome = self._make()
        except OSError as error:
            self._fail(f"The system refused: {error}.")
        except Exception as error:
            where = traceback.extract_tb(error.__traceback__)[-1]
            place = f"{Path(where.filename).name}:{where.lineno}"
            self._fail(f"This is a fault in tankside, not in your book: {type(error).__name__}: {error} ({place})")
        else:
            self._say(outcome)
            self._board.settle(notice_of(outcome), is_published=outcome.site is not None)

    def _fail(self, sentence: str) -> None:
        self._say(sentence)
        self._board.settle(Notice(f"Nothing was published. {STAYS}", (sentence,)), is_published=False)


def notice_of(outcome: Outcome) -> Notice | None:
    """Return what a reader is told: nothing when a site was published."""
    if outcome.site is not None:
        return None
    if outcome.failure:
        return Notice(f"Nothing was published. {STAYS}", (outcome.failure,))
    return Notice(f"The book has problems. {STAYS}", tuple(each.as_text() for each in outcome.checkup.problems))
