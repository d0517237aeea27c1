"""Whether the pages of a sheet hold together what belongs together."""

from itertools import pairwise

from sheet_blocks import Block
from sheet_reading import Place, Sheet, clear_mm, squeezed


def placed(sheet: Sheet, wanted: list[Block]) -> list[tuple[Block, Place]]:
    """Find every block in order; an assertion fails when one is missing or stands before its turn."""
    at, found = 0, []
    for block in wanted:
        place = (sheet.heading if block.form == "heading" else sheet.place)(block.text, at)
        found.append((block, place))
        at = place.end
    return found


def assert_pages_hold(sheet: Sheet, wanted: list[Block], *, has_boxes: bool = True) -> None:
    """Every block stands once and in order, on one page; no page ends with a caution or a heading."""
    places = placed(sheet, wanted)
    for block, place in places:
        assert len(place.pages) == 1, f"split: {block}"
    for (block, place), (after, next_place) in pairwise(places):
        if block.form in ("caution", "heading"):
            assert place.pages == next_place.pages, f"a page ends with {block}, then comes {after}"
    last = places[-1][0]
    assert last.form not in ("caution", "heading")
    if has_boxes:
        steps = sum(block.form == "step" for block in wanted)
        assert sum(len(sheet.ticks(number)) for number in range(len(sheet.pages))) == steps


def assert_numbered(sheet: Sheet) -> None:
    """Every page says which of how many it is, once."""
    for number in range(len(sheet.pages)):
        text = squeezed(sheet.page_text(number))
        assert text.count(squeezed(f"Page {number + 1} of {len(sheet.pages)}")) == 1, number + 1


#: clear at every edge for the seal of the laminate
CLEAR_MM = 10


def assert_edges_are_clear(sheet: Sheet, name: str) -> None:
    """Nothing but the cut line is drawn in the edges of a page, and nothing of the text over the foot."""
    for page in sheet.pages:
        clear = clear_mm(page)
        assert min(clear) >= CLEAR_MM - 0.01, f"{name} page {page.page_number}: {clear}"
        foot = squeezed(f"{sheet.name} · Revision")
        begins = [line for line in sheet.lines(page.page_number - 1) if squeezed(line.text).startswith(foot[:12])]
        top = begins[-1].chars[0]["top"]
        body = [line for line in sheet.body if line.page == page.page_number - 1]
        assert all(char["bottom"] <= top for line in body for char in line.chars), f"{name} page {page.page_number}"
