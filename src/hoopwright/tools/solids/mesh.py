"""Bodies as triangles: for STL, and for a second way of measuring. Units mm."""

from __future__ import annotations

import struct
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import InputError, require_positive
from hoopwright.tools.solids.library import Body, kernel, parts

DEFLECTION_MM = 0.05


@dataclass(frozen=True, slots=True, eq=False)
class Mesh:
    """Triangles of a body. points_mm : shape (n, 3). triangles : corners by number, shape (m, 3), outward."""

    points_mm: NDArray[np.float64]
    triangles: NDArray[np.int64]

    @property
    def volume_mm3(self) -> float:
        """Volume inside, by the divergence theorem over the triangles. [mm^3]"""
        a, b, c = (self.points_mm[self.triangles[:, k]] for k in range(3))
        return float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6.0)


def mesh(body: Body, deflection_mm: float = DEFLECTION_MM, angle_rad: float = 0.3) -> Mesh:
    """The body's surface as triangles that leave it by at most the deflection; made once for all copies moved about."""
    require_positive("deflection", deflection_mm, "mm")
    root, key = body.root or body, (deflection_mm, angle_rad)
    if key not in root.meshes:
        root.meshes[key] = _triangulated(root.shape, deflection_mm, angle_rad)
    made: Mesh = root.meshes[key]
    if body.place is None:
        return made
    return Mesh(made.points_mm @ body.place[:, :3].T + body.place[:, 3], made.triangles)


def _triangulated(shape: Any, deflection_mm: float, angle_rad: float) -> Mesh:
    # triangles stay on a shape once made and a coarser call keeps them: each fineness starts anew
    kernel("BRepTools").BRepTools.Clean_s(shape)
    kernel("BRepMesh").BRepMesh_IncrementalMesh(shape, deflection_mm, False, angle_rad, False)
    loc, top = kernel("TopLoc").TopLoc_Location(), kernel("TopAbs")
    points: list[tuple[float, float, float]] = []
    triangles: list[tuple[int, int, int]] = []
    for face in parts(shape, "FACE"):
        found = kernel("BRep").BRep_Tool.Triangulation_s(face, loc)
        if found is None:
            continue
        move = None if loc.IsIdentity() else loc.Transformation()
        start = len(points) - 1
        for k in range(1, found.NbNodes() + 1):
            node = found.Node(k) if move is None else found.Node(k).Transformed(move)
            points.append((node.X(), node.Y(), node.Z()))
        turned = face.Orientation() == top.TopAbs_REVERSED
        for k in range(1, found.NbTriangles() + 1):
            a, b, c = found.Triangle(k).Get()
            triangles.append((start + a, start + c, start + b) if turned else (start + a, start + b, start + c))
    return Mesh(np.array(points, dtype=np.float64), np.array(triangles, dtype=np.int64))


def stl_bytes(bodies: Sequence[Body], deflection_mm: float = DEFLECTION_MM) -> bytes:
    """All bodies in one binary STL, mm."""
    records = []
    for body in bodies:
        made = mesh(body, deflection_mm)
        corners = made.points_mm[made.triangles].astype(np.float32)
        sides = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
        size = np.linalg.norm(sides, axis=1, keepdims=True)
        normals = np.divide(sides, size, out=np.zeros_like(sides), where=size > 0.0)
        records.append(np.concatenate([normals[:, None, :], corners], axis=1).reshape(-1, 12))
    rows = np.concatenate(records).astype("<f4")
    packed = np.zeros(len(rows), dtype=np.dtype([("v", "<f4", 12), ("a", "<u2")]))
    packed["v"] = rows
    return b"hoopwright, mm".ljust(80) + struct.pack("<I", len(rows)) + packed.tobytes()


def read_stl(data: bytes) -> Mesh:
    """Triangles of a binary STL."""
    if len(data) < 84 or len(data) != 84 + 50 * struct.unpack("<I", data[80:84])[0]:
        raise InputError("STL file", f"{len(data)} bytes", "", "a whole binary STL", "write it again")
    packed = np.frombuffer(data[84:], dtype=np.dtype([("v", "<f4", 12), ("a", "<u2")]))
    corners = packed["v"].reshape(-1, 4, 3)[:, 1:, :].astype(np.float64)
    return Mesh(corners.reshape(-1, 3), np.arange(3 * len(corners), dtype=np.int64).reshape(-1, 3))
