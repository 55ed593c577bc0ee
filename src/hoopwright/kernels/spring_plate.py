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
    bending = plate_stiffness(young, poisson, thickness)
    height = require_range("leg height", leg_height, 0.0, 1e3, "mm")
    mesh = rim_mesh(shape, per_half_width)
    if mesh.leg_edges.size == 0:
        raise InputError("legs", len(shape.legs), "", "at least one", "give the plate legs to stand on")
    stand = 4.0 * bending / height if height > 0.0 else np.inf
    force, peak, size = _pressed(mesh, bending, poisson, stand)
    per_finger = mesh.share * force / len(mesh.tips)
    return PlateSpring(per_finger, peak * 6.0 / thickness**2, size)


def _pressed(mesh: RimMesh, bending: float, poisson: float, stand: float) -> tuple[float, float, int]:
    """Force on the mesh's contact lines at unit deflection, greatest equivalent moment, unknowns."""
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
    return float(told.reaction[tips].sum()), float(told.equal.max()), told.unknowns
