"""A page for the theme: a shell of headings with numbered gaps, and the blocks that are spliced into the gaps."""

import html
import json
import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from markupsafe import Markup

GAP = '<div data-block="{number}"></div>'


@dataclass
class Page:
    """A page of the site while it is put together."""

    #: its address in the site, ending in .html
    address: str
    title: str
    lines: list[str] = field(default_factory=list)
    blocks: list[Markup] = field(default_factory=list)

    def heading(self, text: str, level: int = 2, anchor: str = "") -> None:
        """Add a heading; `anchor` is its id when links lead to it."""
        attribute = f" {{#{anchor}}}" if anchor else ""
        self.lines += [f"{'#' * level} {_markdown(text)}{attribute}", ""]

    def block(self, block: Markup) -> None:
        """Add a block of ready HTML."""
        if block.strip():
            self.lines += [GAP.format(number=len(self.blocks)), ""]
            self.blocks.append(block)

    @property
    def shell_path(self) -> str:
        """Where its shell stands among the theme's input."""
        return self.address.removesuffix(".html") + ".md"

    @property
    def shell(self) -> str:
        """The Markdown that the theme gets."""
        front = f"---\ntitle: {json.dumps(html.escape(self.title), ensure_ascii=False)}\n---\n\n"
        return f"{front}# {_markdown(self.title)}\n\n" + "\n".join(self.lines)


def _markdown(text: str) -> str:
    """Return a text as Markdown that shows exactly it: every mark as its number, so that none means anything."""
    return re.sub(r"[!-/:-@\[-`{-~]", lambda mark: f"&#{ord(mark.group())};", text)


def spliced(page_html: str, blocks: Sequence[Markup]) -> str:
    """Return a page with every gap filled.

    Raises:
        ValueError: a gap is missing or doubled, so that a block would be lost.
    """
    parts = re.split(r'<div data-block="(\d+)"></div>', page_html)
    found = [int(number) for number in parts[1::2]]
    if found != list(range(len(blocks))):
        raise ValueError(f"the theme kept the gaps {found}, not 0 to {len(blocks) - 1}")
    return "".join(part if at % 2 == 0 else str(blocks[int(part)]) for at, part in enumerate(parts))
