"""Who a served book answers and who not, and what is said when a site cannot be built, a port not be had."""

import errno
import html
import http.client
import os
import random
import re
import shutil
import signal
import socket
import socketserver
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import quote

import pytest
from click.testing import CliRunner, Result
from demo_book import COMMAND, copy_book, hashes, replace
from playwright.sync_api import Browser, expect
from test_build import BLEED, without_print

from tankside.cli.serve import serve
from tankside.edition import Audience
from tankside.publish.making import Outcome, make_site
from tankside.publish.swap import put_in_place
from tankside.serving.notice import Notice, NoticeBoard
from tankside.serving.pages import notice_block
from tankside.serving.rebuilding import Rebuilder
from tankside.serving.server import Handler, Server
from tankside.serving.watching import Watcher

PAGE = "/procedures/filling/bleed-cleaner-line.html"
SECRET = "written on no page"
GOOD = "<!doctype html>\n<html><head><meta charset='utf-8'></head><body><h1>The last good page</h1></body></html>\n"
#: names as RFC 2606 and addresses as RFC 5737 and RFC 3849 reserve them
OWN_NAME = "Press-Room.workshop.example"
HOST = b"Host: localhost\r\n\r\n"


@contextmanager
def serving(site: Path, board: NoticeBoard | None = None, *, is_open: bool = False) -> Iterator[Server]:
    with Server(site, board or NoticeBoard(), 0, is_open=is_open) as server:
        thread = threading.Thread(target=server.serve_forever, args=(0.02,))
        thread.start()
        try:
            yield server
        finally:
            server.shutdown()
            thread.join()


@pytest.fixture
def site(tmp_path: Path) -> Path:
    """A site of a few files, and secrets around it."""
    site = tmp_path / "build" / "site"
    for name in ("sub", "emergency", "sheets"):
        (site / name).mkdir(parents=True)
        (site / name / "index.html").write_text(GOOD, encoding="utf-8")
    (site / "index.html").write_text(GOOD, encoding="utf-8")
    (site / ".hidden").write_text(SECRET, encoding="utf-8")
    for path in (tmp_path / "secret.txt", tmp_path / "build" / "site.before" / "secret.txt"):
        path.parent.mkdir(exist_ok=True)
        path.write_text(SECRET, encoding="utf-8")
    return site


@pytest.fixture
def server(site: Path, capfd: pytest.CaptureFixture[str]) -> Iterator[Server]:
    """That site on this computer alone; whatever it is asked, it says nothing on the terminal."""
    with serving(site) as server:
        yield server
    assert capfd.readouterr() == ("", "")


def get(server: Server, path: str, method: str = "GET", **headers: str) -> tuple[http.client.HTTPResponse, bytes]:
    asked = http.client.HTTPConnection("127.0.0.1", server.server_port, timeout=5)
    asked.request(method, path, headers={name.replace("_", "-"): value for name, value in headers.items()})
    answer = asked.getresponse()
    return answer, answer.read()


def text(server: Server, path: str = "/") -> str:
    return get(server, path)[1].decode("utf-8")


def raw(server: Server, request: bytes) -> bytes:
    """Return what is answered to these bytes; nothing when the connection was broken off."""
    with socket.create_connection(("127.0.0.1", server.server_port), 5) as connection:
        try:
            connection.sendall(request)
            return connection.makefile("rb").read()
        except ConnectionError:
            return b""


def status_for(server: Server, *hosts: str) -> bytes:
    lines = "".join(f"Host: {each}\r\n" for each in hosts)
    answer = raw(server, f"GET / HTTP/1.1\r\n{lines}\r\n".encode("latin-1"))
    return answer.removeprefix(b"HTTP/1.1 ")[:3]


# Who is answered


@pytest.mark.parametrize(
    "host",
    ["localhost", "LocalHost", "localhost.", "localhost:8000", "127.0.0.1", "127.0.0.1:8000", "[::1]", "[::1]:8000"],
)
def test_this_computer_is_named_in_each_way(server: Server, host: str) -> None:
    assert status_for(server, host) == b"200"


