"""A source of energy that a machine must have and does not list."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.energy import MACHINES, drives, machines, needed_forms
from tankside.audit.rule import Family, Found, Weight, practice, read, rule
from tankside.model.facts import Piece
from tankside.problems import quoted


@rule(
    Family.LOCKOUT,
    Weight.MUST,
    read("29 CFR 1910.147", "(d)(1)", "whoever locks out knows the type and the size of the energy"),
    practice("liquid stands in a pump, and a line that it presses into stays under pressure"),
)
def energy_source_undeclared(audited: Audited) -> Iterator[Found]:
    """A pump or mixer lists the sources of energy that it has for sure.

    Something drives it: a source of form `electrical`, or one that says compressed air, hydraulic, engine or steam. A
    pump that is joined to a vessel or line has a source of form `liquid`; one that presses into a line, hose or valve
    has one of form `pressure`, too. Charge, motion, weight and heat cannot be known from the plant; look at the machine
    and its manual.

    A machine with a source that has no `form` is left to `energy-form-missing`.

    Fails:
        # procedures/plant/equipment.yaml
        equipment:
          P2:
            kind: pump
            name: Second pump
            connects: [tank-60]
            energy_sources:
              - name: mains
                form: electrical
                source: Electrical, by one plug
                magnitude: 120 V
                isolate_at: P1-plug
                release: The plug is out.
                verify: Start is pressed, nothing moves.
        # procedures/filling/example.yaml
        needs: [P2]

    Passes:
        # procedures/plant/equipment.yaml
        equipment:
          P2:
            kind: pump
            name: Second pump
            connects: [tank-60]
            energy_sources:
              - name: mains
                form: electrical
                source: Electrical, by one plug
                magnitude: 120 V
                isolate_at: P1-plug
                release: The plug is out.
                verify: Start is pressed, nothing moves.
              - name: left-in-it
                form: liquid
                source: Liquid left in pump and hose
                magnitude: About 0.5 L
                isolate_at: P1-plug
                release: The hose is held up until it is empty.
                verify: No drop comes for 1 min.
        # procedures/filling/example.yaml
        needs: [P2]
    """
    for tag, piece in machines(audited):
        if piece.kind in MACHINES and all(each.form is not None for each in piece.energy_sources):
            for form, why in _missing(audited, str(tag), piece):
                message = f"{quoted(tag)} lists no source of energy of form {quoted(form)}, and {why}"
                yield Found(str(tag), tag.span, message, "look at the machine, and list it under 'energy_sources'")


def _missing(audited: Audited, tag: str, piece: Piece) -> Iterator[tuple[str, str]]:
    if not any(map(drives, piece.energy_sources)):
        yield "electrical", "something drives it"
    listed = {str(each.form) for each in piece.energy_sources}
    yield from ((form, why) for form, why in needed_forms(audited, tag, piece) if form not in listed)
