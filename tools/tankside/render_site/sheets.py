"""The page of sheets: what hangs where, and what can be printed."""

from tankside.edition.sheets import hanging
from tankside.model.sheets import BINDER, SHEET_KINDS
from tankside.render_site import addresses
from tankside.render_site.content import Content
from tankside.render_site.shells import Page
from tankside.templating import rendered
from tankside.views.sheets.listing import sheet_rows


def sheets_page(content: Content) -> Page:
    """Return the page that lists all sheets, kind by kind, with the hash of the copy that counts."""
    say = content.say
    page = Page(addresses.SHEETS, say("sheets"))
    m = content.site.medium(page.address)
    page.block(rendered("blocks/sheets-head.html", m=m))
    published = {each.id for each in hanging(content.sheets.values())}
    for kind in (*SHEET_KINDS, BINDER):
        sheets = [each for each in content.sheets.values() if each.kind == kind]
        rows = [
            (row, content.site.sheet(page.address, row.id) if row.id in published else None)
            for row in sheet_rows(sheets, content.book.plant, say)
        ]
        if rows:
            page.heading(say(f"kind-{kind}"), anchor=kind)
            page.block(rendered("blocks/sheets-table.html", m=m, about=say(f"about-{kind}"), rows=rows))
    return page
