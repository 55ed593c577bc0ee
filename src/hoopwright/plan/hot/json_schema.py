"""The published JSON Schemas of growth.json and seal.json."""

from __future__ import annotations

from hoopwright.plan.hot.json_shapes import GROW_SCHEMA, KEYS, SEAL_SCHEMA, GrowthFile, SealFile
from hoopwright.plan.json_schema import schema_text


def growth_schema() -> str:
    """Text of the schema of growth.json."""
    return schema_text(GrowthFile, GROW_SCHEMA, KEYS)


def seal_schema() -> str:
    """Text of the schema of seal.json."""
    return schema_text(SealFile, SEAL_SCHEMA, KEYS)