@pytest.mark.parametrize(
    "host",
    [
        "attacker.example",
        "localhost.attacker.example",
        "127.0.0.1.attacker.example",
        "192.0.2.2",
        "press-room",
        "::1",
        "localhost:80:80",
        "user@localhost",
        "localhost, attacker.example",
        "",
    ],
)
def test_another_name_is_refused(server: Server, monkeypatch: pytest.MonkeyPatch, host: str) -> None:
    monkeypatch.setattr(socket, "gethostname", lambda: OWN_NAME)
    assert status_for(server, host) == b"421"


def test_no_name_and_two_names_are_refused(server: Server) -> None:
    assert status_for(server) == b"421"
    assert status_for(server, "localhost", "localhost") == b"421"
    assert raw(server, b"GET / HTTP/1.0\r\n\r\n").startswith(b"HTTP/1.1 421")


@pytest.mark.parametrize(
    "host",
    [
        "localhost",
        "192.0.2.2",
        "192.0.2.2:8000",
        "[2001:db8::1]",
        "[2001:db8::1]:8000",
        "press-room",
        "PRESS-ROOM:8000",
        "press-room.local",
        "press-room.local.",
        "press-room.workshop.example:8000",
    ],
)
def test_open_to_the_network_own_addresses_and_names_are_answered(
    site: Path, monkeypatch: pytest.MonkeyPatch, host: str
) -> None:
    monkeypatch.setattr(socket, "gethostname", lambda: OWN_NAME)
    with serving(site, is_open=True) as server:
        assert status_for(server, host) == b"200"


@pytest.mark.parametrize(
    "host",
    [
        "attacker.example",
        # Whoever owns attacker.example may point this at any computer, and a browser would take it for one place.
        "press-room.attacker.example",
        "press-room.local.attacker.example",
        "press-room.workshop.example.attacker.example",
        "192.0.2.2.attacker.example",
        "workshop.example",
        "local",
        "2001:db8::1",
        "2001:db8::a",
        "[attacker.example]",
        "[192.0.2.2]",
        "0xc0000202",
        "",
    ],
)
def test_open_to_the_network_a_name_that_somebody_else_can_own_is_refused(
    site: Path, monkeypatch: pytest.MonkeyPatch, host: str
) -> None:
    monkeypatch.setattr(socket, "gethostname", lambda: OWN_NAME)
    with serving(site, is_open=True) as server:
        assert status_for(server, host) == b"421"
        assert status_for(server, "192.0.2.2", host) == b"421"


