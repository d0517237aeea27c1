"""The golden cases of working copies in tests/both: how the short events and editions in them are written out."""

import json
from pathlib import Path
from typing import Any

from tankside.records.chain import chained
from tankside.records.copy import Copy
from tankside.records.folding import fold
from tankside.records.refusing import refusal
from tankside.records.script import Script

FILE = Path(__file__).parent / "both" / "copies.json"
EMPTY = ("labels", "equipment", "amounts", "limits")

#: what the page makes of a case
ANSWER = """({edition, events}) => {
  const copy = tankside.copyState.newCopy(tankside.copyScript.script(edition));
  const refused = [];
  for (const proposed of events) {
    const event = tankside.chain.chained(proposed, copy.events[copy.events.length - 1] || null);
    const code = tankside.copyRefusal.refusal(copy, event);
    refused.push(code);
    if (code === '') tankside.copyFold.fold(copy, event);
  }
  return {
    refused,
    steps: copy.trail.map(({ name, kind, state }) => `${name || kind} ${state}`),
    due: copy.trail.filter(tankside.copyState.isOpen).map(({ name, kind }) => name || kind),
  };
}"""


def copy_cases() -> list[Any]:
    """Return each case with its whole edition, its whole events, and what is expected."""
    file = json.loads(FILE.read_text(encoding="utf-8"))
    editions = {name: _edition(file, name) for name in file["editions"]}
    return [
        {
            "name": case["name"],
            "edition": editions[case["edition"]],
            "events": [_event(file, seq, *event) for seq, event in enumerate(case["events"])],
            "expected": {
                "refused": [*[""] * (len(case["events"]) - 1), case["refused"]],
                "steps": case["steps"],
                "due": case["due"],
            },
        }
        for case in file["cases"]
    ]


def answer(case: Any) -> Any:
    """Return what Python makes of a case."""
    copy, refused = Copy(Script(case["edition"])), []
    for proposed in case["events"]:
        event = chained(proposed, copy.events[-1] if copy.events else None)
        refused.append(refusal(copy, event))
        if not refused[-1]:
            fold(copy, event)
    return {
        "refused": refused,
        "steps": [f"{each.name or each.kind} {each.state}" for each in copy.trail],
        "due": [each.name or each.kind for each in copy.open_visits],
    }


def _edition(file: Any, name: str) -> Any:
    short = file["editions"][name]
    if "parts" in short:
        inner = ((_edition(file, each), section) for each, section in short["parts"])
        parts = [
            {"edition": each, "program": each["program"], **({"section": section} if section else {})}
            for each, section in inner
        ]
        return {"written": {"checklist": name, **file["head"]}, "parts": parts}
    written = {key: value for key, value in short.items() if key not in (*EMPTY, "program")}
    rest = {key: short.get(key, {}) for key in EMPTY}
    return {"written": {"procedure": name, **file["head"], **written}, "program": short["program"], **rest}


def _event(file: Any, seq: int, kind: str, who: str, own: Any) -> Any:
    at = f"2026-12-01T08:{seq:02}:00.000+00:00"
    moment = {"at": at, "clock": seq * 60_000, "session": "s1", "edition": "", "copy": "", "device": "", "build": ""}
    start = {}
    if kind == "start":
        present = own.get("people", list(file["people"]))
        people = [{"who": each, "role": file["people"][each]} for each in present]
        start, own = file["start"], {**own, "people": people}
    return {**moment, "kind": kind, "who": who, "role": file["people"].get(who, ""), **start, **own}
