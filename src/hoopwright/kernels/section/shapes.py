"""The arrays that compiled code works on, grouped. Units mm, N, MPa, rad; per radian (revolution) or per mm of strip.

Unknowns of a section with n nodes: q = (x, y, angle) by node, shape (3 n,); globals g = (b0, kr, kz, h, f): stretch,
curl, camber, travel of the tool that is driven by force, load factor.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from hoopwright.kernels.compiled import compiled
from hoopwright.kernels.flow import Vector

Matrix = NDArray[np.float64]
Cube = NDArray[np.float64]
Flags = NDArray[np.bool_]
Counts = NDArray[np.int64]

GLOBALS = 5
HALF_BAND = 5
BAND = 16


class Sheet(NamedTuple):
    """One accepted state of the sheet.

    weight (e, l) : volume of each layer piece in the stress-free start. share (l,) : place through the thickness,
    -0.5 to 0.5. thick (e,). offset (e,) : shear angle of the mesh at start. layers (e, l, 5) : stress s, t, plastic
    strain, back stress s, t. fibre_s, fibre_t (e, l) : fibre lengths A and B. q (3 n,), g (5,) : unknowns.
    area (n,) : contact area of each node. half (n,) : half the thickness at each node.
    """

    weight: Matrix
    share: Vector
    thick: Vector
    offset: Vector
    layers: Cube
    fibre_s: Matrix
    fibre_t: Matrix
    q: Vector
    g: Vector
    area: Vector
    half: Vector


class Tooling(NamedTuple):
    """Tools at the end of an increment.

    rows (m, 8) and first (k + 1,) : packed contours. place (k, 2) : where they stand. moved (k, 2) : travel in this
    increment. friction, stiffness, blend (k,) : Coulomb number, contact stiffness [N/mm3], rounding length [mm].
    drag, load (k, n) : tangential and normal node forces of the last accepted state. driven : number of the tool
    whose travel is unknown, -1 for none. toward (2,) : direction of that travel.
    """

    rows: Matrix
    first: Counts
    place: Matrix
    moved: Matrix
    friction: Vector
    stiffness: Vector
    blend: Vector
    drag: Matrix
    load: Matrix
    driven: int
    toward: Vector


class Drive(NamedTuple):
    """What is held and what pulls at the end of an increment.

    fixed (3 n,), goal (3 n,) : held unknowns and their values. free (5,), target (5,), pull (5,) : free globals, values
    of those held, resultants of those free. dead (3 n,) : constant nodal loads. live (3 n,) : nodal loads times g[4].
    pressure, live_pressure : constant pressure and pressure times g[4], positive when it pushes to the left of travel.
    control : unknown whose reaction is made zero by g[4], -1 for none, -2 when g[4] is to bring the volume between
    section and axis to `volume` [mm3 per radian], weighed by `weigh` [N/mm3].
    warm (e,) : free thermal strain increment.
    hold : stiffness of the hold to the last accepted state [N/mm3].
    """

    fixed: Flags
    goal: Vector
    free: Flags
    target: Vector
    pull: Vector
    dead: Vector
    live: Vector
    pressure: float
    live_pressure: float
    control: int
    volume: float
    weigh: float
    warm: Vector
    hold: float


class System(NamedTuple):
    """Working arrays of one linear solve: band (3 n, 16), force (3 n,), inner (3 n,), columns and rows (3 n, 5),
    corner (5, 5), balance (5,), answers (3 n, 6), trial stores (k, n) of normal and tangential node forces."""

    band: Matrix
    force: Vector
    inner: Vector
    columns: Matrix
    rows: Matrix
    corner: Matrix
    balance: Vector
    answers: Matrix
    normal: Matrix
    tangent: Matrix


def new_system(nodes: int, tools: int) -> System:
    """Empty working arrays for a section of `nodes` nodes and `tools` tools."""
    n = 3 * nodes
    return System(
        np.zeros((n, BAND)),
        np.zeros(n),
        np.zeros(n),
        np.zeros((n, GLOBALS)),
        np.zeros((n, GLOBALS)),
        np.zeros((GLOBALS, GLOBALS)),
        np.zeros(GLOBALS),
        np.zeros((n, GLOBALS + 1)),
        np.zeros((max(tools, 1), nodes)),
        np.zeros((max(tools, 1), nodes)),
    )


@compiled
def put(target: Vector, source: Vector) -> None:
    """Copy one vector into another of the same length (a plain loop compiles in a fraction of the time of a slice)."""
    for i in range(target.shape[0]):
        target[i] = source[i]
