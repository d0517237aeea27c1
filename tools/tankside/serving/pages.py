"""What is added to a page on its way out; the files of the site stay as a build makes them."""

import re
from html import escape

from tankside.serving.notice import Notice

OWN = "/tankside-serve"
_POLICY = re.compile(r'<meta http-equiv="Content-Security-Policy" content="[^"]*">')
_HEAD_END, _BODY_END = "</head>", "</body>"
_PLAIN = """<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'none'; style-src 'self'; \
img-src data:; base-uri 'none'; form-action 'none'">
<meta name="viewport" content="width=device-width,initial-scale=1">
<title>{title}</title>
<link rel="icon" href="data:,">
</head>
<body>
<main>
<h1>{title}</h1>
<p>{text}</p>
</main>
</body>
</html>
"""


def plain_page(title: str, text: str) -> str:
    """Return a page for when the site has none."""
    return _PLAIN.format(title=escape(title), text=escape(text))


def outgoing(page: str, version: str, notice: Notice | None, *, is_folded: bool = False) -> str:
    """Return a page that reloads when the version changes, and shows the notice, or its first line when folded."""
    page = _POLICY.sub(lambda policy: policy.group().replace("script-src 'none'", "script-src 'self'"), page, count=1)
    script = f'<script src="{OWN}/reload.js" data-version="{escape(version)}" defer></script>\n'
    if notice is not None:
        script = f'<link rel="stylesheet" href="{OWN}/notice.css">\n{script}'
        page = _before(page, _BODY_END, notice_block(notice, is_folded=is_folded))
    return _before(page, _HEAD_END, script)


def notice_block(notice: Notice, *, is_folded: bool = False) -> str:
    """Return a notice as a block of a page; a tap on its title folds what is below, and unfolds it."""
    title = escape(notice.title)
    inside = f"<p>{title}</p>\n"
    if notice.lines:
        lines = "".join(f"<li>{escape(line)}</li>\n" for line in notice.lines)
        state = "" if is_folded else " open"
        # The list scrolls, so the keyboard must reach it.
        inside = f'<details{state}>\n<summary>{title}</summary>\n<ul tabindex="0">\n{lines}</ul>\n</details>\n'
    return f'<section class="tankside-serve-notice" role="alert" aria-label="{title}">\n{inside}</section>\n'


def _before(page: str, mark: str, added: str) -> str:
    before, found, after = page.rpartition(mark) if mark == _BODY_END else page.partition(mark)
    return f"{before}{added}{found}{after}" if found else f"{page}{added}"
