"""The format of the records and its steps, up and down. A step keeps every row; references are checked at the end."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

import sqlalchemy as sa

from hoopwright.errors import StoreError
from hoopwright.records.address import APPLICATION, Address, engine_for
from hoopwright.records.failures import in_our_words

if TYPE_CHECKING:
    from alembic.operations import Operations

LOCK = 4_850_741
"""Number of the lock on a server, so that two programs do not change the tables at once."""

STEP_TABLE = "hoopwright_step"


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the format."""

    number: int
    says: str
    up: Callable[[Operations], None]
    down: Callable[[Operations], None]


def steps() -> tuple[Step, ...]:
    """All steps, first to last."""
    from hoopwright.records.steps import step_001, step_002

    return (
        Step(1, "tables and journal", step_001.up, step_001.down),
        Step(2, "papers, design changes, uncertainty of readings", step_002.up, step_002.down),
    )


NEWEST = 2


def step_of(connection: sa.Connection) -> int:
    """Step at which a database stands; 0 where it is empty.

    Raises
    ------
    StoreError
        It holds tables that are none of ours.
    """
    names = set(sa.inspect(connection).get_table_names())
    if STEP_TABLE in names:
        return int(connection.execute(sa.text(f"SELECT max(step) FROM {STEP_TABLE}")).scalar_one() or 0)
    if names:
        raise StoreError("There are other tables at this address, and none of ours.", "name an empty database or file")
    return 0


def move(address: Address, to: int = NEWEST) -> int:
    """Bring a database to a step, up or down, whole or not at all; the step from which it came."""
    from alembic.operations import Operations
    from alembic.runtime.migration import MigrationContext

    engine = engine_for(address, migrating=True)
    try:
        with in_our_words(address.words), engine.begin() as connection:
            if address.file is None:
                connection.execute(sa.text(f"SELECT pg_advisory_xact_lock({LOCK})"))
            start = step_of(connection)
            if start == to:
                return start
            unguard(connection)
            operations = Operations(MigrationContext.configure(connection))
            for step in steps() if start < to else reversed(steps()):
                if start < step.number <= to:
                    step.up(operations)
                elif to < step.number <= start:
                    step.down(operations)
            _note_step(connection, to)
            _check_references(connection)
            guard(connection)
            return start
    finally:
        engine.dispose()


def _note_step(connection: sa.Connection, step: int) -> None:
    connection.execute(sa.text(f"CREATE TABLE IF NOT EXISTS {STEP_TABLE} (step BIGINT NOT NULL)"))
    connection.execute(sa.text(f"DELETE FROM {STEP_TABLE}"))
    connection.execute(sa.text(f"INSERT INTO {STEP_TABLE} VALUES ({step})"))
    if connection.dialect.name == "sqlite":
        connection.exec_driver_sql(f"PRAGMA application_id={APPLICATION}")


def _check_references(connection: sa.Connection) -> None:
    """On a file references were not watched while tables changed; now every row is looked at."""
    if connection.dialect.name == "sqlite":
        broken = connection.exec_driver_sql("PRAGMA foreign_key_check").fetchall()
        if broken:
            raise StoreError(
                f"The change of format would break {len(broken)} references, so it was not made.",
                "keep the file as it is, and send it with this message to who looks after the program",
            )


def kept_tables(connection: sa.Connection) -> list[str]:
    """Tables whose rows are never deleted."""
    return [name for name in sa.inspect(connection).get_table_names() if name != STEP_TABLE]


def guard(connection: sa.Connection) -> None:
    """Let the database itself refuse to delete a record, or to rewrite the journal."""
    word = "records are never deleted"
    if connection.dialect.name == "sqlite":
        for name in kept_tables(connection):
            refuse = f"BEGIN SELECT RAISE(ABORT, '{word}'); END"
            connection.exec_driver_sql(f"CREATE TRIGGER keep_{name} BEFORE DELETE ON {name} {refuse}")
            if name == "journal":
                connection.exec_driver_sql(f"CREATE TRIGGER hold_{name} BEFORE UPDATE ON {name} {refuse}")
        return
    connection.exec_driver_sql(
        "CREATE OR REPLACE FUNCTION hoopwright_keeps() RETURNS trigger LANGUAGE plpgsql AS "
        f"$$ BEGIN RAISE EXCEPTION '{word}'; END $$"
    )
    for name in kept_tables(connection):
        acts = "DELETE OR TRUNCATE OR UPDATE" if name == "journal" else "DELETE OR TRUNCATE"
        connection.exec_driver_sql(
            f"CREATE TRIGGER keep_{name} BEFORE {acts} ON {name} FOR EACH STATEMENT EXECUTE FUNCTION hoopwright_keeps()"
        )


def unguard(connection: sa.Connection) -> None:
    """Take the refusals away while the tables change."""
    for name in kept_tables(connection):
        on = "" if connection.dialect.name == "sqlite" else f" ON {name}"
        for word in ("keep", "hold"):
            connection.exec_driver_sql(f"DROP TRIGGER IF EXISTS {word}_{name}{on}")
