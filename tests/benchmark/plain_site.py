"""A plain mkdocs-material project with the same visible content as a built site: one Markdown file for each page."""

import re
import shutil
from html.parser import HTMLParser
from pathlib import Path
from posixpath import splitext

CONFIG = """site_name: The workshop book
theme:
  name: material
  language: en
use_directory_urls: false
"""
#: characters that mean something in Markdown
MARKS = re.compile(r"[\\`*_{}\[\]<>#|&]")
#: what would begin a list
OPENING = re.compile(r"^(\d*)([-+.])(?=\s)")
PARAGRAPHS = ("p", "div", "section", "nav", "details", "summary", "caption")
ITEMS = ("li", "dt")
#: what holds items or rows: these follow each other without an empty line
GROUPS = ("ul", "ol", "dl", "table")
PAIRED = {"b": "**", "strong": "**", "code": "`"}


def write_plain_site(site: Path, folder: Path) -> Path:
    """Write the project for a built site into a new folder and return its configuration."""
    pages = folder / "docs"
    for path in sorted(site.rglob("*.html")):
        page = pages / path.relative_to(site).with_suffix(".md")
        page.parent.mkdir(parents=True, exist_ok=True)
        page.write_text(markdown(path.read_text(encoding="utf-8")), encoding="utf-8", newline="\n")
    for pictures in (site / "pictures", site / "tankside"):
        shutil.copytree(pictures, pages / pictures.name, ignore=shutil.ignore_patterns("*.js", "*.css", "fonts"))
    config = folder / "mkdocs.yml"
    config.write_text(CONFIG, encoding="utf-8", newline="\n")
    return config


def markdown(html: str) -> str:
    """Return the content of a page as Markdown."""
    writer = _Writer()
    writer.feed(content(html))
    return writer.text()


def content(html: str) -> str:
    """Return what stands between the frame of a page, without the drawings that stand in it."""
    tag = "article" if "<article" in html else "main"
    inside = re.search(f"<{tag}[^>]*>(.*)</{tag}>", html, re.DOTALL)
    assert inside is not None, "a page has neither article nor main"
    # A title that stays in view stands above what is scrolled.
    title = None if "<h1" in inside[1] else re.search("<h1.*?</h1>", html, re.DOTALL)
    whole = ("" if title is None else title[0]) + inside[1]
    return re.sub("<svg.*?</svg>", "", whole, flags=re.DOTALL)


class _Writer(HTMLParser):
    """Collects blocks of Markdown."""

    def __init__(self) -> None:
        super().__init__()
        #: each block, and the number of the list or table it belongs to; 0 for none
        self._blocks: list[tuple[str, int]] = []
        self._prefix = ""
        self._line = ""
        self._group = 0
        self._groups = 0
        self._cells: list[str] = []
        self._closings: list[str] = []
        self._is_verbatim = False

    def text(self) -> str:
        """Return everything so far as one text."""
        self._flush()
        written, last = "", 0
        for block, group in self._blocks:
            written += ("\n" if group and group == last else "\n\n") + block
            last = group
        return written.strip() + "\n"

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        if tag in PARAGRAPHS or tag in GROUPS:
            self._flush()
        if tag in GROUPS:
            self._groups += 1
            self._group = self._groups
        if re.fullmatch("h[1-6]", tag):
            self._flush("#" * int(tag[1]) + " ")
        elif tag in ITEMS:
            self._flush("- ")
        elif tag == "tr":
            self._cells = []
        elif tag == "pre":
            self._flush()
            self._is_verbatim = True
        elif tag == "dd":
            self._line += " "
        elif tag == "br":
            self._line += "<br>"
        elif tag == "img":
            self._line += f" ![{_escaped(given['alt'] or '')}]({given['src']}) "
        elif tag == "a":
            target = _page_address(given["href"] or "")
            self._line += "[" if target else ""
            self._closings.append(f"]({target})" if target else "")
        else:
            self._is_verbatim = self._is_verbatim or tag == "code"
            self._line += PAIRED.get(tag, "")

    def handle_endtag(self, tag: str) -> None:
        if tag in PARAGRAPHS or tag in ("dd", "li") or re.fullmatch("h[1-6]", tag):
            self._flush()
        elif tag in ("td", "th"):
            self._cells.append(self._line.strip())
            self._line = ""
        elif tag == "tr":
            self._row()
        elif tag == "pre":
            self._blocks.append((f"```\n{self._line.strip()}\n```", 0))
            self._line, self._is_verbatim = "", False
        elif tag == "a":
            self._line += self._closings.pop()
        else:
            self._is_verbatim = self._is_verbatim and tag != "code"
            self._line += PAIRED.get(tag, "")
        if tag in GROUPS:
            self._group = 0

    def handle_data(self, data: str) -> None:
        self._line += data if self._is_verbatim else _escaped(re.sub(r"\s+", " ", data))

    def _row(self) -> None:
        is_first = not self._blocks or self._blocks[-1][1] != self._group
        self._blocks.append((f"| {' | '.join(self._cells)} |", self._group))
        if is_first:
            self._blocks.append((f"|{' --- |' * len(self._cells)}", self._group))

    def _flush(self, prefix: str = "") -> None:
        """End the block that stands in the line, and begin the next one."""
        line = self._line.strip()
        if line:
            line = self._prefix + line if self._prefix else OPENING.sub(r"\1\\\2", line)
            self._blocks.append((line, self._group if self._prefix == "- " else 0))
        self._prefix, self._line = prefix, ""


def _escaped(text: str) -> str:
    return MARKS.sub(lambda found: f"&#{ord(found[0])};", text)


def _page_address(href: str) -> str:
    """Return where a link leads in the Markdown files; nothing for a place on the same page or a sheet."""
    path = href.partition("#")[0]
    stem, kind = splitext(path)
    return f"{stem}.md" if kind == ".html" else ""
