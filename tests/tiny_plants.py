"""Tiny plants for tests of the dry run: a book in memory, made of a few lines of equipment and of steps."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from textwrap import indent

from tankside.catalogue import load
from tankside.compute.amounts import WorkedBook
from tankside.loading.sources import File
from tankside.loading.values import Text
from tankside.model.claims import Claim, read_claim
from tankside.plant.rehearsal import Rehearsal
from tankside.plant.running import Run
from tankside.problems import Span

BOOK = """\
book: tiny
title: A tiny book
jurisdiction: US
units: metric
languages: [en]
paper: A4
live_copy: The tablet
emergency_number: "911"
meeting_point: The gate
address: The yard
"""
ROLES = """\
roles:
  lead:
    name: Lead
    does: Leads.
"""
MATERIALS = """\
materials:
  water:
    name: Water
    kind: water
    look: Clear.
    density: 1 kg/L
    groups: [waters]
  acid:
    name: Acid
    kind: raw
    look: Clear, sour smell.
    density: 1.25 kg/L
    groups: [acids]
    data_sheet: 2026-09-01
    data_sheet_at: The folder
    signal_word: Danger
    pictograms: [GHS05]
    hazards:
      - code: H314
        says: Causes severe skin burns and eye damage
    wear: [goggles, gloves]
    first_aid:
      eyes: Water.
      skin: Water.
      breathed: Fresh air.
      swallowed: Rinse the mouth.
    spill: Absorbent.
  lemonade:
    name: Lemonade
    kind: product
    look: Clear.
    density: 1 kg/L
    groups: [acids]
  dregs:
    name: Dregs
    kind: waste
    look: Cloudy.
    density: 1 kg/L
    groups: [acids]
  bleach:
    name: Bleach
    kind: raw
    look: Yellow.
    density: 1.2 kg/L
    groups: [hypochlorites]
groups:
  waters:
    name: Water
  acids:
    name: Acids
  hypochlorites:
    name: Bleach
never_meet:
  - groups: [acids, hypochlorites]
    consequence: Chlorine gas. It burns the lungs.
    source: From memory
may_meet:
  - groups: [waters, acids]
    why: The acid is thinned.
    source: From memory
"""
PRODUCTS = """\
products:
  lemonade:
    name: Lemonade
    material: lemonade
    made_in: [tank]
    bottles: [1 L]
    cap: tight
    recipe:
      - ingredient: water
        share: 90 %w/w
      - ingredient: acid
        share: 10 %w/w
"""
WORN = """\
protective_equipment:
  goggles:
    name: Goggles
    sign: M004
    made_of: Polycarbonate
    look_for: Cracks.
  gloves:
    name: Gloves
    sign: M009
    made_of: Neoprene
    look_for: Holes.
"""
REST = """\
conditions:
  ready:
    says: All is ready.
"""
HEAD = """\
title: A tiny procedure
family: work
situation: making
revision: 1
effective: 2026-11-25
review: 2027-11-25
approved: lead
purpose: A test.
scope: A test.
done_by: lead
second_person: not needed
stop_safely: Step back.
"""
TAIL = """\
if_it_goes_wrong:
  - sign: Anything
    do: Call the lead.
sources:
  - A test.
history:
  - revision: 1
    date: 2026-11-25
    change: First issue.
"""
CHECKLIST_HEAD = """\
title: A tiny checklist
situation: making
lists: steps
revision: 1
effective: 2026-11-25
review: 2027-11-25
approved: lead
purpose: A test.
done_by: lead
"""
CHECKLIST_TAIL = TAIL[TAIL.index("history:") :]
#: a supply, a valve, a tank with an outlet over a pump, a line and a valve to a drum
PIECES = """\
tap:
  kind: supply
  name: Tap
  connects: [V1]
  holds: [water]
V1:
  kind: valve
  name: Inlet
  connects: [tap, tank]
tank:
  kind: tank
  name: Tank
  connects: [V1, V2]
  holds: [water, acid, lemonade, dregs]
  capacity: 100 L
  heel: 1 L
