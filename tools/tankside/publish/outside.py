"""Nothing of a built site may be fetched from elsewhere."""

import re
from pathlib import PurePosixPath

from tankside.memory import remembered

_OUTSIDE = r"(?:[a-z][a-z0-9+.-]*:)?//"
#: what a browser fetches by itself: src, the address of a resource link, url() and @import in a style
_IN_PAGE = re.compile(
    rf"<(?!a\b)[a-z][^>]*\s(?:src|srcset|href|action|data|poster)=[\"']?(?P<address>{_OUTSIDE}[^\"'\s>]*)",
    re.IGNORECASE,
)
_IN_STYLE = re.compile(rf"(?:url\(\s*|@import\s+)[\"']?(?P<address>{_OUTSIDE}[^\"')\s]*)", re.IGNORECASE)
#: what is looked for in each kind of file
_PATTERNS = {".html": (_IN_PAGE, _IN_STYLE), ".css": (_IN_STYLE,), ".svg": (_IN_PAGE, _IN_STYLE)}


@remembered
def outside_addresses(path: str, data: bytes) -> tuple[str, ...]:
    """Return each outside address that a file of a site would fetch."""
    patterns = _PATTERNS.get(PurePosixPath(path).suffix, ())
    text = data.decode("utf-8") if patterns else ""
    return tuple(match["address"] for pattern in patterns for match in pattern.finditer(text))
