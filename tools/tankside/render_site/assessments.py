"""The page of hazard assessments, drills and inspections."""

from tankside.render_site import addresses
from tankside.render_site.addresses import From
from tankside.render_site.content import Content
from tankside.render_site.shells import Page
from tankside.templating import rendered
from tankside.views.assessments import assessments_view

#: heading and template of each part after the assessments; the heading is the field of the view, too
PARTS = ("drills", "inspections", "abbreviations")


def assessments_page(content: Content) -> Page:
    """Return the page that shows what was assessed, practised and inspected."""
    page = Page(addresses.ASSESSMENTS, content.say("assessments"))
    here, view = From(page.address), assessments_view(content.book, content.say)
    given = {"m": content.site.medium(page.address), "to": lambda name: here.to(content.written_at(name))}
    none = rendered("blocks/nothing.html", **given)
    page.block(rendered("blocks/assessments-head.html", **given))
    page.heading(content.say("hazard-assessments"), anchor="hazard-assessments")
    for each in view.assessments:
        page.heading(each.place, 3, f"assessment-{each.id}")
        page.block(rendered("blocks/assessment.html", view=each, **given))
    if not view.assessments:
        page.block(none)
    for part in PARTS:
        page.heading(content.say(part), anchor=part)
        page.block(rendered(f"blocks/assessments-{part}.html", view=view, **given) if getattr(view, part) else none)
    if view.respirators:
        page.heading(content.say("respirators"), anchor="respirators")
        page.block(rendered("blocks/assessments-respirators.html", view=view, **given))
    return page
