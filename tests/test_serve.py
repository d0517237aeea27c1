"""A book served while it is written: what is answered, and that open pages follow the book."""

import http.client
import os
import signal
import socket
import subprocess
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from demo_book import COMMAND, built, copy_book, hashes, replace
from playwright.sync_api import Browser, expect
from test_build import BLEED, without_print

from tankside.serving.notice import Notice
from tankside.serving.pages import notice_block

PAGE = "/procedures/filling/bleed-cleaner-line.html"


@dataclass(frozen=True)
class Served:
    book: Path
    port: int
    environment: dict[str, str]

    def get(self, path: str, method: str = "GET", **headers: str) -> tuple[http.client.HTTPResponse, bytes]:
        asked = http.client.HTTPConnection("127.0.0.1", self.port, timeout=10)
        asked.request(method, path, headers=headers)
        answer = asked.getresponse()
        return answer, answer.read()

    def text(self, path: str = PAGE) -> str:
        return self.get(path)[1].decode("utf-8")

    def wait_for(self, text: str, path: str = PAGE, *, there: bool = True) -> None:
        end = time.monotonic() + 20
        while (text in self.text(path)) is not there:
            assert time.monotonic() < end, f"{path}: {text!r}"
            time.sleep(0.1)


def wait_until_it_listens(port: int) -> None:
    end = time.monotonic() + 30
    while True:
        try:
            socket.create_connection(("127.0.0.1", port), 1).close()
        except OSError:
            assert time.monotonic() < end, "the server did not start"
            time.sleep(0.1)
        else:
            return


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    folder = tmp_path_factory.mktemp("served")
    book, environment = copy_book(folder / "book"), without_print(folder)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    command = [*COMMAND, "serve", str(book), "--port", str(port)]
    with subprocess.Popen(command, env={**os.environ, **environment}, stderr=subprocess.PIPE) as process:
        wait_until_it_listens(port)
        found = Served(book, port, environment)
        found.wait_for("<h1")
        found.wait_for("Bleed the filling line")
        yield found
        process.send_signal(signal.SIGINT)
        said = process.communicate(timeout=10)[1].decode("utf-8")
        assert process.returncode == 130
        assert said.count("Interrupted.") == 1
        assert "Traceback" not in said


@pytest.mark.parametrize(
    "path", ["/../mkdocs.yml", "/%2e%2e/%2e%2e/mkdocs.yml", "/..%5cmkdocs.yml", "/a%00", "/pictures/"]
)
def test_nothing_but_files_of_the_site_is_answered(served: Served, path: str) -> None:
    with socket.create_connection(("127.0.0.1", served.port), 10) as raw:
        raw.sendall(f"GET {path} HTTP/1.1\r\nHost: localhost\r\n\r\n".encode("ascii"))
        answer = raw.makefile("rb").read()
    assert answer.startswith(b"HTTP/1.1 404")
    assert b"site_name" not in answer


def test_link_out_of_the_site_is_not_followed(served: Served) -> None:
    link = served.book / "build/served/link.txt"
    link.symlink_to(served.book / "mkdocs.yml")
    status = served.get("/link.txt")[0].status
    link.unlink()
    assert status == 404


@pytest.mark.parametrize(
    ("path", "kind"),
    [
        ("/", "text/html; charset=utf-8"),
        ("/tankside/site.css", "text/css; charset=utf-8"),
        ("/tankside/search.js", "text/javascript; charset=utf-8"),
        ("/tankside/icon.svg", "image/svg+xml; charset=utf-8"),
        ("/tankside/fonts/AtkinsonHyperlegible-Bold.ttf", "font/ttf"),
    ],
)
def test_type_and_headers(served: Served, path: str, kind: str) -> None:
    for method in ("GET", "HEAD"):
        answer, body = served.get(path, method)
        assert answer.status == 200
        assert (body == b"") is (method == "HEAD")
        assert answer.headers["Content-Type"] == kind
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
        assert answer.headers["X-Frame-Options"] == "DENY"
        assert answer.headers["Referrer-Policy"] == "no-referrer"
        assert answer.headers["Cache-Control"] == "no-store"
        assert "Server" not in answer.headers


def test_other_methods_and_names_are_refused(served: Served) -> None:
    assert served.get("/", "POST")[0].status == 405
    assert served.get("/", Host="attacker.example")[0].status == 421
    assert served.get("/", Host=f"localhost:{served.port}")[0].status == 200


def test_port_in_use_is_a_sentence(served: Served) -> None:
    command = [*COMMAND, "serve", str(served.book), "--port", str(served.port)]
    done = subprocess.run(command, capture_output=True, text=True, encoding="utf-8", timeout=20, check=False)
    assert done.returncode == 2
    assert f"port {served.port} is in use" in done.stderr


def test_notice_shows_markup_as_text() -> None:
    block = notice_block(Notice("<b>", ("<script>&",)))
    assert "<b>" not in block
    assert "<li>&lt;script&gt;&amp;</li>" in block


def test_open_pages_follow_the_book(served: Served, browser: Browser, tmp_path: Path) -> None:
    said: list[str] = []
    with browser.new_context() as context:
        page, emergency = context.new_page(), context.new_page()
        for each, path in ((page, PAGE), (emergency, "/emergency/splash.html")):
            each.on("console", lambda message: said.append(message.text))
            each.goto(f"http://127.0.0.1:{served.port}{path}")
        replace(served.book / BLEED, "title: Bleed the filling", "title: Rinse the filling")
        expect(page.locator("h1")).to_contain_text("Rinse the filling", timeout=20_000)
        replace(served.book / BLEED, "purpose: ", "porpoise: ")
        for each in (page, emergency):
            notice = each.locator(".tankside-serve-notice")
            expect(notice).to_contain_text(f"{BLEED}:", timeout=20_000)
            expect(notice).to_contain_text("hint:")
        expect(page.locator("h1")).to_contain_text("Rinse the filling")
        replace(served.book / BLEED, "porpoise: ", "purpose: ")
        for each in (page, emergency):
            expect(each.locator(".tankside-serve-notice")).to_have_count(0, timeout=20_000)
    assert said == []
    with (served.book / "site_src/about.md").open("a", encoding="utf-8", newline="\n") as about:
        about.write("\nA line more.\n")
    served.wait_for("A line more.", "/about.html")
    replace(served.book / "mkdocs.yml", "site_name: The", "site_name: Our")
    served.wait_for("Our workshop book", "/about.html")
    copy = copy_book(tmp_path / "copy")
    for name in (BLEED, "site_src/about.md", "mkdocs.yml"):
        (copy / name).write_bytes((served.book / name).read_bytes())
    assert built(copy, **served.environment).returncode == 0
    assert hashes(served.book / "build/served") == hashes(copy / "build/site")
