"""Step 1: the tables of every kind of record, and the journal."""

from __future__ import annotations

import sqlalchemy as sa
from alembic.operations import Operations

MOMENT = sa.DateTime(timezone=True)
COUNTER = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def common() -> list[sa.Column[object]]:
    """Columns that every kind of record has."""
    return [
        sa.Column("seq", sa.BigInteger(), nullable=False, index=True),
        sa.Column("version", sa.BigInteger(), nullable=False),
        sa.Column("entered_at", MOMENT, nullable=False),
        sa.Column("entered_by", sa.Text(), nullable=False),
        sa.Column("changed_at", MOMENT, nullable=False),
        sa.Column("changed_by", sa.Text(), nullable=False),
    ]


def word(name: str, empty: bool = False, index: bool = False) -> sa.Column[object]:
    return sa.Column(name, sa.Text(), nullable=empty, index=index)


def refers(name: str, table: str, target: str, empty: bool = True) -> sa.Column[object]:
    key = sa.ForeignKey(f"{target}.id", name=f"fk_{table}_{name}")
    return sa.Column(name, sa.Text(), key, nullable=empty, index=True)


def identity() -> sa.Column[object]:
    return sa.Column("id", sa.Text(), primary_key=True)


def _journal(op: Operations) -> None:
    op.create_table(
        "journal",
        sa.Column("seq", COUNTER, primary_key=True, autoincrement=True),
        sa.Column("at", MOMENT, nullable=False),
        word("by"),
        word("why"),
        word("together"),
        word("act"),
        word("kind"),
        word("record"),
        sa.Column("version", sa.BigInteger(), nullable=False),
        sa.Column("body", sa.JSON(), nullable=False),
        sa.UniqueConstraint("kind", "record", "version", name="uq_journal_version"),
    )


def _material(op: Operations) -> None:
    op.create_table(
        "liner_revisions",
        identity(),
        word("liner", index=True),
        word("revision"),
        word("content"),
        word("mark"),
        word("state"),
        word("note"),
        *common(),
    )
    op.create_table(
        "casts",
        identity(),
        word("card"),
        word("certificate"),
        word("state"),
        word("note"),
        *common(),
    )
    op.create_table(
        "sheets",
        identity(),
        refers("cast", "sheets", "casts", empty=False),
        sa.Column("thickness_mm", sa.Double(), nullable=False),
        sa.Column("width_mm", sa.Double(), nullable=True),
        sa.Column("length_mm", sa.Double(), nullable=True),
        word("state"),
        word("note"),
        *common(),
    )
    op.create_table(
        "weld_lots",
        identity(),
        refers("cast", "weld_lots", "casts"),
        word("procedure"),
        word("state"),
        sa.Column("parent_tensile_MPa", sa.JSON(), nullable=False),
        word("note"),
        *common(),
    )
    op.create_table(
        "coupons",
        identity(),
        refers("lot", "coupons", "weld_lots", empty=False),
        sa.Column("tensile_MPa", sa.Double(), nullable=False),
        sa.Column("mismatch_mm", sa.Double(), nullable=True),
        sa.Column("underfill_mm", sa.Double(), nullable=True),
        word("fracture"),
        refers("replaces", "coupons", "coupons"),
        word("note"),
        *common(),
    )
    op.create_table(
        "source_files",
        identity(),
        word("name"),
        sa.Column("size_bytes", sa.BigInteger(), nullable=False),
        word("holds"),
        sa.Column("rows", sa.BigInteger(), nullable=False),
        word("note"),
        *common(),
    )


def _making(op: Operations) -> None:
    op.create_table(
        "tools",
        identity(),
        word("liner"),
        word("what"),
        word("serves"),
        word("revision"),
        word("state"),
        word("place"),
        sa.Column("stock_mm", sa.Double(), nullable=True),
        sa.Column("hits", sa.BigInteger(), nullable=False),
        sa.Column("settings", sa.JSON(), nullable=False),
        word("stage"),
        refers("replaced_by", "tools", "tools"),
        word("note"),
        *common(),
    )
    op.create_table(
        "builds",
        identity(),
        word("liner"),
        word("revision"),
        word("state"),
        word("note"),
        *common(),
    )
    op.create_table(
        "parts",
        identity(),
        word("liner"),
        word("part", index=True),
        word("revision"),
        word("state"),
        refers("sheet", "parts", "sheets"),
        refers("cast", "parts", "casts"),
        refers("weld_lot", "parts", "weld_lots"),
        refers("build", "parts", "builds"),
        word("place"),
        word("note"),
        *common(),
    )
    op.create_table(
        "operations",
        refers("serial", "operations", "parts", empty=False),
        word("step"),
        refers("tool", "operations", "tools"),
        sa.Column("settings", sa.JSON(), nullable=False),
        word("done_by"),
        word("note"),
        sa.Column("done_at", MOMENT, nullable=False),
        identity(),
        *common(),
    )
    op.create_table(
        "readings",
        word("liner"),
        word("what", index=True),
        word("characteristic"),
        word("unit"),
        sa.Column("value", sa.Double(), nullable=True),
        sa.Column("series", sa.JSON(), nullable=False),
        sa.Column("more", sa.JSON(), nullable=False),
        refers("serial", "readings", "parts"),
        refers("sheet", "readings", "sheets"),
        refers("tool", "readings", "tools"),
        refers("lot", "readings", "weld_lots"),
        word("joint", index=True),
        refers("operation", "readings", "operations"),
        word("gauge"),
        sa.Column("part_degC", sa.Double(), nullable=True),
        sa.Column("tension_N", sa.Double(), nullable=True),
        word("held"),
        word("held_how"),
        word("taken_by"),
        refers("file", "readings", "source_files"),
        sa.Column("line", sa.BigInteger(), nullable=True),
        word("standing"),
        refers("replaces", "readings", "readings"),
        word("note"),
        sa.Column("taken_at", MOMENT, nullable=False),
        identity(),
        *common(),
    )


def _judging(op: Operations) -> None:
    op.create_table(
        "findings",
        word("liner"),
        word("level"),
        word("sentence"),
        word("remedy"),
        word("about", index=True),
        word("topic"),
        word("why"),
        word("state"),
        word("answer"),
        identity(),
        *common(),
    )
    op.create_table(
        "decisions",
        word("liner"),
        word("about", index=True),
        word("verdict"),
        word("reason"),
        word("decided_by"),
        word("office"),
        sa.Column("findings", sa.JSON(), nullable=False),
        sa.Column("decided_at", MOMENT, nullable=False),
        identity(),
        *common(),
    )
    op.create_table(
        "concessions",
        identity(),
        word("liner"),
        refers("serial", "concessions", "parts", empty=False),
        word("characteristic"),
        word("unit"),
        sa.Column("measured", sa.Double(), nullable=False),
        sa.Column("low", sa.Double(), nullable=True),
        sa.Column("high", sa.Double(), nullable=True),
        word("effect"),
        word("disposition"),
        word("state"),
        word("asked_by"),
        word("signed_by"),
        word("office"),
        sa.Column("expires", sa.Date(), nullable=True),
        word("reason"),
        *common(),
    )
    op.create_table(
        "releases",
        identity(),
        word("liner"),
        word("about_kind"),
        word("about", index=True),
        word("extent"),
        word("reason"),
        word("statement"),
        word("signed_by"),
        word("office"),
        word("evidence"),
        word("state"),
        sa.Column("signed_at", MOMENT, nullable=False),
        *common(),
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
