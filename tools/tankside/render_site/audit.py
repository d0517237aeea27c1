"""The pages of the audit: what it found, its rules, and the standards behind them."""

import re
from collections.abc import Iterator
from itertools import groupby

from markupsafe import Markup, escape

from tankside.audit import RULES, Rule
from tankside.audit.standards import OUT_OF_SCOPE, checked, practices
from tankside.audit.unchecked import NOT_CHECKED
from tankside.render_site import addresses
from tankside.render_site.addresses import From
from tankside.render_site.content import Content
from tankside.render_site.shells import Page
from tankside.templating import rendered

PARTS = ("audit-table", "audit-findings", "audit-exceptions")
_EXAMPLE = re.compile(r"^(Fails|Passes):$", re.MULTILINE)


def audit_pages(content: Content) -> Iterator[Page]:
    """Return the page of the audit, that of its rules and that of the standards."""
    yield _audit(content)
    yield _rules(content)
    yield _standards(content)


def _audit(content: Content) -> Page:
    page = Page(addresses.AUDIT, content.say("audit"))
    here = From(page.address)
    given = {
        "m": content.site.medium(page.address),
        "view": content.audit_view,
        "rules": here.to(addresses.RULES),
        "sheet": content.site.sheet(page.address, addresses.AUDIT_SHEET),
        "to": lambda name: here.to(content.written_at(name)),
        "unchecked": NOT_CHECKED,
    }
    page.block(rendered("blocks/audit-head.html", **given))
    for part in PARTS:
        page.heading(content.say(part), anchor=part)
        page.block(rendered(f"blocks/{part}.html", **given))
    return page


def _rules(content: Content) -> Page:
    page = Page(addresses.RULES, content.say("audit-rules"))
    m = content.site.medium(page.address)
    for family, rules in groupby(RULES, lambda rule: rule.family):
        page.heading(content.say(f"audit-{family}"), anchor=family)
        page.block(rendered("blocks/audit-rules.html", m=m, rules=list(rules), manual=manual))
    return page


def manual(rule: Rule) -> list[tuple[str, str]]:
    """Return the manual page of a rule in paragraphs, each "text" or "code"."""
    text, *parts = _EXAMPLE.split(rule.manual)
    paragraphs: list[tuple[str, str]] = [("text", _prose(each)) for each in text.strip().split("\n\n") if each.strip()]
    for which, example in zip(parts[::2], parts[1::2], strict=True):
        paragraphs += [("text", f"{which}:"), ("code", re.sub(r"^ {4}", "", example.strip("\n"), flags=re.MULTILINE))]
    return paragraphs


def _prose(paragraph: str) -> Markup:
    return Markup(re.sub(r"`([^`]+)`", r"<code>\1</code>", str(escape(" ".join(paragraph.split())))))


def _standards(content: Content) -> Page:
    page = Page(addresses.STANDARDS, content.say("standards"))
    m, here = content.site.medium(page.address), From(page.address)
    jurisdiction = str(content.book.plant.facts.jurisdiction)
    given = {"m": m, "rules": here.to(addresses.RULES)}
    page.block(rendered("blocks/standards-head.html", jurisdiction=jurisdiction, out_of_scope=OUT_OF_SCOPE, **given))
    for each in checked(RULES, jurisdiction):
        page.heading(each.name)
        page.block(rendered("blocks/standard.html", each=each, **given))
    page.heading(content.say("standards-practice"))
    page.block(rendered("blocks/standards-practice.html", practices=practices(RULES), **given))
    return page
