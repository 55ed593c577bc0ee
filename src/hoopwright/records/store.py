"""The store: open it by address, read records, write them in transactions that keep everything that ever stood."""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any, TypeVar

import sqlalchemy as sa

from hoopwright.errors import InputError, StoreError
from hoopwright.records.address import Address, address_of, engine_for, ready_folder
from hoopwright.records.backup import copy_file
from hoopwright.records.failures import in_our_words
from hoopwright.records.kept import Entry, Kept, kept
from hoopwright.records.schema import NEWEST, move, step_of
from hoopwright.records.shape import Shape, checked_text
from hoopwright.records.tables import JOURNAL, TABLES
from hoopwright.records.writing import Writing

S = TypeVar("S", bound=Shape)
MOST_ROWS = 100_000


class Store:
    """Records at one address. Many threads may use one store; many programs may use one address."""

    def __init__(self, address: Address) -> None:
        self.address = address
        self.engine = engine_for(address)
        self._writer = self.engine.execution_options(writes=True)

    def close(self) -> None:
        """Let the file or server go."""
        self.engine.dispose()

    @contextmanager
    def reading(self) -> Iterator[sa.Connection]:
        """A connection that sees one moment's state."""
        with in_our_words(self.address.words), self.engine.connect() as connection:
            yield connection

    @contextmanager
    def writing(self, by: str, why: str = "") -> Iterator[Writing]:
        """One transaction: everything inside is written, or nothing. It is on the disk when the block has ended.

        Parameters
        ----------
        by : who writes; it stands in the journal.
        why : the reason, for the journal.

        Raises
        ------
        Overtaken
            A record was changed by someone else since it was read.
        InputError
            A record breaks a rule. StoreError: the database does not take it.
        """
        who = checked_text("written by", by, 1, 200)
        reason = checked_text("reason", why)
        with in_our_words(self.address.words), self._writer.begin() as connection:
            yield Writing(connection, who, reason)

    def find(self, shape: type[S], identity: str) -> Kept[S] | None:
        """A record, or none."""
        table = TABLES[shape.kind]
        with self.reading() as connection:
            row = connection.execute(sa.select(table).where(table.c.id == identity)).mappings().first()
        return None if row is None else kept(shape, row)

    def get(self, shape: type[S], identity: str) -> Kept[S]:
        """A record.

        Raises
        ------
        InputError
            There is none; the message names the nearest.
        """
        found = self.find(shape, identity)
        if found is None:
            with self.reading() as connection:
                known = list(connection.execute(sa.select(TABLES[shape.kind].c.id).limit(5000)).scalars())
            near = difflib.get_close_matches(str(identity), known, 4, 0.4) or known[:4]
            hint = f"in the records (near: {', '.join(near)})" if near else "in the records, which have none yet"
            raise InputError(shape.kind.replace("_", " "), identity, "", hint, "correct the number, or enter it first")
        return found

    def list(
        self, shape: type[S], limit: int = 1000, before: int | None = None, newest_first: bool = False, **where: Any
    ) -> tuple[Kept[S], ...]:
        """Records of a kind, oldest first, those only whose fields are as given (a tuple: one of these).

        Parameters
        ----------
        limit : most records to give. before : only those entered before this `seq` (for the next page).
        """
        table = TABLES[shape.kind]
        query = sa.select(table).where(*conditions(table, where))
        if before is not None:
            query = query.where(table.c.seq < before)
        order = table.c.seq.desc() if newest_first or before is not None else table.c.seq
        query = query.order_by(order).limit(min(limit, MOST_ROWS))
        with self.reading() as connection:
            return tuple(kept(shape, row) for row in connection.execute(query).mappings())

    def count(self, shape: type[Shape], **where: Any) -> int:
        """How many records of a kind there are whose fields are as given."""
        table = TABLES[shape.kind]
        with self.reading() as connection:
            query = sa.select(sa.func.count()).select_from(table).where(*conditions(table, where))
            return int(connection.execute(query).scalar_one())

    def history(self, shape: type[Shape], identity: str) -> tuple[Entry, ...]:
        """Everything that was written of one record, first to last."""
        query = sa.select(JOURNAL).where(JOURNAL.c.kind == shape.kind, JOURNAL.c.record == identity)
        with self.reading() as connection:
            rows = connection.execute(query.order_by(JOURNAL.c.version)).mappings()
            return tuple(Entry(**row) for row in rows)

    def journal(self, limit: int = 200, before: int | None = None) -> tuple[Entry, ...]:
        """The audit trail, newest first."""
        query = sa.select(JOURNAL).order_by(JOURNAL.c.seq.desc()).limit(min(limit, MOST_ROWS))
        if before is not None:
            query = query.where(JOURNAL.c.seq < before)
        with self.reading() as connection:
            return tuple(Entry(**row) for row in connection.execute(query).mappings())


def conditions(table: sa.Table, where: Mapping[str, Any]) -> Iterator[sa.ColumnElement[bool]]:
    """Conditions from field names and values.

    Raises
    ------
    InputError
        A field that the kind has not.
    """
    for name, value in where.items():
        if name not in table.c:
            raise InputError("field", name, "", f"one of {', '.join(c.name for c in table.c)}", "name one of these")
        column = table.c[name]
        yield column.in_(value) if isinstance(value, (tuple, list)) else column == value


def open_store(address: str | Path | None = None, create: bool = True) -> Store:
    """Open the records at an address, making them where there are none, and bringing an older format up to today's.

    Parameters
    ----------
    address : folder (its `records.sqlite`), file ending in .sqlite, or postgresql://user@host/name; this folder if
        none is given.
    create : whether to make them where there are none.

    Raises
    ------
    StoreError
        They cannot be opened, are none of ours, or were written by a newer version. InputError: no such address.
    """
    where = address_of(address)
    if where.file is not None and not where.file.exists():
        if not create:
            raise StoreError(f"There are no records at {where.words}.", "name their folder, or enter the first one")
        ready_folder(where)
    store = Store(where)
    try:
        with store.reading() as connection:
            step = step_of(connection)
        if step > NEWEST:
            raise StoreError(
                f"The records at {where.words} are of a newer format ({step}; this version knows {NEWEST}).",
                "use the newer version",
            )
        if step == 0 and not create:
            raise StoreError(f"There are no records at {where.words}.", "name their place, or enter the first one")
        if step < NEWEST:
            if step and where.file is not None:
                copy_file(where.file, where.file.with_suffix(f".before-format-{NEWEST}.sqlite"))
            move(where)
    except BaseException:
        store.close()
        raise
    return store
