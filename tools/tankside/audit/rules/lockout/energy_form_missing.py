"""A source of energy that does not say what sort it is."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.energy import machines
from tankside.audit.rule import Family, Found, Weight, practice, rule
from tankside.problems import quoted


@rule(
    Family.LOCKOUT,
    Weight.SHOULD,
    practice("sorts of energy are gone through one by one, so that none is forgotten"),
)
def energy_form_missing(audited: Audited) -> Iterator[Found]:
    """Each source of energy says its form: electrical, charge, motion, gravity, liquid, pressure or heat.

    Without it, the other rules on lockout cannot tell what is stored, what can build up again, and what is missing.

    Fails:
        # procedures/plant/equipment.yaml
        equipment:
          M1:
            kind: mixer
            name: Small mixer
            energy_sources:
              - name: mains
                source: Electrical, by one plug
                magnitude: 120 V
                isolate_at: P1-plug
                release: The plug is out.
                verify: Start is pressed, nothing moves.
        # procedures/filling/example.yaml
        needs: [M1]

    Passes:
        # procedures/plant/equipment.yaml
        equipment:
          M1:
            kind: mixer
            name: Small mixer
            energy_sources:
              - name: mains
                form: electrical
                source: Electrical, by one plug
                magnitude: 120 V
                isolate_at: P1-plug
                release: The plug is out.
                verify: Start is pressed, nothing moves.
        # procedures/filling/example.yaml
        needs: [M1]
    """
    for tag, piece in machines(audited):
        for source in piece.energy_sources:
            if source.form is None:
                message = f"the source of energy {quoted(f'{tag}.{source.name}')} has no form"
                hint = "write 'form' with one of electrical, charge, motion, gravity, liquid, pressure, heat"
                yield Found(str(tag), source.name.span, message, hint)
