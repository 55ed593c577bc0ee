"""Tables of keys for the pages on file formats, made from the models that read the files."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from types import UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from hoopwright.design.shape_faults import unit_of

HEAD = "| key | value | unit | needed | meaning |\n|---|---|---|---|---|"
BOUNDS = {"ge": "from {}", "gt": "above {}", "le": "to {}", "lt": "below {}"}


def sections(model: type[BaseModel], path: str = "", seen: tuple[type[BaseModel], ...] = ()) -> Iterator[str]:
    """One section a table: heading, what it is, its keys; then the tables below it."""
    rows = [row(name, field) for name, field in model.model_fields.items()]
    if path:
        yield f"### `{path}`\n"
        yield f"{(model.__doc__ or '').strip()}\n"
    yield HEAD
    yield from rows
    yield ""
    for name, field in model.model_fields.items():
        below = models_of(field.annotation)
        many = is_list(field.annotation)
        for one in below:
            if one not in seen:
                place = f"{path.strip('[]')}.{name}" if path else name
                suffix = f' type = "{tag(one)}"' if tag(one) else ""
                yield from sections(one, (f"[[{place}]]" if many else f"[{place}]") + suffix, (*seen, model))


def row(name: str, field: FieldInfo) -> str:
    """The line of one key."""
    key = field.alias or name
    needed = "yes" if field.is_required() else default(field)
    unit = unit_of(key) or ""
    return (
        f"| `{key}` | {kind(field.annotation, field.metadata)} | {unit} | {needed} | {cell(field.description or '')} |"
    )


def default(field: FieldInfo) -> str:
    """What holds where a key is left out."""
    value = field.default
    if value in (None, "", []) or isinstance(value, BaseModel):
        return "no"
    return f"no, `{value}`"


def cell(text: str) -> str:
    """Text that may stand in a cell of a table."""
    return text.replace("|", "\\|")


def kind(annotation: Any, metadata: list[Any]) -> str:
    """A value's kind in words, with its bounds."""
    origin = get_origin(annotation)
    if origin is Annotated:
        inner, *more = get_args(annotation)
        return kind(inner, [*more, *metadata])
    if origin in (Union, UnionType):
        choices = [choice for choice in get_args(annotation) if choice is not type(None)]
        if all(isinstance(c, type) and issubclass(c, BaseModel) for c in choices):
            return "table"
        return kind(choices[0], metadata)
    if origin is Literal:
        return " or ".join(f"`{word}`" for word in get_args(annotation))
    if origin is list:
        inner = kind(get_args(annotation)[0], [])
        low, high = limits(metadata)
        size = f"{low:g} " if low is not None and low == high else ""
        return f"list of tables{bounds_words(metadata)}" if inner == "table" else f"list of {size}{inner}".strip()
    words = {float: "number", int: "whole number", str: "text", bool: "`true` or `false`", datetime.date: "date"}
    return f"{words.get(annotation, 'table')}{bounds_words(metadata)}"


def limits(metadata: list[Any]) -> tuple[float | None, float | None]:
    """Least and greatest length of a list."""
    lows = [item.min_length for part in metadata for item in flat(part) if hasattr(item, "min_length")]
    highs = [item.max_length for part in metadata for item in flat(part) if hasattr(item, "max_length")]
    return next((v for v in lows if v is not None), None), next((v for v in highs if v is not None), None)


def flat(part: Any) -> list[Any]:
    """A constraint, or those that a field holds."""
    return list(part.metadata) if isinstance(part, FieldInfo) else [part]


def bounds_words(metadata: list[Any]) -> str:
    """Bounds of a number in words; the outermost bounds of a million are left out."""
    words = []
    for part in metadata:
        for item in flat(part):
            for name, text in BOUNDS.items():
                value = getattr(item, name, None)
                if value is not None and abs(value) < 1e6:
                    words.append(text.format(f"{value:g}"))
    return f" {' '.join(words)}" if words else ""


def models_of(annotation: Any) -> list[type[BaseModel]]:
    """Tables that a key may hold."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return [annotation]
    if get_origin(annotation) is Annotated:
        return models_of(get_args(annotation)[0])
    return [found for part in get_args(annotation) for found in models_of(part)]


def is_list(annotation: Any) -> bool:
    """Whether a key holds a list of tables."""
    if get_origin(annotation) is list:
        return True
    return get_origin(annotation) in (Annotated, Union, UnionType) and any(is_list(p) for p in get_args(annotation))


def tag(model: type[BaseModel]) -> str:
    """The word that tells an element of a chain from its like."""
    field = model.model_fields.get("type")
    return str(get_args(field.annotation)[0]) if field is not None else ""
