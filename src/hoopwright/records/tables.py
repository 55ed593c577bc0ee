"""The tables: one for each kind of record with its present state, and the journal with all that was ever written."""

from __future__ import annotations

import dataclasses
import datetime as dt
import types
import typing
from collections.abc import Mapping
from functools import cache
from typing import Any, TypeVar

import sqlalchemy as sa

from hoopwright.records.judging import Concession, Decision, DesignChange, KeptFinding, Paper, Release
from hoopwright.records.making import Build, Expectation, Operation, Part, Reading, Tool
from hoopwright.records.material import Cast, Coupon, LinerRevision, Sheet, SourceFile, WeldLot
from hoopwright.records.shape import Shape

SHAPES: tuple[type[Shape], ...] = (
    LinerRevision, Cast, Sheet, WeldLot, Coupon, SourceFile, Tool, Build, Part, Operation, Reading, KeptFinding,
    Decision, Concession, Release, Paper, DesignChange, Expectation,
)  # fmt: skip
"""Every kind of record; what is referred to stands before what refers to it."""

KINDS: dict[str, type[Shape]] = {shape.kind: shape for shape in SHAPES}

S = TypeVar("S", bound=Shape)

METADATA = sa.MetaData(
    naming_convention={
        "fk": "fk_%(table_name)s_%(column_0_name)s",
        "pk": "pk_%(table_name)s",
        "ix": "ix_%(table_name)s_%(column_0_name)s",
    }
)


class Utc(sa.types.TypeDecorator[dt.datetime]):
    """A moment kept in UTC; one of the databases forgets the zone, so it is put back on reading."""

    impl = sa.DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: dt.datetime | None, dialect: sa.Dialect) -> dt.datetime | None:
        """To UTC."""
        return None if value is None else value.astimezone(dt.UTC)

    def process_result_value(self, value: dt.datetime | None, dialect: sa.Dialect) -> dt.datetime | None:
        """From UTC, with its zone."""
        if value is None:
            return None
        return value.replace(tzinfo=dt.UTC) if value.tzinfo is None else value.astimezone(dt.UTC)


SEQUENCE = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
"""A counter that the database counts; SQLite counts only what it calls INTEGER."""

JOURNAL = sa.Table(
    "journal",
    METADATA,
    sa.Column("seq", SEQUENCE, primary_key=True, autoincrement=True),
    sa.Column("at", Utc, nullable=False),
    sa.Column("by", sa.Text, nullable=False),
    sa.Column("why", sa.Text, nullable=False),
    sa.Column("together", sa.Text, nullable=False),
    sa.Column("act", sa.Text, nullable=False),
    sa.Column("kind", sa.Text, nullable=False),
    sa.Column("record", sa.Text, nullable=False),
    sa.Column("version", sa.BigInteger, nullable=False),
    sa.Column("body", sa.JSON, nullable=False),
    sa.UniqueConstraint("kind", "record", "version", name="uq_journal_version"),
)

PLAIN: dict[Any, type[sa.types.TypeEngine[Any]]] = {
    str: sa.Text,
    float: sa.Double,
    int: sa.BigInteger,
    dt.datetime: Utc,
    dt.date: sa.Date,
}
SEARCHED = {
    "reading": ("joint",),
    "part": ("part",),
    "finding": ("about",),
    "decision": ("about",),
    "release": ("about",),
    "paper": ("about",),
    "expectation": ("part",),
    "liner_revision": ("liner",),
}
"""Columns that pages ask for, beside the references."""

PAGED = {"reading": ("part", "what")}
"""Columns that many rows share and pages ask for newest first: indexed together with the place in the journal."""


def hints(shape: type[Shape]) -> Mapping[str, tuple[Any, bool]]:
    """Type of each field without its "or none", and whether it may be none."""
    return _hints(shape.kind)


@cache
def _hints(kind: str) -> Mapping[str, tuple[Any, bool]]:
    found = {}
    for name, hint in typing.get_type_hints(KINDS[kind]).items():
        options = typing.get_args(hint) if isinstance(hint, types.UnionType) else (hint,)
        found[name] = (next(o for o in options if o is not type(None)), type(None) in options)
    return found


def _column(shape: type[Shape], field: dataclasses.Field[Any]) -> sa.Column[Any]:
    hint, optional = hints(shape)[field.name]
    kind: Any = PLAIN.get(hint, sa.JSON)
    if field.name == "id":
        return sa.Column("id", sa.Text, primary_key=True)
    target = field.metadata.get("refers")
    searched = field.name in SEARCHED.get(shape.kind, ())
    more = (sa.ForeignKey(f"{target}s.id"),) if target else ()
    return sa.Column(field.name, kind, *more, nullable=optional, index=bool(target) or searched)


def _table(shape: type[Shape]) -> sa.Table:
    columns = [_column(shape, field) for field in dataclasses.fields(shape)]  # type: ignore[arg-type]
    return sa.Table(
        f"{shape.kind}s",
        METADATA,
        *columns,
        sa.Column("seq", sa.BigInteger, nullable=False, index=True),
        sa.Column("version", sa.BigInteger, nullable=False),
        sa.Column("entered_at", Utc, nullable=False),
        sa.Column("entered_by", sa.Text, nullable=False),
        sa.Column("changed_at", Utc, nullable=False),
        sa.Column("changed_by", sa.Text, nullable=False),
        *(sa.Index(f"ix_{shape.kind}s_{name}_seq", name, "seq") for name in PAGED.get(shape.kind, ())),
    )


TABLES: dict[str, sa.Table] = {shape.kind: _table(shape) for shape in SHAPES}


def plain(thing: Shape) -> dict[str, Any]:
    """A record as data for JSON: moments and days as text, tuples as lists."""

    def one(value: Any) -> Any:
        if isinstance(value, tuple):
            return [one(item) for item in value]
        if isinstance(value, dt.datetime):
            return value.astimezone(dt.UTC).isoformat()
        return value.isoformat() if isinstance(value, dt.date) else value

    return {f.name: one(getattr(thing, f.name)) for f in dataclasses.fields(thing)}  # type: ignore[arg-type]


def as_columns(thing: Shape) -> dict[str, Any]:
    """A record as values of its table's columns."""
    names = hints(type(thing))
    found = {}
    for field in dataclasses.fields(thing):  # type: ignore[arg-type]
        value = getattr(thing, field.name)
        found[field.name] = value if names[field.name][0] in PLAIN else plain_list(value)
    return found


def plain_list(value: Any) -> Any:
    """Tuples as lists, all the way down."""
    return [plain_list(item) for item in value] if isinstance(value, tuple) else value


def _tuples(value: Any) -> Any:
    return tuple(_tuples(item) for item in value) if isinstance(value, list) else value


def from_columns(shape: type[S], row: sa.RowMapping) -> S:
    """A record from a row of its table."""
    return shape(**{f.name: _tuples(row[f.name]) for f in dataclasses.fields(shape)})  # type: ignore[arg-type]


def from_plain(shape: type[S], body: Mapping[str, Any]) -> S:
    """A record from data that came through JSON; what a body of an older format lacks takes its default."""
    values = {}
    for name, (hint, _) in hints(shape).items():
        if name not in body or name == "kind":
            continue
        value = _tuples(body[name])
        if isinstance(value, str) and hint is dt.datetime:
            value = dt.datetime.fromisoformat(value)
        elif isinstance(value, str) and hint is dt.date:
            value = dt.date.fromisoformat(value)
        values[name] = value
    return shape(**values)
