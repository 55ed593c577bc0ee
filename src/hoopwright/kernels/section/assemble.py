"""The whole system of an increment: elements, pressure, hold, contact, held unknowns, and the border of the globals.

Residual = inner forces - outer forces. Border equations: resultant of stretch, curl and camber, force of the driven
tool, reaction of the controlled unknown; each equals its given value. Units mm, N, MPa, rad.
"""

from __future__ import annotations

import math

import numpy as np

from hoopwright.kernels.compiled import compiled
from hoopwright.kernels.flow import Vector
from hoopwright.kernels.section.contact import add_contact
from hoopwright.kernels.section.element import element_system
from hoopwright.kernels.section.shapes import Drive, Sheet, System, Tooling


@compiled
def add_elements(sheet: Sheet, drive: Drive, metal: Vector, law: Vector, q: Vector, g: Vector, system: System) -> bool:
    """Add every element to the system; False when one is distorted beyond use."""
    reach = 9 if drive.free[0] or drive.free[1] or drive.free[2] else 6
    sums, local, tangent = np.zeros(14), np.zeros(8), np.zeros((8, 8))
    node_force, node_tangent = np.zeros(9), np.zeros((9, 9))
    for e in range(sheet.thick.shape[0]):
        good = element_system(
            e, sheet, metal, law, q, g, drive.warm[e], sums, reach, local, tangent, node_force, node_tangent
        )
        if not good:
            return False
        i = 3 * e
        for a in range(6):
            system.inner[i + a] += node_force[a]
            for b in range(6):
                system.band[i + a, b - a + 5] += node_tangent[a, b]
            for b in range(6, reach):
                system.columns[i + a, b - 6] += node_tangent[a, b]
                system.rows[i + a, b - 6] += node_tangent[a, b]
        for a in range(6, reach):
            system.balance[a - 6] += node_force[a]
            for b in range(6, reach):
                system.corner[a - 6, b - 6] += node_tangent[a, b]
    return True


