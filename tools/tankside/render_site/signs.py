"""The page of signs: what each one says, family by family."""

from tankside.drawing.signs import by_family
from tankside.render_site import addresses
from tankside.render_site.content import Content
from tankside.render_site.shells import Page
from tankside.templating import rendered


def signs_page(content: Content) -> Page:
    """Return the page that shows every sign of the table, no two families in one row."""
    page = Page(addresses.SIGNS, content.say("signs"))
    m = content.site.medium(page.address)
    page.block(rendered("blocks/signs-head.html", m=m))
    for family, signs in by_family().items():
        page.heading(content.say(f"sign-family-{family}"), anchor=f"family-{family}")
        page.block(rendered("blocks/signs.html", m=m, about=content.say(f"sign-about-{family}"), signs=signs))
    return page
