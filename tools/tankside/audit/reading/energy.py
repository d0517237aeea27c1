"""Machines and their sources of energy, as the rules on lockout take them."""

import re
from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.loading.values import Text
from tankside.model.facts import EnergySource, Piece
from tankside.plant.parts import Plant

#: kinds of equipment that start unexpectedly and hurt; the exhaust, which nobody reaches into, is left out
MACHINES = ("pump", "mixer")
ELECTRICAL = "electrical"
LIQUID, PRESSURE = "liquid", "pressure"
#: forms that are still there when the power is off
STORED = frozenset({"charge", "gravity", "heat", LIQUID, "motion", PRESSURE})
#: stored forms that are let go after the locks are on; a shaft has run down before
LET_GO = STORED - {"motion"}
#: forms that can build up again while hands are in the machine
BUILDS_UP = frozenset({LIQUID, PRESSURE})
#: what else than electricity drives a machine, as its source says it
DRIVES = re.compile(r"\b(?:compressed air|air[- ]driven|hydraulic|pneumatic|engine|steam)\b", re.IGNORECASE)
#: kinds of equipment that liquid is led on by, and left in under pressure
CLOSED = ("line", "hose", "valve")


def machines(audited: Audited) -> Iterator[tuple[Text, Piece]]:
    """Return the pumps and mixers, and whatever else has sources of energy, each under its tag."""
    for tag, piece in audited.plant.equipment.equipment.items():
        if piece.kind in MACHINES or piece.energy_sources:
            yield tag, piece


def within_reach(plant: Plant, tag: str) -> frozenset[str]:
    """Return what a machine is joined to for good, on through valves, lines and hoses up to the nearest vessels."""
    found, todo = {tag}, [tag]
    while todo:
        for other in plant.fixed[todo.pop()] - found:
            found.add(other)
            if plant.parts[other].kind in CLOSED:
                todo.append(other)
    return frozenset(found)


def is_stored(source: EnergySource) -> bool:
    """Return whether it is there when the power is off, as far as its form says."""
    return source.form is not None and str(source.form) in STORED


def drives(source: EnergySource) -> bool:
    """Return whether it is what makes the machine run."""
    return source.form == ELECTRICAL or DRIVES.search(source.source) is not None


def needed_forms(audited: Audited, tag: str, piece: Piece) -> Iterator[tuple[str, str]]:
    """Return the forms that a machine has for sure, each with the reason; what drives it is asked for apart."""
    if piece.kind == "pump":
        plant = audited.rehearsal.setting.plant
        others = plant.fixed[tag] | set(plant.loose[tag])
        holding = sorted(each for each in others if plant.parts[each].is_vessel or plant.parts[each].kind in CLOSED)
        pressed = sorted(each for each in plant.fixed[tag] - {plant.suction(tag)} if plant.parts[each].kind in CLOSED)
        if holding:
            yield LIQUID, f"it is joined to {holding[0]}"
        if pressed:
            yield PRESSURE, f"it presses into {pressed[0]}"