@compiled
def add_pressure(drive: Drive, q: Vector, g: Vector, system: System) -> None:
    """Pressure to the left of travel, lumped half and half to the nodes, with its (unsymmetric) stiffness."""
    total = drive.pressure + drive.live_pressure * g[4]
    if total == 0.0 and drive.live_pressure == 0.0:
        return
    for e in range(q.shape[0] // 3 - 1):
        i = 3 * e
        dx, dy = q[i + 3] - q[i], q[i + 4] - q[i + 1]
        fibre = g[0] + 0.5 * g[1] * (q[i + 1] + q[i + 4]) + 0.5 * g[2] * (q[i] + q[i + 3])
        fx, fy = -0.5 * dy * fibre, 0.5 * dx * fibre
        for a in (i, i + 3):
            system.force[a] -= total * fx
            system.force[a + 1] -= total * fy
            if drive.free[4]:
                system.columns[a, 4] -= drive.live_pressure * fx
                system.columns[a + 1, 4] -= drive.live_pressure * fy
            for m in range(2):
                sign = -1.0 if m == 0 else 1.0
                b = i + 3 * m
                dfx, dfy = -0.25 * dy * g[2], 0.25 * dx * g[2] + 0.5 * sign * fibre
                system.band[a, b - a + 5] -= total * dfx
                system.band[a + 1, b - a + 4] -= total * dfy
                dfx, dfy = -0.25 * dy * g[1] - 0.5 * sign * fibre, 0.25 * dx * g[1]
                system.band[a, b - a + 6] -= total * dfx
                system.band[a + 1, b - a + 5] -= total * dfy


@compiled
def enclosed(q: Vector) -> float:
    """Volume per radian between the section and the axis of revolution, positive for travel along +x. [mm3]"""
    total = 0.0
    for i in range(0, q.shape[0] - 3, 3):
        total += (q[i + 3] - q[i]) * (q[i + 1] ** 2 + q[i + 1] * q[i + 4] + q[i + 4] ** 2) / 6.0
    return total


@compiled
def add_volume(drive: Drive, q: Vector, system: System) -> None:
    """Border row of the load factor when it is led by the enclosed volume."""
    system.balance[4] = drive.weigh * (enclosed(q) - drive.volume)
    for i in range(0, q.shape[0] - 3, 3):
        dx, a, b = q[i + 3] - q[i], q[i + 1], q[i + 4]
        ring = drive.weigh * (a * a + a * b + b * b) / 6.0
        system.rows[i, 4] -= ring
        system.rows[i + 3, 4] += ring
        system.rows[i + 1, 4] += drive.weigh * dx * (2.0 * a + b) / 6.0
        system.rows[i + 4, 4] += drive.weigh * dx * (a + 2.0 * b) / 6.0


@compiled
def add_loads(sheet: Sheet, drive: Drive, q: Vector, g: Vector, system: System) -> None:
    """Nodal loads, the hold to the last accepted state, and the held unknowns of the border."""
    for i in range(q.shape[0]):
        system.force[i] += system.inner[i] - drive.dead[i] - drive.live[i] * g[4]
        if drive.free[4]:
            system.columns[i, 4] -= drive.live[i]
    if drive.hold > 0.0:
        for i in range(sheet.area.shape[0]):
            stiff = drive.hold * sheet.area[i]
            for k in (3 * i, 3 * i + 1):
                system.force[k] += stiff * (q[k] - sheet.q[k])
                system.band[k, 5] += stiff
    for k in range(3):
        system.balance[k] -= drive.pull[k]
    system.balance[3] -= drive.pull[3]
    if drive.control >= 0:
        c = drive.control
        system.balance[4] = system.force[c]
        for j in range(max(0, c - 5), min(q.shape[0], c + 6)):
            system.rows[j, 4] = system.band[c, j - c + 5]
        system.corner[4, 4] = system.columns[c, 4]
        for k in range(4):
            system.corner[4, k] = system.columns[c, k]
    elif drive.control == -2:
        add_volume(drive, q, system)


@compiled
def clear(system: System) -> None:
    """Set everything that is added to back to zero."""
    for i in range(system.force.shape[0]):
        system.force[i] = system.inner[i] = 0.0
        for j in range(16):
            system.band[i, j] = 0.0
        for k in range(5):
            system.columns[i, k] = 0.0
            system.rows[i, k] = 0.0
    for k in range(5):
        system.balance[k] = 0.0
        for m in range(5):
            system.corner[k, m] = 0.0


@compiled
def assemble(
    sheet: Sheet, tools: Tooling, drive: Drive, metal: Vector, law: Vector, q: Vector, g: Vector, system: System
) -> bool:
    """Fill `system` at the trial unknowns; False when the trial is out of bounds or not finite."""
    clear(system)
    if not add_elements(sheet, drive, metal, law, q, g, system):
        return False
    add_pressure(drive, q, g, system)
    add_contact(sheet, tools, drive, q, g, system)
    add_loads(sheet, drive, q, g, system)
    total = 0.0
    for i in range(q.shape[0]):
        total += system.force[i]
    for k in range(5):
        total += system.balance[k]
    return math.isfinite(total)


@compiled
def reduce_held(drive: Drive, system: System) -> None:
    """Rows of held unknowns become identities; borders of held globals and of held unknowns vanish."""
    n = system.force.shape[0]
    for i in range(n):
        if drive.fixed[i]:
            for j in range(16):
                system.band[i, j] = 0.0
            system.band[i, 5] = 1.0
            for k in range(5):
                system.columns[i, k] = 0.0
    for k in range(5):
        if not drive.free[k]:
            for i in range(n):
                system.columns[i, k] = 0.0
                system.rows[i, k] = 0.0
            for m in range(5):
                system.corner[k, m] = 0.0
                system.corner[m, k] = 0.0
            system.corner[k, k] = 1.0
            system.balance[k] = 0.0


@compiled
def norms(drive: Drive, system: System) -> tuple[float, float]:
    """Size of the residual over what is free, and of the inner forces. Moments of curl count per 10 mm."""
    total, inner = 0.0, 0.0
    for i in range(system.force.shape[0]):
        inner += system.inner[i] ** 2
        if not drive.fixed[i]:
            total += system.force[i] ** 2
    for k in range(5):
        if drive.free[k]:
            scale = 0.1 if k == 1 or k == 2 else 1.0
            total += (scale * system.balance[k]) ** 2
    return math.sqrt(total), math.sqrt(inner)


@compiled
def inner_forces(sheet: Sheet, metal: Vector, law: Vector) -> Vector:
    """Inner nodal forces of an accepted state, shape (3 n,)."""
    sums, local, tangent = np.zeros(14), np.zeros(8), np.zeros((8, 8))
    node_force, node_tangent = np.zeros(9), np.zeros((9, 9))
    total = np.zeros(sheet.q.shape[0])
    for e in range(sheet.thick.shape[0]):
        element_system(e, sheet, metal, law, sheet.q, sheet.g, 0.0, sums, 6, local, tangent, node_force, node_tangent)
        for a in range(6):
            total[3 * e + a] += node_force[a]
    return total
