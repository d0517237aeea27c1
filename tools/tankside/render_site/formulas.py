"""The page of formulas."""

from markupsafe import Markup

from tankside.render_site import addresses
from tankside.render_site.content import Content
from tankside.render_site.shells import Page
from tankside.templating import rendered
from tankside.views.formulas import formulas_by_task


def formulas_page(content: Content) -> Page:
    """Return the page that says how every amount is worked out."""
    page = Page(addresses.FORMULAS, content.say("formulas"))
    page.block(Markup("<p>{}</p>").format(content.say("formulas-about")))
    for task, views in formulas_by_task(content.say):
        page.heading(task)
        for view in views:
            page.heading(view.name, 3, view.name)
            page.block(rendered("blocks/formula.html", say=content.say, view=view))
    return page
