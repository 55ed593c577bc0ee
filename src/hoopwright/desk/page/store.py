"""The job's records: opened once, filled from the folder's own files when they are new."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager

from hoopwright.desk.page.job import Job
from hoopwright.desk.take_files import take
from hoopwright.records import Store, open_store
from hoopwright.records.making import Part, Tool

OPENED: dict[str, Store] = {}
_GUARD = threading.RLock()
TAKER = "hoopwright"
"""Who stands in the journal for what was taken from the folder's own files."""


def store_of(job: Job) -> Store:
    """The records of a job; made, and filled from register and readings, where there are none."""
    key = str(job.folder)
    with _GUARD:
        if key not in OPENED:
            OPENED[key] = _opened(job)
        return OPENED[key]


def _opened(job: Job) -> Store:
    store = open_store(job.folder)
    if store.count(Tool) == 0 and store.count(Part) == 0:
        for name in ("register.toml", "readings.toml"):
            path = job.folder / name
            if path.is_file():
                take(job.folder, path, TAKER, "taken from the job folder when the records were new")
    return store


def close(job: Job) -> None:
    """Close the records of a job."""
    with _GUARD:
        store = OPENED.pop(str(job.folder), None)
    if store is not None:
        store.close()


@contextmanager
def closing(job: Job) -> Iterator[Store]:
    """The records of a job, closed at the end."""
    try:
        yield store_of(job)
    finally:
        close(job)
