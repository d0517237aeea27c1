"""Whether the pages of a sheet hold together what belongs together."""

from itertools import pairwise

from sheet_blocks import Block
from sheet_reading import Place, Sheet


def placed(sheet: Sheet, wanted: list[Block]) -> list[tuple[Block, Place]]:
    """Find every block in order; an assertion fails when one is missing or stands before its turn."""
    at, found = 0, []
    for block in wanted:
        place = (sheet.heading if block.form == "heading" else sheet.place)(block.text, at)
        found.append((block, place))
        at = place.end
    return found


def assert_pages_hold(sheet: Sheet, wanted: list[Block]) -> None:
    places = placed(sheet, wanted)
    for block, place in places:
        assert len(place.pages) == 1, f"split: {block}"
    for (block, place), (after, next_place) in pairwise(places):
        if block.form in ("caution", "heading"):
            assert place.pages == next_place.pages, f"a page ends with {block}, then comes {after}"
    last = places[-1][0]
    assert last.form not in ("caution", "heading")
    assert seen_once(sheet, places)
