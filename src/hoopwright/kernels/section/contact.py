"""Contact of the nodes with rigid tools, and Coulomb friction. Units mm, N, MPa.

Depth d = half thickness - distance (half thickness of the last accepted state: the mid-line moves in as the sheet
thins). One-sided rounded penalty, no pressure at touch: p = k d^2/(4 h) for d < 2 h, k (d - h) beyond. A rounding that
presses before touch makes a hoop float and preloads conforming faces, so it is not used. Friction: the tangential force
of the last state plus 0.1 k times area times slip, at most the friction number times the normal force.
"""

from __future__ import annotations

from hoopwright.kernels.compiled import compiled
from hoopwright.kernels.flow import Vector
from hoopwright.kernels.section.contour import nearest
from hoopwright.kernels.section.shapes import Drive, Sheet, System, Tooling

TANGENT_SHARE = 0.1
"""Tangential over normal contact stiffness."""


@compiled
def pressure(depth: float, stiffness: float, blend: float) -> tuple[float, float]:
    """Contact pressure [MPa] and its slope [N/mm3] at a depth [mm]."""
    if depth <= 0.0:
        return 0.0, 0.0
    if depth < 2.0 * blend:
        return stiffness * depth * depth / (4.0 * blend), stiffness * depth / (2.0 * blend)
    return stiffness * (depth - blend), stiffness


@compiled
def add_contact(sheet: Sheet, tools: Tooling, drive: Drive, q: Vector, g: Vector, system: System) -> None:
    """Add contact to force and band of `system`, to the border of a driven tool, and keep node forces for acceptance.

    system.normal, system.tangent (k, n) : normal and tangential force of each tool on each node. [N]
    """
    band, force = system.band, system.force
    for k in range(tools.place.shape[0]):
        ox, oy = tools.place[k, 0], tools.place[k, 1]
        mx, my = tools.moved[k, 0], tools.moved[k, 1]
        if k == tools.driven:
            ox += tools.toward[0] * g[3]
            oy += tools.toward[1] * g[3]
            mx += tools.toward[0] * (g[3] - sheet.g[3])
            my += tools.toward[1] * (g[3] - sheet.g[3])
        mu, stiff, blend = tools.friction[k], tools.stiffness[k], tools.blend[k]
        driven = k == tools.driven and drive.free[3]
        for i in range(sheet.half.shape[0]):
            ix, iy = 3 * i, 3 * i + 1
            d, nx, ny, bend = nearest(tools.rows, tools.first[k], tools.first[k + 1], q[ix] - ox, q[iy] - oy)
            depth = sheet.half[i] - d
            if depth <= 0.0:
                system.normal[k, i] = system.tangent[k, i] = 0.0
                continue
            tx, ty = ny, -nx
            p, slope = pressure(depth, stiff, blend)
            area = sheet.area[i]
            load, rise = p * area, slope * area
            slip = (q[ix] - sheet.q[ix] - mx) * tx + (q[iy] - sheet.q[iy] - my) * ty
            grip = TANGENT_SHARE * stiff * area
            drag = tools.drag[k, i] - grip * slip
            cross = 0.0
            if abs(drag) > mu * load:
                sign = 1.0 if drag > 0.0 else -1.0
                drag, grip, cross = sign * mu * load, 0.0, sign * mu * rise
            system.normal[k, i], system.tangent[k, i] = load, drag
            force[ix] -= load * nx + drag * tx
            force[iy] -= load * ny + drag * ty
            # d(force)/dx = rise n n' - load bend t t' + grip t t' + cross t n' + drag bend n t'
            tt = grip - load * bend
            kxx = rise * nx * nx + tt * tx * tx + cross * tx * nx + drag * bend * nx * tx
            kxy = rise * nx * ny + tt * tx * ty + cross * tx * ny + drag * bend * nx * ty
            kyx = rise * ny * nx + tt * ty * tx + cross * ty * nx + drag * bend * ny * tx
            kyy = rise * ny * ny + tt * ty * ty + cross * ty * ny + drag * bend * ny * ty
            band[ix, 5] += kxx
            band[ix, 6] += kxy
            band[iy, 4] += kyx
            band[iy, 5] += kyy
            if driven:
                ax, ay = tools.toward[0], tools.toward[1]
                cx, cy = -(kxx * ax + kxy * ay), -(kyx * ax + kyy * ay)
                system.columns[ix, 3] += cx
                system.columns[iy, 3] += cy
                system.rows[ix, 3] -= kxx * ax + kyx * ay
                system.rows[iy, 3] -= kxy * ax + kyy * ay
                system.corner[3, 3] -= cx * ax + cy * ay
                system.balance[3] += (load * nx + drag * tx) * ax + (load * ny + drag * ty) * ay
