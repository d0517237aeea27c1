"""The one place that runs the theme: shells in, plain pages out."""

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from importlib.resources import as_file, files
from pathlib import Path

from tankside.render_site import addresses

CONFIG = "mkdocs.yml"
SCRIPTS = ("lunr.js", "search-index.js", "search.js")
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


class ThemeFailedError(Exception):
    """The theme could not make the pages; the message is what it said."""


@dataclass(frozen=True)
class Shells:
    """What the theme is given."""

    #: path below the theme's input -> text
    pages: Mapping[str, str]
    #: title and shell path, or title and a list of such, as the navigation shows them
    navigation: list[object]
    #: values that the theme's own frame shows
    extra: Mapping[str, str]


def make_pages(book: Path, work: Path, shells: Shells, site: Path) -> None:
    """Write the shells below `work` and let the theme make pages of them in `site`.

    Raises:
        ThemeFailedError: the theme answered with an error.
    """
    docs = work / "shell"
    for path, text in shells.pages.items():
        target = docs / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text, encoding="utf-8", newline="\n")
    with as_file(files("tankside") / "assets" / "overrides") as overrides:
        config = work / CONFIG
        config.write_text(_config(book, docs, site, overrides, shells), encoding="utf-8", newline="\n")
        _run(config)
    _drop_unused(site)


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
    command = [sys.executable, "-m", "mkdocs", "--quiet", "build", "--strict", "--config-file", str(config)]
    environment = {**os.environ, "NO_MKDOCS_2_WARNING": "1", "SOURCE_DATE_EPOCH": "0"}
    done = subprocess.run(command, capture_output=True, text=True, encoding="utf-8", env=environment, check=False)
    if done.returncode != 0:
        raise ThemeFailedError((done.stderr or done.stdout).strip())


def _drop_unused(site: Path) -> None:
    for path in (*(site / name for name in UNUSED), *site.rglob("*.map")):
        if path.is_dir():
            shutil.rmtree(path)
        else:
            path.unlink(missing_ok=True)
