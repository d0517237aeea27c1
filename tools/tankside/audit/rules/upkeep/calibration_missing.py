"""An instrument that decides, and is never calibrated."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.measuring import deciding, instruments
from tankside.audit.rule import Family, Found, Weight, practice, read, rule
from tankside.problems import quoted


@rule(
    Family.UPKEEP,
    Weight.MUST,
    read(
        "21 CFR 211.160",
        "(b)(4)",
        "instruments are calibrated at set intervals; for makers of drugs, elsewhere good practice",
    ),
    practice("a limit is worth as much as the reading that is compared with it"),
)
def calibration_missing(audited: Audited) -> Iterator[Found]:
    """Each instrument whose reading is compared with limits has a day of calibration.

    Looked at is what stands under `instrument` of a `measure` step, when it is an instrument, a scale or a meter. Such
    a step decides: whether the tank is cool enough for the next liquid, whether the lot is released. A jug with marks
    (a measure that has a `capacity`) does not drift. A test kit that is used up instead of calibrated has the day of
    its expiry here.

    Fails:
        # procedures/plant/equipment.yaml
        equipment:
          thermometer:
            kind: instrument
            name: Thermometer
        # procedures/plant/materials.yaml
        materials:
          water:
            limits:
              warm:
                to: 40 degC
        # procedures/filling/example.yaml
        steps:
          - measure: Temperature of the water
            instrument: thermometer
            limits: water.warm
            if_outside: small-spill

    Passes:
        # procedures/plant/equipment.yaml
        equipment:
          thermometer:
            kind: instrument
            name: Thermometer
            calibration_due: 2027-06-30
        # procedures/plant/materials.yaml
        materials:
          water:
            limits:
              warm:
                to: 40 degC
        # procedures/filling/example.yaml
        steps:
          - measure: Temperature of the water
            instrument: thermometer
            limits: water.warm
            if_outside: small-spill
    """
    used = deciding(audited)
    for tag, piece in instruments(audited):
        if piece.calibration_due is None and str(tag) in used:
            yield Found(
                str(tag),
                tag.span,
                f"{quoted(tag)} decides in {', '.join(used[str(tag)])}, and has no day of calibration",
                "have it calibrated, and write the day of the next one under 'calibration_due'",
            )
