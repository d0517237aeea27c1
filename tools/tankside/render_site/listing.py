"""Lists of links: on the home page, on the pages of families, at the end of a material or piece."""

from collections.abc import Iterable
from dataclasses import dataclass

from markupsafe import Markup

from tankside.render_site.addresses import From
from tankside.render_site.content import Content
from tankside.templating import rendered
from tankside.views.procedures import ChecklistView, ProcedureView
from tankside.views.wording import plain_text

#: where a reader looks on the home page, in the order of the page
SITUATIONS = ("something-wrong", "before", "making", "filling", "after", "machine-stopped", "learning", "checking")


@dataclass(frozen=True)
class Entry:
    """Something that a list leads to."""

    address: str
    title: str
    about: str = ""
    is_emergency: bool = False
    #: what is stamped on it; empty when it is for use
    stamp: str = ""


def procedure_entry(content: Content, view: ProcedureView) -> Entry:
    """Return a procedure as an entry of a list."""
    address = content.site.addresses[view.control.id]
    is_draft = view.control.id in content.stamps and not view.is_emergency
    stamp = content.say("stamp") if is_draft else ""
    return Entry(address, view.control.title, plain_text(view.purpose), view.is_emergency, stamp)


def checklist_entry(address: str, view: ChecklistView) -> Entry:
    """Return a checklist as an entry of a list."""
    return Entry(address, view.control.title, view.purpose)


def listing(page: str, entries: Iterable[Entry], none: str = "") -> Markup:
    """Return a list as a page shows it, emergencies first; `none` is said when it is empty."""
    in_order = sorted(entries, key=lambda entry: not entry.is_emergency)
    return rendered("blocks/links.html", to=From(page).to, entries=in_order, none=none)
