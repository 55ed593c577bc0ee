"""Step 2: papers given out, design changes, what a plan lets expect; U and part beside each reading."""

from __future__ import annotations

import sqlalchemy as sa
from alembic.operations import Operations

from hoopwright.records.steps.step_001 import MOMENT, common, identity, refers, word

PAGED = ("part", "what")


def up(op: Operations) -> None:
    """Make three tables and one column; every reading keeps its row."""
    op.create_table(
        "papers",
        word("liner"),
        word("revision"),
        word("paper"),
        word("about", index=True),
        word("mark"),
        word("digest"),
        word("state"),
        refers("replaced_by", "papers", "papers"),
        word("note"),
        sa.Column("issued_at", MOMENT, nullable=False),
        identity(),
        *common(),
    )
    op.create_table(
        "design_changes",
        identity(),
        word("liner"),
        word("revision"),
        word("words"),
        word("state"),
        refers("old", "design_changes", "liner_revisions"),
        refers("new", "design_changes", "liner_revisions"),
        word("impact"),
        word("decided_by"),
        word("reason"),
        *common(),
    )
    op.create_table(
        "expectations",
        word("liner"),
        word("revision"),
        word("part", index=True),
        word("mark"),
        sa.Column("hit", sa.BigInteger(), nullable=False),
        word("control"),
        *(sa.Column(name, sa.Double(), nullable=False) for name in ("stop_mm", "loaded_mm", "free_mm")),
        *(sa.Column(name, sa.Double(), nullable=True) for name in ("low_mm", "high_mm")),
        *(sa.Column(f"{name}_per_mm", sa.Double(), nullable=False) for name in ("girth", "free", "across")),
        sa.Column("segments", sa.BigInteger(), nullable=False),
        word("state"),
        identity(),
        *common(),
    )
    with op.batch_alter_table("readings") as readings:
        readings.add_column(sa.Column("expanded", sa.Double(), nullable=True))
        readings.add_column(sa.Column("part", sa.Text(), nullable=False, server_default=""))
    # of a hundred thousand readings a page wants the newest hundred of one ring or kind: sorting them all took 0.2 s
    op.drop_index("ix_readings_what", "readings")
    for name in PAGED:
        op.create_index(f"ix_readings_{name}_seq", "readings", [name, "seq"])


def down(op: Operations) -> None:
    """Take them away again; what stood in them is told by the journal alone."""
    for name in PAGED:
        op.drop_index(f"ix_readings_{name}_seq", "readings")
    with op.batch_alter_table("readings") as readings:
        readings.drop_column("part")
        readings.drop_column("expanded")
    op.create_index("ix_readings_what", "readings", ["what"])
    op.drop_table("expectations")
    op.drop_table("design_changes")
    op.drop_table("papers")
