"""The server: it reads files of one site, answers nobody who was not invited, and says nothing of itself."""

import ipaddress
import os
import re
import socket
import socketserver
import sys
from email.message import Message
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from importlib.resources import files
from pathlib import Path
from urllib.parse import parse_qs, quote

from tankside.render_site.addresses import EMERGENCY
from tankside.serving.files import INDEX, TYPES, NotThereError, path_of, read
from tankside.serving.notice import NoticeBoard
from tankside.serving.pages import OWN, outgoing, plain_page

LOOPBACK, EVERYWHERE = "127.0.0.1", "0.0.0.0"
HEADERS = {
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "X-Frame-Options": "DENY",
    "Cache-Control": "no-store",
    # A page of somebody else, open in the same browser, could read the search index as a script.
    "Cross-Origin-Resource-Policy": "same-origin",
    "Connection": "close",
}
#: a name or an address, an IPv6 one in brackets, and perhaps a port (RFC 3986, 3.2.2 and 3.2.3)
_HOST = re.compile(r"(\[[^\[\]]*\]|[^:\[\]]*)(?::[0-9]*)?")
NOT_BUILT = ("There is no site yet", "It is shown here as soon as it is built.")


class Server(ThreadingHTTPServer):
    """Serves one site, to this computer alone or to everybody on its network."""

    daemon_threads = True
    #: connections that may wait to be taken; the few of the base class make a browser wait for a second
    request_queue_size = 128
    # Elsewhere this lets a second server take the port of the first.
    allow_reuse_address = os.name == "posix"

    def __init__(self, site: Path, board: NoticeBoard, port: int, *, is_open: bool = False) -> None:
        """Take the port.

        Raises:
            OSError: it is in use, or not allowed.
        """
        self.site = site
        self.board = board
        self.is_open = is_open
        super().__init__((EVERYWHERE if is_open else LOOPBACK, port), Handler)

    def server_bind(self) -> None:
        """Take the port without asking the network for this computer's name, as the base class does."""
        socketserver.TCPServer.server_bind(self)
        self.server_name, self.server_port = str(self.server_address[0]), int(self.server_address[1])

    def handle_error(self, request: object, client_address: object) -> None:
        """Say nothing of a browser that went away."""
        if not isinstance(sys.exception(), OSError):
            super().handle_error(request, client_address)  # type: ignore[arg-type]

    def invites(self, headers: Message) -> bool:
        """Return whether a request names this server, and no name that somebody else points at it."""
        hosts = headers.get_all("Host") or []
        host = _HOST.fullmatch(hosts[0].strip().lower()) if len(hosts) == 1 else None
        if host is None:
            return False
        name = host[1].removesuffix(".")
        if name in ("localhost", LOOPBACK, "[::1]"):
            return True
        return self.is_open and (_is_address(name) or name in _own_names())


def _is_address(name: str) -> bool:
    """Return whether this is an address; nobody can point one at another computer."""
    try:
        ipaddress.IPv6Address(name[1:-1]) if name.startswith("[") else ipaddress.IPv4Address(name)
    except ValueError:
        return False
    return True


def _own_names() -> tuple[str, ...]:
    """Return what this computer is called; a longer name that begins like it may be anybody's."""
    name = socket.gethostname().lower()
    short = name.partition(".")[0]
    return name, short, f"{short}.local"


class Handler(BaseHTTPRequestHandler):
    """Answers one request."""

    server: Server
    protocol_version = "HTTP/1.1"
    # Whatever cannot be understood gets an answer with a status, too.
    default_request_version = "HTTP/1.0"
    #: seconds that a connection may stay silent
    timeout = 30

    def parse_request(self) -> bool:
        """Read the request, and refuse what is not served."""
        if not super().parse_request():
            return False
        if self.command not in ("GET", "HEAD"):
            self._refuse(HTTPStatus.METHOD_NOT_ALLOWED, "This server only shows pages.", Allow="GET, HEAD")
        elif not self.server.invites(self.headers):
            self._refuse(HTTPStatus.MISDIRECTED_REQUEST, "Use the address that tankside serve printed.")
        else:
            return True
        return False

    def do_GET(self) -> None:
        """Answer."""
        address, _, query = self.path.partition("?")
        if address == f"{OWN}/news.js":
            self._news(query)
        elif address in (f"{OWN}/reload.js", f"{OWN}/notice.css"):
            self._send(HTTPStatus.OK, _asset(address.rpartition("/")[2]), TYPES[Path(address).suffix])
        else:
            self._site(address.partition("#")[0])

    def do_HEAD(self) -> None:
        """Answer without the body."""
        self.do_GET()

    def _news(self, query: str) -> None:
        version = parse_qs(query).get("n", [""])[0]
        is_new = self.command == "GET" and self.server.board.wait(version, self.client_address[0])
        self._send(HTTPStatus.OK, b"location.reload();\n" if is_new else b"", TYPES[".js"])

    def _site(self, address: str) -> None:
        try:
            if not address.startswith("/"):
                raise NotThereError(address)
            path = path_of(self.server.site, address)
            if path.is_dir() and not address.endswith("/"):
                inside = path.relative_to(self.server.site).as_posix()
                self._send(HTTPStatus.FOUND, b"", TYPES[".txt"], Location=f"/{quote(inside)}/")
                return
            path = path / INDEX if path.is_dir() else path
            data = read(self.server.site, path)
        except NotThereError:
            self._nothing()
            return
        if path.suffix == ".html":
            # Where it is not UTF-8, this is what the browser would show.
            is_emergency = path.parent == self.server.site / Path(EMERGENCY).parent
            self._page(HTTPStatus.OK, data.decode("utf-8", errors="replace"), is_emergency=is_emergency)
        else:
            self._send(HTTPStatus.OK, data, TYPES.get(path.suffix.lower(), "application/octet-stream"))

    def _nothing(self) -> None:
        if (self.server.site / INDEX).is_file():
            self._page(HTTPStatus.NOT_FOUND, plain_page("No such page", "The book has nothing at this address."))
        else:
            self._page(HTTPStatus.SERVICE_UNAVAILABLE, plain_page(*NOT_BUILT))

    def _page(self, status: HTTPStatus, page: str, *, is_emergency: bool = False) -> None:
        version, notice = self.server.board.read()
        self._send(status, outgoing(page, version, notice, is_folded=is_emergency).encode("utf-8"), TYPES[".html"])

    def send_error(self, code: int, message: str | None = None, explain: str | None = None) -> None:
        """Answer a request that could not be understood."""
        self._refuse(HTTPStatus(code), "The request was not understood.")

    def _refuse(self, status: HTTPStatus, sentence: str, **more: str) -> None:
        self._send(status, plain_page(status.phrase, sentence).encode("utf-8"), TYPES[".html"], **more)

    def _send(self, status: HTTPStatus, data: bytes, kind: str, **more: str) -> None:
        self.send_response_only(status)
        for name, value in {**HEADERS, **more, "Content-Type": kind, "Content-Length": str(len(data))}.items():
            self.send_header(name, value)
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(data)

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing on the terminal."""


def _asset(name: str) -> bytes:
    return (files("tankside") / "assets" / "serve" / name).read_bytes()
