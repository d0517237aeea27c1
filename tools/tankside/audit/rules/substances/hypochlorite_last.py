"""An ingredient that comes after the hypochlorite."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.hypochlorite import hypochlorite_added
from tankside.audit.reading.ways_on import come_to
from tankside.audit.rule import Family, Found, Weight, practice, rule
from tankside.model.procedures import Procedure
from tankside.model.steps import Add
from tankside.plant.program import program_of
from tankside.problems import quoted


@rule(
    Family.SUBSTANCES,
    Weight.MUST,
    practice("water, then alkali, then what else goes in, and hypochlorite last, so that nothing heats or thins it"),
)
def hypochlorite_last(audited: Audited) -> Iterator[Found]:
    """Hypochlorite is the last ingredient: only water, to the mark, goes into its vessel after it.

    Looked at is every way that the procedure can take after hypochlorite, a raw material of a group that stands for
    it, has been added to a vessel. What heats, is acid, or is organic, and meets it at full strength sets gas free;
    what is added after it also hides that the batch has lost strength.

    Fails:
        # procedures/plant/materials.yaml
        materials:
          bleach:
            name: Bleach
            kind: raw
            look: Yellow-green.
            density: 1.1 kg/L
            groups: [bleaches]
        # procedures/filling/example.yaml
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
          - add: bleach
            to: tank-60
            amount: <dose>
            with: jug-5-l
          - add: sample-concentrate
            to: tank-60
            amount: <dose>
            with: jug-5-l

    Passes:
        # procedures/plant/materials.yaml
        materials:
          bleach:
            name: Bleach
            kind: raw
            look: Yellow-green.
            density: 1.1 kg/L
            groups: [bleaches]
        # procedures/filling/example.yaml
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
          - add: bleach
            to: tank-60
            amount: <dose>
            with: jug-5-l
    """
    for procedure in audited.procedures:
        for last in hypochlorite_added(audited, procedure):
            yield from _later(audited, procedure, last)


def _later(audited: Audited, procedure: Procedure, last: Add) -> Iterator[Found]:
    materials = audited.plant.materials.materials
    for step in come_to(program_of(procedure), last):
        if not isinstance(step, Add) or step.to != last.to or step.material == last.material:
            continue
        if materials[step.material].kind != "water":
            message = f"{quoted(step.material)} goes into {quoted(step.to)} after {quoted(last.material)}"
            hint = f"put it before {quoted(last.name)}, or leave it out"
            yield Found(str(procedure.procedure), step.span, message, hint)
