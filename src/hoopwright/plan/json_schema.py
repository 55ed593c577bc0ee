"""Published JSON Schemas of what `plan` and its hot build write, made from their shapes."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from hoopwright.plan.json_shapes import KEYS, SCHEMA, PlanFile


def plan_schema() -> str:
    """Text of the schema of plan.json."""
    return schema_text(PlanFile, SCHEMA, KEYS)


def schema_text(file: type[Any], title: str, keys: Mapping[str, str]) -> str:
    """Text of a schema (JSON Schema 2020-12): every key required, no others allowed, each with its meaning.

    keys : meaning of "Shape.key" for every shape and key.
    """
    from pydantic import TypeAdapter

    schema: dict[str, Any] = TypeAdapter(file).json_schema(mode="serialization")
    head = {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": title}
    whole = head | {key: value for key, value in schema.items() if key != "title"}
    for name, shape in ((file.__name__, whole), *whole.get("$defs", {}).items()):
        shape["additionalProperties"] = False
        shape["required"] = list(shape["properties"])
        for key, value in shape["properties"].items():
            value.pop("title", None)
            value["description"] = keys[f"{name}.{key}"]
    return json.dumps(whole, indent=2, ensure_ascii=False) + "\n"
