"""A strict content security policy for every page: own files, and inline scripts by their hash."""

import base64
import re
from hashlib import sha256

_INLINE = re.compile(r"<script(?P<attributes>[^>]*)>(?P<body>.*?)</script>", re.DOTALL)
_HEAD = re.compile(r"<meta charset=\"?utf-8\"?>")


class UnsafePageError(Exception):
    """A page holds something that its policy would forbid."""


def with_policy(page: str, name: str) -> str:
    """Return a page with its policy in the head; `name` is what it is called when it is refused.

    Raises:
        UnsafePageError: it has an inline style or an event handler in an attribute, which no hash can allow.
    """
    _refuse_inline(page, name)
    meta = f'<meta http-equiv="Content-Security-Policy" content="{policy(page)}">'
    made, count = _HEAD.subn(lambda match: f"{match.group()}\n{meta}", page, count=1)
    if count != 1:
        raise UnsafePageError(f"{name} does not name its encoding")
    return made


def policy(page: str) -> str:
    """Return the policy that allows exactly what the page needs."""
    scripts = " ".join(["'self'", *(f"'sha256-{each}'" for each in inline_hashes(page))])
    if "<script" not in page:
        scripts = "'none'"
    rules = (
        "default-src 'none'",
        f"script-src {scripts}",
        "style-src 'self'",
        "img-src 'self' data:",
        "font-src 'self'",
        "base-uri 'none'",
        "form-action 'none'",
    )
    return "; ".join(rules)


def inline_hashes(page: str) -> tuple[str, ...]:
    """Return the SHA-256 of each inline script that runs, in base64, each once."""
    found: dict[str, None] = {}
    for match in _INLINE.finditer(page):
        if "src=" not in match["attributes"] and "application/json" not in match["attributes"]:
            found[base64.b64encode(sha256(match["body"].encode("utf-8")).digest()).decode("ascii")] = None
    return tuple(found)


def _refuse_inline(page: str, name: str) -> None:
    markup = _INLINE.sub("", page)
    found = re.search(r"<style|<[^>]*\s(style|on\w+)=", markup)
    if found:
        raise UnsafePageError(f"{name} has inline style or script: {found.group()[-80:]}")
