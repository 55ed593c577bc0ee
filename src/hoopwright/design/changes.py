"""Design changes as a file, schema `hoopwright-changes-1`: what shall become different, and what a plan of it needs."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field

from hoopwright.design.file_types import Name, Positive, Said, Table, key
from hoopwright.design.mapping import as_shape, as_table
from hoopwright.design.plain_reading import opened_from, refuse, repeated, validated
from hoopwright.design.toml_text import toml_text

SCHEMA = "hoopwright-changes-1"
PAGE = "docs/files/changes.md"

Days = Annotated[float, Field(ge=0.0, le=10_000.0, allow_inf_nan=False)]


@dataclass(frozen=True, slots=True)
class NewSize:
    """A size that changes. feature : what it is the size of ("lip_mid_radius")."""

    feature: str
    new_mm: float


@dataclass(frozen=True, slots=True)
class Durations:
    """Working days of the steps of a change; None where the file says nothing."""

    inspect_before_days: float | None = None
    segment_regrind_days: float | None = None
    roll_regrind_days: float | None = None
    inspect_after_days: float | None = None
    restretch_days: float | None = None
    partial_fai_days: float | None = None
    new_segment_set_days: float | None = None


@dataclass(frozen=True, slots=True)
class Change:
    """A design change: the revision it leads to, the ring, its new sizes, and what planning it needs."""

    revision: str
    ring: str
    text: str
    new_sizes: tuple[NewSize, ...]
    finished_parts: tuple[str, ...]
    start_date: datetime.date | None
    durations: Durations
    grinder_order: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Changes:
    """The changes of one liner."""

    liner: str
    invented: bool
    changes: tuple[Change, ...]


class NewSizeTable(Table):
    """A size that changes."""

    feature: Name = key("what it is the size of (`lip_mid_radius`)")
    new_mm: Positive = key("its new value")


class DurationsTable(Table):
    """Working days of the steps; what is left out is asked for when it is needed."""

    inspect_before_days: Days | None = key("inspection of a tool before rework", None)
    segment_regrind_days: Days | None = key("regrind of a segment set", None)
    roll_regrind_days: Days | None = key("regrind of a roll pair", None)
    inspect_after_days: Days | None = key("inspection of a tool after rework", None)
    restretch_days: Days | None = key("stretching finished parts again", None)
    partial_fai_days: Days | None = key("partial first article inspection", None)
    new_segment_set_days: Days | None = key("a new segment set", None)


class ChangeTable(Table):
    """A design change."""

    revision: Name = key("revision it leads to")
    ring: Name = key("ring that changes")
    text: Said = key("the change in words")
    new_sizes: Annotated[list[NewSizeTable], Field(min_length=1, max_length=100)] = key("sizes that change")
    finished_parts: list[Name] = key("serial numbers of parts that are finished already", [])
    start_date: datetime.date | None = key("first day of work", None)
    durations: DurationsTable = key("working days of the steps", DurationsTable())
    grinder_order: list[Name] = key("tools in the order in which the grinder takes them", [])


class ChangesFile(Table):
    """A whole file of changes."""

    schema_: Literal["hoopwright-changes-1"] = Field(alias="schema", description="`hoopwright-changes-1`")
    liner: Name = key("liner that changes")
    invented: bool = key("true when the data describe no real change")
    change: Annotated[list[ChangeTable], Field(max_length=1000)] = key("the changes")


def read_changes(source: Path | str, name: str = "") -> Changes:
    """The changes of a file (a path) or of a text.

    Raises
    ------
    FileFaults
        Every fault of the file, each with line, key, value, unit and remedy.
    """
    opened = opened_from(source, name)
    file = validated(opened, SCHEMA, ChangesFile, PAGE)
    named = ((f"change[{n}].revision", change.revision) for n, change in enumerate(file.change, 1))
    refuse(opened, repeated(named, "change"))
    return as_shape(Changes, file)


def write_changes(changes: Changes) -> str:
    """Changes as the text of their file."""
    head = [f"Design changes of liner {changes.liner}."]
    if changes.invented:
        head.append("All data in this file are invented for demonstration and test.")
    return toml_text({"schema": SCHEMA, **as_table(changes)}, head, ["change"])
