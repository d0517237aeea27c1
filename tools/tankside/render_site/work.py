"""Pages on which a checklist or procedure is carried out: our own HTML without the theme's script, style or keys."""

import json
from collections.abc import Iterator, Mapping
from importlib.metadata import version
from typing import Any

from markupsafe import Markup

from tankside.drawing.marks import MARKS, mark_svg
from tankside.memory import remembered
from tankside.quantities.portable import Portable
from tankside.render_site import addresses
from tankside.render_site.addresses import From
from tankside.render_site.content import Content
from tankside.render_site.scripts import WORK
from tankside.templating import rendered
from tankside.views.board import plant_at_rest
from tankside.views.procedures import ChecklistView, ProcedureView
from tankside.views.training.lessons import compared
from tankside.views.work import shown, surroundings

STYLES = ("fonts.css", "pieces.css", "work.css", "work-forms.css", "work-steps.css")


def work_pages(content: Content) -> Iterator[tuple[str, str]]:
    """Return the address and the whole HTML of each page of a working copy."""
    for name, view in carried_out(content):
        address = addresses.work(name)
        given = {"data": _data(content, name, view), **_drawn(content, name)}
        yield address, framed(content, address, "work.html", WORK, view=view, **given)


def carried_out(content: Content) -> Iterator[tuple[str, ProcedureView | ChecklistView]]:
    """Return what can be carried out: every procedure that is no emergency, every checklist that lists steps."""
    for name, procedure in content.procedures.items():
        if not procedure.is_emergency:
            yield name, procedure
    for name, checklist in content.checklists.items():
        if checklist.lists_steps:
            yield name, checklist


def _drawn(content: Content, name: str) -> Mapping[str, Any]:
    """Return the marks, the stamp of what is not for use, and the way to the page of the record."""
    address = addresses.work(name)
    return {
        "marks": {each: Markup(mark_svg(each)) for each in MARKS},
        "stamp": content.stamps.get(name),
        "rule": addresses.rule_link(address),
        "record": From(address).to(addresses.RECORD),
    }


def _data(content: Content, name: str, view: ProcedureView | ChecklistView) -> str:
    """Return what the scripts of a page must know, as JSON inside HTML."""
    edition, stamp = content.editions[name], content.stamps.get(name)
    pieces = {"shown": shown(edition, view), "draft": stamp is not None, "emergencies": _emergencies(content)}
    pieces |= {"trained": _trained(content, view)}
    at_rest = plant_at_rest(content.rehearsal.setting)
    around = {**surroundings(content.book.plant), **at_rest, "build": f"tankside {version('tankside')}"}
    return _in_html(edition.canonical, _json({**pieces, "around": around}))


def _trained(content: Content, view: ProcedureView | ChecklistView) -> Portable:
    """Return what a start is held against, by procedure; nothing in a book without paths."""
    parts = [view] if isinstance(view, ProcedureView) else [each.view for each in view.parts if each.view is not None]
    names = dict.fromkeys(part.control.id for part in parts)
    return {name: compared(content.lessons[name]) for name in names} if content.paths else {}


@remembered
def _in_html(edition: str, rest: str) -> str:
    """Return both as one JSON object; `<` is escaped, so that nothing in it ends the element that it stands in."""
    return f'{{"edition":{edition},{rest[1:]}'.replace("<", "\\u003c")


def _json(value: Portable) -> str:
    return json.dumps(value, separators=(",", ":"), ensure_ascii=False)


def _emergencies(content: Content) -> list[str]:
    return [name for name, view in content.procedures.items() if view.is_emergency]


def framed(
    content: Content,
    address: str,
    template: str,
    scripts: tuple[str, ...],
    *,
    styles: tuple[str, ...] = STYLES,
    **given: object,
) -> str:
    """Return a page of working copies or training: ways out above, the scripts below.

    Where it is given, `at` is the page on which the sections of a procedure stand.
    """
    here = From(address)
    view = given.get("view")
    name = view.control.id if isinstance(view, (ProcedureView, ChecklistView)) else ""
    return rendered(
        template,
        m=content.site.medium(address, sections_at=str(given.get("at", ""))),
        facts=content.book.plant.facts,
        language=content.language,
        home=here.to(addresses.HOME),
        emergency=here.to(addresses.EMERGENCY),
        working=here.to(addresses.WORKING),
        training=here.to(addresses.TRAINING) if content.paths else "",
        icon=here.to(addresses.ICON),
        reading=here.to(content.written_at(name)) if name else "",
        sheet=content.site.sheet(address, name) if name else None,
        styles=[here.to(f"{addresses.OWN}/{style}") for style in styles],
        scripts=[here.to(script) for script in scripts],
        **given,
    )
