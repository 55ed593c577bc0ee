"""Where the records are: a file in the job's folder, or a PostgreSQL server by address."""

from __future__ import annotations

import os
import sqlite3
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import sqlalchemy as sa
from sqlalchemy.engine import URL, make_url

from hoopwright.errors import InputError, StoreError

FILE_NAME = "records.sqlite"
APPLICATION = 0x484F4F50
"""Mark in the head of the file ("HOOP"), by which one of ours is told from any other SQLite file."""

WAIT_SECONDS = 30.0
SERVER_WORDS = ("postgresql", "postgres")
FILE_ENDINGS = (".sqlite", ".sqlite3", ".db")


@dataclass(frozen=True, slots=True)
class Address:
    """file : where the records are a file. url : for the database library. words : as a message may say it."""

    url: URL
    words: str
    file: Path | None


def address_of(text: str | Path | None) -> Address:
    """Understand an address: a folder, a file ending in .sqlite, or postgresql://user@host/name; none is this folder.

    Raises
    ------
    InputError
        Neither of these.
    """
    said = str(text) if text is not None else "."
    scheme = said.partition("://")[0].lower() if "://" in said else ""
    if scheme:
        return _server(said, scheme)
    path = Path(said)
    file = path if path.suffix.lower() in FILE_ENDINGS else path / FILE_NAME
    if file == path and path.is_dir():
        raise InputError("records", said, "", "a file, or a folder without such an ending", "name another")
    if file != path and path.is_file():
        raise InputError(
            "records", said, "", f"a folder, or a file ending in {', '.join(FILE_ENDINGS)}", "name another"
        )
    return Address(URL.create("sqlite", database=str(file.absolute())), str(file), file.absolute())


def _server(said: str, scheme: str) -> Address:
    must = "a folder, a file ending in .sqlite, or postgresql://user@host/name"
    if scheme.split("+")[0] not in SERVER_WORDS:
        raise InputError("records", scheme + "://…", "", must, "write the address as one of these")
    try:
        url = make_url(said).set(drivername="postgresql+psycopg")
    except (ValueError, sa.exc.ArgumentError):
        raise InputError("records", scheme + "://…", "", must, "correct the address") from None
    return Address(url, url.set(drivername="postgresql").render_as_string(hide_password=True), None)


def engine_for(address: Address, migrating: bool = False) -> sa.Engine:
    """An engine that begins every transaction itself, waits for its turn, and keeps what it said it kept.

    migrating : without the check of references on each statement, as a change of tables needs; the caller checks them
    at the end. Turned on, a change of a table would delete what refers to its rows.
    """
    if address.file is None:
        try:
            import psycopg  # noqa: F401
        except ImportError:
            raise StoreError(
                "The driver for PostgreSQL is not installed.", "pip install hoopwright[postgres]"
            ) from None
        pool: Any = {"poolclass": sa.NullPool} if migrating else {"pool_pre_ping": True}
        return sa.create_engine(address.url, connect_args={"connect_timeout": 10}, **pool)
    engine = sa.create_engine(
        address.url,
        connect_args={"timeout": WAIT_SECONDS, "check_same_thread": False},
        **({"poolclass": sa.NullPool} if migrating else {}),
    )
    _file_manners(engine, migrating)
    return engine


def _file_manners(engine: sa.Engine, migrating: bool) -> None:
    @sa.event.listens_for(engine, "connect")
    def connected(connection: sqlite3.Connection, _: object) -> None:
        # the driver's own idea of when a transaction begins is turned off: ours begin where we say
        connection.isolation_level = None
        connection.execute(f"PRAGMA foreign_keys={'OFF' if migrating else 'ON'}")
        connection.execute("PRAGMA journal_mode=WAL")
        # an acknowledged reading is on the disk, not in a buffer of the operating system
        connection.execute("PRAGMA synchronous=FULL")

    @sa.event.listens_for(engine, "begin")
    def begun(connection: sa.Connection) -> None:
        # a writer takes its place at once: two that read first and write later would block each other
        writes = connection.get_execution_options().get("writes") or migrating
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


def ready_folder(address: Address) -> None:
    """Make the folder of a new file.

    Raises
    ------
    StoreError
        It cannot be made or written.
    """
    if address.file is None:
        return
    try:
        address.file.parent.mkdir(parents=True, exist_ok=True)
    except OSError as problem:
        raise StoreError(f"{address.file.parent} cannot be made ({problem.strerror}).", "name another folder") from None
    if not os.access(address.file.parent, os.W_OK):
        raise StoreError(f"{address.file.parent} cannot be written.", "ask for the right to write there")
