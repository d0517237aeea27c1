"""The page of the line diagram."""

from collections.abc import Iterable, Iterator

from markupsafe import Markup

from tankside.drawing.line_diagram import line_diagram_svg
from tankside.loading.values import Text
from tankside.plant.parts import plant_of
from tankside.plant.sides import sides
from tankside.render_site import addresses
from tankside.render_site.content import Content
from tankside.render_site.listing import Entry, listing
from tankside.render_site.shells import Page
from tankside.templating import rendered
from tankside.views.line_diagram import LineDiagram, line_diagram
from tankside.views.sides import side_name

#: a drawing wider than this is also shown side by side, each larger
WIDE = 1000


def line_diagram_page(content: Content) -> Page:
    """Return the page with the whole plant, each side of it where that is too wide, and all pieces."""
    say, equipment = content.say, content.book.plant.equipment
    page = Page(addresses.LINE_DIAGRAM, say("line-diagram"))
    whole = line_diagram(equipment, content.book.plant.materials, say)
    page.heading(say("line-diagram-whole"), anchor="whole")
    _draw(content, page, whole, say("line-diagram-about" if whole.pieces else "line-diagram-none"))
    if whole.width > WIDE:
        for side in sides(plant_of(equipment)):
            page.heading(side_name(equipment, side, say))
            _draw(content, page, line_diagram(equipment, content.book.plant.materials, say, only=side), "")
    drawn, none = {piece.tag for piece in whole.pieces}, say("situation-none")
    page.heading(say("line-diagram-drawn"), anchor="drawn")
    page.block(listing(page.address, _entries(content, (tag for tag in equipment.equipment if tag in drawn)), none))
    page.heading(say("line-diagram-not-drawn"), anchor="not-drawn")
    page.block(listing(page.address, _entries(content, (tag for tag in equipment.equipment if tag not in drawn)), none))
    return page


def _draw(content: Content, page: Page, diagram: LineDiagram, about: str) -> None:
    svg = Markup(line_diagram_svg(diagram))
    page.block(
        rendered("blocks/line-diagram.html", m=content.site.medium(page.address), svg=svg, diagram=diagram, about=about)
    )


def _entries(content: Content, tags: Iterable[Text]) -> Iterator[Entry]:
    for tag in tags:
        piece = content.book.plant.equipment.equipment[tag]
        yield Entry(addresses.piece(tag), f"{tag}: {piece.name}", str(piece.where or ""))
