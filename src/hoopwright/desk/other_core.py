"""A second process that gets ready while the first one plans, then does one piece of work beside it.

The CAD library takes most of a second to load, and so does planning a ring: on two cores they go side by side. Where no
process can be forked or started, or there is one core, the work is done in place; so it is when it fails in the second
process, so that every error is raised where it is asked for.

A forked process starts at once and has everything that is loaded; but it copies the locks of libraries that have
threads (drawing, algebra) as they stand, and may wait for one for ever. What draws is given a fresh process.
"""

from __future__ import annotations

import multiprocessing
import os
from collections.abc import Callable
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from types import TracebackType
from typing import Any, Generic, TypeVar

T = TypeVar("T")


class Asked(Generic[T]):
    """Work under way; `result` waits for it."""

    def __init__(self, work: Callable[..., T], args: tuple[Any, ...], line: Connection | None) -> None:
        self._work, self._args, self._line = work, args, line

    def result(self) -> T:
        """What the work gives. Raises what the work raises."""
        if self._line is not None:
            try:
                good, answer = self._line.recv()
            except (EOFError, OSError):
                good, answer = False, None
            if good:
                made: T = answer
                return made
        return self._work(*self._args)


class OtherCore:
    """A second process, ended with the block it stands in.

    Parameters
    ----------
    ready : called in it at once (what it will need is imported there). wanted : False does everything in place.
    fresh : a new process in place of a forked one.
    """

    def __init__(self, ready: Callable[[], None], wanted: bool = True, fresh: bool = False) -> None:
        self._line: Connection | None = None
        self._process: BaseProcess | None = None
        able = (fresh or "fork" in multiprocessing.get_all_start_methods()) and (os.cpu_count() or 1) > 1
        if wanted and able:
            context: Any = multiprocessing.get_context("spawn" if fresh else "fork")
            self._line, far = context.Pipe()
            self._process = context.Process(target=_serve, args=(far, ready), daemon=True)
            self._process.start()
            far.close()

    def __enter__(self) -> OtherCore:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        if self._line is not None:
            self._line.close()
        if self._process is not None:
            self._process.terminate()
            self._process.join()

    def ask(self, work: Callable[..., T], *args: Any) -> Asked[T]:
        """Begin a piece of work; `work` is a function of a module."""
        if self._line is not None:
            try:
                self._line.send((work, args))
            except OSError:
                return Asked(work, args, None)
        return Asked(work, args, self._line)


def _serve(line: Connection, ready: Callable[[], None]) -> None:
    try:
        ready()
        while True:
            work, args = line.recv()
            try:
                line.send((True, work(*args)))
            except Exception:
                line.send((False, None))
    except (EOFError, OSError):
        return
    except Exception:
        # not ready: the line closes, and the work is done where it was asked for
        line.close()
