"""Nothing of a built site may be fetched from elsewhere."""

import re
from collections.abc import Iterator
from pathlib import Path

_OUTSIDE = r"(?:[a-z][a-z0-9+.-]*:)?//"
#: what a browser fetches by itself: src, the address of a resource link, url() and @import in a style
_IN_PAGE = re.compile(
    rf"<(?!a\b)[a-z][^>]*\s(?:src|srcset|href|action|data|poster)=[\"']?(?P<address>{_OUTSIDE}[^\"'\s>]*)",
    re.IGNORECASE,
)
_IN_STYLE = re.compile(rf"(?:url\(\s*|@import\s+)[\"']?(?P<address>{_OUTSIDE}[^\"')\s]*)", re.IGNORECASE)


def outside_addresses(site: Path) -> Iterator[tuple[str, str]]:
    """Return each file of a site and the outside address that it would fetch."""
    for path in sorted(site.rglob("*")):
        patterns = {".html": (_IN_PAGE, _IN_STYLE), ".css": (_IN_STYLE,), ".svg": (_IN_PAGE, _IN_STYLE)}.get(
            path.suffix, ()
        )
        text = path.read_text(encoding="utf-8") if patterns else ""
        for pattern in patterns:
            for match in pattern.finditer(text):
                yield path.relative_to(site).as_posix(), match["address"]
