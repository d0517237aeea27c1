"""A material without a safety data sheet."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.rule import Family, Found, Weight, read, rule
from tankside.model.facts import Material
from tankside.problems import quoted

#: what is bought or sold, whatever its hazards
TRADED = ("raw", "product")


@rule(
    Family.UPKEEP,
    Weight.MUST,
    read(
        "29 CFR 1910.1200", "(g)(8)", "a data sheet of each hazardous chemical is kept where people get at it at once"
    ),
    read("29 CFR 1910.1200", "(g)(1)", "an employer has a data sheet of each hazardous chemical in use"),
)
def data_sheet_missing(audited: Audited) -> Iterator[Found]:
    """Each material that is bought, sold or hazardous has a dated data sheet, and the book says where it is.

    Asked for are `data_sheet`, its date, and `data_sheet_at`, where people find it without asking. Raw materials and
    products need one even when the book lists no hazards: that something has none is known from its data sheet, and
    from nothing else. The supplier sends it; of your own product you write it. Water and harmless waste need none.

    Fails:
        # procedures/plant/materials.yaml
        materials:
          thickener:
            name: Thickener
            kind: raw
            look: White powder.
            density: 1.30 kg/L
            groups: [mild-cleaners]
        # procedures/filling/example.yaml
        handles: [thickener]

    Passes:
        # procedures/plant/materials.yaml
        materials:
          thickener:
            name: Thickener
            kind: raw
            look: White powder.
            density: 1.30 kg/L
            groups: [mild-cleaners]
            data_sheet: 2026-03-01
            data_sheet_at: The folder at the door
        # procedures/filling/example.yaml
        handles: [thickener]
    """
    for name, material in audited.plant.materials.materials.items():
        lacks = _lacks(name, material)
        if lacks:
            yield Found(
                str(name),
                name.span,
                lacks,
                "get the data sheet from the supplier, hang it where people work, and write its date and place here",
            )


def _lacks(name: str, material: Material) -> str:
    if material.kind not in TRADED and not material.hazards:
        return ""
    if material.data_sheet is None:
        return f"{quoted(name)} has no dated data sheet"
    return "" if material.data_sheet_at else f"nothing says where the data sheet of {quoted(name)} is"
