"""A safety data sheet of a day to come."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.dates import day_of
from tankside.audit.rule import Family, Found, Weight, practice, rule
from tankside.problems import quoted


@rule(
    Family.UPKEEP,
    Weight.SHOULD,
    practice("a date is copied from the sheet itself, and a sheet cannot be of a later day than today"),
)
def data_sheet_future(audited: Audited) -> Iterator[Found]:
    """A data sheet is dated today or earlier.

    Looked at is `data_sheet` of each material: the date of preparation or of the last revision, printed on the sheet.
    A day that is still to come is a slip of the pen, or the day on which somebody wants to get the sheet. Either way
    nobody can tell later how old it is.

    Fails:
        # procedures/plant/materials.yaml
        materials:
          sample-cleaner:
            data_sheet: 2027-09-01

    Passes:
        # procedures/plant/materials.yaml
        materials:
          sample-cleaner:
            data_sheet: 2026-12-01
    """
    for name, material in audited.plant.materials.materials.items():
        sheet = material.data_sheet
        if sheet is not None and day_of(sheet) > audited.day:
            yield Found(
                str(name),
                sheet.span,
                f"the data sheet of {quoted(name)} is of {quoted(sheet)}, a day to come",
                "copy the date that is printed on the sheet",
            )
