"""The binder: every sheet of a book in one PDF, to be printed on both sides and bound."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate

from tankside.edition.sheets import USED_UP, SheetEdition
from tankside.render_print.draft import Draft
from tankside.render_print.drafting.drafts import draft_of
from tankside.render_print.engine import Laid
from tankside.render_print.paper import CLEAR_MM, Paper
from tankside.render_print.sheets import SheetMaker
from tankside.render_print.statement import statement
from tankside.templating import Medium, rendered
from tankside.views.audit import AuditView
from tankside.views.sheets.listing import sheet_title

#: room for the foot of the contents
FOOT_MM = 12


@dataclass(frozen=True)
class ContentsRow:
    """A line of the contents."""

    title: str
    kind: str
    id: str
    revision: str
    short_hash: str
    #: the first page
    page: int


def binder(maker: SheetMaker, sheets: Iterable[SheetEdition], audit: AuditView, tell: Callable[[str], None]) -> bytes:
    """Return the binder of a book: contents, the statement of the audit, every sheet, each from a right page on.

    Raises:
        SheetFailedError: a sheet could not be laid out.
    """
    engine, kept = maker.engine, [each for each in sheets if each.kind not in USED_UP]
    own = statement(audit, maker.plant.facts, maker.say, maker.language, is_bound=True)
    laid = [engine.laid(own), *(_laid(maker, each, tell) for each in kept)]
    contents = engine.laid(_contents(maker, kept, laid, 1))
    # How long the contents are is known when they are laid out; they then stand before all pages that they name.
    contents = engine.laid(_contents(maker, kept, laid, _even(contents.count) + 1))
    empty = engine.laid(_empty(maker))
    return engine.bound([part for each in (contents, *laid) for part in _from_right(each, empty)], "binder")


def _laid(maker: SheetMaker, sheet: SheetEdition, tell: Callable[[str], None]) -> Laid:
    tell(f"sheet {sheet.id}")
    return maker.engine.laid(draft_of(replace(maker.setting(sheet), is_bound=True), sheet, maker.plant))


def _from_right(sheet: Laid, empty: Laid) -> tuple[Laid, ...]:
    return (sheet, empty) if sheet.count % 2 else (sheet,)


def _even(count: int) -> int:
    return count + count % 2


def _contents(maker: SheetMaker, sheets: Sequence[SheetEdition], laid: Sequence[Laid], first: int) -> Draft:
    """Return the contents; `first` is the page on which the statement begins."""
    starts = list(accumulate((_even(each.count) for each in laid), initial=first))
    say, facts = maker.say, maker.plant.facts
    rows = tuple(_row(maker, sheet, start) for sheet, start in zip(sheets, starts[1:], strict=False))
    m = Medium(say=say, sign=str, mark=str, picture=str, link=lambda _: None, is_paper=True)
    html = rendered("sheet-contents.html", m=m, facts=facts, language=maker.language, rows=rows, statement_page=first)
    return Draft("contents", str(html), _page_style(maker))


def _row(maker: SheetMaker, sheet: SheetEdition, page: int) -> ContentsRow:
    title = sheet_title(sheet, maker.plant, maker.say)
    return ContentsRow(title, maker.say(f"kind-{sheet.kind}"), sheet.id, sheet.revision, sheet.short_hash, page)


def _empty(maker: SheetMaker) -> Draft:
    html = f"<!doctype html><html lang='{maker.language}'><title>-</title><body></body></html>"
    return Draft("empty", html, _page_style(maker))


def _page_style(maker: SheetMaker) -> str:
    return Paper(str(maker.plant.facts.paper), is_bound=True).style(CLEAR_MM, CLEAR_MM, CLEAR_MM + FOOT_MM)
