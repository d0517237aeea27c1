"""Which file of a site answers an address."""

from pathlib import Path
from urllib.parse import unquote

INDEX = "index.html"
TYPES = {
    ".css": "text/css; charset=utf-8",
    ".gif": "image/gif",
    ".html": "text/html; charset=utf-8",
    ".ico": "image/x-icon",
    ".jpeg": "image/jpeg",
    ".jpg": "image/jpeg",
    ".js": "text/javascript; charset=utf-8",
    ".json": "application/json; charset=utf-8",
    ".pdf": "application/pdf",
    ".png": "image/png",
    ".svg": "image/svg+xml; charset=utf-8",
    ".ttf": "font/ttf",
    ".txt": "text/plain; charset=utf-8",
    ".webp": "image/webp",
    ".woff2": "font/woff2",
}


class NotThereError(Exception):
    """The site has no such file, or it is none of the site's."""


def path_of(site: Path, address: str) -> Path:
    """Return what an address without its query names in a site: a file, or a folder that has an index.

    Raises:
        NotThereError: nothing that may be read.
    """
    path = site.joinpath(*_parts(address))
    try:
        is_file = path.is_file() and not address.endswith("/")
        if _is_inside(site, path) and (is_file or (path / INDEX).is_file()):
            return path
    except OSError as error:
        # A name that is too long, or a folder that may not be entered.
        raise NotThereError(address) from error
    raise NotThereError(address)


def _parts(address: str) -> list[str]:
    try:
        parts = unquote(address, errors="strict").removeprefix("/").removesuffix("/").split("/")
    except UnicodeDecodeError as error:
        raise NotThereError(address) from error
    # A colon names a drive or a stream on Windows.
    if any(part.startswith(".") or set(part) & set("\\:\0") for part in parts) or (parts != [""] and "" in parts):
        raise NotThereError(address)
    return [part for part in parts if part]


def _is_inside(site: Path, path: Path) -> bool:
    try:
        return path.resolve().is_relative_to(site.resolve())
    except RuntimeError:
        # A link that leads to itself, before Python 3.13.
        return False


def read(site: Path, path: Path) -> bytes:
    """Return a file of the site, in one go.

    Raises:
        NotThereError: it has gone, may not be read, or is a link out of the site.
    """
    try:
        if _is_inside(site, path):
            return path.read_bytes()
    except OSError as error:
        raise NotThereError(str(path)) from error
    raise NotThereError(str(path))
