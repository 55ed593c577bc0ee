"""Work beside the page: one at a time, with progress, stopped at its next line, nothing kept of what was stopped."""

from __future__ import annotations

import io
import threading
import time
import zipfile

from hoopwright.errors import InputError
from hoopwright.web.work import Bench, Tell, Work


def until_over(work: Work) -> None:
    """Ten seconds at most."""
    end = time.monotonic() + 10.0
    while not work.over and time.monotonic() < end:
        time.sleep(0.01)


def test_done_work_has_its_files() -> None:
    work = Bench().begin("a thing", lambda tell: {"a/b.txt": b"x"})
    until_over(work)
    assert work.state == "done" and work.content is not None
    assert zipfile.ZipFile(io.BytesIO(work.content)).read("a/b.txt") == b"x"


def test_stopped_work_ends_at_its_next_line_and_keeps_nothing() -> None:
    begun = threading.Event()

    def make(tell: Tell) -> dict[str, bytes]:
        for k in range(1000):
            tell(f"ring {k}")
            begun.set()
            time.sleep(0.01)
        return {"never": b""}

    bench = Bench()
    work = bench.begin("long", make)
    assert begun.wait(10.0)
    assert bench.begin("long", make) is work
    behind = bench.begin("another", lambda tell: {})
    behind.stop()
    work.stop()
    until_over(work)
    assert (work.state, work.content) == ("stopped", None)
    assert 1 < len(work.lines) < 1000
    assert behind.state == "stopped"


def test_refused_work_says_why() -> None:
    def make(tell: Tell) -> dict[str, bytes]:
        raise InputError("cad", "missing", "", "installed", "install the extra")

    work = Bench().begin("refused", make)
    until_over(work)
    assert work.state == "refused"
    assert "install the extra" in work.lines[-1]
