"""Hypochlorite that may go into warm liquid."""

from collections.abc import Iterator

from tankside.audit.audited import Audited, placed
from tankside.audit.reading.hypochlorite import hypochlorite_added
from tankside.audit.reading.substances import ACID, CAUSTIC, is_of
from tankside.audit.reading.ways_on import come_to
from tankside.audit.rule import Family, Found, Weight, practice, rule
from tankside.compute.facts import quantity
from tankside.loading.values import Text
from tankside.model.procedures import Procedure
from tankside.model.steps import Add, Measure
from tankside.plant.program import program_of
from tankside.problems import quoted


@rule(
    Family.SUBSTANCES,
    Weight.MUST,
    practice("hypochlorite breaks down about three times as fast for each 10 °C, so it goes into cool liquid only"),
)
def hypochlorite_warm(audited: Audited) -> Iterator[Found]:
    """Between what heats a batch and the hypochlorite, a temperature is measured that has an upper limit.

    What heats is a raw material of a group that stands for an alkali or an acid. On every way that leads from there to
    the hypochlorite, a `measure` with a limit of temperature `to` must have been found inside. A way that a reading
    out of limits leads along does not count as measured, however long it waits: somebody reads again before the
    hypochlorite. A check with a temperature in its text is not enough, because no reading is written down and no limit
    is fixed.

    Fails:
        # procedures/plant/materials.yaml
        materials:
          bleach:
            name: Bleach
            kind: raw
            look: Yellow-green.
            density: 1.1 kg/L
            groups: [bleaches]
          lye:
            name: Lye
            kind: raw
            look: Clear.
            density: 1.4 kg/L
            groups: [lyes]
        groups:
          lyes:
            name: Lye
            stands_for: [caustic]
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
          - add: lye
            to: tank-60
            amount: <dose>
            with: jug-5-l
          - add: bleach
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
            limits:
              before:
                to: 25 degC
          lye:
            name: Lye
            kind: raw
            look: Clear.
            density: 1.4 kg/L
            groups: [lyes]
        groups:
          lyes:
            name: Lye
            stands_for: [caustic]
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
          - add: lye
            to: tank-60
            amount: <dose>
            with: jug-5-l
          - measure: Temperature of the liquid
            instrument: bench-scale
            limits: bleach.before
            if_outside: small-spill
          - add: bleach
            to: tank-60
            amount: <dose>
            with: jug-5-l
    """
    for procedure in audited.procedures:
        for last in hypochlorite_added(audited, procedure):
            for first in _heating(audited, procedure, last):
                if last in come_to(program_of(procedure), first, lambda step: _proves(audited, step)):
                    message = (
                        f"{quoted(last.material)} may go in after {quoted(first.material)} with no temperature read"
                    )
                    hint = "measure it between the two, with an upper limit, on every way that leads here"
                    yield Found(str(procedure.procedure), last.span, message, hint)


def _heating(audited: Audited, procedure: Procedure, last: Add) -> Iterator[Add]:
    """Return the steps that add what heats to the same vessel."""
    materials = audited.plant.materials
    for each in placed(procedure):
        step = each.step
        if isinstance(step, Add) and step.to == last.to and step.material != last.material:
            added = materials.materials[step.material]
            if added.kind == "raw" and is_of(materials, added, ACID | CAUSTIC):
                yield step


def _proves(audited: Audited, step: Measure) -> bool:
    material, _, limit = step.limits.partition(".")
    found = audited.plant.materials.materials[Text(material, step.span)].limits[Text(limit, step.span)]
    return found.to is not None and quantity(found.to).unit.kind.name == "temperature"
