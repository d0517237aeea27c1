"""What browser tests share: the demo book built once, one Chromium, and a server on the loopback address."""

import os
import threading
from collections.abc import Iterator
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from time import monotonic, sleep

import pytest
from copies_in_browser import Device
from demo_book import built, copy_book
from hypothesis import settings
from playwright.sync_api import Browser, Page, sync_playwright
from work_page import looked_at

# How long an example takes says nothing on a machine that does something else, too.
settings.register_profile("suite", deadline=None)
settings.load_profile("suite")

#: longer than a build takes on a busy computer [s]
BUILDING = 300
# What is due, and so what is stamped as not for use, depends on the day: everything here is built on 2026-12-01,
# 20 788 days of 86 400 s after 1970-01-01 (reproducible-builds.org).
os.environ["SOURCE_DATE_EPOCH"] = str(20_788 * 86_400)
CHROMIUM = Path(os.environ.get("TANKSIDE_CHROMIUM", "/usr/bin/chromium"))
#: a name of this computer by which a page is no secure context, as under the name of another one of the workshop
LAN = "workshop.lan"
ARGUMENTS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    # What a page asks from elsewhere is seen, and goes nowhere.
    f"--host-resolver-rules=MAP {LAN} 127.0.0.1, MAP * ~NOTFOUND, EXCLUDE 127.0.0.1, EXCLUDE localhost",
)


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Path:
    """The site of the demo book, with its sheets; read it, and change nothing in it.

    It is built once, whichever process of the run needs it first; the others wait for it.
    """
    own = tmp_path_factory.getbasetemp()
    shared = (own if worker_id == "master" else own.parent) / "demo"
    site = shared / "book" / "build" / "site"
    try:
        shared.mkdir()
    except FileExistsError:
        _wait_for(site / "index.html")
    else:
        done = built(copy_book(shared / "book"))
        assert done.returncode == 0, done.stderr
    return site


def _wait_for(page: Path) -> None:
    """Wait until another process has put a whole site in its place."""
    until = monotonic() + BUILDING
    while not page.exists():
        assert monotonic() < until, "the process that builds the demo book has failed"
        sleep(0.2)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Chromium, without anything it would do in the background."""
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield chromium
        chromium.close()


class _Silent(SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: object) -> None:
        """Say nothing on the terminal."""


@pytest.fixture(scope="session")
def address(site: Path) -> Iterator[str]:
    """The site on a server of this computer."""
    with ThreadingHTTPServer(("127.0.0.1", 0), partial(_Silent, directory=str(site))) as server:
        thread = threading.Thread(target=server.serve_forever)
        thread.start()
        yield f"http://127.0.0.1:{server.server_port}"
        server.shutdown()
        thread.join()


@pytest.fixture
def page(browser: Browser, site: Path) -> Iterator[Page]:
    """A page in a fresh browser that asks nothing from elsewhere and complains of nothing."""
    with looked_at(browser, site.as_uri()) as (opened, complaints):
        yield opened
        assert complaints == []


@pytest.fixture
def own(site: Path) -> str:
    """Where the site is."""
    return site.as_uri()


@pytest.fixture(params=["file", "http"])
def base(request: pytest.FixtureRequest, site: Path) -> str:
    """The address of the site, as it is opened from a folder and over plain HTTP."""
    return site.as_uri() if request.param == "file" else str(request.getfixturevalue("address"))


@pytest.fixture
def device(browser: Browser, base: str) -> Iterator[Device]:
    """A device on which nothing has been done."""
    made = Device(browser, base)
    yield made
    made.close()
