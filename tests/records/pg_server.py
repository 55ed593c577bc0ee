"""A throw-away PostgreSQL server of the tests' own: its data and its socket in a temporary folder, no network port."""

from __future__ import annotations

import os
import pwd
import shutil
import subprocess
import tempfile
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import psycopg


def program(name: str) -> str:
    """Path of one of the server's programs; they are often beside the search path."""
    found = shutil.which(name)
    if found:
        return found
    places = sorted(Path("/usr/lib/postgresql").glob(f"*/bin/{name}"))
    if not places:
        raise FileNotFoundError(f"{name} is not on this machine; house/needs.py names its package")
    return str(places[-1])


def person() -> str | None:
    """Whom to run the server as: the server refuses root, so root takes another."""
    if os.geteuid() != 0:
        return None
    names = {entry.pw_name for entry in pwd.getpwall()}
    return "postgres" if "postgres" in names else "nobody"


def run(folder: Path, *command: str) -> None:
    """Run one of its programs, silent unless it fails."""
    who = person()
    answer = subprocess.run(
        command, cwd=folder, user=who, group=pwd.getpwnam(who).pw_gid if who else None, capture_output=True, text=True,
        env={"PATH": os.environ["PATH"], "LC_ALL": "C", "TZ": "UTC"}, check=False,
    )  # fmt: skip
    assert answer.returncode == 0, answer.stdout + answer.stderr


class Server:
    """A running server; `new_database` gives the address of an empty database."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.manners = f"-k {folder} -c listen_addresses= -c fsync=off -c shared_buffers=16MB -c max_connections=60"

    def address(self, name: str) -> str:
        """Address of a database by name."""
        return f"postgresql://hoop@/{name}?host={self.folder}"

    def emptied_database(self) -> str:
        """Address of one database that is emptied for each test: cheaper than a new one."""
        address = self.address("postgres")
        with psycopg.connect(address, autocommit=True) as connection:
            connection.execute("DROP SCHEMA public CASCADE")
            connection.execute("CREATE SCHEMA public")
        return address

    def new_database(self) -> str:
        """Address of a new, empty database."""
        name = f"t{uuid.uuid4().hex[:12]}"
        with psycopg.connect(self.address("postgres"), autocommit=True) as connection:
            connection.execute(f"CREATE DATABASE {name}")
        return self.address(name)


@contextmanager
def running_server() -> Iterator[Server]:
    """Start a server, and stop it at the end; its folder goes with it."""
    folder = Path(tempfile.mkdtemp(prefix="hw-pg-", dir="/tmp"))
    who = person()
    if who:
        shutil.chown(folder, who)
    data = folder / "data"
    try:
        run(folder, program("initdb"), "-D", str(data), "-U", "hoop", "-A", "trust", "--no-sync", "-E", "UTF8")
        log, one = str(folder / "log"), Server(folder)
        run(folder, program("pg_ctl"), "-D", str(data), "-l", log, "-o", one.manners, "-w", "start")
        try:
            yield one
        finally:
            run(folder, program("pg_ctl"), "-D", str(data), "-m", "immediate", "-w", "stop")
    finally:
        shutil.rmtree(folder, ignore_errors=True)
