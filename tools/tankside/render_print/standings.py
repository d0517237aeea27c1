"""The list of who may do what on a day. It is read in the hand, and is out of date the day after."""

from tankside.model.facts import BookFacts
from tankside.render_print.draft import Draft
from tankside.render_print.paper import CLEAR_MM, Paper
from tankside.templating import Medium, rendered
from tankside.texts import Words
from tankside.views.training.standings import StandingsView

NAME = "who-may-do-what"
#: room for the lines of the foot
FOOT_MM = 16


def standings(view: StandingsView, facts: BookFacts, say: Words, language: str) -> Draft:
    """Return the list."""
    m = Medium(say=say, sign=str, mark=str, picture=str, link=lambda _: None, is_paper=True)
    html = rendered("sheet-standings.html", m=m, view=view, facts=facts, language=language)
    page_of = say("page", page='" counter(page) "', pages='" counter(pages) "')
    style = Paper(str(facts.paper)).style(CLEAR_MM, CLEAR_MM, CLEAR_MM + FOOT_MM)
    return Draft(NAME, str(html), f'{style}.page-of::before {{ content: "{page_of}"; }}')
