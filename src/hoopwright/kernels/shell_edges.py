"""Closed forms of long thin shells heated unevenly: cross-check of the shell stack and first look. mm, MPa.

beta^4 = 3 (1 - nu^2)/(R^2 t^2); D = E t^3/(12 (1 - nu^2)); all parts longer than 3/beta. Thin-shell edge bending after
Timoshenko (from memory), re-derived here; flexibilities of a cone by Geckeler's approximation, R replaced by r/cos a.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import require_positive, require_range

Vector = NDArray[np.float64]


def edge_beta(radius: float, thickness: float, poisson: float) -> float:
    """Decay of edge bending; radius is that of curvature across the meridian (r/cos a on a cone). [1/mm]"""
    r, t = require_positive("radius", radius, "mm"), require_positive("thickness", thickness, "mm")
    nu = require_range("Poisson's ratio", poisson, 0.0, 0.49)
    return float((3.0 * (1.0 - nu**2)) ** 0.25 / math.sqrt(r * t))


@dataclass(frozen=True, slots=True)
class PairStress:
    """Two equal long cylinders, joined where their free strain steps by de.

    hoop : at the joint, plus on the cooler, minus on the hotter side. bending : largest along the axis, at
    `bending_at` from the joint. mises : largest over both faces, at `mises_at` from the joint. [MPa, mm]
    """

    hoop: float
    bending: float
    bending_at: float
    mises: float
    mises_at: float


def welded_pair(
    radius: float, thickness: float, young: float, poisson: float, step: float, beyond: float = 0.0
) -> PairStress:
    """Stresses of the pair; `mises` is sought from `beyond` [mm] off the joint on.

    Examples
    --------
    >>> round(welded_pair(120.0, 0.8, 160e3, 0.32, 1e-3).hoop, 3)
    80.0
    """
    beta = edge_beta(radius, thickness, poisson)
    at = np.linspace(require_range("distance", beyond, 0.0, 3.0 / beta), 6.0 / beta, 4001)
    along, hoop = pair_field(radius, thickness, young, poisson, step, at)
    faces = ((along, hoop + poisson * along), (-along, hoop - poisson * along))
    mises = np.max([np.sqrt(f**2 - f * g + g**2) for f, g in faces], axis=0)
    worst = int(np.argmax(mises))
    quarter = 0.25 * math.pi / beta
    peak = float(abs(pair_field(radius, thickness, young, poisson, step, np.array([quarter]))[0][0]))
    return PairStress(0.5 * young * abs(step), peak, quarter, float(mises[worst]), float(at[worst]))


def pair_field(
    radius: float, thickness: float, young: float, poisson: float, step: float, at: Vector
) -> tuple[Vector, Vector]:
    """Face stress along the axis from bending, and hoop stress of the middle, on the cooler side of the pair.

    With w the misfit from the free radius, w = (R de/2) exp(-beta x) cos beta x: hoop E w/R, bending
    E t/(2 (1-nu^2)) w''.
    """
    beta = edge_beta(radius, thickness, poisson)
    x = beta * np.asarray(at, dtype=np.float64)
    w = 0.5 * radius * step * np.exp(-x) * np.cos(x)
    curved = 0.5 * radius * step * beta**2 * 2.0 * np.exp(-x) * np.sin(x)
    return 0.5 * young * thickness / (1.0 - poisson**2) * curved, young * w / radius


@dataclass(frozen=True, slots=True, eq=False)
class EdgeGive:
    """How an edge gives way to an outward edge force and moment per unit length: (u_r, chi) = matrix (H, M)."""

    matrix: Vector
    misfit: Vector


def cone_edge(
    radius: float, thickness: float, young: float, poisson: float, angle: float, opens: float, misfit: float
) -> EdgeGive:
    """Edge of a long cone (wall angle `angle` to the axis [rad], 0 a cylinder).

    opens : +1 where the shell lies aft of its edge, -1 forward. misfit : free radial movement of the edge. [mm]
    """
    c = math.cos(require_range("wall angle", angle, 0.0, 1.3, "rad"))
    b = edge_beta(radius / c, thickness, poisson)
    d = young * thickness**3 / (12.0 * (1.0 - poisson**2))
    direct, mixed, turn = c**2 / (2.0 * b**3 * d), opens * c / (2.0 * b**2 * d), 1.0 / (b * d)
    return EdgeGive(np.array([[direct, mixed], [mixed, turn]]), np.array([misfit, 0.0]))


def joined_edges(one: EdgeGive, two: EdgeGive) -> tuple[float, float, float, float]:
    """Two edges that move as one: (u_r, chi, H, M), H and M acting on the first and reversed on the second."""
    force = np.linalg.solve(one.matrix + two.matrix, two.misfit - one.misfit)
    moved = one.misfit + one.matrix @ force
    return float(moved[0]), float(moved[1]), float(force[0]), float(force[1])


def clamped_edge(young: float, poisson: float, step: float, turns: bool) -> float:
    """Largest face stress along the axis of a long cylinder whose end is held to another radius by the strain `step`.

    Held against turning too: at the end; free to turn: at beta x = pi/4. [MPa]
    """
    stiff = math.sqrt(3.0) / math.sqrt(1.0 - poisson**2)
    # exp(-pi/4) sin(pi/4) = 0.3224 is the peak of exp(-x) sin x
    return abs(step) * young * stiff * (0.3223969 if turns else 1.0)
