"""Fifty people reading, five writing: no error, answers in time, nothing lost. On loopback, bounded, ends by itself."""

from __future__ import annotations

import asyncio
import random
import statistics
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import httpx
import pytest

from hoopwright.desk.page.job import Job, open_job
from hoopwright.desk.page.store import store_of
from hoopwright.records.making import Reading
from tests.web.conftest import Served, free_port

READERS, WRITERS = 50, 5
PAGES = (
    "/HD-400@A", "/HD-400@A/HD-402/made", "/HD-400@A/HD-402", "/HD-400@A/fits", "/HD-400@A/growth", "/lot/W07",
    "/HD-400@A/HD-402/papers", "/press/402-03", "/api/board", "/static/page.css",
)  # fmt: skip


async def reader(client: httpx.AsyncClient, until: float, times: list[float], seed: int) -> None:
    """One person who looks at a page, thinks for a second or two, looks at the next."""
    rng = random.Random(seed)
    await asyncio.sleep(rng.random() * 2.0)
    while time.monotonic() < until:
        began = time.perf_counter()
        answer = await client.get(rng.choice(PAGES))
        times.append(time.perf_counter() - began)
        assert answer.status_code == 200
        await asyncio.sleep(1.0 + rng.random())


async def writer(client: httpx.AsyncClient, until: float, sent: list[str], seed: int) -> None:
    """One tablet that sends a hit every second, each of them twice."""
    rng = random.Random(seed)
    while time.monotonic() < until:
        name = f"{seed:04d}{len(sent):08d}{rng.randrange(10**6):06d}"
        body = {
            "id": name, "serial": f"402-{60 + seed}", "control": "lip_od", "segment_set": "HT-402-S", "stop_mm": 39.85,
            "free_mm": 247.4, "by": "press", "at": "2031-03-01T08:40:00Z",
        }  # fmt: skip
        for _ in range(2):
            answer = await client.post("/api/records/hits", json=body)
            assert answer.status_code == 200, answer.text
        sent.append(name)
        await asyncio.sleep(1.0)


async def crowd(address: str, seconds: float) -> tuple[list[float], list[str]]:
    """Everybody at once."""
    times: list[float] = []
    sent: list[str] = []
    limits = httpx.Limits(max_connections=READERS + WRITERS)
    async with httpx.AsyncClient(base_url=address, timeout=30.0, limits=limits) as client:
        for page in PAGES:
            await client.get(page)
        until = time.monotonic() + seconds
        readers = [reader(client, until, times, k) for k in range(READERS)]
        writers = [writer(client, until, sent, k) for k in range(WRITERS)]
        await asyncio.gather(*readers, *writers)
    return times, sent


def in_a_thread(address: str, seconds: float) -> tuple[list[float], list[str]]:
    """The crowd in a thread with an event loop of its own: the browser's driver has one in this thread."""
    with ThreadPoolExecutor(1) as one:
        return one.submit(lambda: asyncio.run(crowd(address, seconds))).result()


def kept(job: Job) -> set[str]:
    """Numbers of all hits in the records."""
    found: set[str] = set()
    for seed in range(WRITERS):
        found |= {k.id for k in store_of(job).list(Reading, serial=f"402-{60 + seed}", what="girth")}
    return found


def test_a_few_seconds_of_it_lose_nothing(own: Served) -> None:
    times, sent = in_a_thread(own.address, 4.0)
    assert len(times) > READERS // 2
    assert kept(own.job) == set(sent)


@pytest.mark.soak
def test_a_minute_of_it(tmp_path: Path) -> None:
    """95 of 100 answers within 300 ms, from a server in a process of its own."""
    port = free_port()
    program = "import sys; from hoopwright.cli.main import main; main(sys.argv[1:])"
    command = [sys.executable, "-c", program, "serve", str(tmp_path / "job"), "--port", str(port)]
    server = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    address = f"http://127.0.0.1:{port}"
    try:
        wait_for(address)
        times, sent = in_a_thread(address, 60.0)
    finally:
        server.terminate()
        server.wait(30.0)
    p95 = sorted(times)[int(0.95 * len(times))]
    said = f"{len(times)} pages, median {1000 * statistics.median(times):.0f} ms, p95 {1000 * p95:.0f} ms"
    print(f"{said}; {len(sent)} hits")
    assert kept(open_job(tmp_path / "job")) == set(sent)
    assert p95 < 0.3, said


def wait_for(address: str) -> None:
    """Until the server answers, two minutes at most."""
    until = time.monotonic() + 120.0
    while True:
        try:
            assert httpx.get(address, follow_redirects=True, timeout=60.0).status_code == 200
            return
        except httpx.ConnectError:
            assert time.monotonic() < until
            time.sleep(0.2)
