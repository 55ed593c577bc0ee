"""Between the tables of a file and the shapes of a liner: the same names on both sides, so nothing is mapped by hand.

A list of tables is named in the singular in the file (`[[ring]]`) and in the plural in the shape (`rings`).
"""

from __future__ import annotations

from dataclasses import MISSING, fields, is_dataclass
from functools import cache
from typing import Any, TypeVar, cast, get_args, get_type_hints

from pydantic import BaseModel

from hoopwright.kernels.profile import Profile

Shape = TypeVar("Shape")

PLURAL = {
    "ring": "rings", "control": "controls", "joint": "joints", "hole_pattern": "hole_patterns", "tool": "tools",
    "weld_lot": "weld_lots", "change": "changes", "coupon": "coupons", "fit": "fits", "size": "sizes",
    "station": "stations", "relaxation_test": "relaxation_tests",
}  # fmt: skip
SINGULAR = {plural: singular for singular, plural in PLURAL.items()}


def as_shape(kind: type[Shape], table: BaseModel, **given: Any) -> Shape:
    """The shape of a table; `given` holds the fields that need more than their own key (sections)."""
    values = dict(given)
    for name, hint in _hints(cast(Any, kind)).items():
        key = SINGULAR.get(name, name)
        if name not in values and key in type(table).model_fields:
            values[name] = _shape_value(getattr(table, key), hint)
    return kind(**values)


@cache
def _hints(kind: Any) -> dict[str, Any]:
    hints = get_type_hints(kind)
    return {field.name: hints[field.name] for field in fields(kind)}


def _shape_value(value: Any, hint: Any) -> Any:
    if isinstance(value, BaseModel):
        return as_shape(_dataclass_in(hint), value)
    if isinstance(value, list):
        return tuple(_shape_value(item, hint) for item in value)
    return value


def _dataclass_in(hint: Any) -> Any:
    """The dataclass that a type hint speaks of (`X | None`, `tuple[X, ...]`)."""
    if is_dataclass(hint):
        return hint
    return next((found for part in get_args(hint) if (found := _dataclass_in(part)) is not None), None)


def as_table(shape: Any) -> dict[str, Any]:
    """Plain data of a shape under the names of the file, a section as chain; what has no value is left out."""
    data: dict[str, Any] = {}
    for field in fields(shape):
        value = getattr(shape, field.name)
        if value is None or (field.default is not MISSING and value == field.default):
            continue
        data[SINGULAR.get(field.name, field.name)] = _plain(value)
    return data


def _plain(value: Any) -> Any:
    if isinstance(value, Profile):
        return {"face": "mid", "state": "cold", "chain": chain_data(value)}
    if is_dataclass(value) and not isinstance(value, type):
        return as_table(value)
    if isinstance(value, tuple):
        return [_plain(item) for item in value]
    return value


def chain_data(profile: Profile) -> list[dict[str, Any]]:
    """Lines and arcs of a section as the file holds them."""
    chain: list[dict[str, Any]] = []
    for segment in profile:
        ends = {"p0_mm": list(segment.start), "p1_mm": list(segment.end)}
        if segment.centre is None:
            chain.append({"type": "line", **ends})
        else:
            spoke = {"c_mm": list(segment.centre), "rad_mm": segment.radius, "ccw": segment.ccw}
            chain.append({"type": "arc", **ends, **spoke})
    return chain
