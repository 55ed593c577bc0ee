"""Fingers on a flat rim as a thin plate: constant-curvature (Morley) triangles. mm, N, MPa.

Unknowns: deflection at corners, slope across edges at their middles. Bending stiffness D = E t^3/(12 (1 - nu^2)). Legs
hold the rim's outer edge; a leg that stands h high is a strip clamped at its foot whose top cannot move sideways, so
the edge turns against 4 D/h per unit of width. Contact lines stay straight. Element: Morley 1968, from memory, derived
here from the quadratic polynomial. The plate is some 2 % stiff: free edges of thin bars twist more freely
(J = b t^3/3 (1 - 0.63 t/b)). Checked against a clamped strip and a 3-D model (tests/exact, tests/reference).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import splu

from hoopwright.errors import InputError, require_positive, require_range
from hoopwright.kernels.spring_plate_mesh import RimMesh, RimShape, rim_mesh

Vector = NDArray[np.float64]
Whole = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class PlateSpring:
    """stiffness : of one finger, all fingers pressed alike. stress : greatest surface stress (von Mises, element mean)
    at unit deflection, growing with the mesh at the ends of a leg. unknowns : size of the model. [N/mm, MPa/mm]
    """

    stiffness: float
    stress: float
    unknowns: int


def rim_spring(
    shape: RimShape, young: float, poisson: float, thickness: float, leg_height: float = 0.0, per_half_width: int = 8
) -> PlateSpring:
    """Stiffness of a finger when all fingers of the plate are pressed alike.

    Parameters
    ----------
    leg_height : 0 clamps the rim's edge along each leg. [mm]

    Raises
    ------
    InputError
        No leg, sizes not above 0, or fingers that overlap.
    """
    require_positive("Young's modulus", young, "MPa")
    require_positive("thickness", thickness, "mm")
    require_range("Poisson's ratio", poisson, 0.0, 0.49)
    height = require_range("leg height", leg_height, 0.0, 1e3, "mm")
    mesh = rim_mesh(shape, per_half_width)
    if mesh.leg_edges.size == 0:
        raise InputError("legs", len(shape.legs), "", "at least one", "give the plate legs to stand on")
    bending = young * thickness**3 / (12.0 * (1.0 - poisson**2))
    stand = 4.0 * bending / height if height > 0.0 else np.inf
    force, peak, size = _pressed(mesh, bending, poisson, stand)
    per_finger = mesh.share * force / len(mesh.tips)
    return PlateSpring(per_finger, peak * 6.0 / thickness**2, size)


def _pressed(mesh: RimMesh, bending: float, poisson: float, stand: float) -> tuple[float, float, int]:
    """Force on the mesh's contact lines at unit deflection, greatest equivalent moment, unknowns."""
    edges, of_triangle = _edges(mesh.triangles)
    corners = mesh.points.shape[0]
    area, curve, places = _elements(mesh, edges, of_triangle, corners)
    elastic = bending * np.array([[1.0, poisson, 0.0], [poisson, 1.0, 0.0], [0.0, 0.0, 0.5 * (1.0 - poisson)]])
    blocks = np.einsum("e,eki,kl,elj->eij", area, curve, elastic, curve)
    size = corners + edges.shape[0]
    down, across, values = np.repeat(places, 6, 1).ravel(), np.tile(places, (1, 6)).ravel(), blocks.ravel()
    fixed = np.zeros(size, dtype=bool)
    legs = corners + _which(edges, mesh.leg_edges)
    if np.isfinite(stand):
        length = np.linalg.norm(np.diff(mesh.points[mesh.leg_edges], axis=1)[:, 0], axis=1)
        down, across = np.concatenate((down, legs)), np.concatenate((across, legs))
        values = np.concatenate((values, stand * length))
    else:
        fixed[legs] = True
    fixed[np.unique(mesh.leg_edges)] = True
    if mesh.mirror_edges.size:
        fixed[corners + _which(edges, mesh.mirror_edges)] = True
    stiffness = coo_matrix((values, (down, across)), shape=(size, size)).tocsc()
    known = np.zeros(size)
    tips = np.concatenate(mesh.tips)
    fixed[tips] = True
    known[tips] = 1.0
    free = np.flatnonzero(~fixed)
    known[free] = splu(stiffness[free][:, free].tocsc()).solve(-(stiffness @ known)[free])
    force = float((stiffness @ known)[tips].sum())
    moments = np.einsum("kl,elj,ej->ek", elastic, curve, known[places])
    equal = np.sqrt(moments[:, 0] ** 2 - moments[:, 0] * moments[:, 1] + moments[:, 1] ** 2 + 3.0 * moments[:, 2] ** 2)
    return force, float(equal.max()), size


def _edges(triangles: Whole) -> tuple[Whole, Whole]:
    """Edges as sorted pairs, and the three of each triangle (opposite to its corners)."""
    pairs = np.sort(triangles[:, [[1, 2], [2, 0], [0, 1]]].reshape(-1, 2), axis=1)
    edges, inverse = np.unique(pairs, axis=0, return_inverse=True)
    return edges, inverse.reshape(-1, 3)


def _which(edges: Whole, pairs: Whole) -> Whole:
    order = {(int(a), int(b)): k for k, (a, b) in enumerate(edges)}
    return np.array([order[(min(a, b), max(a, b))] for a, b in pairs.tolist()], dtype=np.int64)


def _elements(mesh: RimMesh, edges: Whole, of_triangle: Whole, corners: int) -> tuple[Vector, Vector, Whole]:
    """Area, curvature rows (m, 3, 6) for (w,xx; w,yy; 2 w,xy), and places of the six unknowns."""
    p = mesh.points[mesh.triangles]
    centre = p.mean(axis=1, keepdims=True)
    q = p - centre
    one, two = q[:, 1] - q[:, 0], q[:, 2] - q[:, 0]
    area = 0.5 * np.abs(one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0])
    ends = mesh.points[edges[of_triangle]]
    along = ends[:, :, 1] - ends[:, :, 0]
    along /= np.linalg.norm(along, axis=2, keepdims=True)
    normal = np.stack((along[..., 1], -along[..., 0]), axis=2)
    middle = ends.mean(axis=2) - centre
    system = np.zeros((p.shape[0], 6, 6))
    x, y = q[..., 0], q[..., 1]
    system[:, :3] = np.stack((np.ones_like(x), x, y, x * x, x * y, y * y), axis=2)
    mx, my, nx, ny = middle[..., 0], middle[..., 1], normal[..., 0], normal[..., 1]
    system[:, 3:] = np.stack((0.0 * mx, nx, ny, 2.0 * mx * nx, my * nx + mx * ny, 2.0 * my * ny), axis=2)
    inverse = np.linalg.inv(system)
    curve = np.stack((2.0 * inverse[:, 3], 2.0 * inverse[:, 5], 2.0 * inverse[:, 4]), axis=1)
    return area, curve, np.concatenate((mesh.triangles, corners + of_triangle), axis=1)
