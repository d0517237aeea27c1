"""The golden cases of the board in tests/both: their short events written out, and boards written short."""

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from tankside.plant.portable import portable_state, read_state
from tankside.records.board import Board, board
from tankside.records.board_start import contradictions
from tankside.records.copy import Copy
from tankside.records.deeds import Reference
from tankside.records.folding import folded
from tankside.records.script import Script

FOLDER = Path(__file__).parent / "both"
#: what a start says that says nothing else
START = {"people": [{"who": "AB", "role": "op"}, {"who": "CD", "role": "op"}], "inputs": {"empty": {"batch": "50 L"}}}

#: the same in the page: what it makes of a case
ANSWER = """([kind, shared, each]) => {
  const { canonical } = tankside.chain;
  const START = STARTING;
  const copyOf = ({ copy, edition, events }) => events.reduce((state, event, seq) => tankside.copyFold.fold(state, {
    who: 'AB', role: 'op', lot: 'L-7', at: `2026-12-01T08:${String(seq).padStart(2, '0')}:00.000+00:00`,
    ...(seq === 0 ? START : {}), ...event, seq, copy,
  }), tankside.copyState.newCopy(tankside.copyScript.script(shared.editions[edition])));
  const short = ({ copy, seq }) => `${copy} ${seq}`;
  const shortened = (table, make) => Object.fromEntries(
    Object.entries(table).map(([key, value]) => [key, make(value)]));
  const copies = each.copies.map(copyOf);
  const known = (text) => {
    const [copy, seq] = text.split(' ');
    return { copy, seq: Number(seq), at: '', lot: '', id: '', step: '' };
  };
  if (kind === 'starts') {
    const { board: { pieces, since, unsure }, start } = each;
    const board = {
      state: { pieces: { ...shared.rest.pieces, ...pieces }, worn: [] },
      since: shortened(since, (fields) => shortened(fields, known)),
      unsure: shortened(unsure, known),
    };
    const script = tankside.copyScript.script(shared.editions[start]);
    return tankside.boardStart.contradictions(board, script, copies, shared.locks)
      .map(({ code, tag, field, reference, condition }) => [code, tag, field, short(reference), condition]);
  }
  const board = tankside.board.board(shared.rest, copies);
  const { pieces, worn } = board.state;
  const isOther = ([tag, piece]) => canonical(piece) !== canonical(shared.rest.pieces[tag] || {});
  if (worn.length > 0) return 'something is worn';
  return {
    pieces: Object.fromEntries(Object.entries(pieces).filter(isOther)),
    since: shortened(board.since, (fields) => shortened(fields, short)),
    unsure: shortened(board.unsure, short),
  };
}""".replace("STARTING", json.dumps(START))


def cases(name: str) -> tuple[Any, list[Any]]:
    """Return what the cases of a file share, and the cases."""
    found = json.loads((FOLDER / f"{name}.json").read_text(encoding="utf-8"))
    shared = found["shared"]
    if name != "boards":
        base = cases("boards")[0]
        shared = {**base, **shared, "editions": {**base["editions"], **shared["editions"]}}
    editions = shared["editions"]
    for edition in editions.values():
        if "edition" not in edition.get("parts", [{"edition": ""}])[0]:
            edition["parts"] = [_part(editions, each["procedure"]) for each in edition["parts"]]
    return shared, found["cases"]


def _part(editions: Mapping[str, Any], name: str) -> Any:
    return {"procedure": name, "edition": editions[name], "program": editions[name]["program"]}


def copy_of(shared: Any, written: Any) -> Copy:
    """Return the working copy of a case, its events written out."""
    events = [
        {
            "who": "AB",
            "role": "op",
            "lot": "L-7",
            "at": f"2026-12-01T08:{seq:02}:00.000+00:00",
            **(START if seq == 0 else {}),
            **event,
            "seq": seq,
            "copy": written["copy"],
        }
        for seq, event in enumerate(written["events"])
    ]
    return folded(shared["editions"][written["edition"]], events)


def board_of(shared: Any, case: Any) -> tuple[Board, list[Copy]]:
    """Return the board of a case, and the copies that it is made of."""
    copies = [copy_of(shared, each) for each in case["copies"]]
    return board(read_state(shared["rest"]), copies), copies


def shortened(found: Board, rest: Any) -> Any:
    """Return a board as the cases write it."""
    state = portable_state(found.state)
    assert state["worn"] == []
    pieces = {tag: each for tag, each in state["pieces"].items() if each != rest["pieces"].get(tag, {})}
    since = {tag: {name: short(each) for name, each in said.items()} for tag, said in found.since.items()}
    return {"pieces": pieces, "since": since, "unsure": {tag: short(each) for tag, each in found.unsure.items()}}


def started(shared: Any, case: Any) -> list[list[str]]:
    """Return what is against the start of a case, as the cases write it."""
    given = case["board"]
    found = Board(
        read_state({"pieces": {**shared["rest"]["pieces"], **given["pieces"]}, "worn": []}),
        {tag: {name: _known(each) for name, each in said.items()} for tag, said in given["since"].items()},
        {tag: _known(each) for tag, each in given["unsure"].items()},
    )
    copies = [copy_of(shared, each) for each in case["copies"]]
    reasons = contradictions(found, Script(shared["editions"][case["start"]]), copies, shared["locks"])
    return [[each.code, each.tag, each.field, short(each.reference), each.condition] for each in reasons]


def _known(written: str) -> Reference:
    copy, seq = written.split()
    return Reference(copy, int(seq), "", "", "", "")


def short(reference: Reference) -> str:
    """Return the copy and the number of an event."""
    return f"{reference.copy} {reference.seq}"
