"""The page on growth.json and seal.json, made from their shapes."""

from __future__ import annotations

from docs.plan_keys import shape_tables
from hoopwright.plan.hot.json_shapes import GROW_SCHEMA, OWN_KEYS, SEAL_SCHEMA

HEAD = f"""# growth.json and seal.json

`hoopwright grow` and `hoopwright seal` write every figure and finding of the hot build as JSON, schemas
`{GROW_SCHEMA}` ([JSON Schema](schemas/{GROW_SCHEMA}.json)) and `{SEAL_SCHEMA}`
([JSON Schema](schemas/{SEAL_SCHEMA}.json)); `plan` writes both into the folder `hot`. Figures, findings, bands and
sources have the shapes of [plan.json](plan-json.md). This page is made from the program (`python3 start.py docs`).
"""


def page() -> str:
    """One table for each shape of the two files."""
    return shape_tables(HEAD, OWN_KEYS)
