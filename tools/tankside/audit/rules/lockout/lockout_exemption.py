"""An exemption from a lockout procedure that does not hold."""

from collections.abc import Iterator
from dataclasses import fields

from tankside.audit.audited import Audited, placed
from tankside.audit.reading.energy import is_stored, machines
from tankside.audit.rule import Family, Found, Weight, read, rule
from tankside.loading.values import Text
from tankside.model.facts import Exemption, Piece
from tankside.problems import quoted

YES = "yes"
#: what an exemption says beside its eight answers
NO_ANSWERS = ("date", "decided_by")


@rule(
    Family.LOCKOUT,
    Weight.MUST,
    read("29 CFR 1910.147", "(c)(4)(i)", "a procedure may be left out only where all of eight conditions hold"),
    law="US",
)
def lockout_exemption(audited: Audited) -> Iterator[Found]:
    """An exemption from a lockout procedure has eight times yes, and the facts do not speak against it.

    One no is enough: then a procedure is needed, and where there is one, the answer is not minded. A yes that
    equipment.yaml contradicts is found in any case: a single source while several are listed; nothing stored while a
    source is a charge, a liquid, a pressure, a weight, a heat or a motion; one lock while there are several points.

    Fails:
        # procedures/plant/equipment.yaml
        equipment:
          M1:
            kind: mixer
            name: Small mixer
            lockout_exemption:
              no_stored_energy: no
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
        exemption = piece.lockout_exemption
        if exemption is not None:
            refused = () if str(tag) in covered else _refused(exemption)
            for answer, why in (*refused, *_contradicted(piece, exemption)):
                hint = f"answer it as it is, and write a lockout procedure with 'works_on: [{tag}]'"
                yield Found(str(tag), answer.span, f"{quoted(tag)} is not exempt: {why}", hint)


def _refused(exemption: Exemption) -> Iterator[tuple[Text, str]]:
    for each in fields(exemption):
        answer: Text = getattr(exemption, each.name)
        if each.name not in NO_ANSWERS and answer != YES:
            yield answer, f"{quoted(each.name)} is answered {quoted(answer)}"


def _contradicted(piece: Piece, exemption: Exemption) -> Iterator[tuple[Text, str]]:
    sources = piece.energy_sources
    stored = [str(each.name) for each in sources if is_stored(each)]
    points = {str(each.isolate_at) for each in sources}
    if exemption.no_stored_energy == YES and stored:
        yield exemption.no_stored_energy, f"its source {quoted(stored[0])} is still there when the power is off"
    if exemption.one_source == YES and len(sources) > 1:
        yield exemption.one_source, f"it lists {len(sources)} sources of energy"
    if exemption.one_lock == YES and len(points) > 1:
        yield exemption.one_lock, f"its sources are isolated at {len(points)} points"
