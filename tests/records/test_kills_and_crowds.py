"""No acknowledged reading is lost when a writer is killed; eight writers at once lose and double nothing."""

from __future__ import annotations

import random
import sqlite3
import time
from pathlib import Path

import pytest
import sqlalchemy as sa
from pg_server import Server, program, run
from test_store import PART, SET
from writers import CONTEXT, reading, write_for, write_until_killed

import hoopwright.records.address as address_module
from hoopwright.errors import StoreError
from hoopwright.records import Store, open_store
from hoopwright.records.address import address_of
from hoopwright.records.making import Reading, Tool
from hoopwright.records.tables import JOURNAL, TABLES


def begun(address: str) -> Store:
    store = open_store(address)
    with store.writing("A") as write:
        write.add(PART)
        write.add(SET)
    return store


def killed_once(address: str, name: str, after_s: float) -> set[str]:
    """Start a writer, kill it without warning some time after its first acknowledgement; what it was told is kept."""
    ours, theirs = CONTEXT.Pipe(duplex=False)
    process = CONTEXT.Process(target=write_until_killed, args=(address, name, theirs), daemon=True)
    process.start()
    theirs.close()
    told: set[str] = set(ours.recv())
    time.sleep(after_s)
    process.kill()
    process.join()
    while True:
        try:
            told |= set(ours.recv())
        except EOFError:
            return told


def kill_often(address: str, rounds: int) -> int:
    """Kill writers `rounds` times; the number of readings that were acknowledged. All of them must be there."""
    rng = random.Random(20310301)
    begun(address).close()
    told: set[str] = set()
    for n in range(rounds):
        told |= killed_once(address, f"w{n}", rng.uniform(0.0, 0.12))
        store = open_store(address)
        with store.reading() as connection:
            there = set(
                connection.execute(TABLES["reading"].select().with_only_columns(TABLES["reading"].c.id)).scalars()
            )
            lines = connection.execute(
                JOURNAL.select().with_only_columns(JOURNAL.c.record).where(JOURNAL.c.kind == "reading")
            ).scalars()
            assert sorted(lines) == sorted(there), "journal and table tell the same"
            if address_of(address).file is not None:
                assert connection.exec_driver_sql("PRAGMA integrity_check").scalar_one() == "ok"
        store.close()
        assert told <= there, f"lost in round {n}: {sorted(told - there)[:5]}"
        batches = {identity.rsplit(".", 1)[0] for identity in there}
        assert len(there) == 3 * len(batches), "a transaction stands whole"
    return len(told)


def test_ten_kills_lose_nothing(address: str) -> None:
    assert kill_often(address, 10) >= 30


@pytest.mark.soak
def test_two_hundred_kills_lose_nothing(address: str) -> None:
    assert kill_often(address, 200) >= 600


def crowd(address: str, seconds: float, writers: int = 8) -> tuple[int, int, int]:
    """Let writers loose at once; readings, hits and refusals, after checking that nothing is lost or doubled."""
    store = begun(address)
    start = store.get(Tool, "HT-402-S").thing.hits
    pipes, processes = [], []
    for n in range(writers):
        ours, theirs = CONTEXT.Pipe(duplex=False)
        process = CONTEXT.Process(target=write_for, args=(address, f"w{n}", seconds, theirs), daemon=True)
        process.start()
        theirs.close()
        pipes.append(ours)
        processes.append(process)
    answers = [pipe.recv() for pipe in pipes]
    for process in processes:
        process.join()
    told = [identity for written, _, _ in answers for identity in written]
    with store.reading() as connection:
        there = list(connection.execute(TABLES["reading"].select().with_only_columns(TABLES["reading"].c.id)).scalars())
    assert sorted(told) == sorted(there)
    hits = sum(answer[1] for answer in answers)
    tool = store.get(Tool, "HT-402-S")
    assert tool.thing.hits == start + hits, "no hit is lost to a change that overtook another unseen"
    assert [entry.version for entry in store.history(Tool, "HT-402-S")] == list(range(1, hits + 2))
    store.close()
    return len(told), hits, sum(answer[2] for answer in answers)


def test_eight_writers_at_once(address: str) -> None:
    readings, hits, _ = crowd(address, 5.0)
    assert readings >= 8 and hits >= 1


@pytest.mark.soak
def test_eight_writers_for_a_minute(address: str) -> None:
    readings, hits, overtaken = crowd(address, 60.0)
    print(f"{readings} readings, {hits} hits, {overtaken} refusals")
    assert readings >= 80 and hits >= 8


def test_a_server_that_dies_keeps_what_it_acknowledged(server: Server) -> None:
    """The server itself is stopped without warning between two readings; it recovers by its own log."""
    address = server.new_database()
    store = begun(address)
    with store.writing("A") as write:
        write.add(reading("before"))
    data = str(server.folder / "data")
    run(server.folder, program("pg_ctl"), "-D", data, "-m", "immediate", "-w", "stop")
    run(server.folder, program("pg_ctl"), "-D", data, "-l", str(server.folder / "log"), "-w", "start", "-o",
        server.manners)  # fmt: skip
    assert store.get(Reading, "before").thing.value == 247.48
    with store.writing("A") as write:
        write.add(reading("after"))
    assert store.count(Reading) == 2
    store.close()


def test_a_full_disk_is_said_and_loses_nothing(tmp_path: Path) -> None:
    """The file may not grow beyond a few more pages, as on a disk that is nearly full."""
    store = begun(str(tmp_path))

    @sa.event.listens_for(store.engine, "connect")
    def small(connection: sqlite3.Connection, _: object) -> None:
        pages = connection.execute("PRAGMA page_count").fetchone()[0]
        connection.execute(f"PRAGMA max_page_count={pages + 12}")

    store.engine.dispose()
    told: list[str] = []
    with pytest.raises(StoreError, match="The disk is full"):
        for number in range(500):
            with store.writing("A") as write:
                write.add(reading(f"r{number}"))
            told.append(f"r{number}")
    store.close()
    assert len(told) > 3
    again = open_store(tmp_path)
    assert [k.id for k in again.list(Reading)] == told
    with again.writing("A") as write:
        write.add(reading("with-room-again"))
    again.close()


def test_a_busy_file_is_waited_for_and_then_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(address_module, "WAIT_SECONDS", 0.2)
    store = begun(str(tmp_path))
    holder = sqlite3.connect(tmp_path / "records.sqlite", isolation_level=None)
    holder.execute("BEGIN IMMEDIATE")
    with pytest.raises(StoreError, match="busy"), store.writing("A") as write:
        write.add(reading("late"))
    holder.execute("ROLLBACK")
    holder.close()
    with store.writing("A") as write:
        write.add(reading("now"))
    assert store.count(Reading) == 1
    store.close()
