"""Backup and restore: one zip of plain JSON lines, the same from a file and from a server, so that either can take it.

Inside: `manifest.json` (format, tables, rows and SHA-256 of each) and one `TABLE.jsonl` for each table. Nothing of the
zip is ever unpacked to a path; only the named members are read.
"""

from __future__ import annotations

import datetime as dt
import hashlib
import io
import json
import os
import zipfile
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import sqlalchemy as sa

from hoopwright.errors import InputError, StoreError
from hoopwright.records.address import Address, address_of, engine_for, ready_folder
from hoopwright.records.failures import in_our_words
from hoopwright.records.schema import NEWEST, STEP_TABLE, guard, move, step_of, unguard
from hoopwright.records.store import Store

FORMAT = "hoopwright-backup-1"
MOST_BYTES = 8_000_000_000
CHUNK = 1000


def _text(value: object) -> str:
    if isinstance(value, dt.datetime):
        moment = value.replace(tzinfo=dt.UTC) if value.tzinfo is None else value.astimezone(dt.UTC)
        return moment.isoformat()
    if isinstance(value, dt.date):
        return value.isoformat()
    raise TypeError(type(value))


def backup(store: Store, target: Path) -> Mapping[str, int]:
    """Write everything that stands in a store into a new file; rows of each table. Others may go on writing.

    Raises
    ------
    InputError
        There is something at the target already, or it cannot be written.
    """
    if target.exists():
        raise InputError("backup", str(target), "", "a new file", "name another; no backup is ever written over")
    beside = target.with_name(f".{target.name}.part")
    try:
        with store.reading() as connection, zipfile.ZipFile(beside, "w", zipfile.ZIP_DEFLATED) as archive:
            if connection.dialect.name != "sqlite":
                connection.execute(sa.text("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ"))
            counts = _write(connection, archive)
        os.replace(beside, target)
    except OSError as problem:
        raise InputError(
            "backup", str(target), "", f"a place to write to ({problem.strerror})", "name another"
        ) from None
    finally:
        beside.unlink(missing_ok=True)
    return counts


def _write(connection: sa.Connection, archive: zipfile.ZipFile) -> dict[str, int]:
    metadata = sa.MetaData()
    metadata.reflect(connection)
    tables: dict[str, dict[str, Any]] = {}
    for table in metadata.sorted_tables:
        if table.name == STEP_TABLE:
            continue
        digest, rows = hashlib.sha256(), 0
        order = table.c.seq if "seq" in table.c else next(iter(table.c))
        with archive.open(f"{table.name}.jsonl", "w", force_zip64=True) as member:
            for row in connection.execute(sa.select(table).order_by(order)).mappings():
                line = (json.dumps(dict(row), default=_text, ensure_ascii=False, allow_nan=False) + "\n").encode()
                member.write(line)
                digest.update(line)
                rows += 1
        tables[table.name] = {"rows": rows, "sha256": digest.hexdigest()}
    manifest = {"format": FORMAT, "step": step_of(connection), "tables": tables}
    archive.writestr("manifest.json", json.dumps(manifest, indent=1))
    return {name: entry["rows"] for name, entry in tables.items()}


def restore(source: Path, address: str | Path) -> Mapping[str, int]:
    """Put a backup into an empty place, whole or not at all; rows of each table. An older format is brought up.

    Raises
    ------
    InputError
        The file is no backup, or damaged. StoreError: there are records at the address already.
    """
    manifest = _manifest(source)
    where = address_of(address)
    if where.file is not None and where.file.exists():
        raise StoreError(f"There are records at {where.words}.", "restore into a new place; nothing is written over")
    ready_folder(where)
    try:
        move(where, int(manifest["step"]))
        try:
            _fill(where, source, manifest)
        except (KeyError, TypeError, ValueError) as problem:
            if isinstance(problem, InputError):
                raise
            must = f"a backup whose rows are as its format has them ({problem})"
            raise InputError("backup", str(source), "", must, "name another backup") from None
        move(where)
    except BaseException:
        if where.file is not None:
            for end in ("", "-wal", "-shm"):
                where.file.with_name(where.file.name + end).unlink(missing_ok=True)
        raise
    return {name: int(entry["rows"]) for name, entry in manifest["tables"].items()}


