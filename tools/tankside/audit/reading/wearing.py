"""Protective equipment: what each sign stands for, what demands it, what stands in for it, and where it is listed."""

from collections.abc import Iterator, Mapping

from tankside.audit.audited import Audited
from tankside.loading.values import Text
from tankside.model.facts import Plant
from tankside.model.procedures import Procedure
from tankside.model.steps import Add, Move, Step, every

#: signs of ISO 7010 by their codes
EYES = "M004"
HANDS = "M009"
FACE = "M013"
MASK = "M016"
BREATHING = "M017"


def signed(plant: Plant, names: tuple[Text, ...], *signs: str) -> tuple[Text, ...]:
    """Return those pieces of protective equipment that have one of the signs."""
    return tuple(name for name in names if plant.equipment.protective_equipment[name].sign in signs)


def lists(audited: Audited) -> Iterator[tuple[str, tuple[Text, ...]]]:
    """Return every list `wear`, with what it belongs to: a procedure, material, tag or hazard assessment."""
    plant = audited.plant
    yield from ((str(each.procedure), each.wear) for each in audited.procedures)
    yield from ((str(name), each.wear) for name, each in plant.materials.materials.items())
    yield from ((str(tag), each.wear) for tag, each in plant.equipment.equipment.items())
    yield from ((str(name), each.wear) for name, each in plant.facts.hazard_assessments.items())


def exposing(audited: Audited, procedure: Procedure) -> Mapping[str, frozenset[str]]:
    """Return the steps at which something may reach the person that asks for protective equipment, by their names.

    What a step says of itself counts also where the dry run cannot come to it.
    """
    setting = audited.rehearsal.setting
    asking = setting.hazardous.union(name for name, wear in setting.wear_for.items() if wear)
    found = audited.rehearsal.of(str(procedure.procedure)).exposed
    met = {}
    for step in (item for item in every(procedure.steps) if isinstance(item, Step)):
        reached = (each.materials for each in found.get(str(step.name), ()))
        met[str(step.name)] = asking.intersection(_said(step).union(*reached))
    return {step: materials for step, materials in met.items() if materials}


def _said(step: Step) -> frozenset[str]:
    moved = (step.material,) if isinstance(step, Move | Add) else ()
    return frozenset(map(str, (*step.exposes, *moved)))


def reaching(audited: Audited, procedure: Procedure) -> frozenset[str]:
    """Return every material that may reach the person in a procedure."""
    return frozenset[str]().union(*exposing(audited, procedure).values(), handled(audited, procedure))


def handled(audited: Audited, procedure: Procedure) -> frozenset[str]:
    """Return what is listed under `handles` and may reach the person.

    Who learns meets it by its label only. In a rescue, an emergency in which nothing is worn and no step exposes,
    nobody dresses before the water runs.
    """
    is_rescue = procedure.is_emergency and not procedure.wear and not exposing(audited, procedure)
    return frozenset() if is_rescue or procedure.situation == "learning" else frozenset(map(str, procedure.handles))


def missing(audited: Audited, procedure: Procedure) -> Mapping[Text, tuple[str, ...]]:
    """Return the protective equipment that a procedure does not list, each with what asks for it: materials, tags."""
    found: dict[Text, list[str]] = {}
    met = reaching(audited, procedure)
    for name, material in audited.plant.materials.materials.items():
        for wearable in material.wear if name in met else ():
            if not _is_covered(audited.plant, procedure.wear, wearable, name):
                found.setdefault(wearable, []).append(str(name))
    for tag in _worked_on(procedure):
        for wearable in audited.plant.equipment.equipment[tag].wear:
            if wearable not in procedure.wear:
                found.setdefault(wearable, []).append(str(tag))
    return {wearable: tuple(by) for wearable, by in found.items()}


def _worked_on(procedure: Procedure) -> tuple[Text, ...]:
    steps = (item for item in every(procedure.steps) if isinstance(item, Step))
    return tuple(dict.fromkeys(tag for step in steps for tag in step.works_on))


def _is_covered(plant: Plant, worn: tuple[Text, ...], wearable: Text, material: Text) -> bool:
    """Whether something is worn, or other gloves that are proved against the material stand in for it."""
    if wearable in worn or not signed(plant, (wearable,), HANDS):
        return wearable in worn
    return any(holds(plant, glove, material) for glove in signed(plant, worn, HANDS))


def holds(plant: Plant, glove: Text, material: Text) -> bool:
    """Whether gloves state how long they hold against a material."""
    return any(each.material == material for each in plant.equipment.protective_equipment[glove].holds_against)


def demanded_gloves(plant: Plant) -> Mapping[Text, tuple[Text, ...]]:
    """Return the gloves that materials demand, each with those materials."""
    found: dict[Text, list[Text]] = {}
    for name, material in plant.materials.materials.items():
        for glove in signed(plant, material.wear, HANDS):
            found.setdefault(glove, []).append(name)
    return {glove: tuple(materials) for glove, materials in found.items()}
