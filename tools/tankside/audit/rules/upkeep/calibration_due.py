"""An instrument that must not be used before it is calibrated."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.dates import day_of
from tankside.audit.rule import Family, Found, Weight, practice, read, rule
from tankside.problems import quoted


@rule(
    Family.UPKEEP,
    Weight.MUST,
    read(
        "21 CFR 211.160",
        "(b)(4)",
        "calibrated at set intervals or not used; for makers of drugs, elsewhere good practice",
    ),
    practice("a reading of an instrument that is overdue releases nothing"),
)
def calibration_due(audited: Audited) -> Iterator[Found]:
    """No instrument, scale or meter is past its calibration.

    Looked at is `calibration_due` of every piece of equipment: from that day on it must not be used. A thermometer
    that has drifted by five degrees lets hypochlorite into a liquid that is too hot; a gauge that sticks shows a line
    without pressure. What the instrument shows cannot tell you.

    Take it out of use, have it calibrated, and write the new day. The finding is about the instrument; the procedures
    that rely on it are not stamped, but nobody can do the measurement until then.

    Fails:
        # procedures/plant/equipment.yaml
        equipment:
          bench-scale:
            calibration_due: 2026-12-01

    Passes:
        # procedures/plant/equipment.yaml
        equipment:
          bench-scale:
            calibration_due: 2026-12-02
    """
    for tag, piece in audited.plant.equipment.equipment.items():
        due = piece.calibration_due
        if due is not None and day_of(due) <= audited.day:
            yield Found(
                str(tag),
                due.span,
                f"the calibration of {quoted(tag)} counted until {quoted(due)}",
                "take it out of use until it is calibrated, then write the day of the next calibration",
            )
