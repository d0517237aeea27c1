"""A book that is served while it is edited: how long it takes until everything made of a procedure is right again."""

import re
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from itertools import count
from pathlib import Path

import pdfplumber

from tankside.publish.building import OUTPUT, SERVED

#: a first build with a thousand sheets takes many minutes; seconds
PATIENCE = 3600
#: how often a file is looked at; seconds
EVERY = 0.005
#: the server is left alone for so long before it is edited again; seconds
REST = 1.5
TITLE = re.compile(r"^title: (.*)$", re.MULTILINE)
STEP = re.compile(r"^( +- do: .*)\.$", re.MULTILINE)


class ServedBook:
    """A book that `tankside serve` watches, and its site."""

    def __init__(self, book: Path, process: subprocess.Popen[str], *, has_sheets: bool) -> None:
        """Wait until the first site is there."""
        self._procedures = sorted(book.glob("procedures/*/*-[0-9]*.yaml"))
        self._site = book / OUTPUT / SERVED
        self._process = process
        self._has_sheets = has_sheets
        self._numbers = count()
        self._wait(self._site / "index.html", lambda _: True)

    def edit(self) -> float:
        """Change a procedure, another one each time; return the seconds until page, search index and sheet are right.

        Raises:
            RuntimeError: the server ended, took too long, or made a sheet that is wrong.
        """
        number = next(self._numbers)
        path = self._procedures[number % len(self._procedures)]
        words = (f"title{number}x", f"step{number}x")
        sheet = self._site / "sheets" / f"{path.stem}.pdf"
        text = path.read_text(encoding="utf-8")
        text = TITLE.sub(rf"title: \1 {words[0]}", text, count=1)
        text = STEP.sub(rf"\1 {words[1]}.", text, count=1)
        time.sleep(REST)
        before = sheet.read_bytes() if self._has_sheets else b""
        started = time.perf_counter()
        path.write_text(text, encoding="utf-8", newline="\n")
        for address in (f"procedures/{path.parent.name}/{path.stem}.html", "tankside/search-index.js"):
            self._wait(self._site / address, lambda data: all(word.encode() in data for word in words))
        if self._has_sheets:
            self._wait(sheet, lambda data: data != before)
        seconds = time.perf_counter() - started
        if self._has_sheets:
            _prove(sheet, words)
        return seconds

    def _wait(self, path: Path, is_right: Callable[[bytes], bool]) -> None:
        """Wait until a file is right; it is read again only when it is another one."""
        end, seen = time.monotonic() + PATIENCE, None
        while True:
            try:
                state = path.stat()
                found = (state.st_ino, state.st_mtime_ns, state.st_size)
                if found != seen and is_right(path.read_bytes()):
                    return
                seen = found
            except FileNotFoundError:
                # Not there yet, or between the last site and the next one.
                pass
            if self._process.poll() is not None or time.monotonic() > end:
                raise RuntimeError(f"tankside serve did not bring {path} up to date")
            time.sleep(EVERY)


def _prove(sheet: Path, words: Iterable[str]) -> None:
    with pdfplumber.open(sheet) as document:
        text = " ".join(page.extract_text() for page in document.pages)
    for word in words:
        if word not in text:
            raise RuntimeError(f"{sheet} has changed and does not say '{word}'")


@contextmanager
def served(book: Path, environment: Mapping[str, str], *, has_sheets: bool) -> Iterator[ServedBook]:
    """Serve a book until it is left."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    command = [sys.executable, "-m", "tankside", "serve", str(book), "--port", str(port)]
    with (book.parent / "serve.txt").open("w", encoding="utf-8") as said:
        process = subprocess.Popen(command, env=environment, stdout=said, stderr=said, text=True)
    try:
        yield ServedBook(book, process, has_sheets=has_sheets)
    finally:
        # Not SIGINT: what was started in the background of a shell does not hear it.
        process.terminate()
        process.wait(timeout=60)
