"""`tankside serve`."""

import errno
import socket
from pathlib import Path

import click

from tankside.cli.outcome import require_config, say_outcome
from tankside.cli.showing import Progress, folder_argument
from tankside.edition import Audience
from tankside.publish.building import OUTPUT, SERVED
from tankside.publish.making import Outcome, make_site
from tankside.serving.notice import Notice, NoticeBoard
from tankside.serving.rebuilding import Rebuilder
from tankside.serving.server import LOOPBACK, Server
from tankside.serving.watching import Watcher, inputs_of

PORT = 8000
_BUILDING = Notice("The book is being built. This page reloads when it is done.")
#: reserved for documentation (RFC 5737); nothing is sent to it
_NOWHERE = ("192.0.2.1", 9)


@click.command(epilog="Example:  tankside serve .  then open http://127.0.0.1:8000/ and edit a procedure")
@folder_argument
@click.option("--port", type=click.IntRange(1, 65535), help="The port.  [default: 8000, or a free one]")
@click.option("--lan", is_flag=True, help="Let everybody on the same network read the book.")
def serve(folder: Path, port: int | None, lan: bool) -> None:
    """Show the book in a browser while it is written: every change is built, and open pages reload.

    A book with problems leaves the last good site in place, with the problems on every page. What is shown is put
    in BOOK/build/served; only 'tankside build' publishes. Ctrl-C ends it.
    """
    require_config(folder)
    board = NoticeBoard(_BUILDING)
    with _listening(folder.resolve() / OUTPUT / SERVED, board, port, lan) as server:
        _greet(server)
        progress = Progress()

        def make() -> Outcome:
            watcher.refresh()
            return make_site(folder, Audience.FLOOR, progress, is_being_written=True)

        def say(outcome: Outcome | str) -> None:
            progress.done()
            if isinstance(outcome, str):
                click.echo(outcome, err=True)
            else:
                say_outcome(outcome, _address(LOOPBACK, server))

        rebuilder = Rebuilder(make, board, say)
        watcher = Watcher(inputs_of(folder), rebuilder.changed)
        _start(watcher)
        rebuilder.start()
        server.serve_forever()


def _listening(site: Path, board: NoticeBoard, port: int | None, is_open: bool) -> Server:
    try:
        return Server(site, board, port or PORT, is_open=is_open)
    except OSError as error:
        why = "in use" if error.errno == errno.EADDRINUSE else f"not to be had ({error.strerror})"
        if port is not None:
            raise click.UsageError(f"port {port} is {why}; choose another one with --port") from error
    click.echo(f"Port {PORT} is {why}; taking another one.", err=True)
    return Server(site, board, 0, is_open=is_open)


def _start(watcher: Watcher) -> None:
    try:
        watcher.start()
    except OSError as error:
        raise click.ClickException(f"the book's folders cannot be watched: {error}") from error


def _greet(server: Server) -> None:
    click.echo(f"Serving the book at {_address(LOOPBACK, server)} (stop with Ctrl-C)")
    if not server.is_open:
        return
    reachable = [_address(each, server) for each in _own_addresses()]
    listed = "\n".join(f"    {each}" for each in reachable) or "    (no network address of this computer was found)"
    click.secho(
        "ATTENTION: the book is OPEN TO THE NETWORK.\n"
        "Everybody on any network of this computer can read all of it, without a password, at\n"
        f"{listed}\nStop it with Ctrl-C; without --lan only this computer can read the book.",
        bold=True,
    )


def _address(host: str, server: Server) -> str:
    return f"http://{host}:{server.server_port}/"


def _own_addresses() -> list[str]:
    """Return the addresses of this computer on its networks, the usual one first."""
    found: dict[str, None] = {}
    try:
        with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
            probe.connect(_NOWHERE)
            found[probe.getsockname()[0]] = None
        found.update(dict.fromkeys(socket.gethostbyname_ex(socket.gethostname())[2]))
    except OSError:
        # Without a network there is none, or only what was found so far.
        pass
    return [each for each in found if not each.startswith("127.")]
