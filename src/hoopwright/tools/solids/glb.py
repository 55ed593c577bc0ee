"""Bodies as binary glTF 2.0: metres, y up, one mesh a body with its colour.

Smooth within a face, sharp between faces. Written here from the triangles, so that same bodies give same bytes.
"""

from __future__ import annotations

import json
import struct
from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import InputError
from hoopwright.tools.solids.library import Body, Colour
from hoopwright.tools.solids.mesh import DEFLECTION_MM, Mesh, mesh

FLOAT, UNSIGNED, ARRAY, ELEMENTS = 5126, 5125, 34962, 34963
METALLIC, ROUGH = 0.4, 0.55


def glb_bytes(bodies: Sequence[Body], deflection_mm: float = DEFLECTION_MM) -> bytes:
    """Bodies as one glb.

    Raises
    ------
    InputError
        No body.
    """
    if not bodies:
        raise InputError("bodies", "none", "", "at least one", "name a tool with bodies")
    blob = bytearray()
    head: dict[str, Any] = {
        "asset": {"version": "2.0", "generator": "hoopwright"},
        "scene": 0,
        "scenes": [{"nodes": list(range(len(bodies)))}],
        "nodes": [{"name": body.name, "mesh": k} for k, body in enumerate(bodies)],
        "meshes": [],
        "materials": [_material(body.colour) for body in bodies],
        "accessors": [],
        "bufferViews": [],
    }
    for number, body in enumerate(bodies):
        _add(head, blob, body.name, mesh(body, deflection_mm), number)
    head["buffers"] = [{"byteLength": len(blob)}]
    text = json.dumps(head, separators=(",", ":"), ensure_ascii=False).encode()
    text += b" " * (-len(text) % 4)
    chunks = struct.pack("<I4s", len(text), b"JSON") + text + struct.pack("<I4s", len(blob), b"BIN\0") + bytes(blob)
    return struct.pack("<4sII", b"glTF", 2, 12 + len(chunks)) + chunks


def _add(head: dict[str, Any], blob: bytearray, name: str, made: Mesh, material: int) -> None:
    points = _y_up(made.points_mm * 1e-3)
    first = len(head["accessors"])
    low, high = points.min(axis=0), points.max(axis=0)
    _accessor(head, blob, points, "VEC3", ARRAY, {"min": low.tolist(), "max": high.tolist()})
    _accessor(head, blob, _y_up(normals(made)), "VEC3", ARRAY, {})
    _accessor(head, blob, made.triangles.astype("<u4").reshape(-1), "SCALAR", ELEMENTS, {})
    part = {"attributes": {"POSITION": first, "NORMAL": first + 1}, "indices": first + 2, "material": material}
    head["meshes"].append({"name": name, "primitives": [part]})


def _accessor(
    head: dict[str, Any], blob: bytearray, values: NDArray[Any], kind: str, target: int, extra: dict[str, Any]
) -> None:
    raw = values.tobytes()
    head["bufferViews"].append({"buffer": 0, "byteOffset": len(blob), "byteLength": len(raw), "target": target})
    view, width = len(head["bufferViews"]) - 1, FLOAT if values.dtype.kind == "f" else UNSIGNED
    head["accessors"].append({"bufferView": view, "componentType": width, "count": len(values), "type": kind, **extra})
    blob += raw


def _y_up(points: NDArray[np.float64]) -> NDArray[np.float32]:
    """Our z up as the format's y up, right-handed: (x, y, z) becomes (x, z, -y)."""
    return np.stack([points[:, 0], points[:, 2], -points[:, 1]], axis=1).astype("<f4")


def normals(made: Mesh) -> NDArray[np.float64]:
    """Unit normal at every corner, the mean of its triangles by area; no corner is shared by two faces. [1]"""
    a, b, c = (made.points_mm[made.triangles[:, k]] for k in range(3))
    across = np.cross(b - a, c - a)
    total = np.zeros_like(made.points_mm)
    for k in range(3):
        np.add.at(total, made.triangles[:, k], across)
    size = np.linalg.norm(total, axis=1, keepdims=True)
    upright = np.broadcast_to(np.array([0.0, 0.0, 1.0]), total.shape)
    return np.asarray(np.where(size > 0.0, total / np.where(size > 0.0, size, 1.0), upright))


def _material(colour: Colour) -> dict[str, Any]:
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in colour]
    base = {"baseColorFactor": [*(round(c, 6) for c in linear), 1.0], "metallicFactor": METALLIC}
    return {"pbrMetallicRoughness": {**base, "roughnessFactor": ROUGH}}
