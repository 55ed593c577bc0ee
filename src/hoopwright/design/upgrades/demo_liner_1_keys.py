"""Brings a file of schema `demo-liner-1` to one form: names that stand inside keys become values.

`renamed` gives for every place that moved its place in the file, so that faults speak of the file as it is.
"""

from __future__ import annotations

import copy
import re
from collections.abc import Mapping
from typing import Any

KINDS = ("sizing", "roundness", "weld_lot", "port_lips")
_REFERENCE = re.compile(r"^cte_mean_from_(-?\d+(?:\.\d+)?)C$")


def one_form(data: Mapping[str, Any]) -> tuple[dict[str, Any], dict[str, str]]:
    """The data with names out of keys, and for every path that moved the path in the file."""
    result: dict[str, Any] = copy.deepcopy(dict(data))
    renamed: dict[str, str] = {}
    for name, material in _tables(result.get("materials")):
        _reference(name, material, renamed)
    if isinstance(result.get("measured"), dict):
        result["measured"] = _gathered(result["measured"], renamed)
    for name, change in _tables(result.get("change")):
        _new_sizes(name, change, renamed)
    thermal = result.get("thermal")
    if isinstance(thermal, dict):
        for side in ("inner_path", "outer_path"):
            thermal[side] = _links(side, thermal.get(side), renamed)
            if thermal[side] is None:
                del thermal[side]
    return result, renamed


def place_in_file(path: str, renamed: Mapping[str, str]) -> str:
    """The path as the file has it."""
    for moved in sorted(renamed, key=len, reverse=True):
        if path == moved or path.startswith((moved + ".", moved + "[")):
            return renamed[moved] + path[len(moved) :]
    return path


def _tables(value: Any) -> list[tuple[str, dict[str, Any]]]:
    return [(k, v) for k, v in value.items() if isinstance(v, dict)] if isinstance(value, dict) else []


def _reference(name: str, material: dict[str, Any], renamed: dict[str, str]) -> None:
    for key in list(material):
        match = _REFERENCE.match(key)
        if match:
            material["cte_mean_from"] = material.pop(key)
            material["cte_reference_C"] = float(match.group(1))
            renamed[f"materials.{name}.cte_mean_from"] = f"materials.{name}.{key}"
            renamed[f"materials.{name}.cte_reference_C"] = f"materials.{name}.{key}"


def _gathered(measured: dict[str, Any], renamed: dict[str, str]) -> dict[str, Any]:
    result: dict[str, Any] = {}
    for name, value in measured.items():
        kind = next((kind for kind in KINDS if name.startswith(kind + "_")), None)
        if kind is not None and isinstance(value, dict):
            place = f"measured.{kind}.{name}"
            renamed[place] = f"measured.{name}"
            result.setdefault(kind, {})[name] = _sizing(place, value, renamed) if kind == "sizing" else value
        elif name == "fits" and isinstance(value, dict):
            result["fits"] = {joint: fit for joint, fit in value.items() if joint != "other"}
            if "other" in value:
                result["other"] = value["other"]
                renamed["measured.other"] = "measured.fits.other"
        else:
            result[name] = value
    return result


def _sizing(place: str, value: dict[str, Any], renamed: dict[str, str]) -> dict[str, Any]:
    """`lip_od_free`, `lip_od_loaded_from_stop`, `thickness_lip` as control, free, loaded, thickness."""
    control = next((key.removesuffix("_free") for key in value if key.endswith("_free")), None)
    if control is None:
        return value
    moved = {f"{control}_free": "free", f"{control}_loaded_from_stop": "loaded"}
    moved |= {key: "thickness" for key in value if key.startswith("thickness_")}
    file_place = renamed[place]
    renamed |= {f"{place}.{new}": f"{file_place}.{old}" for old, new in moved.items()}
    return {"control": control} | {moved.get(key, key): item for key, item in value.items()}


def _new_sizes(name: str, change: dict[str, Any], renamed: dict[str, str]) -> None:
    new = {key.removesuffix("_new"): change.pop(key) for key in list(change) if key.endswith("_new")}
    if new:
        change["new"] = new
        renamed |= {f"change.{name}.new.{key}": f"change.{name}.{key}_new" for key in new}


def _links(side: str, path: Any, renamed: dict[str, str]) -> Any:
    if not isinstance(path, list):
        return path
    names = ("length", "temp_C", "part")
    links: list[Any] = []
    for number, link in enumerate(path, 1):
        if not isinstance(link, list) or len(link) != len(names):
            links.append(link)
            continue
        links.append(dict(zip(names, link, strict=True)))
        here = f"thermal.{side}[{number}]"
        renamed |= {f"{here}.{name}": f"{here}[{k}]" for k, name in enumerate(names, 1)}
    return links
