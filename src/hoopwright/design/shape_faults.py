"""Faults of shape in the words of a person's file: wrong kinds of values, keys missing, misspelt or out of bounds.

`shape_faults` lists them; `without_faulty` returns the data with the faulty parts taken out, so that everything else
in the file can still be looked at in the same sitting.
"""

from __future__ import annotations

import copy
from collections.abc import Iterator, Mapping
from difflib import get_close_matches
from types import UnionType
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel, ValidationError

from hoopwright.cards.toml_lines import key_path
from hoopwright.errors import Fault

Location = tuple[str | int, ...]

_SUFFIXES = (
    "_kg_per_s", "_degC", "_mm", "_kPa", "_MPa", "_kN", "_deg", "_log", "_eng", "_pct", "_days", "_N", "_s", "_t",
)  # fmt: skip

_KIND = {
    "float_type": ("a number", "write the number without quotes"),
    "int_type": ("a whole number", "write a whole number without quotes and without a point"),
    "string_type": ("text", "put it in quotes"),
    "bool_type": ("true or false", "write true or false without quotes"),
    "date_type": ("a date", "write it as 2031-03-03, without quotes"),
    "list_type": ("a list", "put it in square brackets"),
    "dict_type": ("a table", "write it as a table with keys"),
    "model_type": ("a table with keys", "write it as a table with keys"),
    "model_attributes_type": ("a table with keys", "write it as a table with keys"),
    "finite_number": ("a finite number", "enter a number that is neither nan nor inf"),
    "union_tag_not_found": ('a table with type = "line" or "arc"', "say which it is"),
    "union_tag_invalid": ('a table with type = "line" or "arc"', "take one of the two"),
}


def unit_of(key: str) -> str:
    """Unit in which the name of a key ends.

    Examples
    --------
    >>> unit_of("ring[2].metal_degC"), unit_of("ring[1].section.chain[2].p0_mm[1]"), unit_of("ring[1].id")
    ('degC', 'mm', '')
    """
    name = key.rpartition(".")[2].partition("[")[0]
    return next((suffix[1:].replace("_per_", "/") for suffix in _SUFFIXES if name.endswith(suffix)), "")


def shape_faults(problem: ValidationError, model: type[BaseModel], page: str) -> list[Fault]:
    """Every fault of shape with key, value, unit and remedy; lines are added by the reader.

    A key that is missing while a misspelt form of it is there counts once, as misspelt. `page` documents the format.
    """
    errors = problem.errors(include_url=False)
    misspelt: dict[Location, str] = {}
    faults: list[Fault] = []
    for error in errors:
        if error["type"] == "extra_forbidden":
            location = _plain(error["loc"])
            known = sorted(_keys_at(model, location[:-1]))
            fault, meant = _unknown_key(location, error["input"], known, page)
            faults.append(fault)
            if meant:
                misspelt[(*location[:-1], meant)] = str(location[-1])
    for error in errors:
        location = _plain(error["loc"])
        if error["type"] == "extra_forbidden" or (error["type"] == "missing" and location in misspelt):
            continue
        faults.append(_fault(error["type"], location, error.get("input"), error.get("ctx", {}), page))
    return faults


def without_faulty(problem: ValidationError, data: Mapping[str, Any]) -> dict[str, Any]:
    """A copy of the data without unknown keys, and without the smallest parts that hold another fault.

    Such a part is an entry of a list of tables (a ring, a joint), or a table of the top level.
    """
    kept: dict[str, Any] = copy.deepcopy(dict(data))
    doomed: set[tuple[str, int]] = set()
    for error in problem.errors(include_url=False):
        location = _plain(error["loc"])
        if error["type"] == "extra_forbidden":
            parent = _inside(kept, location[:-1])
            if isinstance(parent, dict):
                parent.pop(location[-1], None)
        elif len(location) >= 2 and isinstance(location[1], int):
            doomed.add((str(location[0]), location[1]))
        elif len(location) >= 2 or (location and error["type"] != "missing"):
            kept.pop(str(location[0]), None)
    for name, number in sorted(doomed, reverse=True):
        if isinstance(kept.get(name), list):
            del kept[name][number]
    return kept


