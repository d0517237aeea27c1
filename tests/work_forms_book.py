"""A small book for the forms of a working copy: something is added, measured, labelled, waited for."""

from small_copies import AMOUNTS, LABELLED, SCALE_AND_DRUM, replaced
from tiny_plants import MATERIALS, PIECES, PRODUCTS, ROLES, Pages, procedure, tiny_pages

MORE_ROLES = """\
  line-operator:
    name: Line operator
    does: Works.
  second-person:
    name: Second person
    does: Looks.
  anyone:
    name: Anyone
    does: Acts in an emergency.
"""
MORE_PIECES = """\
T1:
  kind: instrument
  name: Thermometer
  calibration_due: 2027-01-31
T2:
  kind: instrument
  name: Old thermometer
  calibration_due: 2026-11-30
"""
LIMITS = """\
    limits:
      temperature:
        from: 5 degC
        to: 25 degC
"""
ADDING = """\
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
- do: Wipe the funnel.
  step: wipe
"""
MEASURING = """\
- measure: Temperature of the tank
  step: read-tank
  instrument: T1
  limits: water.temperature
  if_outside: cool
- measure: Temperature of the tank once more
  step: read-again
  instrument: T1
  limits: water.temperature
  if_outside: cool
  second_person: yes
- measure: Temperature with the old one
  step: read-old
  instrument: T2
  limits: water.temperature
  if_outside: cool
- section: cool
  title: It is too warm
  entered: when sent here
- do: Let it cool.
  step: let-it-cool
"""
LABELLING = """\
- labels: lemonade
  counted: out
  step: labels-out
- labels: lemonade
  counted: in
  step: labels-in
- do: Lock the drawer.
  step: drawer
"""
WAITING = """\
- wait: 30 min
  for: it to cool
  step: wait
  if_late: Nothing is harmed.
- do: Wipe the bench.
  step: wipe
"""


def forms_book() -> Pages:
    """Return the book."""
    in_the_room = ("not needed", "in the room")
    pages = tiny_pages(
        replaced(procedure("adding", ADDING, AMOUNTS, "prerequisites: [ready]", "wear: [goggles]"), *in_the_room),
        replaced(procedure("measuring", MEASURING), *in_the_room),
        procedure("labelling", LABELLING),
        procedure("waiting", WAITING),
        pieces=PIECES + MORE_PIECES + SCALE_AND_DRUM,
        materials=replaced(("", MATERIALS), "    groups: [waters]\n", f"    groups: [waters]\n{LIMITS}")[1],
    )
    bottles = "    bottles: [1 L]\n"
    products = replaced(("", PRODUCTS), bottles, f"    bottles: [1 L, 5 L]\n{LABELLED}")[1]
    plant = {"procedures/plant/products.yaml": products, "procedures/plant/roles.yaml": ROLES + MORE_ROLES}
    return Pages({**pages.texts, **plant})
