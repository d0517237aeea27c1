"""The page of what meets what."""

from tankside.render_site import addresses
from tankside.render_site.addresses import From
from tankside.render_site.content import Content
from tankside.render_site.shells import Page
from tankside.templating import rendered

#: heading and template of each part of the page
PARTS = (("meeting-pairs", "meeting-pairs"), ("meeting-why", "meeting-why"), ("meeting-parts", "meeting-parts"))


def meeting_page(content: Content) -> Page:
    """Return the page that shows what may meet, what never, and what comes where."""
    page = Page(addresses.MEETING, content.say("meeting"))
    here = From(page.address)
    given = {
        "m": content.site.medium(page.address),
        "view": content.meeting,
        "material": lambda name: here.to(addresses.material(name)),
        "piece": lambda tag: here.to(addresses.piece(tag)),
        "step": lambda coming: f"{here.to(content.site.addresses[coming.procedure])}#step-{coming.step}",
    }
    page.block(rendered("blocks/meeting-head.html", **given))
    for heading, template in PARTS:
        page.heading(content.say(heading), anchor=heading)
        page.block(rendered(f"blocks/{template}.html", **given))
    return page