def another_address() -> str:
    """Return an address of this computer that is not the one it serves at."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            # Reserved for documentation (RFC 5737); nothing is sent.
            probe.connect(("203.0.113.1", 9))
        except OSError:
            return "127.0.0.2"
        return str(probe.getsockname()[0])


def test_another_address_of_this_computer_is_answered_only_when_open(site: Path) -> None:
    with serving(site) as server, pytest.raises(ConnectionRefusedError):
        socket.create_connection((another_address(), server.server_port), 5)
    with serving(site, is_open=True) as server:
        socket.create_connection((another_address(), server.server_port), 5).close()


# Ports


@pytest.fixture
def asked(site: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[..., Result]:
    """The command on a book, ended by Ctrl-C as soon as it would answer; nothing is watched or built."""

    def interrupt(_: Server) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(Watcher, "start", lambda _: None)
    monkeypatch.setattr(Rebuilder, "start", lambda _: None)
    monkeypatch.setattr(Server, "serve_forever", interrupt)
    book = site.parent.parent
    (book / "mkdocs.yml").write_text("site_name: A book\n", encoding="utf-8")
    return lambda *options: CliRunner().invoke(serve, [str(book), *options])


def refuse_port(monkeypatch: pytest.MonkeyPatch, refused: int, error: OSError) -> None:
    """Let the system refuse one port, as it does who may not take it."""
    bind = socketserver.TCPServer.server_bind

    def server_bind(server: socketserver.TCPServer) -> None:
        if server.server_address[1] == refused:
            raise error
        bind(server)

    monkeypatch.setattr(socketserver.TCPServer, "server_bind", server_bind)


DENIED = PermissionError(errno.EACCES, "Permission denied")
IN_USE = OSError(errno.EADDRINUSE, "Address already in use")


@pytest.mark.parametrize(
    ("error", "sentence"),
    [(DENIED, "port 80 is not to be had (Permission denied)"), (IN_USE, "port 80 is in use")],
)
def test_port_that_the_system_refuses_is_wrong_usage(
    asked: Callable[..., Result], monkeypatch: pytest.MonkeyPatch, error: OSError, sentence: str
) -> None:
    refuse_port(monkeypatch, 80, error)
    done = asked("--port", "80")
    assert done.exit_code == 2
    assert f"Error: {sentence}; choose another one with --port\n" in done.output


@pytest.mark.parametrize(
    ("error", "sentence"),
    [(DENIED, "Port 8000 is not to be had (Permission denied)"), (IN_USE, "Port 8000 is in use")],
)
def test_without_the_usual_port_another_one_is_taken(
    asked: Callable[..., Result], monkeypatch: pytest.MonkeyPatch, error: OSError, sentence: str
) -> None:
    refuse_port(monkeypatch, 8000, error)
    said = asked().output
    assert f"{sentence}; taking another one.\n" in said
    taken = re.search(r"^Serving the book at http://127\.0\.0\.1:(\d+)/ \(stop with Ctrl-C\)$", said, re.MULTILINE)
    assert taken
    assert taken[1] != "8000"
    assert "ATTENTION" not in said


@pytest.mark.parametrize("port", ["0", "65536", "-1", "http"])
def test_no_port_at_all_is_wrong_usage(asked: Callable[..., Result], port: str) -> None:
    assert asked("--port", port).exit_code == 2


def test_without_a_network_that_is_said(asked: Callable[..., Result], monkeypatch: pytest.MonkeyPatch) -> None:
    def unreachable(*_: object) -> None:
        raise OSError(errno.ENETUNREACH, "Network is unreachable")

    monkeypatch.setattr(socket.socket, "connect", unreachable)
    assert "(no network address of this computer was found)" in asked("--lan").output


# No site, and a site that cannot be built


def test_page_before_the_first_site_becomes_that_site(tmp_path: Path, browser: Browser) -> None:
    site, board = tmp_path / "site", NoticeBoard(Notice("The book is being built."))
    with serving(site, board) as server, browser.new_context() as context:
        page = context.new_page()
        answer = page.goto(f"http://127.0.0.1:{server.server_port}/")
        assert answer
        assert answer.status == 503
        expect(page.locator("h1")).to_have_text("There is no site yet")
        expect(page.locator(".tankside-serve-notice")).to_contain_text("The book is being built.")
        site.mkdir()
        (site / "index.html").write_text(GOOD, encoding="utf-8")
        board.settle(None, is_published=True)
        expect(page.locator("h1")).to_have_text("The last good page")
        expect(page.locator(".tankside-serve-notice")).to_have_count(0)


@pytest.mark.parametrize(
    ("fault", "sentence"),
    [
        (OSError(errno.ENOSPC, "No space left on device"), "The system refused: [Errno 28] No space left on device."),
        (ZeroDivisionError("<b>"), "This is a fault in tankside, not in your book: ZeroDivisionError: <b>"),
    ],
)
def test_build_that_breaks_off_ends_in_a_notice_on_the_last_good_site(
    server: Server, fault: Exception, sentence: str
) -> None:
    said: list[Outcome | str] = []

    def make() -> Outcome:
        raise fault

    Rebuilder(make, server.board, said.append).build()
    page = text(server)
    assert "<h1>The last good page</h1>" in page
    assert "<b>" not in page
    assert sentence in html.unescape(page)
    assert len(said) == 1
    assert sentence in str(said[0])


def test_sheet_that_fails_ends_in_a_notice_on_the_last_good_site(tmp_path: Path) -> None:
    book = copy_book(tmp_path / "book")
    # A step that is longer than a page: it is found while the sheet is laid out.
    replace(book / "procedures/filling/bleed-cleaner-line.yaml", "until: <most", f"until: {'on and ' * 900}<most")
    site = book / "build" / "site"
    site.mkdir(parents=True)
    (site / "index.html").write_text(GOOD, encoding="utf-8")
    before = hashes(site)
    outcomes: list[Outcome | str] = []
    with serving(site) as server:
        Rebuilder(lambda: make_site(book, Audience.FLOOR, lambda _: None), server.board, outcomes.append).build()
        page = text(server)
    assert "<h1>The last good page</h1>" in page
    assert "longer than a page" in page
    assert "bleed-cleaner-line" in page
    assert isinstance(outcomes[0], Outcome)
    assert outcomes[0].site is None
    assert hashes(site) == before


def test_notice_is_folded_on_emergency_pages_only(server: Server) -> None:
    server.board.settle(Notice("The book has problems.", ("one",)), is_published=False)
    assert "<details open>" in text(server, "/")
    assert "<details open>" in text(server, "/sub/")
    assert "<details>" in text(server, "/emergency/")
    assert "<details>" in text(server, "/emergency/index.html")


def test_page_that_is_not_utf_8_is_shown_as_a_browser_would(server: Server) -> None:
    (server.site / "latin.html").write_bytes(b"<html><head></head><body>d\xe9tartrant</body></html>")
    # One replacement character for the byte that begins no character (Unicode 15, 3.9, best practice).
    assert "d\N{REPLACEMENT CHARACTER}tartrant" in text(server, "/latin.html")


@pytest.mark.parametrize(("width", "height"), [(820, 1180), (390, 844)])
def test_notice_leaves_the_page_and_can_be_put_away(site: Path, browser: Browser, width: int, height: int) -> None:
    lines = tuple(f"procedures/filling/a-long-name.yaml:{number}:1: error: key 'a' is missing" for number in range(99))
    long = GOOD.replace("<h1>", "<p>word</p>\n" * 200 + "<h1>")
    (site / "emergency" / "long.html").write_text(long, encoding="utf-8")
    (site / "long.html").write_text(long, encoding="utf-8")
    board = NoticeBoard(Notice("The book has problems. The site stays as it was until this is mended.", lines))
    with serving(site, board) as server, browser.new_context(viewport={"width": width, "height": height}) as context:
        page = context.new_page()
        shown, list_of = page.locator(".tankside-serve-notice"), page.locator(".tankside-serve-notice ul")
        title = page.locator(".tankside-serve-notice summary")

        def covered() -> float:
            box = shown.bounding_box()
            assert box
            assert box["x"] >= 0
            assert box["x"] + box["width"] <= width
            assert box["y"] + box["height"] <= height
            return float(box["height"]) / height

        page.goto(f"http://127.0.0.1:{server.server_port}/long.html")
        assert covered() < 0.45
        assert list_of.evaluate("each => each.scrollHeight > each.clientHeight && each.scrollWidth <= each.clientWidth")
        title.click()
        expect(list_of).to_be_hidden()
        assert covered() < 0.12
        title_box = title.bounding_box()
        assert title_box
        # 48 px: the least height of what is touched, see the requirements of screens.
        assert title_box["height"] >= 48
        page.evaluate("scrollTo(0, document.body.scrollHeight)")
        heading, notice = page.locator("h1").bounding_box(), shown.bounding_box()
        assert heading
        assert notice
        assert heading["y"] + heading["height"] <= notice["y"]
        page.goto(f"http://127.0.0.1:{server.server_port}/emergency/long.html")
        expect(list_of).to_be_hidden()
        title.press("Enter")
        expect(list_of).to_be_visible()


# Sheets


def test_sheet_is_a_pdf_of_its_length(server: Server) -> None:
    data = b"%PDF-1.7\n" + random.Random(7).randbytes(300_000)
    (server.site / "sheets" / "a.pdf").write_bytes(data)
    for method, expected in (("GET", data), ("HEAD", b"")):
        answer, body = get(server, "/sheets/a.pdf", method)
        assert answer.status == 200
        assert answer.headers["Content-Type"] == "application/pdf"
        assert answer.headers["Content-Length"] == "300009"
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
        assert body == expected


@pytest.mark.parametrize("path", ["/", "/sub", "/nowhere", "/tankside-serve/news.js"])
def test_question_for_the_head_is_answered_without_a_body(server: Server, path: str) -> None:
    answer = raw(server, f"HEAD {path} HTTP/1.1\r\n".encode("ascii") + HOST)
    assert answer.startswith(b"HTTP/1.1 ")
    assert answer.index(b"\r\n\r\n") == len(answer) - 4


def test_part_of_a_file_is_answered_with_all_of_it(server: Server) -> None:
    # A server may ignore a range (RFC 9110, 14.2), as long as it does not say that it keeps to one.
    answer, body = get(server, "/", Range="bytes=5-9")
    assert answer.status == 200
    assert "Content-Range" not in answer.headers
    assert "Accept-Ranges" not in answer.headers
    assert body.startswith(b"<!doctype html>")


# Broken and hostile clients


@pytest.mark.parametrize(
    "path",
    [
        "/../secret.txt",
        "/%2e%2e/%2e%2e/secret.txt",
        "/..%2f..%2fsecret.txt",
        "/%252e%252e/secret.txt",
        "/sub/../../../secret.txt",
        "/..%5c..%5csecret.txt",
        "/..\\..\\secret.txt",
        "/C:/secret.txt",
        "/C%3a%5csecret.txt",
        "/index.html::$DATA",
        "//secret.txt",
        "/sub//index.html",
        "/sub/./index.html",
        "/.hidden",
        "/%2ehidden",
        "/a%00",
        "/%ff",
        "/index.html/",
        "/" + "a" * 5000,
        "/" + "a/" * 9000,
        "/sub%0d%0aX-Added:%201",
        "secret.txt",
        "http://elsewhere.example/",
        "//elsewhere.example/",
        "/tankside-serve/notice.py",
        "/tankside-serve/../reload.js",
    ],
)
def test_what_is_none_of_the_site_is_not_there(server: Server, path: str) -> None:
    answer = raw(server, f"GET {path} HTTP/1.1\r\n".encode("ascii") + HOST)
    assert answer.startswith(b"HTTP/1.1 404 ")
    assert SECRET.encode("ascii") not in answer
    assert b"X-Added" not in answer.partition(b"\r\n\r\n")[0]


@pytest.mark.parametrize("name", ["index.html:stream", "..\\secret.txt", "C:", ".hidden.txt"])
def test_name_that_means_something_else_on_another_system_is_not_there(server: Server, name: str) -> None:
    (server.site / name).write_text(SECRET, encoding="utf-8")
    assert get(server, f"/{quote(name)}")[0].status == 404


def test_folder_is_answered_with_where_it_is_and_nowhere_else(server: Server) -> None:
    for path in ("/sub", "/%73ub", "/sub?to=//elsewhere.example/"):
        answer, body = get(server, path)
        assert (answer.status, answer.headers["Location"], body) == (302, "/sub/", b"")


@pytest.mark.parametrize(
    ("link", "target", "path"),
    [
        ("out.txt", "../../secret.txt", "/out.txt"),
        ("out", "../..", "/out/secret.txt"),
        ("out", "../site.before", "/out/secret.txt"),
        ("index", "/", "/index/etc/passwd"),
        ("loop", "loop", "/loop"),
        ("loop", "loop", "/loop/index.html"),
        ("gone.txt", "nowhere.txt", "/gone.txt"),
    ],
)
def test_link_out_of_the_site_or_to_itself_is_not_there(server: Server, link: str, target: str, path: str) -> None:
    (server.site / link).symlink_to(target)
    answer = raw(server, f"GET {path} HTTP/1.1\r\n".encode("ascii") + HOST)
    assert answer.startswith(b"HTTP/1.1 404 ")
    assert SECRET.encode("ascii") not in answer


def test_pipe_in_the_site_is_not_there(server: Server) -> None:
    os.mkfifo(server.site / "pipe")
    assert get(server, "/pipe")[0].status == 404


@pytest.mark.parametrize(
    ("request_line", "status"),
    [
        (b"GET /\r\n\r\n", b"421"),
        (b"GET\r\n", b"400"),
        (b"POST /\r\n\r\n", b"400"),
        (b"GET / x HTTP/1.1\r\n", b"400"),
        (b"GET / HTTP/x\r\n", b"400"),
        (b"GET / HTTP/-1.1\r\n", b"400"),
        (b"GET / HTTP/2.0\r\n", b"505"),
        # What a browser begins with that was told https
        (b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03\r\n", b"400"),
        (b"GET / HTTP/1.1\r\nno colon\r\n", b"421"),
        (b"GET / HTTP/1.1\r\nHost : localhost\r\n\r\n", b"421"),
        (b"OPTIONS * HTTP/1.1\r\n", b"405"),
        (b"CONNECT elsewhere.example:443 HTTP/1.1\r\n", b"405"),
        (b"DELETE / HTTP/1.1\r\n", b"405"),
    ],
)
def test_request_that_is_none_is_refused_with_a_page(server: Server, request_line: bytes, status: bytes) -> None:
    answer = raw(server, request_line + HOST)
    assert answer.startswith(b"HTTP/1.1 " + status)
    assert b"Server:" not in answer
    assert answer.endswith(b"</html>\n")


@pytest.mark.parametrize(
    ("request_bytes", "status"),
    [
        (b"GET /" + b"a" * 100_000 + b" HTTP/1.1\r\n" + HOST, b"414"),
        (b"GET / HTTP/1.1\r\nX: " + b"a" * 100_000 + b"\r\n" + HOST, b"431"),
        (b"GET / HTTP/1.1\r\n" + b"X: 1\r\n" * 1000 + HOST, b"431"),
        (b"GET / HTTP/1.1\r\nX: 1\r\n" + b" folded\r\n" * 1000 + HOST, b"431"),
        (b"POST / HTTP/1.1\r\nContent-Length: 1000000\r\n" + HOST + b"a" * 1_000_000, b"405"),
    ],
)
def test_request_that_is_too_much_is_refused(server: Server, request_bytes: bytes, status: bytes) -> None:
    answer = raw(server, request_bytes)
    # The system may break a connection off that was closed with something left to read.
    assert answer == b"" or answer.startswith(b"HTTP/1.1 " + status)
    assert get(server, "/")[0].status == 200


def test_body_of_a_request_is_not_taken_for_a_request(server: Server) -> None:
    second = b"GET /sub/ HTTP/1.1\r\n" + HOST
    for head in (b"Content-Length: %d\r\n" % len(second), b"Transfer-Encoding: chunked\r\n", b""):
        answer = raw(server, b"GET / HTTP/1.1\r\n" + head + HOST + second)
        assert answer.count(b"HTTP/1.1 ") <= 1
    assert get(server, "/")[0].status == 200


def test_reader_who_leaves_is_no_fault(server: Server) -> None:
    (server.site / "big.txt").write_bytes(b"a" * 5_000_000)
    for _ in range(5):
        with socket.create_connection(("127.0.0.1", server.server_port), 5) as connection:
            connection.sendall(b"GET /big.txt HTTP/1.1\r\n" + HOST)
            connection.recv(10)
    assert get(server, "/")[0].status == 200


def test_reader_who_says_nothing_is_left(server: Server, monkeypatch: pytest.MonkeyPatch) -> None:
    assert 0 < Handler.timeout <= 60
    monkeypatch.setattr(Handler, "timeout", 0.2)
    for begun in (b"", b"GET / HT", b"GET / HTTP/1.1\r\nHost: local"):
        assert raw(server, begun) == b""


def test_two_hundred_readers_who_say_nothing_keep_nobody_waiting(server: Server) -> None:
    before = threading.active_count()
    with ExitStack() as held:
        for number in range(200):
            address = ("127.0.0.1", server.server_port)
            silent = held.enter_context(socket.create_connection(address, 5))
            silent.sendall(b"GET / HTTP/1.1\r\nX: "[: number % 20])
        begun = time.monotonic()
        assert get(server, "/")[0].status == 200
        assert time.monotonic() - begun < 5
    end = time.monotonic() + 5
    while threading.active_count() > before:
        assert time.monotonic() < end, "threads of readers who left go on"
        time.sleep(0.02)


def test_browser_that_comes_with_many_connections_is_let_in_at_once(site: Path) -> None:
    # Not one is taken yet: the system holds them, for a second each when it may not.
    with Server(site, NoticeBoard(), 0) as server, ExitStack() as held:
        begun = time.monotonic()
        for _ in range(60):
            held.enter_context(socket.create_connection(("127.0.0.1", server.server_port), 5))
        assert time.monotonic() - begun < 0.9


def test_only_so_many_questions_of_one_computer_wait(server: Server) -> None:
    question = f"GET /tankside-serve/news.js?n={server.board.read()[0]} HTTP/1.1\r\n".encode("ascii") + HOST
    with ExitStack() as held:
        asked = []
        for _ in range(5):
            each = held.enter_context(socket.create_connection(("127.0.0.1", server.server_port), 5))
            each.sendall(question)
            asked.append(each)
            time.sleep(0.05)
        # The two oldest are told that there is no news; the others wait until there is.
        assert [each.makefile("rb").read().endswith(b"\r\n\r\n") for each in asked[:2]] == [True, True]
        server.board.settle(None, is_published=True)
        assert all(each.makefile("rb").read().endswith(b"location.reload();\n") for each in asked[2:])


def test_site_that_is_exchanged_while_it_is_read_is_the_one_or_the_other(server: Server) -> None:
    contents = {b"a" * 400_000, b"b" * 400_000}
    stop = threading.Event()

    def exchange() -> None:
        while not stop.is_set():
            for content in sorted(contents):
                staging = server.site.parent / "staging"
                staging.mkdir()
                (staging / "index.html").write_text(GOOD, encoding="utf-8")
                (staging / "big.txt").write_bytes(content)
                put_in_place(staging, server.site)

    (server.site / "big.txt").write_bytes(b"a" * 400_000)
    thread = threading.Thread(target=exchange)
    thread.start()
    found = []
    end = time.monotonic() + 1
    while time.monotonic() < end:
        answer, body = get(server, "/big.txt")
        found.append((answer.status, body if answer.status == 200 else b""))
    stop.set()
    thread.join()
    assert {body for status, body in found if status == 200} == contents
    # Elsewhere two renames leave a moment without a site.
    if sys.platform == "linux":
        assert {status for status, _ in found} == {200}


def test_notice_is_text_wherever_it_comes_from() -> None:
    block = notice_block(Notice('"><script>alert(1)</script>', ('</ul><img src="x">',)))
    assert re.findall(r"<(\w+)", block) == ["section", "details", "summary", "ul", "li"]
    assert 'aria-label="&quot;&gt;&lt;script&gt;' in block


# As a person runs it


@dataclass(frozen=True)
class Run:
    process: subprocess.Popen[bytes]
    book: Path
    log: Path

    @property
    def output(self) -> str:
        return self.log.read_text(encoding="utf-8")

    @property
    def port(self) -> int:
        return int(self.wait_for(r"Serving the book at http://127\.0\.0\.1:(\d+)/")[1])

    def wait_for(self, pattern: str) -> re.Match[str]:
        end = time.monotonic() + 20
        while True:
            found = re.search(pattern, self.output)
            if found:
                return found
            assert self.process.poll() is None and time.monotonic() < end, f"{pattern!r} is not in {self.output!r}"
            time.sleep(0.05)


@contextmanager
def running(book: Path, options: Sequence[str], folder: Path) -> Iterator[Run]:
    log = folder / "log.txt"
    environment = {**os.environ, **without_print(folder)}
    with log.open("wb") as out:
        command = [*COMMAND, "serve", str(book), *options]
        process = subprocess.Popen(command, env=environment, stdout=out, stderr=subprocess.STDOUT)
    try:
        yield Run(process, book, log)
    finally:
        process.kill()
        process.wait()


@pytest.fixture(scope="module")
def opened(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Run]:
    """A book that has an error from the beginning, open to the network."""
    folder = tmp_path_factory.mktemp("opened")
    book = copy_book(folder / "book")
    replace(book / BLEED, "purpose: ", "porpoise: ")
    with running(book, ["--lan"], folder) as run:
        yield run


def test_opening_says_what_to_whom_where_and_how_to_end_it(opened: Run) -> None:
    opened.wait_for("without --lan")
    said = opened.output
    assert "ATTENTION: the book is OPEN TO THE NETWORK.\n" in said
    assert "Everybody on any network of this computer can read all of it, without a password, at\n" in said
    assert "Stop it with Ctrl-C; without --lan only this computer can read the book.\n" in said
    listed = re.findall(r"^    http://([\d.]+):(\d+)/$", said, re.MULTILINE)
    assert bool(listed) is not ("no network address" in said)
    for host, port in listed:
        assert not host.startswith("127.")
        assert int(port) == opened.port
        question = http.client.HTTPConnection(host, opened.port, timeout=5)
        question.request("GET", "/")
        assert question.getresponse().status in (200, 503)


def test_book_with_errors_from_the_beginning_is_shown_once_it_is_mended_and_kept_from_then_on(
    opened: Run, browser: Browser
) -> None:
    with browser.new_context() as context:
        page = context.new_page()
        page.goto(f"http://127.0.0.1:{opened.port}{PAGE}")
        notice = page.locator(".tankside-serve-notice")
        expect(page.locator("h1")).to_have_text("There is no site yet")
        expect(notice).to_contain_text(f"{BLEED}:", timeout=20_000)
        expect(notice).to_contain_text("did you mean 'purpose'?")
        replace(opened.book / BLEED, "porpoise: ", "purpose: ")
        expect(page.locator("h1")).to_contain_text("Bleed the filling line", timeout=20_000)
        expect(notice).to_have_count(0)
        # An address without its scheme is refused by the theme.
        replace(opened.book / "mkdocs.yml", "site_name: ", "site_url: nowhere\nsite_name: ")
        expect(notice).to_contain_text("Nothing was published.", timeout=20_000)
        expect(notice).to_contain_text("site_url")
        expect(page.locator("h1")).to_contain_text("Bleed the filling line")
    opened.wait_for(r"site_url[^\0]*\nNothing was published; the site stays as it was\.\n")
    assert "Traceback" not in opened.output


def test_ctrl_c_with_a_page_open_and_a_question_waiting_ends_it_at_once(browser: Browser, tmp_path: Path) -> None:
    book = tmp_path / "book"
    (book / "procedures").mkdir(parents=True)
    shutil.copy(Path(__file__).parent.parent / "mkdocs.yml", book)
    with running(book, [], tmp_path) as run, browser.new_context() as context:
        run.wait_for("Nothing was built")
        page = context.new_page()
        with page.expect_request("**/tankside-serve/news.js?*"):
            page.goto(f"http://127.0.0.1:{run.port}/")
        time.sleep(0.3)
        begun = time.monotonic()
        run.process.send_signal(signal.SIGINT)
        assert run.process.wait(10) == 130
        assert time.monotonic() - begun < 2
        ending = run.output.partition("Nothing was built; the site stays as it was.\n")[2]
        assert ending.strip() == "Interrupted. The site stays as it was."
