"""Work that takes long: one at a time, beside the pages, with its progress and a way to stop it."""

from __future__ import annotations

import io
import secrets
import threading
import time
import zipfile
from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

from hoopwright.desk.page.job import Job
from hoopwright.desk.page.package import package
from hoopwright.errors import HoopwrightError

KEPT = 12
Tell = Callable[[str], None]


class Stopped(Exception):
    """Somebody stopped the work."""


class Work:
    """One piece of work. lines : what it said so far. content : its files as a zip, None until it is done."""

    def __init__(self, what: str) -> None:
        self.id, self.what = secrets.token_hex(8), what
        self.lines: list[str] = []
        self.state = "waiting"
        self.content: bytes | None = None
        self.began = time.monotonic()
        self.took_s = 0.0
        self._stop = threading.Event()

    def tell(self, text: str) -> None:
        """Take a line of progress; the place at which a stop takes hold."""
        if self._stop.is_set():
            raise Stopped
        self.lines.append(text)

    def stop(self) -> None:
        """Ask the work to stop at its next line of progress."""
        self._stop.set()
        if self.state == "waiting":
            self.state = "stopped"

    @property
    def over(self) -> bool:
        """Whether it is done, stopped or refused."""
        return self.state in ("done", "stopped", "refused")

    def run(self, make: Callable[[Tell], dict[str, bytes]]) -> None:
        """Do it."""
        if self.over:
            return
        self.state, self.began = "under way", time.monotonic()
        try:
            self.tell("begun")
            self.content = zipped(make(self.tell))
            self.state = "done"
        except Stopped:
            self.state = "stopped"
        except HoopwrightError as refusal:
            self.lines.append(str(refusal))
            self.state = "refused"
        except Exception as problem:
            self.lines.append(f"it ended unexpectedly: {type(problem).__name__}")
            self.state = "refused"
            raise
        finally:
            self.took_s = time.monotonic() - self.began


def zipped(files: dict[str, bytes]) -> bytes:
    """Files as one archive."""
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in files.items():
            archive.writestr(name, content)
    return held.getvalue()


class Bench:
    """The work of this server, the newest twelve; one piece runs at a time."""

    def __init__(self) -> None:
        self._works: OrderedDict[str, Work] = OrderedDict()
        self._guard = threading.Lock()
        self._one = ThreadPoolExecutor(1, "work")

    def find(self, identity: str) -> Work | None:
        """A piece of work by its number."""
        with self._guard:
            return self._works.get(identity)

    def begin(self, what: str, make: Callable[[Tell], dict[str, bytes]]) -> Work:
        """Put work on the bench; the same work that is not over yet is not begun twice."""
        with self._guard:
            for work in self._works.values():
                if work.what == what and not work.over:
                    return work
            work = Work(what)
            self._works[work.id] = work
            while len(self._works) > KEPT:
                self._works.popitem(last=False)
        self._one.submit(work.run, make)
        return work

    def package(self, job: Job) -> Work:
        """The whole tool package of the liner."""
        return self.begin("the whole tool package", lambda tell: package(job, tell))
