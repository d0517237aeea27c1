"""The pages of materials and equipment."""

from collections.abc import Iterator

from markupsafe import Markup

from tankside.render_site import addresses
from tankside.render_site.addresses import From
from tankside.render_site.content import Content
from tankside.render_site.listing import Entry, listing, procedure_entry
from tankside.render_site.shells import Page
from tankside.templating import rendered
from tankside.views.plant import MaterialView, PieceView, PlantViews


def material_pages(content: Content) -> Iterator[Page]:
    """Return the list of materials and the page of each."""
    views = [_views(content).material(name) for name in content.book.plant.materials.materials]
    page = Page(addresses.MATERIALS, content.say("materials"))
    page.block(listing(page.address, (Entry(addresses.material(view.id), view.name, view.look) for view in views)))
    yield page
    for view in views:
        yield _page(content, Page(addresses.material(view.id), view.name), view, MATERIAL_BLOCKS)


def equipment_pages(content: Content) -> Iterator[Page]:
    """Return the list of equipment and the page of each piece."""
    views = [_views(content).piece(tag) for tag in content.book.plant.equipment.equipment]
    page = Page(addresses.EQUIPMENT, content.say("equipment"))
    page.block(listing(page.address, (Entry(addresses.piece(view.tag), f"{view.tag}: {view.name}") for view in views)))
    yield page
    for view in views:
        yield _page(content, Page(addresses.piece(view.tag), f"{view.tag}: {view.name}"), view, PIECE_BLOCKS)


#: heading and template of each block, and the field of the view without which it is left out
MATERIAL_BLOCKS = (
    ("", "material-label", "name"),
    ("first-aid", "material-first-aid", "first_aid"),
    ("never-with", "material-never-with", "never_with"),
    ("wear", "plant-wear", "wear"),
    ("holding", "material-holding", "holding"),
    ("facts", "plant-facts", "facts"),
    ("recipe", "material-recipes", "recipes"),
)
PIECE_BLOCKS = (
    ("", "piece-facts", "name"),
    ("wear", "plant-wear", "wear"),
    ("energy", "piece-energy", "energy"),
    ("exemption", "piece-exemption", "exemption"),
)


def _views(content: Content) -> PlantViews:
    return PlantViews(content.book, tuple(content.editions[name] for name in content.book.procedures), content.say)


def _page(
    content: Content, page: Page, view: MaterialView | PieceView, blocks: tuple[tuple[str, str, str], ...]
) -> Page:
    here = From(page.address)
    for heading, template, needed in blocks:
        if getattr(view, needed):
            if heading:
                page.heading(content.say(heading), anchor=heading)
            page.block(
                rendered(
                    f"blocks/{template}.html",
                    m=content.site.medium(page.address),
                    view=view,
                    material=lambda name: here.to(addresses.material(name)),
                    piece=lambda tag: here.to(addresses.piece(tag)),
                    signs=here.to(addresses.SIGNS),
                )
            )
    if view.used_in:
        page.heading(content.say("used-in"), anchor="used-in")
        page.block(_used_in(content, page, view.used_in))
    return page


def _used_in(content: Content, page: Page, ids: tuple[str, ...]) -> Markup:
    return listing(page.address, (procedure_entry(content, content.procedures[name]) for name in ids))
