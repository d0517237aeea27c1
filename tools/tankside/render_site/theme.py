"""The one place that runs the theme: shells in, plain pages out."""

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from importlib.resources import as_file, files
from pathlib import Path

from tankside.memory import store
from tankside.render_site import addresses

CONFIG = "mkdocs.yml"
SCRIPTS = ("lunr.js", "search.js")
STYLES = ("fonts.css", "pieces.css", "site.css")
#: what the theme writes and a book does not use: its search, its page for servers only, its icon, maps of its sources
UNUSED = (
    "search",
    "404.html",
    "sitemap.xml",
    "sitemap.xml.gz",
    "assets/javascripts/workers",
    "assets/javascripts/lunr",
    "assets/images/favicon.png",
)
SHELL, PAGE = ".md", ".html"


class ThemeFailedError(Exception):
    """The theme could not make the pages; the message is what it said."""


@dataclass(frozen=True)
class Shells:
    """What the theme is given."""

    #: path below the theme's input -> text; two with the same text in folders of one depth look the same
    pages: Mapping[str, str]
    #: the same of pages that somebody wrote by hand, each of which looks like no other
    hand_written: Mapping[str, str]
    #: title and shell path, or title and a list of such, as the navigation shows them
    navigation: list[object]
    #: values that the theme's own frame shows
    extra: Mapping[str, str]

    @cached_property
    def singular(self) -> frozenset[str]:
        """The pages that are made one by one: named in the navigation, written by hand or linked from such."""
        written = " ".join(self.hand_written.values())
        linked = (path for path in self.pages if path.rpartition("/")[2] in written)
        return frozenset((*_paths(self.navigation), *self.hand_written, *linked))

    @property
    def frame(self) -> str:
        """All that any page may depend on."""
        return json.dumps([self.hand_written, self.navigation, self.extra, sorted(self.singular)], sort_keys=True)


@dataclass(frozen=True)
class Themed:
    """What the theme made."""

    #: address -> page
    pages: Mapping[str, str]
    #: address -> style, script or picture of the theme's own
    assets: Mapping[str, bytes]


def themed(book: Path, work: Path, shells: Shells) -> Themed:
    """Let the theme make pages of the shells; `work` is a folder for it that is removed.

    Each kind of shell is made once, and not again the next time as long as the frame is the same.

    Raises:
        ThemeFailedError: the theme answered with an error.
    """
    made: dict[_Kind, str] = store("theme", shells.frame, (book / CONFIG).read_text(encoding="utf-8"))
    assets: dict[str, bytes] = store("theme's assets")
    wanted = {**shells.pages, **shells.hand_written}
    kinds = {path: _kind(path, text, is_singular=path in shells.singular) for path, text in wanted.items()}
    missing = {kind: path for path, kind in kinds.items() if kind not in made}
    if missing:
        needed = {path: wanted[path] for path in (*missing.values(), *shells.singular)}
        pages, found = _made(book, work, shells, needed)
        made |= {kind: pages[_address(path)] for kind, path in missing.items()}
        assets |= found
    return Themed({_address(path): made[kind] for path, kind in kinds.items()}, assets)


#: what a page must have in common with another to look the same
_Kind = tuple[str, int, str]


def _kind(path: str, text: str, *, is_singular: bool) -> _Kind:
    return (path if is_singular else "", path.count("/"), text)


def _address(shell_path: str) -> str:
    return shell_path.removesuffix(SHELL) + PAGE


def _paths(navigation: object) -> Iterator[str]:
    if isinstance(navigation, str):
        yield navigation
    for each in navigation.values() if isinstance(navigation, dict) else ():
        yield from _paths(each)
    for each in navigation if isinstance(navigation, list) else ():
        yield from _paths(each)


def _made(
    book: Path, work: Path, shells: Shells, texts: Mapping[str, str]
) -> tuple[Mapping[str, str], Mapping[str, bytes]]:
    """Return the pages that the theme makes of some texts, and all else that it writes, by address."""
    docs, site = work / "shell", work / "site"
    for path, text in texts.items():
        target = docs / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text, encoding="utf-8", newline="\n")
    with as_file(files("tankside") / "assets" / "overrides") as overrides:
        config = work / CONFIG
        config.write_text(_config(book, docs, site, overrides, shells), encoding="utf-8", newline="\n")
        _run(config)
    _drop_unused(site)
    found = {path.relative_to(site).as_posix(): path.read_bytes() for path in sorted(site.rglob("*")) if path.is_file()}
    shutil.rmtree(work)
    pages = {address: data.decode("utf-8") for address, data in found.items() if address.endswith(PAGE)}
    return pages, {address: data for address, data in found.items() if address not in pages}


def _config(book: Path, docs: Path, site: Path, overrides: Path, shells: Shells) -> str:
    """Return the config of this build; JSON is YAML. Paths in an inherited config would resolve against this one."""
    settings = {
        "INHERIT": str(book / CONFIG),
        "docs_dir": str(docs),
        "site_dir": str(site),
        "use_directory_urls": False,
        "theme": {
            "name": "material",
            "custom_dir": str(overrides),
            "font": False,
            "favicon": addresses.ICON,
            "features": ["navigation.sections"],
        },
        "plugins": [],
        "extra": {"generator": False, **shells.extra},
        "extra_css": [f"{addresses.OWN}/{name}" for name in STYLES],
        "extra_javascript": [f"{addresses.OWN}/{name}" for name in SCRIPTS],
        # Alignment as an attribute: the policy forbids the inline style that tables have otherwise.
        "markdown_extensions": ["attr_list", {"tables": {"use_align_attribute": True}}],
        "nav": shells.navigation,
        "validation": {"nav": {"omitted_files": "ignore", "not_found": "ignore"}},
    }
    return json.dumps(settings, indent=1)


def _run(config: Path) -> None:
    # Not --quiet: strictness would then not hear of the warnings that it is about.
    command = [sys.executable, "-m", "mkdocs", "build", "--strict", "--config-file", str(config)]
    environment = {**os.environ, "NO_MKDOCS_2_WARNING": "1", "SOURCE_DATE_EPOCH": "0"}
    done = subprocess.run(command, capture_output=True, text=True, encoding="utf-8", env=environment, check=False)
    if done.returncode != 0:
        said = (done.stderr or done.stdout).strip().splitlines()
        raise ThemeFailedError("\n".join(line for line in said if not line.startswith("INFO")))


def _drop_unused(site: Path) -> None:
    for path in (*(site / name for name in UNUSED), *site.rglob("*.map")):
        if path.is_dir():
            shutil.rmtree(path)
        else:
            path.unlink(missing_ok=True)
