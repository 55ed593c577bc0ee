"""Thin plates of any outline in bending: constant-curvature (Morley) triangles. mm, N, MPa.

Unknowns: deflection at corners, slope across edges at their middles. D = E t^3/(12 (1 - nu^2)); moments per width
m = -D (w,xx + nu w,yy; w,yy + nu w,xx; (1 - nu) w,xy) with the sign left out. Free edges need nothing, a supported edge
has its corners held, a clamped edge its slopes as well. Small deflections; no shear; a supported curved edge is not to
be put on a polygon (the known paradox of supported polygons). Element: Morley 1968, from memory, derived here from the
quadratic polynomial. Checked in tests/published/plate_bending.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix, csc_matrix
from scipy.sparse.linalg import SuperLU, splu

from hoopwright.errors import InputError, NotConverged, require_finite, require_positive, require_range

Vector = NDArray[np.float64]
Whole = NDArray[np.int64]


LOOSE, REMEDY = "nothing holds the plate", "hold three corners, or clamp an edge"


def _no_pairs() -> Whole:
    return np.zeros((0, 2), dtype=np.int64)


@dataclass(frozen=True, slots=True, eq=False)
class PlateCase:
    """What holds and loads a plate.

    held, lifted : corner nodes and their given deflections, shapes (h,). [mm] clamped : edges whose slope is nil, pairs
    of nodes (c, 2). turning, turn_stiffness : edges that turn against a stiffness per length, (s, 2) and one value.
    [N] loads : force on each node, shape (n,), or empty. [N] pressure : on the whole plate. [MPa]
    """

    held: Whole
    lifted: Vector
    clamped: Whole = field(default_factory=_no_pairs)
    turning: Whole = field(default_factory=_no_pairs)
    turn_stiffness: float = 0.0
    loads: Vector = field(default_factory=lambda: np.zeros(0))
    pressure: float = 0.0


@dataclass(frozen=True, slots=True, eq=False)
class BentPlate:
    """deflection : of nodes (n,). [mm] reaction : of held nodes, 0 elsewhere (n,). [N] moments : bending moments of
    each triangle xx, yy, xy per width (m, 3). [N] equal : sqrt(mxx^2 - mxx myy + myy^2 + 3 mxy^2), (m,); 6/t^2 times it
    is the surface stress. unknowns : size."""

    deflection: Vector
    reaction: Vector
    moments: Vector
    equal: Vector
    unknowns: int


def plate_stiffness(young: float, poisson: float, thickness: float) -> float:
    """D = E t^3/(12 (1 - nu^2)). [N mm]

    >>> round(plate_stiffness(200e3, 0.3, 1.0), 1)
    18315.0
    """
    require_positive("Young's modulus", young, "MPa")
    require_positive("thickness", thickness, "mm")
    return young * thickness**3 / (12.0 * (1.0 - require_range("Poisson's ratio", poisson, 0.0, 0.49) ** 2))


def bent_plate(points: Vector, triangles: Whole, bending: float, poisson: float, case: PlateCase) -> BentPlate:
    """Solve.

    Parameters
    ----------
    points : shape (n, 2). [mm] triangles : corners, shape (m, 3). bending : D. [N mm]

    Raises
    ------
    InputError
        Figures not finite, an edge that is not of the mesh, a triangle without area.
    NotConverged
        Nothing holds the plate against a rigid motion.
    """
    require_positive("plate stiffness", bending, "N mm")
    require_finite("pressure", case.pressure, "MPa")
    edges, of_triangle = _edges(triangles)
    corners = points.shape[0]
    area, curve, places, spread = _elements(points, triangles, edges, of_triangle)
    elastic = bending * np.array([[1.0, poisson, 0.0], [poisson, 1.0, 0.0], [0.0, 0.0, 0.5 * (1.0 - poisson)]])
    blocks = np.einsum("e,eki,kl,elj->eij", area, curve, elastic, curve)
    size = corners + edges.shape[0]
    down, across, values = np.repeat(places, 6, 1).ravel(), np.tile(places, (1, 6)).ravel(), blocks.ravel()
    if case.turning.size:
        stands = corners + _which(edges, case.turning)
        length = np.linalg.norm(np.diff(points[case.turning], axis=1)[:, 0], axis=1)
        down, across = np.concatenate((down, stands)), np.concatenate((across, stands))
        values = np.concatenate((values, case.turn_stiffness * length))
    stiffness = coo_matrix((values, (down, across)), shape=(size, size)).tocsc()
    pull = np.zeros(size)
    np.add.at(pull, places.ravel(), (case.pressure * spread).ravel())
    if case.loads.size:
        pull[:corners] += case.loads
    fixed, known = np.zeros(size, dtype=bool), np.zeros(size)
    fixed[case.held], known[case.held] = True, case.lifted
    if case.clamped.size:
        fixed[corners + _which(edges, case.clamped)] = True
    free = np.flatnonzero(~fixed)
    known[free] = _factored(stiffness[free][:, free].tocsc()).solve((pull - stiffness @ known)[free])
    reaction = np.where(fixed[:corners], (stiffness @ known - pull)[:corners], 0.0)
    moments = np.einsum("kl,elj,ej->ek", elastic, curve, known[places])
    xx, yy, xy = moments.T
    equal = np.sqrt(xx**2 - xx * yy + yy**2 + 3.0 * xy**2)
    return BentPlate(known[:corners].copy(), reaction, moments, equal, size)


def _factored(matrix: csc_matrix) -> SuperLU:
    try:
        factor = splu(matrix)
    except RuntimeError:
        raise NotConverged(LOOSE, None, REMEDY) from None
    pivots = np.abs(factor.U.diagonal())
    # a free motion leaves a pivot of the size of rounding
    if float(pivots.min()) < 1e-12 * float(pivots.max()):
        raise NotConverged(LOOSE, None, REMEDY)
    return factor


def _edges(triangles: Whole) -> tuple[Whole, Whole]:
    """Edges as sorted pairs, and the three of each triangle (opposite to its corners)."""
    pairs = np.sort(triangles[:, [[1, 2], [2, 0], [0, 1]]].reshape(-1, 2), axis=1)
    edges, inverse = np.unique(pairs, axis=0, return_inverse=True)
    return edges, inverse.reshape(-1, 3)


def _which(edges: Whole, pairs: Whole) -> Whole:
    order = {(int(a), int(b)): k for k, (a, b) in enumerate(edges)}
    try:
        return np.array([order[(min(a, b), max(a, b))] for a, b in pairs.tolist()], dtype=np.int64)
    except KeyError as missing:
        raise InputError("edge", str(missing), "", "a side of a triangle", "name two neighbouring nodes") from None


def _elements(
    points: Vector, triangles: Whole, edges: Whole, of_triangle: Whole
) -> tuple[Vector, Vector, Whole, Vector]:
    """Area, curvature rows (m, 3, 6) for (w,xx; w,yy; 2 w,xy), places of the six unknowns, and the integral of each of
    the six shapes (m, 6)."""
    p = points[triangles]
    centre = p.mean(axis=1, keepdims=True)
    q = p - centre
    one, two = q[:, 1] - q[:, 0], q[:, 2] - q[:, 0]
    area = 0.5 * np.abs(one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0])
    if not np.all(area > 0.0):
        raise InputError("triangles", int(np.sum(~(area > 0.0))), "without area", "none", "mend the mesh")
    ends = points[edges[of_triangle]]
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
    # second moments of a triangle about its centroid: area/12 times the sum over its corners
    whole = np.stack(
        (np.ones_like(area), 0.0 * area, 0.0 * area, (x * x).sum(1) / 12.0, (x * y).sum(1) / 12.0,
         (y * y).sum(1) / 12.0), axis=1,
    )  # fmt: skip
    spread = area[:, None] * np.einsum("ek,eki->ei", whole, inverse)
    return area, curve, np.concatenate((triangles, points.shape[0] + of_triangle), axis=1), spread
