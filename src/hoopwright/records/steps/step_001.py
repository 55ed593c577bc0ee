"""Step 1: the tables of every kind of record, and the journal."""

from __future__ import annotations

import sqlalchemy as sa
from alembic.operations import Operations

MOMENT = sa.DateTime(timezone=True)
COUNTER = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def _common() -> list[sa.Column[object]]:
    """Columns that every kind of record has."""
    return [
        sa.Column("seq", sa.BigInteger(), nullable=False, index=True),
        sa.Column("version", sa.BigInteger(), nullable=False),
        sa.Column("entered_at", MOMENT, nullable=False),
        sa.Column("entered_by", sa.Text(), nullable=False),
        sa.Column("changed_at", MOMENT, nullable=False),
        sa.Column("changed_by", sa.Text(), nullable=False),
    ]


def _word(name: str, empty: bool = False, index: bool = False) -> sa.Column[object]:
    return sa.Column(name, sa.Text(), nullable=empty, index=index)


def _refers(name: str, table: str, target: str, empty: bool = True) -> sa.Column[object]:
    key = sa.ForeignKey(f"{target}.id", name=f"fk_{table}_{name}")
    return sa.Column(name, sa.Text(), key, nullable=empty, index=True)


def _identity() -> sa.Column[object]:
    return sa.Column("id", sa.Text(), primary_key=True)


def _journal(op: Operations) -> None:
    op.create_table(
        "journal",
        sa.Column("seq", COUNTER, primary_key=True, autoincrement=True),
        sa.Column("at", MOMENT, nullable=False),
        _word("by"),
        _word("why"),
        _word("together"),
        _word("act"),
        _word("kind"),
        _word("record"),
        sa.Column("version", sa.BigInteger(), nullable=False),
        sa.Column("body", sa.JSON(), nullable=False),
        sa.UniqueConstraint("kind", "record", "version", name="uq_journal_version"),
    )


def _material(op: Operations) -> None:
    op.create_table(
        "liner_revisions",
        _identity(),
        _word("liner", index=True),
        _word("revision"),
        _word("content"),
        _word("mark"),
        _word("state"),
        _word("note"),
        *_common(),
    )
    op.create_table(
        "casts",
        _identity(),
        _word("card"),
        _word("certificate"),
        _word("state"),
        _word("note"),
        *_common(),
    )
    op.create_table(
        "sheets",
        _identity(),
        _refers("cast", "sheets", "casts", empty=False),
        sa.Column("thickness_mm", sa.Double(), nullable=False),
        sa.Column("width_mm", sa.Double(), nullable=True),
        sa.Column("length_mm", sa.Double(), nullable=True),
        _word("state"),
        _word("note"),
        *_common(),
    )
    op.create_table(
        "weld_lots",
        _identity(),
        _refers("cast", "weld_lots", "casts"),
        _word("procedure"),
        _word("state"),
        sa.Column("parent_tensile_MPa", sa.JSON(), nullable=False),
        _word("note"),
        *_common(),
    )
    op.create_table(
        "coupons",
        _identity(),
        _refers("lot", "coupons", "weld_lots", empty=False),
        sa.Column("tensile_MPa", sa.Double(), nullable=False),
        sa.Column("mismatch_mm", sa.Double(), nullable=True),
        sa.Column("underfill_mm", sa.Double(), nullable=True),
        _word("fracture"),
        _refers("replaces", "coupons", "coupons"),
        _word("note"),
        *_common(),
    )
    op.create_table(
        "source_files",
        _identity(),
        _word("name"),
        sa.Column("size_bytes", sa.BigInteger(), nullable=False),
        _word("holds"),
        sa.Column("rows", sa.BigInteger(), nullable=False),
        _word("note"),
        *_common(),
    )


