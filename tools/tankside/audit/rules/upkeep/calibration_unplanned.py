"""A scale or meter that amounts are measured with, and that is never calibrated."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.measuring import deciding, instruments, measuring_out
from tankside.audit.rule import Family, Found, Weight, practice, rule
from tankside.problems import quoted


@rule(
    Family.UPKEEP,
    Weight.SHOULD,
    practice("scales and meters are calibrated every year or two"),
)
def calibration_unplanned(audited: Audited) -> Iterator[Found]:
    """Each scale and meter that amounts are measured with has a day of calibration.

    Looked at is what stands under `measure_in` of an amount, when it is an instrument, a scale or a meter. Jugs and
    pails with marks do not drift. What a `measure` step compares with limits is a rule of its own,
    calibration-missing.

    A scale that is wrong by two parts of a hundred makes each batch wrong by as much, and nobody sees it.

    Fails:
        # procedures/plant/equipment.yaml
        equipment:
          meter-2:
            kind: measure
            name: Meter of the line
            graduation: 0.5 L
            range:
              from: 1 L
              to: 100 L
        # procedures/filling/example.yaml
        amounts:
          flush:
            title: Water through the line
            calculate: flush-volume
            with:
              volume: line-1.hold-up
              remaining: 5 %
            measure_in: meter-2
            tolerance: 0.5 L
        steps:
          - do: Let <flush> of water run through the line.

    Passes:
        # procedures/plant/equipment.yaml
        equipment:
          meter-2:
            kind: measure
            name: Meter of the line
            graduation: 0.5 L
            range:
              from: 1 L
              to: 100 L
            calibration_due: 2027-06-30
        # procedures/filling/example.yaml
        amounts:
          flush:
            title: Water through the line
            calculate: flush-volume
            with:
              volume: line-1.hold-up
              remaining: 5 %
            measure_in: meter-2
            tolerance: 0.5 L
        steps:
          - do: Let <flush> of water run through the line.
    """
    used, decides = measuring_out(audited), deciding(audited)
    for tag, piece in instruments(audited):
        if piece.calibration_due is None and str(tag) in used and str(tag) not in decides:
            yield Found(
                str(tag),
                tag.span,
                f"{quoted(tag)} measures amounts of {', '.join(used[str(tag)])}, and has no day of calibration",
                "compare it with a known weight or volume, and write the day of the next time under 'calibration_due'",
            )
