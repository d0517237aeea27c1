"""A machine that nobody knows how to lock out."""

from collections.abc import Iterator

from tankside.audit.audited import Audited, placed
from tankside.audit.reading.energy import machines
from tankside.audit.rule import Family, Found, Weight, read, rule
from tankside.problems import quoted


@rule(
    Family.LOCKOUT,
    Weight.MUST,
    read(
        "29 CFR 1910.147", "(c)(4)(i)", "how energy is controlled is written down, unless all of eight conditions hold"
    ),
    law="US",
)
def lockout_procedure_missing(audited: Audited) -> Iterator[Found]:
    """Each pump, mixer or other machine with sources of energy has a lockout procedure, or an exemption in writing.

    A procedure counts when one of its steps works on the machine (`works_on`). Instead, the machine may have a
    `lockout_exemption` with the eight conditions of the standard, each answered; whether they hold is asked by
    `lockout-exemption`. An exemption is never assumed.

    Equipment on a plug that the person holds in the hand is outside the standard. It still has to be shown: answer the
    eight conditions. The exhaust is not looked at.

    Fails:
        # procedures/plant/equipment.yaml
        equipment:
          M1:
            kind: mixer
            name: Small mixer
        # procedures/filling/example.yaml
        needs: [M1]

    Passes:
        # procedures/plant/equipment.yaml
        equipment:
          M1:
            kind: mixer
            name: Small mixer
            lockout_exemption:
              no_stored_energy: yes
              one_source: yes
              isolating_ends_it: yes
              locked_during_work: yes
              one_lock: yes
              under_own_control: yes
              no_hazard_to_others: yes
              no_accident_before: yes
              decided_by: workshop-lead
              date: 2026-11-26
        # procedures/filling/example.yaml
        needs: [M1]
    """
    covered = {str(tag) for each in audited.procedures for one in placed(each) for tag in one.step.works_on}
    for tag, piece in machines(audited):
        if str(tag) not in covered and piece.lockout_exemption is None:
            hint = f"write a lockout procedure with 'works_on: [{tag}]', or answer 'lockout_exemption'"
            yield Found(str(tag), tag.span, f"no procedure says how {quoted(tag)} is locked out", hint)
