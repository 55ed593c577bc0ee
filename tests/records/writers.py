"""Processes that write readings until they are stopped; each says what was acknowledged, and nothing before."""

from __future__ import annotations

import multiprocessing
import time
from multiprocessing.connection import Connection

from hoopwright.errors import Overtaken
from hoopwright.records import open_store
from hoopwright.records.making import Reading, Tool

CONTEXT = multiprocessing.get_context("forkserver")
# modules that are installed: of this folder the server of forks knows nothing
CONTEXT.set_forkserver_preload(
    ["hoopwright.records", "hoopwright.records.making", "psycopg", "sqlalchemy.dialects.postgresql", "sqlite3"]
)


def reading(identity: str) -> Reading:
    """A reading of the part 402-03."""
    return Reading(
        id=identity, liner="HD-400", what="girth", characteristic="lip_od", unit="mm", value=247.48, serial="402-03",
        taken_by="writer", series=tuple(0.01 * n for n in range(36)),
    )  # fmt: skip


def write_until_killed(address: str, name: str, said: Connection) -> None:
    """Write readings and small changes for ever; each identity is sent once the store has acknowledged it."""
    store = open_store(address)
    number = 0
    while True:
        number += 1
        with store.writing(name) as write:
            ids = [f"{name}.{number}.{k}" for k in range(3)]
            write.add(reading(ids[0]))
            write.add_all([reading(identity) for identity in ids[1:]])
        said.send(ids)


def write_for(address: str, name: str, seconds: float, said: Connection) -> None:
    """Write readings and count hits of one tool, with seven others at the same tool; then say what was acknowledged."""
    store = open_store(address)
    written: list[str] = []
    hits = overtaken = 0
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        identity = f"{name}.{len(written)}"
        with store.writing(name) as write:
            write.add(reading(identity), again_ok=True)
        written.append(identity)
        seen = store.get(Tool, "HT-402-S")
        try:
            with store.writing(name) as write:
                write.change(seen, hits=seen.thing.hits + 1)
            hits += 1
        except Overtaken:
            overtaken += 1
    said.send((written, hits, overtaken))
    said.close()
    store.close()
