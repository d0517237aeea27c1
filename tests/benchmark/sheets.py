"""How long it takes to lay out a hundred sheets, and how much memory, against two other ways to print the same HTML.

    .venv/bin/python tests/benchmark/sheets.py [--count 100] [--rounds 1]

ours       drafts laid out by `press.lay_out`, as many processes as there are processors, nothing laid out before
one        the same in one process
weasyprint the `weasyprint` command, one file at a time, on the same HTML and styles
chromium   headless Chromium printing the same HTML and styles, one file at a time; it knows no running heads and feet,
           so its pages are not the same
again      ours once more: every sheet is there already

All in one run, in turn; memory is the largest sum of the resident sizes of all processes of one way, sampled every
50 ms, shared pages counted in each (Linux only).
"""

import argparse
import pickle
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from benchmark.measuring import aligned, machine
from conftest import CHROMIUM

from tankside.checkup import check_book
from tankside.edition.sheets import sheet_editions
from tankside.loading.sources import picture_data
from tankside.render_print import engine
from tankside.render_print.draft import Draft
from tankside.render_print.press import Job, lay_out
from tankside.render_print.sheets import SheetMaker

ROOT = Path(__file__).resolve().parent.parent.parent
QUIET = ("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-sync")
QUIET += ("--disable-background-networking", "--disable-component-update", "--no-pdf-header-footer")


@dataclass(frozen=True)
class Taken:
    """What one way took."""

    seconds: float
    megabytes: float


def drafts(count: int) -> list[Draft]:
    """Return as many drafts of the demonstration book, training sheets last."""
    checkup = check_book(ROOT)
    assert checkup.book is not None
    maker = SheetMaker(engine.Engine(), picture_data(ROOT), checkup.book.plant, "en", {})
    sheets = [each for each in sheet_editions(checkup.book.plant, checkup.editions).values() if each.kind != "binder"]
    sheets.sort(key=lambda each: each.kind == "training-sheet")
    found = [maker.draft(each) for each in islice(sheets, count)]
    assert len(found) == count, f"the book has only {len(found)} sheets"
    return found


def resident(session: int) -> Iterator[int]:
    """Return the resident size of each process of a session, in kB."""
    for folder in Path("/proc").iterdir():
        if folder.name.isdigit():
            try:
                fields = (folder / "stat").read_text(encoding="utf-8").rpartition(")")[2].split()
                lines = (folder / "status").read_text(encoding="utf-8").splitlines()
            except OSError:
                continue
            if int(fields[3]) == session:
                yield from (int(line.split()[1]) for line in lines if line.startswith("VmRSS:"))


def taken(commands: Sequence[Sequence[str]]) -> Taken:
    """Run commands one after the other, and measure them."""
    most, stop, running = [0], threading.Event(), [0]

    def look() -> None:
        while not stop.wait(0.05):
            most[0] = max(most[0], sum(resident(running[0])))

    looking = threading.Thread(target=look)
    looking.start()
    started = time.perf_counter()
    for command in commands:
        process = subprocess.Popen(
            command, start_new_session=True, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True
        )
        running[0] = process.pid
        _, said = process.communicate()
        if process.returncode != 0:
            raise RuntimeError(f"exit code {process.returncode} of {' '.join(command)[:200]}\n{said[-2000:]}")
    seconds = time.perf_counter() - started
    stop.set()
    looking.join()
    return Taken(seconds, most[0] / 1024)


def ours(source: Path, folder: Path, processes: int) -> Sequence[Sequence[str]]:
    """Return the command that lays drafts out with so many processes; 0 for as many as there are processors."""
    return [[sys.executable, __file__, "--drafts", str(source), "--into", str(folder), "--processes", str(processes)]]


def lay_out_drafts(source: Path, folder: Path, processes: int) -> None:
    """Lay out the drafts of a file; what is there already stays."""
    found = pickle.loads(source.read_bytes())
    jobs = [Job(draft, folder / f"{draft.digest}.pdf") for draft in found]
    left = [job for job in jobs if not job.place.is_file()]
    failures = lay_out(left, engine.Engine(), lambda _: None, processes or None)
    assert not failures, failures


def written(found: Sequence[Draft], folder: Path) -> list[Path]:
    """Write drafts as whole HTML files, styles within."""
    css = Path(engine.__file__).parent.parent / "assets" / "print" / "sheet.css"
    common = engine._font_faces() + css.read_text(encoding="utf-8")
    places = []
    for number, draft in enumerate(found):
        place = folder / f"{number}.html"
        style = f"<style>{common}{draft.style}</style></head>"
        place.write_text(draft.html.replace("</head>", style, 1), encoding="utf-8", newline="\n")
        places.append(place)
    return places


def measured(count: int, rounds: int, folder: Path) -> Iterator[tuple[str, Sequence[Taken]]]:
    """Measure each way in each round, in turn."""
    source, found = folder / "drafts", drafts(count)
    source.write_bytes(pickle.dumps(found))
    places = written(found, folder)
    weasyprint = [[sys.executable, "-m", "weasyprint", "--pdf-tags", str(each), f"{each}.pdf"] for each in places]
    profile = f"--user-data-dir={folder / 'profile'}"
    chromium = [[str(CHROMIUM), *QUIET, profile, f"--print-to-pdf={each}.pdf", each.as_uri()] for each in places]
    ways: dict[str, Callable[[int], Sequence[Sequence[str]]]] = {
        "ours": lambda at: ours(source, folder / f"shelf-{at}", 0),
        "one": lambda at: ours(source, folder / f"one-{at}", 1),
        "weasyprint": lambda _: weasyprint,
        "chromium": lambda _: chromium,
        "again": lambda at: ours(source, folder / f"shelf-{at}", 0),
    }
    results: dict[str, list[Taken]] = {name: [] for name in ways}
    for at in range(rounds):
        for name, commands in ways.items():
            print(f"round {at + 1}: {name} ...", file=sys.stderr, flush=True)
            results[name].append(taken(commands(at)))
    yield from results.items()


def main() -> None:
    """Measure, and print what was found."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--count", type=int, default=100)
    parser.add_argument("--rounds", type=int, default=1)
    parser.add_argument("--drafts", type=Path, help=argparse.SUPPRESS)
    parser.add_argument("--into", type=Path, help=argparse.SUPPRESS)
    parser.add_argument("--processes", type=int, default=0, help=argparse.SUPPRESS)
    given = parser.parse_args()
    if given.drafts:
        lay_out_drafts(given.drafts, given.into, given.processes)
        return
    for name, value in machine().items():
        print(f"{name}: {value}")
    with TemporaryDirectory() as folder:
        found = list(measured(given.count, given.rounds, Path(folder)))
    own = median(each.seconds for each in found[0][1])
    cells = [("way", "seconds", "ours over it", "MB")]
    for name, times in found:
        seconds, megabytes = (median(getattr(each, key) for each in times) for key in ("seconds", "megabytes"))
        cells.append((name, f"{seconds:.1f}", f"{own / seconds:.2f}", f"{megabytes:.0f}"))
    print(*aligned(cells), sep="\n")


if __name__ == "__main__":
    main()
