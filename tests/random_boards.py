"""Random working copies of several editions at once, and what Python and the page make of them, as JSON."""

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict
from datetime import timedelta
from random import Random
from typing import Any

from playwright.sync_api import Page
from random_copies import acted
from straight_copies import MORNING

from tankside.plant.portable import portable_state, read_state
from tankside.plant.state import State
from tankside.records.board import Board, board
from tankside.records.board_start import Locks, contradictions
from tankside.records.copy import Copy
from tankside.records.deeds import Reference
from tankside.records.folding import folded
from tankside.records.part_effects import asked
from tankside.records.script import Script

#: copies at once, actions on each of them
COPIES, ACTIONS = 4, 260

#: what the page makes of records: the board, and what is against the start of another edition
ANSWER = """(sent) => {
  const { editions, rest, locks, records, next } = JSON.parse(sent);
  const scripts = Object.fromEntries(Object.entries(editions).map(
    ([name, edition]) => [name, tankside.copyScript.script(edition)]));
  const copies = records.map(({ edition, events }) => events.reduce(
    (copy, event) => tankside.copyFold.fold(copy, event), tankside.copyState.newCopy(scripts[edition])));
  const board = tankside.board.board(rest, copies);
  const starts = next.map((name) => tankside.boardStart.contradictions(board, scripts[name], copies, locks));
  return JSON.stringify({ ...board, starts });
}"""


def portable_board(found: Board) -> Any:
    """Return a board as the page writes it."""
    return {
        "state": portable_state(found.state),
        "since": {tag: {name: asdict(each) for name, each in said.items()} for tag, said in found.since.items()},
        "unsure": {tag: asdict(each) for tag, each in found.unsure.items()},
    }


def read_board(written: Any) -> Board:
    """Return the board that `portable_board` wrote."""
    return Board(
        read_state(written["state"]),
        {tag: {name: Reference(**each) for name, each in said.items()} for tag, said in written["since"].items()},
        {tag: Reference(**each) for tag, each in written["unsure"].items()},
    )


class Compared:
    """Compares Python with a page on the editions of one book."""

    def __init__(self, page: Page, editions: Mapping[str, Any], rest: State, locks: Locks) -> None:
        """Take a page of `evaluator_page`; `editions` are those that can be carried out, by id."""
        self.page, self.editions, self.rest, self.locks = page, editions, rest, locks

    def differences(self, seeds: Sequence[int]) -> Iterator[str]:
        """Return where the page answers otherwise than Python does."""
        for seed in seeds:
            chance = Random(seed)
            names = [chance.choice(sorted(self.editions)) for _ in range(COPIES)]
            records = [
                {"edition": name, "events": random_events(self.editions[name], chance, f"{at:016x}")}
                for at, name in enumerate(names)
            ]
            following = chance.sample(sorted(self.editions), 6)
            yield from self._differing(seed, records, following)

    def _differing(self, seed: int, records: list[Any], following: list[str]) -> Iterator[str]:
        copies = [folded(self.editions[each["edition"]], each["events"]) for each in records]
        ours = self.expected(copies, following)
        sent = {
            "editions": self.editions,
            "rest": portable_state(self.rest),
            "locks": self.locks,
            "records": records,
            "next": following,
        }
        theirs = json.loads(self.page.evaluate(ANSWER, json.dumps(sent)))
        for key in ours:
            if ours[key] != theirs[key]:
                yield f"seed {seed}, {key}: {_first(ours[key], theirs[key])}"

    def expected(self, copies: Sequence[Copy], following: Sequence[str]) -> Any:
        """Return what Python makes of copies."""
        found = board(self.rest, copies)
        starts = [contradictions(found, Script(self.editions[each]), copies, self.locks) for each in following]
        return {**portable_board(found), "starts": [[asdict(each) for each in reasons] for reasons in starts]}


def random_events(edition: Any, chance: Random, name: str) -> list[Any]:
    """Return events that were not refused: of a copy of its own name, begun some time in the same half day."""
    carrying, _ = acted(edition, chance.randrange(10**6), ACTIONS)
    later = timedelta(minutes=chance.randrange(600))
    confirmed = [each for _, each in asked(carrying.copy.script) if chance.random() < 0.7]
    events = [{**event, "copy": name} for event in carrying.copy.events]
    for event in events:
        clock = timedelta(milliseconds=event["clock"])
        # Another offset is the same instant; now and then a clock is set back.
        zone = chance.choice(("+00:00", "+01:00", "-05:00"))
        back = timedelta(minutes=30) if chance.random() < 0.02 else timedelta()
        event["at"] = _in_zone(MORNING + later + clock - back, zone)
    if events:
        events[0]["confirmed"] = confirmed
    return events


def _in_zone(at: Any, zone: str) -> str:
    hours = int(zone[:3])
    return f"{(at + timedelta(hours=hours)).replace(tzinfo=None).isoformat(timespec='milliseconds')}{zone}"


def _first(ours: Any, theirs: Any) -> str:
    """Return the first place where two values differ."""
    if isinstance(ours, dict) and isinstance(theirs, dict):
        for key in [*ours, *(each for each in theirs if each not in ours)]:
            if ours.get(key) != theirs.get(key):
                return f"{key} / {_first(ours.get(key), theirs.get(key))}"
    return f"python {ours}, page {theirs}"
