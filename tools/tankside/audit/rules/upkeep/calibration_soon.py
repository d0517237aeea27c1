"""An instrument that is to be calibrated soon."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.dates import day_of, is_soon
from tankside.audit.rule import Family, Found, Weight, practice, rule
from tankside.problems import quoted


@rule(
    Family.UPKEEP,
    Weight.SHOULD,
    practice("what must go away to be calibrated is sent in time"),
)
def calibration_soon(audited: Audited) -> Iterator[Found]:
    """A calibration that is due within 30 days is arranged.

    Looked at is `calibration_due` of every piece of equipment. An instrument may be away for weeks, and the
    calibrations of a workshop often fall on one day. From that day on no batch can be released with it.

    Fails:
        # procedures/plant/equipment.yaml
        equipment:
          bench-scale:
            calibration_due: 2026-12-31

    Passes:
        # procedures/plant/equipment.yaml
        equipment:
          bench-scale:
            calibration_due: 2027-01-01
    """
    for tag, piece in audited.plant.equipment.equipment.items():
        due = piece.calibration_due
        if due is not None and is_soon(due, audited.day) and day_of(due) != audited.day:
            yield Found(
                str(tag),
                due.span,
                f"the calibration of {quoted(tag)} is due on {quoted(due)}, in 30 days or less",
                "arrange it now, and say what is measured with meanwhile",
            )