def _making(op: Operations) -> None:
    op.create_table(
        "tools",
        _identity(),
        _word("liner"),
        _word("what"),
        _word("serves"),
        _word("revision"),
        _word("state"),
        _word("place"),
        sa.Column("stock_mm", sa.Double(), nullable=True),
        sa.Column("hits", sa.BigInteger(), nullable=False),
        sa.Column("settings", sa.JSON(), nullable=False),
        _word("stage"),
        _refers("replaced_by", "tools", "tools"),
        _word("note"),
        *_common(),
    )
    op.create_table(
        "builds",
        _identity(),
        _word("liner"),
        _word("revision"),
        _word("state"),
        _word("note"),
        *_common(),
    )
    op.create_table(
        "parts",
        _identity(),
        _word("liner"),
        _word("part", index=True),
        _word("revision"),
        _word("state"),
        _refers("sheet", "parts", "sheets"),
        _refers("cast", "parts", "casts"),
        _refers("weld_lot", "parts", "weld_lots"),
        _refers("build", "parts", "builds"),
        _word("place"),
        _word("note"),
        *_common(),
    )
    op.create_table(
        "operations",
        _refers("serial", "operations", "parts", empty=False),
        _word("step"),
        _refers("tool", "operations", "tools"),
        sa.Column("settings", sa.JSON(), nullable=False),
        _word("done_by"),
        _word("note"),
        sa.Column("done_at", MOMENT, nullable=False),
        _identity(),
        *_common(),
    )
    op.create_table(
        "readings",
        _word("liner"),
        _word("what", index=True),
        _word("characteristic"),
        _word("unit"),
        sa.Column("value", sa.Double(), nullable=True),
        sa.Column("series", sa.JSON(), nullable=False),
        sa.Column("more", sa.JSON(), nullable=False),
        _refers("serial", "readings", "parts"),
        _refers("sheet", "readings", "sheets"),
        _refers("tool", "readings", "tools"),
        _refers("lot", "readings", "weld_lots"),
        _word("joint", index=True),
        _refers("operation", "readings", "operations"),
        _word("gauge"),
        sa.Column("part_degC", sa.Double(), nullable=True),
        sa.Column("tension_N", sa.Double(), nullable=True),
        _word("held"),
        _word("held_how"),
        _word("taken_by"),
        _refers("file", "readings", "source_files"),
        sa.Column("line", sa.BigInteger(), nullable=True),
        _word("standing"),
        _refers("replaces", "readings", "readings"),
        _word("note"),
        sa.Column("taken_at", MOMENT, nullable=False),
        _identity(),
        *_common(),
    )


def _judging(op: Operations) -> None:
    op.create_table(
        "findings",
        _word("liner"),
        _word("level"),
        _word("sentence"),
        _word("remedy"),
        _word("about", index=True),
        _word("topic"),
        _word("why"),
        _word("state"),
        _word("answer"),
        _identity(),
        *_common(),
    )
    op.create_table(
        "decisions",
        _word("liner"),
        _word("about", index=True),
        _word("verdict"),
        _word("reason"),
        _word("decided_by"),
        _word("office"),
        sa.Column("findings", sa.JSON(), nullable=False),
        sa.Column("decided_at", MOMENT, nullable=False),
        _identity(),
        *_common(),
    )
    op.create_table(
        "concessions",
        _identity(),
        _word("liner"),
        _refers("serial", "concessions", "parts", empty=False),
        _word("characteristic"),
        _word("unit"),
        sa.Column("measured", sa.Double(), nullable=False),
        sa.Column("low", sa.Double(), nullable=True),
        sa.Column("high", sa.Double(), nullable=True),
        _word("effect"),
        _word("disposition"),
        _word("state"),
        _word("asked_by"),
        _word("signed_by"),
        _word("office"),
        sa.Column("expires", sa.Date(), nullable=True),
        _word("reason"),
        *_common(),
    )
    op.create_table(
        "releases",
        _identity(),
        _word("liner"),
        _word("about_kind"),
        _word("about", index=True),
        _word("extent"),
        _word("reason"),
        _word("statement"),
        _word("signed_by"),
        _word("office"),
        _word("evidence"),
        _word("state"),
        sa.Column("signed_at", MOMENT, nullable=False),
        *_common(),
    )


TABLES = (
    "journal",
    "liner_revisions",
    "casts",
    "sheets",
    "weld_lots",
    "coupons",
    "source_files",
    "tools",
    "builds",
    "parts",
    "operations",
    "readings",
    "findings",
    "decisions",
    "concessions",
    "releases",
)


def up(op: Operations) -> None:
    """Make the tables."""
    for make in (_journal, _material, _making, _judging):
        make(op)


def down(op: Operations) -> None:
    """Take the tables away: an empty database is left."""
    for name in reversed(TABLES):
        op.drop_table(name)
