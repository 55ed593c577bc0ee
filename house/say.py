"""How start.py speaks: one line when a thing begins, one when it has ended, one sentence for what is missing."""

from __future__ import annotations

import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager


class Missing(Exception):
    """Something this machine lacks, said in a sentence, with what to do about it."""

    def __init__(self, what: str, remedy: str) -> None:
        self.what, self.remedy = what, remedy
        super().__init__(f"{what}\n  Do: {remedy}")


def line(text: str) -> None:
    """Print one line at once, so that it stands before the output of a program started next."""
    print(text, flush=True)


@contextmanager
def doing(what: str) -> Iterator[None]:
    """Say what begins and, at its end, how long it took."""
    line(f"· {what} …")
    begin = time.perf_counter()
    yield
    line(f"  took {time.perf_counter() - begin:.1f} s")


def can_write_everything() -> None:
    """Let the console take every character; a narrow code page shows a question mark instead of stopping."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="replace")