def _inside(data: Any, location: Location) -> Any:
    for part in location:
        try:
            data = data[part]
        except (KeyError, IndexError, TypeError):
            return None
    return data


def _plain(location: tuple[int | str, ...]) -> Location:
    """The location without the tag that tells a line from an arc."""
    return tuple(
        part
        for place, part in enumerate(location)
        if not (part in ("line", "arc") and place > 0 and isinstance(location[place - 1], int))
    )


def _unknown_key(location: Location, value: Any, known: list[str], page: str) -> tuple[Fault, str]:
    name = str(location[-1])
    near = get_close_matches(name, known, n=2, cutoff=0.6) or [k for k in known if k.startswith(name + "_")][:2]
    remedy = f"write {' or '.join(near)}, or remove it" if near else f"remove it, or take one of: {', '.join(known)}"
    if len(remedy) > 300:
        remedy = f"remove it; {page} lists the keys"
    path = key_path(list(location))
    return Fault(path, _shown(value), "", "a key this table knows", remedy), near[0] if near else ""


def _fault(kind: str, location: Location, value: Any, context: Mapping[str, Any], page: str) -> Fault:
    path = key_path(list(location))
    unit = unit_of(path)
    if kind == "missing":
        must = f"there, in {unit}" if unit else "there"
        return Fault(path, "missing", "", must, f"enter it; {page} says what it means")
    if kind == "union_tag_invalid" and isinstance(value, Mapping):
        path, value = f"{path}.type", value.get("type")
    must, remedy = _KIND.get(kind) or _from_context(kind, context, page)
    return Fault(path or "file", _shown(value), unit, must, remedy)


def _from_context(kind: str, context: Mapping[str, Any], page: str) -> tuple[str, str]:
    check = "check the number, its sign and its unit"
    if kind == "literal_error":
        expected = str(context.get("expected", "")).replace("'", "")
        return (f"one of {expected}", "take one of these") if " or " in expected else (expected, "write it so")
    for name, words in (("ge", "or more"), ("le", "or less")):
        if name in context:
            return f"{context[name]:g} {words}", check
    for name, words in (("gt", "above"), ("lt", "below")):
        if name in context:
            return f"{words} {context[name]:g}", check
    if kind in ("too_short", "string_too_short"):
        return f"{context['min_length']} or more long", "fill it in"
    if kind in ("too_long", "string_too_long"):
        return f"at most {context['max_length']} long", "remove what is too much"
    if kind == "string_pattern_mismatch":
        return "letters, digits, . _ - only, beginning with a letter or digit", "write a plain name"
    return kind.replace("_", " "), f"write it as {page} shows"


def _shown(value: Any) -> str:
    text = f'"{value}"' if isinstance(value, str) else str(value).lower() if isinstance(value, bool) else _text(value)
    return text if len(text) <= 60 else text[:57] + "..."


def _text(value: Any) -> str:
    """A value as text; a whole number with thousands of digits has no text of its own."""
    try:
        return str(value)
    except ValueError:
        return "a number with thousands of digits"


def _keys_at(model: type[BaseModel], location: Location) -> Iterator[str]:
    """Names of the keys that may stand at a place of a file."""
    for found in _models_at(model, location):
        for name, field in found.model_fields.items():
            yield field.alias or name


def _models_at(annotation: Any, location: Location) -> list[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        if not location:
            return [annotation]
        by_name = {field.alias or name: field for name, field in annotation.model_fields.items()}
        below = by_name.get(str(location[0]))
        return _models_at(below.annotation, location[1:]) if below is not None else []
    origin = get_origin(annotation)
    if origin is Annotated:
        return _models_at(get_args(annotation)[0], location)
    if origin in (Union, UnionType):
        return [found for choice in get_args(annotation) for found in _models_at(choice, location)]
    if origin is list and location:
        return _models_at(get_args(annotation)[0], location[1:])
    if origin is dict and location:
        return _models_at(get_args(annotation)[1], location[1:])
    return []
