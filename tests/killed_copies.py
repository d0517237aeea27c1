"""Working copies in a browser that is killed again and again; what its screen showed is held against its store."""

from collections import Counter
from collections.abc import Sequence
from pathlib import Path
from random import Random
from time import monotonic

from carried_copies import Carried
from copies_in_browser import BOOK, page_data
from killed_browser import KilledBrowser
from legal_actions import Action, legal_action
from seen_copies import Event, Painted, assert_is_shown, assert_nothing_is_lost, events_of, wrong_rows
from watched_page import ACT, OPENED, PAINTED, STORED, TAKEN, WATCH

from tankside.records.copy import Copy
from tankside.records.folding import folded

#: a procedure in which something is added, measured, repeated, waited for, chosen and released
PROCEDURE = "blend-milk-line-cleaner"
#: at what a kill is aimed: as soon as something is asked, once it begins to be written, once something is painted
MOMENTS = ("asked", "begun", "painted")
#: so soon after something was painted [s]
SOON = 0.003
ENDS = ("finish", "abandon")


class KilledCopy:
    """The device of somebody who carries out one working copy after the other while the browser is killed."""

    def __init__(self, command: Sequence[str | Path], site: Path, profile: Path, seed: int) -> None:
        """Begin with an empty profile."""
        self.command, self.profile, self.chance = command, profile, Random(seed)
        self.address = (site / "copies" / f"{PROCEDURE}.html").as_uri()
        self.edition = page_data(site, PROCEDURE)["edition"]
        #: its last run
        self.browser: KilledBrowser | None = None
        #: all events that were seen in the store, by their copy
        self.known: dict[str, list[Event]] = {}
        #: what was asked for last, what was told before, and what the screen showed since then
        self.asked: Action | None = None
        self.told = ""
        self.seen: list[Painted] = []
        #: how long it takes about until something is painted [s]
        self.took = 0.1
        self.outcomes: Counter[str] = Counter()
        self.kinds: Counter[str] = Counter()

    @property
    def copy(self) -> str:
        """The working copy that is at work, empty when there is none."""
        at_work = [copy for copy, events in self.known.items() if not any(each["kind"] in ENDS for each in events)]
        return at_work[0] if at_work else ""

    def state(self, copy: str) -> Copy:
        """Return how a working copy stands by all that was seen in the store."""
        return folded(self.edition, self.known.get(copy, []))

    def __enter__(self) -> "KilledCopy":
        return self

    def __exit__(self, *_: object) -> None:
        """Leave no browser behind."""
        if self.browser is not None:
            self.browser.kill()

    def kill_once(self, moment: str = "") -> None:
        """Open it, look whether all is there, do one more thing, and kill it meanwhile."""
        browser = self.opened()
        self.go_on(browser)
        self.asked = legal_action(Carried(self.state(self.copy), self.chance))
        browser.set_off(ACT, self.asked)
        self.wait(browser, moment or self.chance.choice(MOMENTS))
        # While it dies its parts may miss each other, and a page may say so.
        assert False not in browser.reported("answered"), self.asked
        assert browser.complaints == [], browser.complaints
        browser.kill()
        self.seen = browser.reported("painted")

    def opened(self) -> KilledBrowser:
        """Open the browser at the working copy that is at work, and hold what it paints against what it has kept."""
        while True:
            copy, browser = self.copy, KilledBrowser(self.command, self.profile, WATCH)
            self.browser = browser
            browser.go_to(f"{self.address}#{copy}" if copy else self.address)
            browser.evaluate(OPENED)
            self.look(browser, copy)
            if copy == self.copy:
                return browser
            browser.kill()

    def look(self, browser: KilledBrowser, copy: str) -> None:
        """Look at what was kept of what was asked for, and at what is painted now."""
        before, painted = self.known.get(copy, []), browser.evaluate(PAINTED)
        self.take_note(browser)
        after = self.known.get(copy or self.copy, [])
        if self.asked is not None:
            self.judge(before, after)
        if copy:
            assert_is_shown(painted, self.state(copy))

    def take_note(self, browser: KilledBrowser) -> None:
        """Read what the store holds: nothing of it may be lost."""
        found = events_of(browser.evaluate(STORED, f"tankside-{BOOK}"))
        assert_nothing_is_lost(self.known, found)
        self.known = found

    def judge(self, before: list[Event], after: list[Event]) -> None:
        """Hold what the screen showed before the kill against what was kept."""
        assert self.asked is not None
        kind, own = self.asked
        new = after[len(before) :]
        is_kept = [(each["kind"], own.items() <= each.items()) for each in new] == [(kind, True)]
        assert is_kept or new == []
        states = [folded(self.edition, each) for each in (before, after)]
        for painted in self.seen:
            assert [] in [wrong_rows(painted, each) for each in states], self.asked
        is_seen = any(self.is_new(painted, len(before)) for painted in self.seen)
        assert is_kept or not is_seen, self.asked
        self.outcomes[f"{'kept' if is_kept else 'not kept'}, {'seen' if is_seen else 'not seen'}"] += 1
        self.kinds[kind] += 1
        self.asked = None

    def is_new(self, painted: Painted, count: int) -> bool:
        """Return whether the screen showed more than the so many events that there were."""
        if count == 0:
            return bool(painted["isBegun"])
        return painted["told"] not in ("", self.told) or any(int(seq) >= count for seq in painted["events"])

    def go_on(self, browser: KilledBrowser) -> None:
        """Take the work to this page, as somebody does who was interrupted."""
        if self.copy:
            browser.evaluate(TAKEN)
            self.take_note(browser)
        self.told = browser.evaluate(PAINTED)["told"]
        browser.reports.clear()

    def wait(self, browser: KilledBrowser, moment: str) -> None:
        """Wait for the moment at which it is killed."""
        since = monotonic()
        if moment != "asked":
            browser.wait_for(moment)
        if moment == "painted":
            self.took = (self.took + monotonic() - since) / 2
        browser.listen(self.chance.uniform(0, SOON if moment == "painted" else self.took))
