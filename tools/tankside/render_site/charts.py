"""The pages of charts."""

from collections.abc import Iterator

from markupsafe import Markup

from tankside.drawing.plots import plot_svg
from tankside.render_site import addresses
from tankside.render_site.content import Content
from tankside.render_site.listing import Entry, listing
from tankside.render_site.shells import Page
from tankside.templating import rendered
from tankside.views.charts import ChartView


def chart_pages(content: Content) -> Iterator[Page]:
    """Return the list of charts and the page of each."""
    page = Page(addresses.CHARTS, content.say("charts"))
    page.block(Markup("<p>{}</p>").format(content.say("charts-about")))
    entries = (Entry(addresses.chart(view.id), view.title, view.about) for view in content.charts)
    page.block(listing(page.address, entries, content.say("situation-none")))
    yield page
    for view in content.charts:
        yield _page(view)


def _page(view: ChartView) -> Page:
    page = Page(addresses.chart(view.id), view.title)
    page.block(
        rendered("blocks/chart-head.html", view=view, plot=None if view.plot is None else Markup(plot_svg(view.plot)))
    )
    for number, grid in enumerate(view.grids):
        page.heading(grid.caption, anchor=f"table-{number}")
        page.block(rendered("blocks/chart-grid.html", grid=grid))
    return page
