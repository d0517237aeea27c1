"""A safety data sheet that is old."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.dates import day_of, years_after
from tankside.audit.rule import Family, Found, Weight, practice, read, rule
from tankside.problems import quoted

#: after so many years the supplier is asked
YEARS = 3


@rule(
    Family.UPKEEP,
    Weight.SHOULD,
    practice("the supplier is asked for a newer data sheet every three years"),
    read("29 CFR 1910.1200", "(g)(5)", "what its writer newly learns is in a data sheet within three months"),
)
def data_sheet_old(audited: Audited) -> Iterator[Found]:
    """A data sheet is not older than three years.

    Looked at is `data_sheet` of each material. No law says how old a sheet may be; when nothing new is known, an old
    one is right. But suppliers change what is in the drum, and a newer sheet does not come by itself. Ask for it, and
    write down its date. When the supplier says that the old one still counts, that is an exception with a date.

    Fails:
        # procedures/plant/materials.yaml
        materials:
          sample-cleaner:
            data_sheet: 2023-11-30

    Passes:
        # procedures/plant/materials.yaml
        materials:
          sample-cleaner:
            data_sheet: 2023-12-01
    """
    for name, material in audited.plant.materials.materials.items():
        sheet = material.data_sheet
        if sheet is not None and years_after(day_of(sheet), YEARS) < audited.day:
            yield Found(
                str(name),
                sheet.span,
                f"the data sheet of {quoted(name)} is of {quoted(sheet)}, more than three years ago",
                "ask the supplier for the sheet that counts, and compare hazards, first aid and limits with it",
            )
