"""Whose law a book is under, and the tables of it that the book brings itself."""

from dataclasses import dataclass
from pathlib import Path

from tankside.catalogue import load
from tankside.compute.facts import quantity
from tankside.compute.recipes import BookHasProblemsError, first_error
from tankside.loading.sources import Folder
from tankside.quantities.given import Pairs


@dataclass(frozen=True)
class Law:
    """What a book says of its law."""

    jurisdiction: str
    #: rows of the table for liquids of NIST Handbook 133, None when the book does not have them
    liquid_variations: Pairs | None


def law_from_folder(folder: Path) -> Law | None:
    """Return what the book in `folder` says of its law; None where there is no book.

    Raises:
        BookHasProblemsError: the book cannot be read.
        CannotWorkOutError: a row is no volume.
    """
    loaded = load(Folder(folder))
    if loaded.book is not None:
        facts = loaded.book.plant.facts
        rows = tuple(
            (quantity(row.up_to, "volume"), quantity(row.short_by, "volume")) for row in facts.liquid_variations
        )
        return Law(str(facts.jurisdiction), Pairs(rows) if rows else None)
    if loaded.count == 0:
        return None
    raise BookHasProblemsError(first_error(loaded))
