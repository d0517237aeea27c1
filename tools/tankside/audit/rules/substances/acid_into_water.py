"""A concentrate that does not go into water."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.filling import Filling, fillings
from tankside.audit.reading.substances import is_strong
from tankside.audit.reading.thinning import is_concentrate, thins
from tankside.audit.rule import Family, Found, Weight, practice, read, rule
from tankside.model.steps import Add
from tankside.problems import quoted


@rule(
    Family.SUBSTANCES,
    Weight.MUST,
    read("40 CFR 265", "App. V", "acid is added to water and not water to acid, so that it does not react"),
    practice("alkali goes slowly into much water as well"),
)
def acid_into_water(audited: Audited) -> Iterator[Found]:
    """Concentrated acid or alkali goes into water that is there already, and water never onto the concentrate.

    A concentrate is a raw material whose label says H314 or H290 and whose group stands for an acid or an alkali. In
    every state that the dry run knows before it is added, its tank must hold water or product, and at least as much as
    is added. Water is never added to what is surely more concentrate than water. A pail or jug may be filled with the
    concentrate alone, that is how it is measured. The first drops of water on a concentrate boil and spit it into the
    face.

    Fails:
        # procedures/plant/materials.yaml
        materials:
          sample-concentrate:
            groups: [mild-cleaners]
        groups:
          mild-cleaners:
            stands_for: [caustic]
        # procedures/filling/example.yaml
        prerequisites: [tank-clean]
        amounts:
          dose:
            title: One dose
            calculate: scale-recipe
            with:
              product: sample-cleaner
              make: 40 L
            result: sample-concentrate.mass
            measure_in: bench-scale
            tolerance: 0.05 kg
        steps:
          - add: sample-concentrate
            to: tank-60
            amount: <dose>
            with: jug-5-l

    Passes:
        # procedures/plant/materials.yaml
        materials:
          sample-concentrate:
            groups: [mild-cleaners]
        groups:
          mild-cleaners:
            stands_for: [caustic]
        # procedures/filling/example.yaml
        prerequisites: [tank-clean]
        amounts:
          dose:
            title: One dose
            calculate: scale-recipe
            with:
              product: sample-cleaner
              make: 40 L
            result: sample-concentrate.mass
            measure_in: bench-scale
            tolerance: 0.05 kg
        steps:
          - open: V1
          - move: water
            path: [water-supply, V1, meter-1, tank-60]
            amount: 20 L
          - shut: V1
          - add: sample-concentrate
            to: tank-60
            amount: <dose>
            with: jug-5-l
    """
    for procedure in audited.procedures:
        for each in fillings(audited, procedure):
            wrong = _wrong(audited, each)
            if wrong is not None:
                yield Found(str(procedure.procedure), each.step.span, *wrong)


def _wrong(audited: Audited, filling: Filling) -> tuple[str, str] | None:
    """Return what is wrong with a step, and what to do."""
    materials, into = audited.plant.materials, quoted(filling.into)
    added = materials.materials[filling.material]
    is_tank = audited.rehearsal.setting.plant.parts[filling.into].kind == "tank"
    if is_tank and isinstance(filling.step, Add) and is_strong(materials, added):
        if not all(thins(materials, held, filling.most) for held in filling.standing()):
            message = f"{quoted(filling.material)} may go into {into} before as much water is in it"
            return message, "add the water in a step before, so that it is surely there"
    elif added.kind == "water" and any(is_concentrate(materials, held) for held in filling.standing()):
        return f"water goes onto the concentrate in {into}", "put the water in first, then the concentrate"
    return None
