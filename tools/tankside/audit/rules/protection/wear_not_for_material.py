"""Protective equipment that a material or a machine asks for, and a procedure does not list."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.wearing import HANDS, missing, signed
from tankside.audit.rule import Family, Found, Weight, read, rule
from tankside.loading.values import Text
from tankside.model.facts import Plant
from tankside.problems import quoted


@rule(
    Family.PROTECTION,
    Weight.MUST,
    read("29 CFR 1910.132", "(a)", "protective equipment is used wherever a hazard makes it necessary"),
    read("29 CFR 1910.132", "(d)(1)(i)", "what is worn protects from the hazards that were found"),
    read("29 CFR 1910.133", "(a)(1)", "eyes and face are protected from liquid chemicals, acids and alkalis"),
    read("29 CFR 1910.138", "(a)", "hands are protected from chemicals that burn or go through the skin"),
)
def wear_not_for_material(audited: Audited) -> Iterator[Found]:
    """Each procedure lists what every material and every machine in it asks people to wear.

    What may reach the person is known from the dry run, from what the steps move or add, and from `handles`. Each such
    material says under its own `wear` what is worn against it, and so does a machine that hands go into. Other gloves
    stand in for those that a material asks for, when they state under `holds_against` how long they hold against it.

    `handles` does not count in two cases. Where somebody learns, the material is met by its label only. In a rescue
    nobody dresses before the water runs: that is an emergency in which nothing is worn and no step exposes.

    Fails:
        # procedures/filling/example.yaml
        wear: [apron, gloves]
        prerequisites: [dressed]
        steps:
          - do: Pour the concentrate off into its drum.
            exposes: [sample-concentrate]

    Passes:
        # procedures/filling/example.yaml
        wear: [apron, goggles, gloves]
        prerequisites: [dressed]
        steps:
          - do: Pour the concentrate off into its drum.
            exposes: [sample-concentrate]
    """
    for procedure in audited.procedures:
        listed = (*procedure.wear, procedure.procedure)
        for wearable, by in missing(audited, procedure).items():
            yield Found(
                str(procedure.procedure),
                listed[0].span,
                f"{quoted(wearable)} is asked for by {', '.join(by)}, and is not under 'wear'",
                f"add {quoted(wearable)} to 'wear'{_or_other(audited.plant, wearable)}",
            )


def _or_other(plant: Plant, wearable: Text) -> str:
    return ", or gloves that state that they hold against it" if signed(plant, (wearable,), HANDS) else ""
