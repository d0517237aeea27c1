"""One thread that builds again after each change."""

import threading
import traceback
from collections.abc import Callable, Mapping
from contextlib import suppress
from pathlib import Path

from tankside.memory import Memory
from tankside.publish.making import Outcome
from tankside.serving.notice import Notice, NoticeBoard
from tankside.serving.watching import asset_data
from tankside.texts import words

#: a file that is saved causes several events, a change of branch hundreds; seconds without one end it
QUIET = 0.1
STAYS = "The site stays as it was until this is mended."


class Rebuilder:
    """Builds whenever `changed` was called, and puts on the board what came of it."""

    def __init__(self, make: Callable[[], Outcome], board: NoticeBoard, say: Callable[[Outcome | str], None]) -> None:
        """Build with `make`, and tell the person at the terminal with `say`."""
        self._make = make
        self._board = board
        self._say = say
        self._event = threading.Event()
        self._memory = Memory()
        self._assets: Mapping[str, bytes] = {}

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
        try:
            outcome = self._remembering()
        except OSError as error:
            self._fail(f"The system refused: {error}.")
        except Exception as error:
            where = traceback.extract_tb(error.__traceback__)[-1]
            place = f"{Path(where.filename).name}:{where.lineno}"
            self._fail(f"This is a fault in tankside, not in your book: {type(error).__name__}: {error} ({place})")
        else:
            self._tell(outcome)
            self._board.settle(notice_of(outcome), is_published=outcome.site is not None)

    def _remembering(self) -> Outcome:
        assets = asset_data()
        if assets != self._assets:
            # To every function they are constants.
            words.cache_clear()
            self._memory.forget_all()
            self._assets = assets
        with self._memory.in_use():
            outcome = self._make()
        if outcome.site is not None:
            self._memory.forget_unasked()
        return outcome

    def _fail(self, sentence: str) -> None:
        self._tell(sentence)
        self._board.settle(Notice(f"Nothing was published. {STAYS}", (sentence,)), is_published=False)

    def _tell(self, what: Outcome | str) -> None:
        # Where nobody listens at the terminal any more, the pages still do.
        with suppress(OSError):
            self._say(what)


def notice_of(outcome: Outcome) -> Notice | None:
    """Return what a reader is told: nothing of a site that could be published as it is."""
    lines = tuple(each.as_text() for each in outcome.checkup.problems)
    if outcome.site is not None:
        return None if outcome.checkup.is_sound else Notice("Not to be printed or published like this.", lines)
    if outcome.failure:
        return Notice(f"Nothing was published. {STAYS}", (outcome.failure,))
    return Notice(f"The book has problems. {STAYS}", lines)
