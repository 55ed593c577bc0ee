"""Rings as an axisymmetric solid, nine-node quadrilaterals, by the general finite-element library: what the shell is
checked
against. Sheets are cut through the thickness; welds are blocks of metal between two sheets. x = z, y = r; mm, MPa."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from skfem import Basis, BilinearForm, ElementQuad2, ElementVector, LinearForm, MeshQuad, condense, solve
from skfem.helpers import ddot, grad, sym_grad

Array = np.ndarray


@dataclass
class Solid:
    """Corner nodes and quadrilaterals with strain and modulus of each; `merge` joins what lies at one place."""

    points: Array
    quads: Array
    strain: Array
    young: Array


def sheet(z: Array, r: Array, thickness: float, strain: float, young: float, layers: int = 2) -> Solid:
    """A strip about a mid-surface given by its nodes."""
    dz, dr = np.gradient(z), np.gradient(r)
    size = np.hypot(dz, dr)
    nz, nr = -dr / size, dz / size
    across = np.linspace(-0.5, 0.5, layers + 1) * thickness
    points = np.stack((z[:, None] + nz[:, None] * across, r[:, None] + nr[:, None] * across), axis=2).reshape(-1, 2)
    number = np.arange(z.size * (layers + 1)).reshape(z.size, layers + 1)
    quads = np.stack((number[:-1, :-1], number[1:, :-1], number[1:, 1:], number[:-1, 1:]), -1).reshape(-1, 4)
    return Solid(points, quads, np.full(quads.shape[0], strain), np.full(quads.shape[0], young))


def block(lower: Array, upper: Array, strain: float, young: float) -> Solid:
    """Metal between two rows of points, (n, 2) each, one layer."""
    n = lower.shape[0]
    points = np.concatenate((lower, upper))
    quads = np.stack((np.arange(n - 1), np.arange(1, n), np.arange(1, n) + n, np.arange(n - 1) + n), axis=1)
    return Solid(points, quads, np.full(n - 1, strain), np.full(n - 1, young))


def joined(solids: list[Solid]) -> Solid:
    """All of them as one, nodes at one place merged."""
    points = np.concatenate([s.points for s in solids])
    shift = np.cumsum([0, *(s.points.shape[0] for s in solids[:-1])])
    quads = np.concatenate([s.quads + k for s, k in zip(solids, shift, strict=True)])
    _, first, inverse = np.unique(np.round(points, 6), axis=0, return_index=True, return_inverse=True)
    return Solid(
        points[first],
        inverse.ravel()[quads],
        np.concatenate([s.strain for s in solids]),
        np.concatenate([s.young for s in solids]),
    )


@dataclass
class Answer:
    """Displacement (z, r) at corner nodes, and von Mises stress at the middle of quads."""

    solid: Solid
    moved: Array
    mises: Array

    def at(self, z: float, r: float) -> Array:
        """Displacement of the corner node nearest to a place."""
        return self.moved[int(np.argmin(np.hypot(self.solid.points[:, 0] - z, self.solid.points[:, 1] - r)))]


def solved(solid: Solid, poisson: float, held: tuple[Array, ...]) -> Answer:
    """Solve with u_z nil at the corner nodes nearest to the places `held`."""
    mesh = MeshQuad(solid.points.T.copy(), oriented(solid).T.copy(), sort_t=False)
    basis = Basis(mesh, ElementVector(ElementQuad2()), intorder=4)
    young, free = (np.repeat(v[:, None], basis.dx.shape[1], axis=1) for v in (solid.young, solid.strain))
    lam, mu = young * poisson / ((1.0 + poisson) * (1.0 - 2.0 * poisson)), young / (2.0 * (1.0 + poisson))

    @BilinearForm
    def stiffness(u, v, w):  # type: ignore[no-untyped-def]
        r = w.x[1]
        hoop_u, hoop_v = u[1] / r, v[1] / r
        div_u, div_v = grad(u)[0, 0] + grad(u)[1, 1] + hoop_u, grad(v)[0, 0] + grad(v)[1, 1] + hoop_v
        return (lam * div_u * div_v + 2.0 * mu * (ddot(sym_grad(u), sym_grad(v)) + hoop_u * hoop_v)) * r

    @LinearForm
    def load(v, w):  # type: ignore[no-untyped-def]
        r = w.x[1]
        return (3.0 * lam + 2.0 * mu) * free * (grad(v)[0, 0] + grad(v)[1, 1] + v[1] / r) * r

    nodes = [int(np.argmin(np.hypot(mesh.p[0] - p[0], mesh.p[1] - p[1]))) for p in held]
    fixed = basis.nodal_dofs[0, nodes]
    x = solve(*condense(stiffness.assemble(basis), load.assemble(basis), D=fixed))
    field = basis.interpolate(x)
    e = sym_grad(field)
    hoop = np.asarray(field[1]) / basis.global_coordinates()[1]
    trace = e[0, 0] + e[1, 1] + hoop - 3.0 * free
    s = [lam * trace + 2.0 * mu * (part - free) for part in (e[0, 0], e[1, 1], hoop)]
    shear = 2.0 * mu * e[0, 1]
    mises = np.sqrt(0.5 * ((s[0] - s[1]) ** 2 + (s[1] - s[2]) ** 2 + (s[2] - s[0]) ** 2) + 3.0 * shear**2)
    return Answer(solid, x[basis.nodal_dofs].T, mises.max(axis=1))


def oriented(solid: Solid) -> Array:
    """Quads turned so that their corners run counter-clockwise."""
    p = solid.points[solid.quads]
    one, two = p[:, 2] - p[:, 0], p[:, 3] - p[:, 1]
    turn = one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]
    quads = solid.quads.copy()
    quads[turn < 0.0] = quads[turn < 0.0][:, ::-1]
    return quads
