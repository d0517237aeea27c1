"""The pages that the theme makes: home, families, procedures, checklists; those of the plant stand in `plant`."""

from collections.abc import Iterator
from dataclasses import replace

from markupsafe import Markup

from tankside.memory import remembered
from tankside.model.procedures import Reference
from tankside.render_site import addresses
from tankside.render_site.addresses import From, rule_link
from tankside.render_site.assessments import assessments_page
from tankside.render_site.audit import audit_pages
from tankside.render_site.board import board_block, board_jump
from tankside.render_site.charts import chart_pages
from tankside.render_site.content import Content, Surroundings
from tankside.render_site.formulas import formulas_page
from tankside.render_site.line_diagram import line_diagram_page
from tankside.render_site.listing import SITUATIONS, Entry, checklist_entry, listing, procedure_entry
from tankside.render_site.meeting import meeting_page
from tankside.render_site.plant import equipment_pages, material_pages
from tankside.render_site.rehearsed import Rehearsed
from tankside.render_site.scripts import LIVE_AMOUNTS, WORK_OPEN
from tankside.render_site.sheets import sheets_page
from tankside.render_site.shells import Page
from tankside.render_site.signs import signs_page
from tankside.templating import rendered
from tankside.texts import Words
from tankside.views.audit import StampView
from tankside.views.procedures import ChecklistView, PartView, ProcedureView


def pages(content: Content) -> Iterator[Page]:
    """Return all pages, home first."""
    yield _home(content)
    yield from _families(content)
    for view in content.procedures.values():
        if not view.is_emergency:
            name = view.control.id
            yield _procedure(content.site, view, content.rehearsed[name], content.stamps.get(name))
    yield _checklists(content)
    for name, checklist in content.checklists.items():
        yield _checklist(content, name, checklist)
    yield from material_pages(content)
    yield from equipment_pages(content)
    yield from chart_pages(content)
    yield line_diagram_page(content)
    yield meeting_page(content)
    yield formulas_page(content)
    yield sheets_page(content)
    yield signs_page(content)
    yield from audit_pages(content)
    yield assessments_page(content)


def _home(content: Content) -> Page:
    page = Page(addresses.HOME, str(content.book.plant.facts.title))
    if content.book.plant.facts.scenario:
        page.block(rendered("blocks/scenario.html", text=content.book.plant.facts.scenario))
    page.block(_open_copies(content, page))
    page.block(board_jump(content, page.address))
    for situation in SITUATIONS:
        page.heading(content.say(f"situation-{situation}"), anchor=situation)
        page.block(listing(page.address, _for_situation(content, situation), content.say("situation-none")))
    page.block(board_block(content, page.address))
    return page


def _open_copies(content: Content, page: Page) -> Markup:
    """Return the way to the working copies, and the place where a script says how many are open on the device."""
    to = From(page.address).to
    return rendered(
        "blocks/work-open.html",
        m=content.site.medium(page.address),
        working=to(addresses.WORKING),
        training=to(addresses.TRAINING) if content.paths else "",
        book=content.book.plant.facts.book,
        scripts=[to(each) for each in WORK_OPEN],
    )


def _for_situation(content: Content, situation: str) -> Iterator[Entry]:
    for view in content.procedures.values():
        if view.situation == situation:
            yield procedure_entry(content, view)
    for name, checklist in content.checklists.items():
        if checklist.situation == situation:
            yield checklist_entry(addresses.checklist(name), checklist)
    if situation == "checking":
        yield Entry(addresses.MATERIALS, content.say("materials"))
        yield Entry(addresses.EQUIPMENT, content.say("equipment"))
        yield Entry(addresses.LINE_DIAGRAM, content.say("line-diagram"))
        yield Entry(addresses.MEETING, content.say("meeting"))
        yield Entry(addresses.CHARTS, content.say("charts"))
        yield Entry(addresses.FORMULAS, content.say("formulas"))
        yield Entry(addresses.SIGNS, content.say("signs"))
        yield Entry(addresses.AUDIT, content.say("audit"))
        yield Entry(addresses.RULES, content.say("audit-rules"))
        yield Entry(addresses.STANDARDS, content.say("standards"))
        yield Entry(addresses.ASSESSMENTS, content.say("assessments"))


def families(content: Content) -> tuple[str, ...]:
    """Return the families in alphabetical order."""
    return tuple(sorted({view.family for view in content.procedures.values()}))


def family_title(family: str) -> str:
    """Return a family as a heading."""
    return family[:1].upper() + family[1:].replace("-", " ")


def _families(content: Content) -> Iterator[Page]:
    for family in families(content):
        page = Page(addresses.family(family), family_title(family))
        inside = (view for view in content.procedures.values() if view.family == family)
        page.block(listing(page.address, (procedure_entry(content, view) for view in inside)))
        yield page


