"""Times of two ways to do the same, taken in turn; and the table that is printed of them."""

import os
import platform
import subprocess
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from importlib.metadata import version
from statistics import median

#: fewest and most rounds; in a round each way is taken once
LEAST, MOST = 2, 7
PACKAGES = ("tankside", "check-jsonschema", "jsonschema", "mkdocs", "mkdocs-material", "weasyprint")
HEADINGS = ("N", "what", "ours", "reference", "ratio", "target", "rounds")

#: does something once and returns the seconds it took
Timed = Callable[[], float]


@dataclass(frozen=True)
class Row:
    """One comparison."""

    #: generated procedures in the book
    count: int
    what: str
    #: median seconds
    ours: float
    reference: float
    rounds: int
    #: the ratio that is wanted at most; None where none is
    target: float | None

    @property
    def ratio(self) -> float:
        """How much of the reference's time is needed."""
        return self.ours / self.reference

    def as_cells(self) -> tuple[str, ...]:
        """Return the row as it is printed."""
        seconds = (f"{each:.2f} s" for each in (self.ours, self.reference))
        target = "-" if self.target is None else f"{self.target:g}"
        return (str(self.count), self.what, *seconds, f"{self.ratio:.3f}", target, str(self.rounds))

    def as_data(self) -> dict[str, object]:
        """Return the row as it is written into a file."""
        return {**asdict(self), "ratio": self.ratio}


def in_turn(ours: Timed, reference: Timed, enough: float) -> tuple[float, float, int]:
    """Return the median seconds of both, and the rounds: a b a b ..., until `enough` seconds are over."""
    started, times = time.perf_counter(), list[tuple[float, float]]()
    while len(times) < LEAST or (len(times) < MOST and time.perf_counter() - started < enough):
        times.append((ours(), reference()))
    first, second = (median(each) for each in zip(*times, strict=True))
    return first, second, len(times)


def run(command: Sequence[str], environment: Mapping[str, str] | None = None) -> float:
    """Run a process to its end and return its seconds by the clock on the wall.

    Raises:
        RuntimeError: it failed; the time of what does not work is worth nothing.
    """
    started = time.perf_counter()
    done = subprocess.run(
        command, env=environment, capture_output=True, text=True, encoding="utf-8", errors="replace", check=False
    )
    seconds = time.perf_counter() - started
    if done.returncode != 0:
        called = " ".join(command)[:300]
        raise RuntimeError(f"exit code {done.returncode} of {called}\n{done.stdout[-1000:]}{done.stderr[-2000:]}")
    return seconds


def machine() -> dict[str, str]:
    """Return what the times depend on."""
    facts = {
        "Python": platform.python_version(),
        "system": f"{platform.system()} {platform.machine()}",
        "cores": str(os.cpu_count()),
        "load at the start": f"{os.getloadavg()[0]:.1f}" if hasattr(os, "getloadavg") else "unknown",
    }
    return facts | {name: version(name) for name in PACKAGES}


def table(rows: Sequence[Row]) -> Iterator[str]:
    """Return rows as lines with equal columns, headings first."""
    return aligned((HEADINGS, *(row.as_cells() for row in rows)))


def aligned(cells: Sequence[Sequence[str]]) -> Iterator[str]:
    """Return cells as lines with equal columns."""
    widths = [max(map(len, column)) for column in zip(*cells, strict=True)]
    for line in cells:
        yield "  ".join(cell.ljust(width) for cell, width in zip(line, widths, strict=True)).rstrip()
