"""Where the runs of a study are made: in this process, on all cores of this host, or on the hosts of a scheduler."""

from __future__ import annotations

import importlib
import multiprocessing
import os
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from typing import Any

from hoopwright.errors import InputError
from hoopwright.plan.shapes import Array
from hoopwright.plan.study.forward import Ran, StudyAsk, forward

Row = tuple[int, Array]
Runner = Callable[[StudyAsk, Sequence[Row]], Iterator[Ran]]

AHEAD = 4
"""Runs handed out ahead of each process."""

_ask: list[StudyAsk] = []
"""What the runs of a worker process share, put there once when it starts."""


def cores() -> int:
    """Cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def runner(processes: int | None = None, scheduler: str | None = None) -> Runner:
    """The runner for a number of processes (all cores where not given) or for a scheduler's address.

    Raises
    ------
    InputError
        No processes.
    """
    if scheduler is not None:
        return lambda ask, rows: on_cluster(scheduler, ask, rows)
    count = cores() if processes is None else processes
    if isinstance(count, bool) or not isinstance(count, int) or not 1 <= count <= 4096:
        raise InputError("processes", count, "", "a whole number from 1 to 4096", "leave it out to use all cores")
    return here if count == 1 else (lambda ask, rows: on_cores(count, ask, rows))


def here(ask: StudyAsk, rows: Sequence[Row]) -> Iterator[Ran]:
    """One run after the other in this process."""
    for number, draw in rows:
        yield forward(ask, number, draw)


def on_cores(processes: int, ask: StudyAsk, rows: Sequence[Row]) -> Iterator[Ran]:
    """Runs as they come off several processes of this host."""
    fresh = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(processes, mp_context=fresh, initializer=_share, initargs=(ask,)) as pool:
        waiting: set[Future[Ran]] = set()
        queue = iter(rows)
        try:
            for row in queue:
                waiting.add(pool.submit(_shared, row))
                if len(waiting) >= AHEAD * processes:
                    done, waiting = wait(waiting, return_when=FIRST_COMPLETED)
                    yield from (one.result() for one in done)
            while waiting:
                done, waiting = wait(waiting, return_when=FIRST_COMPLETED)
                yield from (one.result() for one in done)
        finally:
            pool.shutdown(wait=True, cancel_futures=True)


def _share(ask: StudyAsk) -> None:
    _ask[:] = [ask]


def _shared(row: Row) -> Ran:
    return forward(_ask[0], *row)


def on_cluster(address: str, ask: StudyAsk, rows: Sequence[Row], patience_s: float = 10.0) -> Iterator[Ran]:
    """Runs as they come off the workers of a dask scheduler; it is waited for so long.

    Raises
    ------
    InputError
        No extra `cluster` here, or no scheduler at the address.
    """
    try:
        library: Any = importlib.import_module("distributed")
    except ImportError:
        raise InputError(
            "scheduler", address, "", "usable, which needs the extra `cluster`", "install hoopwright[cluster]"
        ) from None
    try:
        client = library.Client(address, timeout=patience_s, set_as_default=False)
    except (OSError, ValueError, TimeoutError) as fault:
        raise InputError(
            "scheduler", address, "", "the address of a running scheduler", "start one, or leave it out"
        ) from fault
    with client:
        shared = client.scatter(ask, broadcast=True)
        futures = [client.submit(forward, shared, number, draw, pure=False) for number, draw in rows]
        for future in library.as_completed(futures, loop=client.loop):
            yield future.result()
            future.release()
