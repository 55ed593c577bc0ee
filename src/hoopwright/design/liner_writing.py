"""Writing a liner: canonical TOML, the same text for the same liner, which reads back as the same liner."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from hoopwright.design.liner_schema import SCHEMA, LinerFile, LinerTable
from hoopwright.design.mapping import as_table
from hoopwright.design.shapes import Liner
from hoopwright.design.toml_text import toml_text

TABLE_LISTS = ("ring", "joint", "hole_pattern")
NOTICE = "All data in this file are invented for demonstration and test. Nothing here describes a real part."


def write_liner(liner: Liner) -> str:
    """A liner as the text of a liner file: sections as mid-surface chains, cold, every number to its last digit."""
    head = [f"Liner {liner.id}, revision {liner.revision}. Lengths in mm at 20 degC; z positive aft, r from the axis."]
    return toml_text(liner_data(liner), head + ([NOTICE] if liner.invented else []), TABLE_LISTS)


def liner_data(liner: Liner) -> dict[str, Any]:
    """A liner as the data of a liner file, in the order of the format."""
    flat = as_table(liner)
    data: dict[str, Any] = {"schema": SCHEMA, "liner": {k: flat[k] for k in LinerTable.model_fields if k in flat}}
    data["process"] = {wish.name: wish.value for wish in liner.wishes}
    data.update({name: flat[name] for name in LinerFile.model_fields if name in flat})
    return in_order(data)


def in_order(data: Mapping[str, Any]) -> dict[str, Any]:
    """Top-level tables in the order of the format, empty ones left out."""
    names = [field.alias or name for name, field in LinerFile.model_fields.items()]
    return {name: data[name] for name in names if name in data and data[name] not in ({}, [])}


def liner_file_text(data: Mapping[str, Any], head: Sequence[str]) -> str:
    """Text of a liner file from its data, as they are: nothing is rounded or closed up."""
    return toml_text(in_order(data), head, TABLE_LISTS)
