"""What all drafts of a book are made with."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from math import ceil

from markupsafe import Markup

from tankside.compute.facts import quantity
from tankside.drawing.qr import least_side_mm, qr_svg
from tankside.edition.sheets import SheetEdition
from tankside.model.facts import BookFacts
from tankside.model.reading import LEAST_IN_HAND_POINTS, LEAST_POINTS, READ_FROM_MM, type_size
from tankside.model.sheets import (
    BANNER,
    CONTAINER_LABEL,
    INDUCTION_SHEET,
    PLAN_SHEET,
    PLANT_SHEET,
    TRAINING_SHEET,
    VISITOR_SHEET,
    WALL_SHEET,
)
from tankside.render_print.draft import Draft
from tankside.render_print.fit import Misfit
from tankside.render_print.frame import Around, Frame, frame
from tankside.render_print.media import medium, svg_address
from tankside.render_print.paper import Paper
from tankside.templating import Medium, rendered
from tankside.texts import Words, words
from tankside.units import UNITS
from tankside.views.audit import StampView

#: a QR code is never printed smaller
QR_MM = 22
#: kinds that are one page
ONE_PAGE = (WALL_SHEET, BANNER, CONTAINER_LABEL, VISITOR_SHEET)
#: kinds that nobody follows step by step, which may be set smaller where they are read in the hand
IN_HAND = (CONTAINER_LABEL, PLANT_SHEET, TRAINING_SHEET, PLAN_SHEET, INDUCTION_SHEET, VISITOR_SHEET)


@dataclass(frozen=True)
class Setting:
    """What all drafts of a book are made with."""

    facts: BookFacts
    #: name -> data of every picture of the book
    pictures: Mapping[str, bytes]
    language: str
    #: what stands on procedures and checklists that are not for use, by id
    stamps: Mapping[str, StampView]
    #: whether sheets go into a binder
    is_bound: bool = False

    @cached_property
    def say(self) -> Words:
        """The words of the interface."""
        return words(self.language)

    def paper(self, sheet: SheetEdition, *, is_landscape: bool = False) -> Paper:
        """Return the paper of a sheet; in a binder all are on that of the book, upright."""
        if self.is_bound:
            return Paper(str(self.facts.paper), is_bound=True)
        return Paper(str(sheet.entry.paper or self.facts.paper), is_landscape or sheet.kind == BANNER)

    def points(self, sheet: SheetEdition) -> int:
        """Return the type size of a sheet; in a binder all are read in the hand."""
        if self.is_bound:
            return LEAST_POINTS
        return type_size(self.read_from(sheet), LEAST_IN_HAND_POINTS if sheet.kind in IN_HAND else LEAST_POINTS)

    def read_from(self, sheet: SheetEdition) -> Fraction:
        """Return how far the eye is away from a sheet, in mm."""
        if sheet.entry.read_from is None:
            return Fraction(READ_FROM_MM[sheet.kind])
        return quantity(sheet.entry.read_from, "length").in_unit(UNITS["mm"])

    def frame(self, sheet: SheetEdition, shown: Around, *, is_landscape: bool = False) -> Frame:
        """Return the frame of a sheet."""
        return frame(shown, self.paper(sheet, is_landscape=is_landscape), self.points(sheet), self.say)

    def medium(self, sheet: SheetEdition, *, has_boxes: bool = False) -> Medium:
        """Return how templates find things on a sheet."""
        return medium(self.say, sheet.id, self.pictures, has_boxes=has_boxes)

    def draft(self, sheet: SheetEdition, around: Frame, html: Markup, misfits: tuple[Misfit, ...] = ()) -> Draft:
        """Return a sheet as a draft."""
        most = 1 if sheet.kind in ONE_PAGE and not self.is_bound else None
        return Draft(sheet.id, str(html), around.style, most, misfits)

    def filled(self, template: str, sheet: SheetEdition, shown: Around, **given: object) -> Markup:
        """Return a template of a sheet, filled with what every sheet has."""
        frame_of = {
            "around": shown,
            "language": self.language,
            "facts": self.facts,
            "stamp": None if sheet.edition is None else self.stamps.get(sheet.edition.id),
            "stamps": self.stamps,
            "rule": None,
            "live": None if self.facts.live_address is None else _live(str(self.facts.live_address)),
        }
        return rendered(template, **{"m": self.medium(sheet), **frame_of, **given})


@dataclass(frozen=True)
class Live:
    """Where the copy that counts is served, as a code and in words."""

    address: str
    #: a QR code as an address that needs no fetching
    code: str
    #: how wide the code is printed
    side_mm: int


def _live(address: str) -> Live:
    return Live(address, svg_address(qr_svg(address)), max(QR_MM, ceil(least_side_mm(address))))