def _manifest(source: Path) -> dict[str, Any]:
    must, remedy = "a backup written by hoopwright", "name another backup"
    try:
        with zipfile.ZipFile(source) as archive:
            if sum(member.file_size for member in archive.infolist()) > MOST_BYTES:
                raise InputError("backup", str(source), "", f"at most {MOST_BYTES} bytes unpacked", remedy)
            manifest: dict[str, Any] = json.loads(archive.read("manifest.json"))
            if manifest.get("format") != FORMAT:
                raise InputError("backup", str(source), "", must, remedy)
            for name, entry in manifest["tables"].items():
                if _digest(archive, f"{name}.jsonl") != entry["sha256"]:
                    raise InputError(f"backup, {name}", "changed", "", "as it was written", remedy)
    except (OSError, zipfile.BadZipFile, KeyError, ValueError, AttributeError, EOFError) as problem:
        if isinstance(problem, InputError):
            raise
        raise InputError("backup", str(source), "", must, remedy) from None
    if not 1 <= int(manifest["step"]) <= NEWEST:
        raise StoreError(f"The backup is of a newer format ({manifest['step']}).", "use the newer version")
    return manifest


def _digest(archive: zipfile.ZipFile, name: str) -> str:
    digest = hashlib.sha256()
    with archive.open(name) as member:
        while block := member.read(1 << 20):
            digest.update(block)
    return digest.hexdigest()


def _fill(where: Address, source: Path, manifest: Mapping[str, Any]) -> None:
    engine = engine_for(where, migrating=True)
    try:
        with in_our_words(where.words), engine.begin() as connection, zipfile.ZipFile(source) as archive:
            metadata = sa.MetaData()
            metadata.reflect(connection)
            if any(connection.execute(sa.select(t).limit(1)).first() for t in _of_records(metadata)):
                raise StoreError(f"There are records at {where.words}.", "restore into an empty place")
            unguard(connection)
            for table in _of_records(metadata):
                if table.name not in manifest["tables"]:
                    raise InputError("backup", table.name, "", "in the backup", "name another backup")
                _fill_table(connection, table, archive)
            _continue_count(connection)
            guard(connection)
    finally:
        engine.dispose()


def _of_records(metadata: sa.MetaData) -> list[sa.Table]:
    return [table for table in metadata.sorted_tables if table.name != STEP_TABLE]


def _fill_table(connection: sa.Connection, table: sa.Table, archive: zipfile.ZipFile) -> None:
    # a row may refer to a later one of its own table: such references are set once all rows stand
    own = [key.parent.name for key in table.foreign_keys if key.column.table is table]
    later: list[dict[str, Any]] = []
    for rows in _rows(table, archive):
        for row in rows:
            if any(row[name] is not None for name in own):
                later.append({"its_id": row["id"], **{name: row[name] for name in own}})
                row.update(dict.fromkeys(own))
        connection.execute(sa.insert(table), rows)
    if later:
        query = sa.update(table).where(table.c.id == sa.bindparam("its_id"))
        connection.execute(query.values({name: sa.bindparam(name) for name in own}), later)


def _rows(table: sa.Table, archive: zipfile.ZipFile) -> Iterator[list[dict[str, Any]]]:
    rows: list[dict[str, Any]] = []
    with archive.open(f"{table.name}.jsonl") as member:
        for line in io.TextIOWrapper(member, "utf-8", newline="\n"):
            row = json.loads(line)
            for column in table.columns:
                value = row[column.name]
                if isinstance(column.type, sa.DateTime) and value is not None:
                    row[column.name] = dt.datetime.fromisoformat(value)
                elif isinstance(column.type, sa.Date) and value is not None:
                    row[column.name] = dt.date.fromisoformat(value)
            rows.append(row)
            if len(rows) == CHUNK:
                yield rows
                rows = []
    if rows:
        yield rows


def _continue_count(connection: sa.Connection) -> None:
    """A server counts on from where the journal ends; a file does so by itself."""
    if connection.dialect.name != "sqlite":
        next_one = "(SELECT coalesce(max(seq), 0) + 1 FROM journal)"
        connection.execute(sa.text(f"SELECT setval(pg_get_serial_sequence('journal', 'seq'), {next_one}, false)"))
