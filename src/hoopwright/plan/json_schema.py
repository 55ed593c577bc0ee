"""The published JSON Schema of plan.json, made from `json_shapes`."""

from __future__ import annotations

import json
from typing import Any

from hoopwright.plan.json_shapes import KEYS, SCHEMA, PlanFile


def plan_schema() -> str:
    """Text of the schema (JSON Schema 2020-12): every key required, no others allowed, each with its meaning."""
    from pydantic import TypeAdapter

    schema: dict[str, Any] = TypeAdapter(PlanFile).json_schema(mode="serialization")
    head = {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": SCHEMA}
    whole = head | {key: value for key, value in schema.items() if key != "title"}
    for name, shape in (("PlanFile", whole), *whole.get("$defs", {}).items()):
        shape["additionalProperties"] = False
        shape["required"] = list(shape["properties"])
        for key, value in shape["properties"].items():
            value.pop("title", None)
            value["description"] = KEYS[f"{name}.{key}"]
    return json.dumps(whole, indent=2, ensure_ascii=False) + "\n"
