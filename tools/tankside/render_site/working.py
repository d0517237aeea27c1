"""The working copies on one device: their list, and the record of each, to be read and printed."""

import json
from collections.abc import Iterator

from tankside.render_site import addresses
from tankside.render_site.addresses import From
from tankside.render_site.content import Content
from tankside.render_site.listing import SITUATIONS, Entry, checklist_entry, procedure_entry
from tankside.render_site.scripts import WORK_LIST, WORK_RECORD
from tankside.render_site.work import carried_out, framed
from tankside.views.procedures import ChecklistView, ProcedureView
from tankside.views.work import surroundings

SHARED = ("fonts.css", "pieces.css", "work.css")
LIST_STYLES, RECORD_STYLES = (*SHARED, "work-list.css"), (*SHARED, "work-record.css")


def working_pages(content: Content) -> Iterator[tuple[str, str]]:
    """Return the address and the whole HTML of the list and of the page of a record."""
    yield addresses.WORKING, _list(content)
    yield addresses.RECORD, _record(content)


def _list(content: Content) -> str:
    """Return the list: what can be begun stands in it, the scripts add what is on the device."""
    names = [name for name, _ in carried_out(content)]
    data = json.dumps({"book": str(content.book.plant.facts.book), "carried": names}, separators=(",", ":"))
    to, begin = From(addresses.WORKING).to, list(_by_situation(content))
    given = {"to": to, "begin": begin, "data": data}
    return framed(content, addresses.WORKING, "working.html", WORK_LIST, styles=LIST_STYLES, **given)


def _by_situation(content: Content) -> Iterator[tuple[str, list[Entry]]]:
    """Return what can be carried out under the headings of the home page, those without any left out."""
    found: dict[str, list[Entry]] = {}
    for name, view in carried_out(content):
        found.setdefault(view.situation, []).append(_entry(content, name, view))
    for situation in SITUATIONS:
        if situation in found:
            yield content.say(f"situation-{situation}"), found[situation]


def _entry(content: Content, name: str, view: ProcedureView | ChecklistView) -> Entry:
    """Return an entry that leads to where something is carried out, with its stamp when it is not for use."""
    address = addresses.work(name)
    read = procedure_entry(content, view) if isinstance(view, ProcedureView) else checklist_entry(address, view)
    stamp = content.say("stamp") if name in content.stamps else ""
    return Entry(address, read.title, read.about, stamp=stamp)


def _record(content: Content) -> str:
    """Return the page that shows the record of any working copy."""
    around = json.dumps(surroundings(content.book.plant), separators=(",", ":"), ensure_ascii=False)
    data = around.replace("<", "\\u003c")
    return framed(content, addresses.RECORD, "work-record.html", WORK_RECORD, styles=RECORD_STYLES, data=data)
