"""Every test of the store runs twice: on a file and on a real server."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from pg_server import Server, running_server

from hoopwright.records import Store, open_store


@pytest.fixture(scope="session")
def server() -> Iterator[Server]:
    """One server for all tests of a run."""
    with running_server() as one:
        yield one


@pytest.fixture(params=["file", "server"])
def address(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """Address of records that are not there yet."""
    if request.param == "file":
        return str(tmp_path / "job")
    found: Server = request.getfixturevalue("server")
    return found.emptied_database()


@pytest.fixture
def store(address: str) -> Iterator[Store]:
    """An empty store."""
    one = open_store(address)
    yield one
    one.close()
