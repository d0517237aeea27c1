"""Emergency pages: our own HTML without the theme's script, style or keys. They always open."""

from collections.abc import Iterator

from tankside.render_site import addresses
from tankside.render_site.addresses import From, rule_link
from tankside.render_site.content import Content
from tankside.templating import rendered
from tankside.views.procedures import ProcedureView


def emergency_pages(content: Content) -> Iterator[tuple[str, str]]:
    """Return the address and the whole HTML of each emergency page, the list of all first."""
    views = [view for view in content.procedures.values() if view.is_emergency]
    yield addresses.EMERGENCY, _page(content, addresses.EMERGENCY, "emergencies.html", views=views)
    for view in views:
        address = addresses.emergency(view.control.id)
        yield address, _page(content, address, "emergency.html", view=view)


def _page(content: Content, address: str, template: str, **given: ProcedureView | list[ProcedureView]) -> str:
    here = From(address)
    view = given.get("view")
    name = view.control.id if isinstance(view, ProcedureView) else None
    return rendered(
        template,
        m=content.site.medium(address),
        facts=content.book.plant.facts,
        language=content.language,
        home=here.to(addresses.HOME),
        all=here.to(addresses.EMERGENCY),
        icon=here.to(addresses.ICON),
        styles=[here.to(f"{addresses.OWN}/{style}") for style in ("fonts.css", "pieces.css", "emergency.css")],
        link=lambda wanted: here.to(content.site.addresses[wanted]),
        sheet=None if name is None else content.site.sheet(address, name),
        stamp=content.stamps.get(name or ""),
        rule=rule_link(address),
        **given,
    )
