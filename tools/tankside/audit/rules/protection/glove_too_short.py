"""Gloves that hold against a material for less than an hour."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.rule import Family, Found, Weight, memory, practice, read, rule
from tankside.compute.facts import quantity
from tankside.loading.values import Text
from tankside.problems import quoted

#: practice; more than 60 min is level 3 of 6 of EN ISO 374-1, from memory
SHORTEST = "60 min"


@rule(
    Family.PROTECTION,
    Weight.SHOULD,
    practice("gloves for work with open liquid hold for an hour or longer"),
    memory("EN ISO 374-1", "", "breakthrough after more than 10, 30, 60, 120, 240, 480 min is level 1 to 6"),
    read("29 CFR 1910.138", "(b)", "gloves are chosen by how they perform in the task, for how long, against what"),
)
def glove_too_short(audited: Audited) -> Iterator[Found]:
    """Gloves hold for 60 min or longer against each material that they are for.

    The times stand under `holds_against`. A shorter time is met before a batch is done, and nobody looks at the clock.
    Thicker gloves or another material hold longer. Where no glove does, the procedure has to say when it is changed,
    and an exception says why.

    Fails:
        # procedures/plant/equipment.yaml
        protective_equipment:
          gloves:
            holds_against:
              - material: sample-cleaner
                for: 20 min

    Passes:
        # procedures/plant/equipment.yaml
        protective_equipment:
          gloves:
            holds_against:
              - material: sample-cleaner
                for: 8 h
    """
    for name, wearable in audited.plant.equipment.protective_equipment.items():
        for each in wearable.holds_against:
            if quantity(each.for_, "time").value < quantity(Text(SHORTEST, each.for_.span), "time").value:
                yield Found(
                    str(name),
                    each.for_.span,
                    f"{quoted(name)} hold against {quoted(each.material)} for {quoted(each.for_)} only",
                    f"choose gloves that hold for {SHORTEST} or longer",
                )