@remembered
def _procedure(site: Surroundings, view: ProcedureView, dry_run: Rehearsed, stamp: StampView | None) -> Page:
    name, say = view.control.id, site.say
    page = Page(site.addresses[name], view.control.title)
    given = {
        "m": replace(site.medium(page.address), plant=dry_run.after(page.address)),
        "view": view,
        "dry_run": dry_run.view,
        "stamp": stamp,
        "rule": rule_link(page.address),
        "sheet": site.sheet(page.address, name),
        "work": From(page.address).to(addresses.work(name)),
        "scripts": _scripts(page),
    }
    page.block(rendered("blocks/procedure-head.html", **given))
    before = {
        "wear": True,
        "prerequisites": bool(view.prerequisites or view.needs),
        "hazards": True,
        "energy": bool(view.energy),
        "amounts": bool(view.amounts),
    }
    after = {"wrong": True, "waste": bool(view.waste), "rehearsed": True, "sources": True, "history": True}
    _headed_blocks(say, page, before, given)
    page.heading(say("steps"), anchor="steps")
    for section in view.sections:
        if section.title:
            page.heading(section.title, 3, f"section-{section.name}")
        page.block(rendered("blocks/section.html", m=given["m"], section=section))
    _headed_blocks(say, page, after, given)
    return page


def _scripts(page: Page) -> list[str]:
    """Return the ways from a page to the scripts by which its amounts follow an input."""
    return [From(page.address).to(each) for each in LIVE_AMOUNTS]


def _headed_blocks(say: Words, page: Page, wanted: dict[str, bool], given: dict[str, object]) -> None:
    for name in (name for name, is_wanted in wanted.items() if is_wanted):
        page.heading(say(name), anchor=name)
        page.block(rendered(f"blocks/{name}.html", **given))


def _checklists(content: Content) -> Page:
    page = Page(addresses.CHECKLISTS, content.say("checklists"))
    entries = (checklist_entry(addresses.checklist(name), view) for name, view in content.checklists.items())
    page.block(listing(page.address, entries, content.say("situation-none")))
    return page


def _checklist(content: Content, name: str, view: ChecklistView) -> Page:
    page = Page(addresses.checklist(name), view.control.title)
    given = {"m": content.site.medium(page.address), "view": view, "sheet": content.site.sheet(page.address, name)}
    stamped = {"stamp": content.stamps.get(name), "rule": rule_link(page.address)}
    work = From(page.address).to(addresses.work(name)) if view.lists_steps else ""
    page.block(rendered("blocks/checklist-head.html", work=work, **given, **stamped))
    page.heading(content.say("contents"), anchor="contents")
    links = [_part_link(content, page, item) for item in content.book.checklists[name].items]
    if view.lists_steps:
        links = [f"#part-{number}" for number, _ in enumerate(view.parts, 1)]
    page.block(rendered("blocks/checklist-parts.html", links=links, **given))
    before: list[ProcedureView] = []
    for number, part in enumerate(view.parts, 1):
        if part.view is not None:
            _part(content, page, number, part, before)
            before.append(part.view)
    _headed_blocks(content.say, page, {"history": True}, given)
    return page


def _part_link(content: Content, page: Page, item: Reference) -> str:
    address = From(page.address).to(content.site.addresses[item.procedure])
    return address if item.section is None else f"{address}#section-{item.section}"


def _part(content: Content, page: Page, number: int, part: PartView, before: list[ProcedureView]) -> None:
    """Add a part of a checklist; `before` are the procedures that it comes after."""
    assert part.view is not None
    here = From(page.address).to(content.site.addresses[part.procedure])
    m = content.site.medium(page.address, sections_at=here, prefix=f"part-{number}-")
    page.heading(part.title, anchor=f"part-{number}")
    is_dressed = bool(before) and before[-1].wear == part.view.wear
    given = {"m": m, "view": part.view, "is_dressed": is_dressed, "procedure": here}
    stamped = {"stamp": content.stamps.get(part.procedure), "rule": rule_link(page.address)}
    page.block(rendered("blocks/part-head.html", **given, **stamped))
    if part.view.live is not None and part.procedure not in [each.control.id for each in before]:
        page.heading(content.say("amounts"), 3)
        scripts = [] if any(each.live for each in before) else _scripts(page)
        page.block(rendered("blocks/amounts.html", m=m, view=part.view, scripts=scripts))
    for section in part.sections:
        if len(part.sections) > 1 and section.title:
            page.heading(section.title, 3)
        page.block(rendered("blocks/section.html", m=m, section=section))
