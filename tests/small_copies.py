"""Small books in memory whose procedures and checklists are carried out: every kind of step, and every way on."""

import json
from functools import cache
from typing import Any

from tiny_plants import CHECKLIST_HEAD, CHECKLIST_TAIL, MATERIALS, PIECES, PRODUCTS, ROLES, Pages, procedure, tiny_pages

from tankside.catalogue import load
from tankside.compute.amounts import WorkedBook
from tankside.edition import Audience, checklist_edition, procedure_edition

#: what acid is weighed with and taken from
SCALE_AND_DRUM = """\
scale:
  kind: scale
  name: Scale
  graduation: 0.05 kg
  range:
    from: 0.5 kg
    to: 100 kg
acid-drum:
  kind: drum
  name: Drum of acid
  holds: [acid]
  capacity: 60 L
"""
MORE_PIECES = f"""\
T1:
  kind: instrument
  name: Thermometer
{SCALE_AND_DRUM}P1-switch:
  kind: isolation-point
  name: Switch of the pump
  connects: [P1]
"""
LIMITS = """\
    limits:
      temperature:
        from: 5 degC
        to: 25 degC
      hot:
        from: 60 degC
"""
LABELLED = """\
    labels:
      1 L: LM-1
      5 L: LM-5
"""
#: the amount of acid for a batch of 40 to 80 L: 1 part of 10 by mass, 1 kg/L, so 4 to 8 kg, each 0.1 kg off at most
INPUTS_AND_ACID = """\
inputs:
  batch:
    asks: How much is made?
    from: 40 L
    to: 80 L
    usual: 60 L
    table: [40 L, 60 L, 80 L]
amounts:
  acid:
    title: Acid
    calculate: scale-recipe
    with:
      product: lemonade
      make: batch
    result: acid.mass
    measure_in: scale
    tolerance: 0.1 kg"""
AMOUNTS = f"""\
{INPUTS_AND_ACID}
  water:
    title: Water
    calculate: scale-recipe
    with:
      product: lemonade
      make: batch
    result: water.mass
    measure_in: scale
    tolerance: 5 kg"""
#: every kind of step; ways to sections, to another procedure and back; a repeat within a choice within a repeat
EVERYTHING = """\
- record: The time
- check: All is ready.
  step: look
  if_not: not-ready
- lock: P1-switch
- unlock: P1-switch
  second_person: yes
- open: V1
- add: water
  to: tank
  amount: <water>
  from: tap
- shut: V1
- add: acid
  to: tank
  amount: <acid>
  from: acid-drum
  second_person: yes
- wait: 10 min
  for: the acid to mix
  if_late: Nothing is harmed.
- measure: Temperature of the tank
  step: read-tank
  instrument: T1
  limits: water.temperature
  if_outside: cool
- measure: Temperature of the wash
  step: read-wash
  instrument: T1
  limits: water.hot
  if_outside: elsewhere
  second_person: yes
- hold: The tank is ready.
  step: release-tank
  released_by: lead
- section: bottling
  title: Bottling
- choose: What is it for?
  step: what-for
  branches:
    - if: A trial
      go_to: closing
    - if: Something else
      go_to: elsewhere
    - if: Bottles
      steps:
        - repeat: Rinse the line
          step: rinse
          until: it runs clear
          at_most: 2
          if_not: elsewhere
          steps:
            - start: P1
            - repeat: Tap the line
              step: tap-line
              until: no bubbles are left
              at_most: 2
              steps:
                - do: Tap it.
                  step: tap-once
            - stop: P1
- labels: lemonade
  counted: out
  step: labels-out
- check: The first bottle is right.
  step: first-bottle
  if_not: elsewhere
  second_person: yes
- move: water
  path: [tank, V2, P1, line, V3, N1, drum]
  until: it is enough
- labels: lemonade
  counted: in
  step: labels-in
- section: closing
  title: Closing
- notify: lead
  about: it is done
- hold: Everything is shut.
  step: release-all
  released_by: other
  second_person: yes
- section: not-ready
  title: It is not ready
  entered: when sent here
- do: Make it ready.
  step: make-ready
- check: It is ready now.
  step: look-again
  if_not: elsewhere
- section: cool
  title: It is too warm
  entered: when sent here
- wait: 30 min
  step: wait-to-cool
  for: it to cool
  if_late: Nothing is harmed.
"""
ELSEWHERE = """\
- do: Stand aside.
  step: stand
"""
#: work that is known by heart; a section into which one is only sent; what nobody may be ahead of
BY_HEART = """\
- do: Put the goggles on.
  step: goggles
- section: valves
  title: Valves
- open: V1
- check: The drum is free.
  step: drum-free
  if_not: free-it
- open: V2
  second_person: yes
- check: The floor is dry.
  step: floor-dry
- check: The pail is there.
  step: pail-there
  if_not: elsewhere
- measure: Temperature of the tank
  step: read-tank
  instrument: T1
  limits: water.temperature
  if_outside: elsewhere
- shut: V2
- shut: V1
- section: end
  title: The end
- record: The time
- do: Lock the gate.
  step: gate
  second_person: yes
- hold: All is shut.
  step: release
  released_by: lead
- do: Go home.
  step: home
- section: free-it
  title: The drum is not free
  entered: when sent here
- do: Roll it away.
  step: roll
- check: It stands on the pallet.
  step: on-pallet
  if_not: call
- section: call
  title: It does not stand
  entered: when sent here
- notify: lead
  about: the drum
"""
#: what one person alone may do
ALONE = """\
- choose: Is it clean?
  step: is-clean
  second_person: yes
  branches:
    - if: yes
      go_to: after
    - if: no
      steps:
        - do: Clean it.
          step: clean
- wait: 2 min
  for: it to dry
  if_late: Nothing is harmed.
  second_person: yes
- section: after
  title: After
- repeat: Look at it
  step: look-at-it
  until: it is dry
  at_most: 3
  second_person: yes
  steps:
    - check: It is dry.
      step: dry
      second_person: yes
- record: What it looks like
  step: looks
- choose: Once more?
  step: once-more
  branches:
    - if: Once more
      go_to: after
    - if: No
      steps:
        - do: Put it away.
          step: put-away
"""


