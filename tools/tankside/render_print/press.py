"""Laying out many sheets, on as many processors as there are."""

import os
import signal
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from dataclasses import dataclass
from multiprocessing import get_context
from pathlib import Path

from tankside.render_print.draft import Draft
from tankside.render_print.engine import Engine, SheetFailedError, SheetMisfitError
from tankside.render_print.fit import Misfit
from tankside.render_print.shelf import put_whole

#: with fewer sheets, loading the libraries in other processes takes longer than laying out
WORTH_SHARING = 8


@dataclass(frozen=True)
class Job:
    """A sheet to lay out, and where it is kept."""

    draft: Draft
    place: Path


@dataclass(frozen=True)
class Failure:
    """Why a sheet could not be laid out."""

    #: what does not fit; empty when it is something else
    misfits: tuple[Misfit, ...]
    message: str


def processors() -> int:
    """Return how many processors this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def lay_out(
    jobs: Sequence[Job], engine: Engine, tell: Callable[[str], None], most_processes: int | None = None
) -> Mapping[str, Failure]:
    """Lay sheets out and keep each at its place; return those that could not be, by name.

    Style and fonts are read once in each process. With few sheets there is only this one.
    """
    processes = min(most_processes or processors(), len(jobs) // WORTH_SHARING + 1)
    done = _shared(jobs, processes) if processes > 1 else ((job, _laid_out(engine, job)) for job in jobs)
    failures = {}
    for job, failure in done:
        tell(f"sheet {job.draft.name}")
        if failure is not None:
            failures[job.draft.name] = failure
    return failures


def _shared(jobs: Sequence[Job], processes: int) -> Iterator[tuple[Job, Failure | None]]:
    # Begun anew, not forked: a process that watches files has threads. The largest first, so that none is last.
    pool = ProcessPoolExecutor(processes, get_context("spawn"), _begin)
    try:
        waiting = {pool.submit(_in_process, job): job for job in sorted(jobs, key=lambda job: -len(job.draft.html))}
        for each in as_completed(waiting):
            yield waiting[each], each.result()
    finally:
        pool.shutdown(cancel_futures=True)


_engines: list[Engine] = []


def _begin() -> None:
    # Ctrl-C reaches all processes of a terminal; the one that people started answers it.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    _engines.append(Engine())


def _in_process(job: Job) -> Failure | None:
    return _laid_out(_engines[0], job)


def _laid_out(engine: Engine, job: Job) -> Failure | None:
    try:
        put_whole(job.place, engine.pdf(job.draft))
    except SheetMisfitError as error:
        return Failure(error.misfits, str(error))
    except SheetFailedError as error:
        return Failure((), str(error))
    return None
