"""What axe-core finds wrong with a page by the rules of WCAG 2.0, 2.1 and 2.2, levels A and AA, in a real browser.

The engine is a script inside the package axe-playwright-python. It is put into the page by the browser's own tools,
which no policy of the page stops, and asks nothing of a network. What it cannot decide it calls incomplete, and that is
not reported here.
"""

from functools import cache
from importlib.resources import files
from typing import Any

from playwright.sync_api import Page

TAGS = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22a", "wcag22aa")
#: axe-core leaves this rule out unless it is asked for: 24 px by 24 px, or space around (2.5.8, AA)
ASKED_FOR = "target-size"
RUN = """async ([tags, rule]) => {
  const found = await axe.run(document, {
    runOnly: { type: 'tag', values: tags }, rules: { [rule]: { enabled: true } },
    resultTypes: ['violations'], preload: false,
  });
  return found.violations.map(({ id, help, nodes }) => [id, help, nodes.map(({ target }) => target.join(' '))]);
}"""


@cache
def engine() -> str:
    """Return the source of axe-core."""
    return files("axe_playwright_python").joinpath("axe.min.js").read_text(encoding="utf-8")


def violations(page: Page) -> list[str]:
    """Return what breaks a rule on a page as it stands now: ``rule: where: what the rule asks``, one for each place."""
    if not page.evaluate("'axe' in window"):
        page.evaluate(engine())
    found: list[tuple[str, str, list[Any]]] = page.evaluate(RUN, [TAGS, ASKED_FOR])
    return [f"{rule}: {where}: {asks}" for rule, asks, places in found for where in places]