#: what is entered, looked at by two and released, and little else
GATES = """\
- add: acid
  to: tank
  amount: <acid>
  from: acid-drum
- add: acid
  step: add-more-acid
  to: tank
  amount: <acid>
  second_person: yes
- measure: Temperature of the tank
  step: read-tank
  instrument: T1
  limits: water.temperature
  if_outside: elsewhere
- measure: Temperature of the wash
  step: read-wash
  instrument: T1
  limits: water.hot
  if_outside: elsewhere
  second_person: yes
- labels: lemonade
  counted: out
  step: labels-out
- do: Stick them on.
  step: stick-on
- labels: lemonade
  counted: in
  step: labels-in
- hold: All is there.
  step: release
  released_by: lead
  second_person: yes
- do: Clear the bench.
  step: clear
- hold: The bench is clear.
  step: release-bench
  released_by: other
"""
#: what is followed in one go: a procedure, a section into which one is otherwise only sent, and another procedure
PARTS = (("alone", ""), ("by-heart", "free-it"), ("by-heart", ""))


def replaced(part: tuple[str, str], old: str, new: str) -> tuple[str, str]:
    path, text = part
    assert text.count(old) == 1
    return path, text.replace(old, new)


def _checklist(name: str, *lines: str) -> tuple[str, str]:
    items = "".join(
        f"  - procedure: {procedure}\n" + (f"    section: {section}\n" if section else "")
        for procedure, section in PARTS
    )
    more = "".join(f"{line}\n" for line in lines)
    return f"checklists/{name}.yaml", f"checklist: {name}\n{CHECKLIST_HEAD}{more}items:\n{items}{CHECKLIST_TAIL}"


def small_pages() -> Pages:
    labels = "    bottles: [1 L]\n"
    by_heart = "followed: do then check"
    pages = tiny_pages(
        replaced(procedure("everything", EVERYTHING, AMOUNTS), "not needed", "in the room"),
        replaced(procedure("gates", GATES, INPUTS_AND_ACID), "not needed", "in the room"),
        procedure("elsewhere", ELSEWHERE),
        procedure("by-heart", BY_HEART, by_heart),
        procedure("alone", ALONE),
        _checklist("one-by-one"),
        _checklist("in-one-go", by_heart),
        pieces=PIECES + MORE_PIECES,
        materials=replaced(("", MATERIALS), "    groups: [waters]\n", f"    groups: [waters]\n{LIMITS}")[1],
    )
    more = {
        "procedures/plant/products.yaml": replaced(("", PRODUCTS), labels, f"    bottles: [1 L, 5 L]\n{LABELLED}")[1],
        "procedures/plant/roles.yaml": f"{ROLES}  other:\n    name: Other\n    does: Looks.\n",
    }
    return Pages({**pages.texts, **more})


@cache
def small_editions() -> dict[str, Any]:
    """Return the editions of the small book, by their ids, as they are read from a file."""
    loaded = load(small_pages())
    assert [each.as_text() for each in loaded.problems if each.code not in ("name-unused", "section-long")] == []
    assert loaded.book is not None
    worked = WorkedBook(loaded.book)
    found = [problem for each in loaded.book.procedures.values() for problem in worked.of(each)[1]]
    assert [each.as_text() for each in found] == []
    procedures = (procedure_edition(worked, each, Audience.FLOOR, "en") for each in loaded.book.procedures.values())
    checklists = (checklist_edition(worked, each, Audience.FLOOR, "en") for each in loaded.book.checklists.values())
    return {each.id: json.loads(each.canonical) for each in (*procedures, *checklists)}