V2:
  kind: valve
  name: Outlet
  connects: [tank, P1]
P1:
  kind: pump
  name: Pump
  connects: [V2, line]
line:
  kind: line
  name: Line
  connects: [P1, V3]
  runs:
    - bore: 20 mm
      length: 1 m
V3:
  kind: valve
  name: End valve
  connects: [line, N1]
N1:
  kind: nozzle
  name: Nozzle
  connects: [V3]
  joins: [drum, pail]
drum:
  kind: drum
  name: Drum
  holds: [water, dregs]
  capacity: 60 L
pail:
  kind: pail
  name: Pail
  capacity: 10 L
"""


@dataclass(frozen=True)
class Pages:
    """A book in memory: path -> text."""

    texts: Mapping[str, str] = field(default_factory=dict)

    def files(self) -> Iterator[File]:
        """Return the files, sorted by path."""
        for path in sorted(self.texts):
            yield File(path, self.texts[path].encode("utf-8"))

    def pictures(self) -> frozenset[str]:
        """Return none."""
        return frozenset()

    def picture_bytes(self, names: Collection[str]) -> Mapping[str, bytes]:
        """Return none."""
        return {}


def procedure(name: str, steps: str, *lines: str) -> tuple[str, str]:
    """Return the path and text of a procedure; `lines` are keys beside its steps."""
    more = "".join(f"{line}\n" for line in lines)
    return f"procedures/work/{name}.yaml", f"procedure: {name}\n{HEAD}{more}steps:\n{indent(steps, '  ')}{TAIL}"


def checklist(name: str, *items: str) -> tuple[str, str]:
    """Return the path and text of a checklist that is followed step by step."""
    listed = "".join(f"  - procedure: {item}\n" for item in items)
    return f"checklists/{name}.yaml", f"checklist: {name}\n{CHECKLIST_HEAD}items:\n{listed}{CHECKLIST_TAIL}"


def tiny_pages(
    *parts: tuple[str, str], pieces: str = PIECES, conditions: str = REST, days: str = "", materials: str = MATERIALS
) -> Pages:
    """Return a tiny book."""
    plant = {
        "book": BOOK + days,
        "roles": ROLES,
        "equipment": f"equipment:\n{indent(pieces, '  ')}{WORN}{conditions}",
        "materials": materials,
        "products": PRODUCTS,
    }
    return Pages({**{f"procedures/plant/{name}.yaml": text for name, text in plant.items()}, **dict(parts)})


def rehearsal_of_pages(pages: Pages) -> Rehearsal:
    """Return the dry runs of a book that is sound but for names that nothing uses."""
    loaded = load(pages)
    assert [each.as_text() for each in loaded.problems if each.code not in ("name-unused", "section-long")] == []
    assert loaded.book is not None
    return Rehearsal(WorkedBook(loaded.book))


def tiny(*parts: tuple[str, str], **plant: str) -> Rehearsal:
    """Return the dry runs of a tiny book; see `tiny_pages`."""
    return rehearsal_of_pages(tiny_pages(*parts, **plant))


def run_of(steps: str, *lines: str, pieces: str = PIECES) -> Run:
    """Return the dry run of one procedure on a tiny plant."""
    return tiny(procedure("work", steps, *lines), pieces=pieces).of("work")


def claim(text: str) -> Claim:
    """Return the claim that a text says."""
    return read_claim(Text(text, Span("tiny.yaml")))


def codes(run: Run) -> list[tuple[str, str]]:
    """Return step and code of each finding, in the order they were found."""
    return [(each.step, each.fault.code) for each in run.findings]


def said(run: Run, code: str) -> str:
    """Return the message of the one finding with that code."""
    (message,) = [each.fault.message for each in run.findings if each.fault.code == code]
    return message


def way(run: Run, code: str) -> tuple[str, ...]:
    """Return what was decided on the way to the one finding with that code."""
    (found,) = [each.way for each in run.findings if each.fault.code == code]
    return found
