"""Axisymmetric solid of nine-node quadrilaterals, linear elastic with free strain: assembly only. mm, N, MPa.

    eps = (u_r,r   u_z,z   u_r/r   u_r,z + u_z,r)          sigma = C (eps - e (1 1 1 0))

Energies per radian. Biquadratic shapes, three by three Gauss points. Textbook element (from memory); checked against
the general finite-element library in tests/exact/test_shell_against_solid.py.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix, csc_matrix

Vector = NDArray[np.float64]
Whole = NDArray[np.int64]

_GAUSS = np.sqrt(0.6) * np.array([-1.0, 0.0, 1.0])
_WEIGHT = np.array([5.0, 8.0, 5.0]) / 9.0


def _line(x: Vector) -> tuple[Vector, Vector]:
    """Quadratic shapes on nodes -1, 0, 1 and their slopes, shapes (q, 3)."""
    return (
        np.stack((0.5 * x * (x - 1.0), 1.0 - x * x, 0.5 * x * (x + 1.0)), axis=-1),
        np.stack((x - 0.5, -2.0 * x, x + 0.5), axis=-1),
    )


def section_weights(across: Vector, power: int) -> Vector:
    """Integrals of shape k times xi^power over a line of quadratic elements on nodes `across` (2 m + 1,)."""
    total = np.zeros(across.size)
    shapes, _ = _line(_GAUSS)
    for k in range(0, across.size - 2, 2):
        half = 0.5 * (across[k + 2] - across[k])
        xi = across[k + 1] + half * _GAUSS
        total[k : k + 3] += half * (_WEIGHT * xi**power) @ shapes
    return total


def solid_matrices(
    r: Vector, z: Vector, elements: Whole, young: Vector, poisson: float
) -> tuple[csc_matrix, csc_matrix]:
    """Stiffness (2 n, 2 n), and forces from a free strain of 1 in each element (2 n, m), per radian.

    Parameters
    ----------
    r, z : nodes, shape (n,). [mm]
    elements : nine nodes of each element, three along by three across, shape (m, 9). young : shape (m,). [MPa]
    """
    shape, slope = _line(_GAUSS)
    count = elements.shape[0]
    stiff = np.zeros((count, 18, 18))
    load = np.zeros((count, 18))
    lame = young * poisson / ((1.0 + poisson) * (1.0 - 2.0 * poisson))
    shear = young / (2.0 * (1.0 + poisson))
    elastic = np.zeros((count, 4, 4))
    elastic[:, :3, :3] = lame[:, None, None]
    for k in range(3):
        elastic[:, k, k] += 2.0 * shear
    elastic[:, 3, 3] = shear
    re, ze = r[elements], z[elements]
    for i in range(3):
        for j in range(3):
            n = np.outer(shape[i], shape[j]).ravel()
            a, b = np.outer(slope[i], shape[j]).ravel(), np.outer(shape[i], slope[j]).ravel()
            ra, rb, za, zb = re @ a, re @ b, ze @ a, ze @ b
            det = ra * zb - rb * za
            by_r = (zb[:, None] * a - za[:, None] * b) / det[:, None]
            by_z = (ra[:, None] * b - rb[:, None] * a) / det[:, None]
            radius = re @ n
            rows = np.zeros((count, 4, 18))
            rows[:, 0, 0::2], rows[:, 1, 1::2] = by_r, by_z
            rows[:, 2, 0::2] = n / radius[:, None]
            rows[:, 3, 0::2], rows[:, 3, 1::2] = by_z, by_r
            weight = _WEIGHT[i] * _WEIGHT[j] * np.abs(det) * radius
            pulled = np.einsum("ekl,elj->ekj", elastic, rows)
            stiff += np.einsum("e,eki,ekj->eij", weight, rows, pulled)
            load += weight[:, None] * pulled[:, :3].sum(axis=1)
    places = np.stack((2 * elements, 2 * elements + 1), axis=2).reshape(count, 18)
    size = 2 * r.size
    down, across = np.repeat(places, 18, axis=1).ravel(), np.tile(places, (1, 18)).ravel()
    stiffness = coo_matrix((stiff.ravel(), (down, across)), shape=(size, size)).tocsc()
    columns = np.repeat(np.arange(count), 18)
    forces = coo_matrix((load.ravel(), (places.ravel(), columns)), shape=(size, count)).tocsc()
    return stiffness, forces


def sheet_nodes(r: Vector, z: Vector, across: Vector) -> tuple[Vector, Vector]:
    """Nodes (n, q) of a sheet about a meridian (n,), at distances `across` to its left. [mm]"""
    dr, dz = np.gradient(r), np.gradient(z)
    size = np.hypot(dr, dz)
    return r[:, None] - dz[:, None] / size[:, None] * across, z[:, None] + dr[:, None] / size[:, None] * across


def grid_elements(number: Whole) -> Whole:
    """Nine-node elements of a grid of node numbers (2 a + 1, 2 b + 1), shape (a b, 9)."""
    a, b = (number.shape[0] - 1) // 2, (number.shape[1] - 1) // 2
    found = [number[2 * i : 2 * i + 3, 2 * j : 2 * j + 3].ravel() for i in range(a) for j in range(b)]
    return np.array(found, dtype=np.int64)
