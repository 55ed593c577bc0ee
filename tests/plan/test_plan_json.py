"""plan.json: its published schema holds, the same plan gives the same bytes, nothing is lost."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import hoopwright.plan
from hoopwright.plan.as_json import as_json, json_text
from hoopwright.plan.json_schema import plan_schema
from hoopwright.plan.json_shapes import SCHEMA
from hoopwright.plan.liner_plan import LinerPlan, plan_liner
from hoopwright.plan.shelf import Shelf

PUBLISHED = Path(hoopwright.plan.__file__).parent / "data" / "plan.schema.json"


def faults(value: Any, shape: dict[str, Any], whole: dict[str, Any], place: str = "$") -> list[str]:
    """What a value breaks of the part of JSON Schema that our schema uses."""
    if "$ref" in shape:
        return faults(value, whole["$defs"][shape["$ref"].rpartition("/")[2]], whole, place)
    if "anyOf" in shape:
        ways = [faults(value, way, whole, place) for way in shape["anyOf"]]
        return [] if any(not way for way in ways) else ways[0]
    if ("const" in shape and value != shape["const"]) or ("enum" in shape and value not in shape["enum"]):
        return [f"{place}: {value!r}"]
    kinds = {
        "string": str, "boolean": bool, "object": dict, "array": list, "null": type(None), "integer": int,
        "number": (int, float),
    }  # fmt: skip
    kind = shape.get("type")
    wrong_bool = isinstance(value, bool) and kind in ("integer", "number")
    if kind is not None and (not isinstance(value, kinds[kind]) or wrong_bool):
        return [f"{place}: {value!r} is no {kind}"]
    if kind == "object":
        missing = [f"{place}.{key} is missing" for key in shape["required"] if key not in value]
        extra = [f"{place}.{key} is extra" for key in value if key not in shape["properties"]]
        inside = [
            found
            for key, item in value.items()
            if key in shape["properties"]
            for found in faults(item, shape["properties"][key], whole, f"{place}.{key}")
        ]
        return missing + extra + inside
    if kind == "array":
        rows = shape.get("prefixItems")
        if rows is not None and len(rows) != len(value):
            return [f"{place}: {len(value)} items"]
        shapes = rows if rows is not None else [shape["items"]] * len(value)
        return [
            f for k, (v, s) in enumerate(zip(value, shapes, strict=True)) for f in faults(v, s, whole, f"{place}[{k}]")
        ]
    return []


def test_published_schema_is_fresh() -> None:
    assert PUBLISHED.read_text(encoding="utf-8") == plan_schema()


def test_every_key_has_its_meaning() -> None:
    schema = json.loads(plan_schema())
    for shape in (schema, *schema["$defs"].values()):
        assert shape["additionalProperties"] is False
        assert all(value["description"] for value in shape["properties"].values())


def test_the_demo_holds_the_schema(demo: LinerPlan) -> None:
    schema = json.loads(plan_schema())
    data = json.loads(json_text(demo))
    assert data["schema"] == SCHEMA
    assert faults(data, schema, schema) == []


def test_the_checker_of_this_test_finds_what_is_wrong(demo: LinerPlan) -> None:
    schema = json.loads(plan_schema())
    data = json.loads(json_text(demo))
    data["rings"][0]["figures"][0]["value"] = "12"
    del data["rings"][0]["findings"][0]["remedy"]
    data["more"] = 1
    assert len(faults(data, schema, schema)) == 3


def test_same_input_same_bytes(demo: LinerPlan) -> None:
    assert json_text(plan_liner(demo.liner, Shelf())) == json_text(demo)


def test_every_figure_and_finding_is_in_it(demo: LinerPlan) -> None:
    data = as_json(demo)
    for plan, row in zip(demo.rings, data["rings"], strict=True):
        assert [f["identity"] for f in row["figures"]] == [f.identity for f in plan.figures]
        assert [f["sentence"] for f in row["findings"]] == [f.sentence for f in plan.findings]
        known = {f["identity"] for f in row["figures"]}
        assert all(set(step["settings"]) | set(step["figures"]) <= known for step in row["walk"])
        assert sum(len(step["settings"]) for step in row["walk"]) > 10
