"""The published JSON Schemas of our files, made from the models that read them."""

from __future__ import annotations

import json
from typing import Any

from pydantic import BaseModel

from hoopwright.design.changes import ChangesFile
from hoopwright.design.liner_schema import LinerFile
from hoopwright.design.readings import ReadingsFile
from hoopwright.design.register import RegisterFile

FILES: dict[str, type[BaseModel]] = {
    "liner": LinerFile,
    "register": RegisterFile,
    "readings": ReadingsFile,
    "changes": ChangesFile,
}


def schema_data(kind: str) -> dict[str, Any]:
    """JSON Schema, draft 2020-12, of one kind of file (a key of `FILES`)."""
    model = FILES[kind]
    schema = model.model_json_schema(by_alias=True)
    name = schema["properties"]["schema"]["const"]
    head = {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": name}
    return head | {key: value for key, value in schema.items() if key != "title"}


def schema_text(kind: str) -> str:
    """The same as text, two spaces a level, one line feed at the end."""
    return json.dumps(schema_data(kind), indent=2, ensure_ascii=False) + "\n"


def liner_schema() -> str:
    """Text of the liner file's schema."""
    return schema_text("liner")


def register_schema() -> str:
    """Text of the register's schema."""
    return schema_text("register")


def readings_schema() -> str:
    """Text of the readings' schema."""
    return schema_text("readings")


def changes_schema() -> str:
    """Text of the changes' schema."""
    return schema_text("changes")
