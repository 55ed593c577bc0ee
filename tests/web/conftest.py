"""A server of the demonstration on loopback, and a browser that reaches nothing else."""

from __future__ import annotations

import shutil
import socket
import threading
import time
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

import httpx
import pytest
import uvicorn
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

from hoopwright.desk.page.board import board
from hoopwright.desk.page.job import Job, open_job
from hoopwright.web.app import create_app
from hoopwright.web.settings import Settings

ARGUMENTS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync", "--disable-default-apps", "--no-pings",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Served:
    """A running server."""

    job: Job
    settings: Settings
    address: str


def free_port(host: str = "127.0.0.1") -> int:
    """A port that nobody listens on."""
    with socket.socket() as probe:
        probe.bind((host, 0))
        return int(probe.getsockname()[1])


def running(
    folder: Path, settings: Settings | None = None, like: Job | None = None, **more: object
) -> Iterator[Served]:
    """Serve a job folder while the test runs; `like` has reckoned the same liner before."""
    job = open_job(folder)
    if like is not None:
        job.learn_from(like)
    board(job)
    used = settings or Settings(folder, port=free_port())
    config = uvicorn.Config(
        create_app(job, used), host=used.host, port=used.port, log_level="critical", ws="none", lifespan="off", **more
    )  # type: ignore[arg-type]
    server = uvicorn.Server(config)
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    until = time.monotonic() + 30.0
    while not server.started and time.monotonic() < until:
        time.sleep(0.01)
    assert server.started
    scheme = "https" if used.secure else "http"
    yield Served(job, used, f"{scheme}://{used.host}:{used.port}")
    server.should_exit = True
    thread.join(10.0)


@pytest.fixture(scope="session")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The demonstration, for tests that only read."""
    yield from running(tmp_path_factory.mktemp("job") / "demo")


@pytest.fixture
def own(tmp_path: Path, served: Served) -> Iterator[Served]:
    """The demonstration, for one test that writes."""
    yield from running(tmp_path / "demo", like=served.job)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """The system's Chromium, headless."""
    path = next(found for name in ("chromium", "chromium-browser", "google-chrome") if (found := shutil.which(name)))
    with sync_playwright() as driver:
        opened = driver.chromium.launch(executable_path=path, args=ARGUMENTS)
        yield opened
        opened.close()


@dataclass(frozen=True, slots=True)
class Watched:
    """A page whose faults are collected: errors of script, refusals of the content policy, requests elsewhere."""

    page: Page
    faults: list[str]


def watched(context: BrowserContext, address: str) -> Watched:
    """A new page that writes down everything that goes wrong on it."""
    page = context.new_page()
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(f"script: {error}"))
    page.on("console", lambda said: faults.append(f"console: {said.text}") if said.type == "error" else None)
    page.on(
        "request",
        lambda asked: (
            faults.append(f"elsewhere: {asked.url}") if not asked.url.startswith((address, "data:", "blob:")) else None
        ),
    )
    return Watched(page, faults)


@pytest.fixture
def desk(browser: Browser, served: Served) -> Iterator[Watched]:
    """A desk of 1400 x 1000 looking at the demonstration; the test fails when anything went wrong on the page."""
    context = browser.new_context(viewport={"width": 1400, "height": 1000}, base_url=served.address)
    found = watched(context, served.address)
    yield found
    context.close()
    assert found.faults == []


__all__ = ["Served", "Watched", "free_port", "replace", "running", "watched"]


@pytest.fixture
def served_html_client(served: Served) -> Iterator[httpx.Client]:
    """A caller without script."""
    with httpx.Client(base_url=served.address, follow_redirects=True, timeout=30.0) as opened:
        yield opened
