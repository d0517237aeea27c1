"""What a reader gets of a procedure or checklist, and the hash that names exactly that.

Pages, sheets and records read editions, never the book. An edition holds every fact of the plant that it
shows, so a changed bore changes the hash of each procedure whose amounts depend on it.
"""

from tankside.edition.making import (
    Audience,
    Edition,
    LanguageUnknownError,
    Part,
    checklist_edition,
    procedure_edition,
)
from tankside.edition.shown import MaterialShown, never_with, told_by

__all__ = [
    "Audience",
    "Edition",
    "LanguageUnknownError",
    "MaterialShown",
    "Part",
    "checklist_edition",
    "never_with",
    "procedure_edition",
    "told_by",
]
