"""What the pages of the site say, and the numbers with a unit in a text."""

from __future__ import annotations

import html
import json
import re
from datetime import date
from importlib.resources import files
from pathlib import Path

from tankside.audit import audit_of
from tankside.checkup import Checkup
from tankside.render_site.content import Content
from tankside.render_site.emergencies import emergency_pages
from tankside.render_site.pages import pages


def page_texts(checkup: Checkup) -> dict[str, str]:
    """The text of the page of each procedure and checklist, by id."""
    assert checkup.book is not None
    assert checkup.rehearsal is not None
    audit = audit_of(checkup.rehearsal, date(2026, 12, 1))
    content = Content(checkup.book, checkup.editions, "en", True, checkup.rehearsal, audit)
    made = {page.address: " ".join((*(each.text for each in page.headings), *page.blocks)) for page in pages(content)}
    made |= dict(emergency_pages(content))
    return {Path(address).stem: html.unescape(re.sub(r"<[^>]+>", " ", text)) for address, text in made.items()}


def number_pattern() -> re.Pattern[str]:
    table = json.loads((files("tankside") / "units.json").read_text(encoding="utf-8"))
    symbols = {unit["symbol"] for unit in table["units"]} | set(table.get("aliases", {})) | {"%"}
    units = "|".join(re.escape(each) for each in sorted(symbols, key=lambda each: (-len(each), each)))
    return re.compile(rf"(?<![\w.-])\d+(?:\.\d+)? (?:{units})(?![\w/])")
