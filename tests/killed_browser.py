"""A Chromium that can be killed at any moment, and opened again on the same profile.

It is spoken to in the DevTools protocol over two pipes: opening and killing it some hundred times must cost little.
"""

import contextlib
import fcntl
import json
import os
import select
import signal
import subprocess
from collections.abc import Sequence
from pathlib import Path
from time import monotonic
from typing import Any

#: `--remote-debugging-pipe` listens on file descriptor 3 and answers on 4
ON_PIPES = 'exec "$@" 3</dev/fd/{asks} 4>/dev/fd/{answers}'
#: above those two
FREE = 10
END = b"\0"
#: longer than a browser takes for anything on a busy computer [s]
PATIENCE = 120
#: the function of a page by which it reports to the test
REPORT = "reportToTest"

Message = dict[str, Any]


class KilledBrowser:
    """One run of a browser with one page, from when it is opened until it is killed."""

    def __init__(self, command: Sequence[str | Path], profile: Path, script: str) -> None:
        """Open it on a profile; the script runs before those of each page."""
        self._process, self._asks, self._answers = _opened(
            [*command, f"--user-data-dir={profile}", "--remote-debugging-pipe"]
        )
        self._read = b""
        self._sent = 0
        self._page: str | None = None
        #: what the page has reported so far, and what it has complained of
        self.reports: list[Any] = []
        self.complaints: list[str] = []
        (found,) = [each for each in self.ask("Target.getTargets")["targetInfos"] if each["type"] == "page"]
        self._page = self.ask("Target.attachToTarget", targetId=found["targetId"], flatten=True)["sessionId"]
        self.ask("Page.enable")
        self.ask("Runtime.enable")
        self.ask("Runtime.addBinding", name=REPORT)
        self.ask("Page.addScriptToEvaluateOnNewDocument", source=script)

    def ask(self, method: str, **given: Any) -> Any:
        """Ask for something, and return the answer."""
        number = self._send(method, given)
        until = monotonic() + PATIENCE
        while True:
            message = self._message(until - monotonic())
            assert message, f"the browser does not answer to {method}"
            assert "error" not in message, message
            if message.get("id") == number:
                return message["result"]

    def go_to(self, address: str) -> None:
        """Open a page; it may not have been read when this returns."""
        self.ask("Page.navigate", url=address)

    def reported(self, name: str) -> list[Any]:
        """Return what the page has reported under a name."""
        return [what for each, what in self.reports if each == name]

    def evaluate(self, script: str, given: Any = None) -> Any:
        """Return what a function of the page makes of a value."""
        result = self.ask("Runtime.evaluate", **_calling(script, given))
        assert "exceptionDetails" not in result, result
        return result["result"].get("value")

    def set_off(self, script: str, given: Any = None) -> None:
        """Let a function of the page begin, and wait for nothing."""
        self._send("Runtime.evaluate", _calling(script, given))

    def wait_for(self, name: str) -> None:
        """Wait until the page has reported something under a name."""
        while not self.reported(name):
            assert self._message(PATIENCE), f"the page does not report '{name}'"

    def listen(self, seconds: float) -> None:
        """Take what the page reports for so long."""
        until = monotonic() + seconds
        while (left := until - monotonic()) > 0:
            if not self._message(left):
                return

    def kill(self) -> None:
        """Kill all of it at once, unless it is dead already; what it had reported by then is in `reports`."""
        if self._process.returncode is not None:
            return
        with contextlib.suppress(ProcessLookupError):
            os.killpg(self._process.pid, signal.SIGKILL)
        self._process.wait()
        with contextlib.suppress(EOFError):
            while self._message(0):
                pass
        os.close(self._asks)
        os.close(self._answers)

    def _send(self, method: str, given: Message) -> int:
        self._sent += 1
        message = {"id": self._sent, "method": method, "params": given}
        if self._page is not None:
            message["sessionId"] = self._page
        os.write(self._asks, json.dumps(message).encode() + END)
        return self._sent

    def _message(self, seconds: float) -> Message:
        """Return what comes within so long, empty when nothing does."""
        while END not in self._read:
            if not select.select([self._answers], [], [], max(seconds, 0))[0]:
                return {}
            found = os.read(self._answers, 1 << 20)
            if not found:
                raise EOFError
            self._read += found
        whole, self._read = self._read.split(END, 1)
        message: Message = json.loads(whole)
        self._note(message)
        return message

    def _note(self, message: Message) -> None:
        method, given = message.get("method"), message.get("params", {})
        if method == "Runtime.bindingCalled":
            self.reports.append(json.loads(given["payload"]))
        elif method == "Runtime.exceptionThrown":
            self.complaints.append(json.dumps(given["exceptionDetails"])[:500])
        elif method == "Runtime.consoleAPICalled":
            self.complaints.append(json.dumps(given["args"])[:500])


def _calling(script: str, given: Any) -> Message:
    return {"expression": f"({script})({json.dumps(given)})", "awaitPromise": True, "returnByValue": True}


def _opened(command: Sequence[str | Path]) -> tuple["subprocess.Popen[bytes]", int, int]:
    """Return a browser in a process group of its own, and the pipes on which it is asked and answers."""
    pipes = [*os.pipe(), *os.pipe()]
    # The two that it gets must not be in the place of each other.
    asks, to_it, from_it, answers = (fcntl.fcntl(each, fcntl.F_DUPFD_CLOEXEC, FREE) for each in pipes)
    for each in pipes:
        os.close(each)
    process = subprocess.Popen(
        ["/bin/sh", "-c", ON_PIPES.format(asks=asks, answers=answers), "sh", *command, "about:blank"],
        pass_fds=(asks, answers),
        start_new_session=True,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    os.close(asks)
    os.close(answers)
    return process, to_it, from_it
