"""Fingers on a flat rim as a thin plate, on legs. mm, N, MPa.

Legs hold the rim's outer edge; a leg that stands h high is a strip clamped at its foot whose top cannot move sideways,
so the edge turns against 4 D/h per unit of width. Contact lines stay straight. The plate is some 2 % stiff: free edges
of thin bars twist more freely (J = b t^3/3 (1 - 0.63 t/b)). Triangles: `plate_bending`. Checked against a clamped strip
and a 3-D model (tests/exact, tests/reference).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import InputError, require_range
from hoopwright.kernels.plate_bending import PlateCase, bent_plate, plate_stiffness
from hoopwright.kernels.spring_plate_mesh import RimMesh, RimShape, rim_mesh

Vector = NDArray[np.float64]
Whole = NDArray[np.int64]


CLEAR = 2.0
"""Thicknesses round a sharp corner in which no stress is read."""


@dataclass(frozen=True, slots=True)
class PlateSpring:
    """stiffness : of one finger, all fingers pressed alike. stress : greatest surface stress (von Mises, element mean)
    at unit deflection, further than two thicknesses from the ends of legs and the corners of finger roots: nearer it
    grows with the mesh, and what is there hangs on radii. unknowns : size of the model. [N/mm, MPa/mm]
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
    bending = plate_stiffness(young, poisson, thickness)
    height = require_range("leg height", leg_height, 0.0, 1e3, "mm")
    mesh = rim_mesh(shape, per_half_width)
    if mesh.leg_edges.size == 0:
        raise InputError("legs", len(shape.legs), "", "at least one", "give the plate legs to stand on")
    stand = 4.0 * bending / height if height > 0.0 else np.inf
    force, peak, size = _pressed(mesh, bending, poisson, stand, sharp_corners(shape), CLEAR * thickness)
    per_finger = mesh.share * force / len(mesh.tips)
    return PlateSpring(per_finger, peak * 6.0 / thickness**2, size)


def sharp_corners(shape: RimShape) -> Vector:
    """Ends of legs on the outer edge and corners of finger roots on the inner one, shape (c, 2). [mm]"""
    found = []
    for radius, half, axes in (
        (shape.outer, 0.5 * shape.leg_width, shape.legs),
        (shape.inner, 0.5 * shape.finger_width, shape.fingers),
    ):
        lean = float(np.arcsin(half / radius))
        found += [(radius * np.cos(a + s * lean), radius * np.sin(a + s * lean)) for a in axes for s in (-1.0, 1.0)]
    return np.array(found)


def _pressed(
    mesh: RimMesh, bending: float, poisson: float, stand: float, sharp: Vector, clear: float
) -> tuple[float, float, int]:
    """Force on the mesh's contact lines at unit deflection, greatest equivalent moment off the corners, unknowns."""
    tips, feet = np.concatenate(mesh.tips), np.unique(mesh.leg_edges)
    standing = bool(np.isfinite(stand))
    clamped = mesh.mirror_edges if standing else np.concatenate((mesh.mirror_edges, mesh.leg_edges))
    case = PlateCase(
        np.concatenate((feet, tips)),
        np.concatenate((np.zeros(feet.size), np.ones(tips.size))),
        clamped,
        mesh.leg_edges if standing else np.zeros((0, 2), dtype=np.int64),
        stand if standing else 0.0,
    )
    told = bent_plate(mesh.points, mesh.triangles, bending, poisson, case)
    middle = mesh.points[mesh.triangles].mean(axis=1)
    off = np.linalg.norm(middle[:, None, :] - sharp[None, :, :], axis=2).min(axis=1) > clear
    off = off if off.any() else np.ones_like(off)
    return float(told.reaction[tips].sum()), float(told.equal[off].max()), told.unknowns
