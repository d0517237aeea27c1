"""A page for the theme: a shell of numbered gaps, and the texts, anchors and blocks that are spliced into them.

Two pages with gaps in the same places have the same shell, so the theme makes it once for both.
"""

import html
import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from markupsafe import Markup

_GAP = re.compile(r'<div data-block="(?P<block>\d+)"></div>|tankside(?P<heading>\d+)(?P<part>text|anchor)')


@dataclass(frozen=True)
class Heading:
    """A heading of a page, the title included."""

    text: str
    anchor: str


@dataclass
class Page:
    """A page of the site while it is put together."""

    #: its address in the site, ending in .html
    address: str
    title: str
    lines: list[str] = field(default_factory=list)
    blocks: list[Markup] = field(default_factory=list)
    headings: list[Heading] = field(default_factory=list)

    def __post_init__(self) -> None:
        """Begin with the title."""
        self.heading(self.title, 1)

    def heading(self, text: str, level: int = 2, anchor: str = "") -> None:
        """Add a heading; `anchor` is its id when links lead to it."""
        number = len(self.headings)
        self.lines += [f"{'#' * level} tankside{number}text {{#tankside{number}anchor}}", ""]
        self.headings.append(Heading(text, anchor or f"heading-{number}"))

    def block(self, block: Markup) -> None:
        """Add a block of ready HTML."""
        if block.strip():
            self.lines += [f'<div data-block="{len(self.blocks)}"></div>', ""]
            self.blocks.append(block)

    @property
    def shell_path(self) -> str:
        """Where its shell stands among the theme's input."""
        return self.address.removesuffix(".html") + ".md"

    @property
    def shell(self) -> str:
        """The Markdown that the theme gets."""
        return "---\ntitle: tankside0text\n---\n\n" + "\n".join(self.lines)


def spliced(page_html: str, headings: Sequence[Heading], blocks: Sequence[Markup]) -> str:
    """Return a page with every gap filled.

    Raises:
        ValueError: a gap is missing or a block's is doubled, so that something would be lost.
    """
    found: list[int] = []
    seen: set[tuple[int, str]] = set()

    def filled(gap: re.Match[str]) -> str:
        if gap["block"] is not None:
            found.append(int(gap["block"]))
            return str(blocks[found[-1]])
        seen.add((int(gap["heading"]), gap["part"]))
        heading = headings[int(gap["heading"])]
        return html.escape(heading.text if gap["part"] == "text" else heading.anchor)

    made = _GAP.sub(filled, page_html)
    if found != list(range(len(blocks))):
        raise ValueError(f"the theme kept the gaps {found}, not 0 to {len(blocks) - 1}")
    if len(seen) != 2 * len(headings):
        raise ValueError(f"the theme kept only {sorted(seen)} of {len(headings)} headings")
    return made
