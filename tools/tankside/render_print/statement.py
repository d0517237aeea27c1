"""The statement of an audit: a dated sheet to print and sign. It is read in the hand, not from the wall."""

from tankside.audit.unchecked import NOT_CHECKED
from tankside.model.facts import BookFacts
from tankside.render_print.draft import Draft
from tankside.render_print.paper import CLEAR_MM, Paper
from tankside.render_site.addresses import AUDIT_SHEET
from tankside.templating import Medium, rendered
from tankside.texts import Words
from tankside.views.audit import AuditView

#: room for two lines of the foot, and three where the scenario is long
FOOT_MM = 20


def statement(view: AuditView, facts: BookFacts, say: Words, language: str, *, is_bound: bool = False) -> Draft:
    """Return the statement of an audit."""
    m = Medium(say=say, sign=str, mark=str, picture=str, link=lambda _: None, is_paper=True)
    html = rendered("sheet-audit.html", m=m, view=view, facts=facts, language=language, unchecked=NOT_CHECKED)
    page_of = say("page", page='" counter(page) "', pages='" counter(pages) "')
    paper = Paper(str(facts.paper), is_landscape=True, is_bound=is_bound)
    style = f"{paper.style(CLEAR_MM, CLEAR_MM, CLEAR_MM + FOOT_MM)}"
    return Draft(AUDIT_SHEET, str(html), f'{style}.page-of::before {{ content: "{page_of}"; }}')
