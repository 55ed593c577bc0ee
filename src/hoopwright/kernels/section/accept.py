"""What happens when an increment is accepted: history, thickness, fibre lengths, forces and the ledger of energy.

Energy is taken by the trapezoidal rule over the increment. Units mm, N, MPa, rad.
"""

from __future__ import annotations

import math

import numpy as np

from hoopwright.kernels.compiled import compiled
from hoopwright.kernels.flow import Vector, flow_stress
from hoopwright.kernels.section.contour import nearest
from hoopwright.kernels.section.returnmap import return_layer
from hoopwright.kernels.section.shapes import Drive, Matrix, Sheet, System, Tooling, put

# Places of the ledger. All are sums over the walk but ELASTIC, which is what is stored now.
OUTER, PLASTIC, FRICTION, HELD, THERMAL, ELASTIC, CONTACT, DEEPEST = range(8)


@compiled
def set_geometry(sheet: Sheet) -> None:
    """Fibre lengths, contact areas and half thickness of `sheet` from its unknowns and thickness (in place)."""
    q, g = sheet.q, sheet.g
    nodes = sheet.area.shape[0]
    sheet.area[:] = 0.0
    sheet.half[:] = 0.0
    for e in range(nodes - 1):
        i = 3 * e
        dx, dy = q[i + 3] - q[i], q[i + 4] - q[i + 1]
        length = math.sqrt(dx * dx + dy * dy)
        am = 0.5 * (q[i + 2] + q[i + 5])
        fibre = g[0] + 0.5 * g[1] * (q[i + 1] + q[i + 4]) + 0.5 * g[2] * (q[i] + q[i + 3])
        slope = g[1] * math.cos(am) - g[2] * math.sin(am)
        for j in range(sheet.share.shape[0]):
            zeta = sheet.share[j] * sheet.thick[e]
            sheet.fibre_s[e, j] = length - zeta * (q[i + 5] - q[i + 2])
            sheet.fibre_t[e, j] = fibre + zeta * slope
        for k in (e, e + 1):
            sheet.area[k] += 0.5 * length * fibre
            sheet.half[k] += 0.25 * sheet.thick[e]
    sheet.half[0] *= 2.0
    sheet.half[nodes - 1] *= 2.0


@compiled
def stored_energy(sheet: Sheet, metal: Vector) -> float:
    """Elastic energy of an accepted state, in kernel units. [N mm]"""
    total = 0.0
    for e in range(sheet.thick.shape[0]):
        i = 3 * e
        volume = 0.0
        for j in range(sheet.share.shape[0]):
            s, t, w = sheet.layers[e, j, 0], sheet.layers[e, j, 1], sheet.weight[e, j]
            total += 0.5 * w * (s * s + t * t - 2.0 * metal[1] * s * t) / metal[0]
            volume += w
        chord = math.atan2(sheet.q[i + 4] - sheet.q[i + 1], sheet.q[i + 3] - sheet.q[i])
        shear = 0.5 * (sheet.q[i + 2] + sheet.q[i + 5]) - chord
        shear = math.atan2(math.sin(shear), math.cos(shear)) - sheet.offset[e]
        total += 0.5 * metal[7] * volume * shear * shear
    return total


@compiled
def resultants(sheet: Sheet) -> Vector:
    """Resultants of stretch, curl and camber of an accepted state, shape (5,), the last two zero."""
    total = np.zeros(5)
    for e in range(sheet.thick.shape[0]):
        i = 3 * e
        am = 0.5 * (sheet.q[i + 2] + sheet.q[i + 5])
        for j in range(sheet.share.shape[0]):
            zeta = sheet.share[j] * sheet.thick[e]
            pull = sheet.weight[e, j] * sheet.layers[e, j, 1] / sheet.fibre_t[e, j]
            total[0] += pull
            total[1] += pull * (0.5 * (sheet.q[i + 1] + sheet.q[i + 4]) + zeta * math.cos(am))
            total[2] += pull * (0.5 * (sheet.q[i] + sheet.q[i + 3]) - zeta * math.sin(am))
    return total


@compiled
def longest_stride(old: Sheet, q: Vector, g: Vector) -> float:
    """Largest logarithmic strain of any outer fibre, along or across, from the accepted state to (q, g)."""
    worst = 0.0
    for e in range(old.thick.shape[0]):
        i = 3 * e
        dx, dy = q[i + 3] - q[i], q[i + 4] - q[i + 1]
        length = math.sqrt(dx * dx + dy * dy)
        am, turn = 0.5 * (q[i + 2] + q[i + 5]), q[i + 5] - q[i + 2]
        fibre = g[0] + 0.5 * g[1] * (q[i + 1] + q[i + 4]) + 0.5 * g[2] * (q[i] + q[i + 3])
        slope = g[1] * math.cos(am) - g[2] * math.sin(am)
        for j in (0, old.share.shape[0] - 1):
            zeta = old.share[j] * old.thick[e]
            along = math.log((length - zeta * turn) / old.fibre_s[e, j])
            across = math.log((fibre + zeta * slope) / old.fibre_t[e, j])
            worst = max(worst, max(abs(along), abs(across)))
    return worst


@compiled
def accept_layers(
    old: Sheet,
    drive: Drive,
    metal: Vector,
    law: Vector,
    q: Vector,
    g: Vector,
    new: Sheet,
    ledger: Vector,
) -> None:
    """New layer history and thickness into `new`; plastic, thermal and elastic energy into the ledger."""
    nu, young = metal[1], metal[0]
    for e in range(old.thick.shape[0]):
        i = 3 * e
        dx, dy = q[i + 3] - q[i], q[i + 4] - q[i + 1]
        length = math.sqrt(dx * dx + dy * dy)
        am, turn = 0.5 * (q[i + 2] + q[i + 5]), q[i + 5] - q[i + 2]
        fibre = g[0] + 0.5 * g[1] * (q[i + 1] + q[i + 4]) + 0.5 * g[2] * (q[i] + q[i + 3])
        slope = g[1] * math.cos(am) - g[2] * math.sin(am)
        warm, total, volume = drive.warm[e], 0.0, 0.0
        last = old.share.shape[0] - 1
        warm_s = 0.5 * warm * (old.fibre_s[e, 0] + old.fibre_s[e, last])
        warm_t = 0.5 * warm * (old.fibre_t[e, 0] + old.fibre_t[e, last])
        for j in range(last + 1):
            zeta = old.share[j] * old.thick[e]
            was = old.layers[e, j]
            s0, t0 = was[0], was[1]
            s, t, p, xs, xt, _c, _d, _e, dps, dpt = return_layer(
                metal,
                law,
                s0,
                t0,
                was[2],
                was[3],
                was[4],
                math.log((length - zeta * turn) / old.fibre_s[e, j]) - warm_s / old.fibre_s[e, j],
                math.log((fibre + zeta * slope) / old.fibre_t[e, j]) - warm_t / old.fibre_t[e, j],
            )
            w = old.weight[e, j]
            new.layers[e, j, 0], new.layers[e, j, 1], new.layers[e, j, 2] = s, t, p
            new.layers[e, j, 3], new.layers[e, j, 4] = xs, xt
            total += w * (warm - nu / young * (s + t - s0 - t0) - dps - dpt)
            volume += w
            # stress less back stress does the flow stress times dp of work, whatever the direction
            flow = 0.5 * (flow_stress(law, was[2]) + flow_stress(law, p)) * (p - was[2])
            ledger[1] += w * (flow + 0.5 * ((was[3] + xs) * dps + (was[4] + xt) * dpt))
            ledger[4] += 0.5 * w * (s0 + s + t0 + t) * warm
        new.thick[e] = old.thick[e] * math.exp(total / volume)
    put(new.q, q)
    put(new.g, g)
    set_geometry(new)
    ledger[5] = stored_energy(new, metal)


@compiled
def accept_contact(
    old: Sheet, tools: Tooling, q: Vector, g: Vector, system: System, push: Matrix, outer: Vector, ledger: Vector
) -> None:
    """Tool forces on the sheet into `push` (k, 2); contact taken from `outer` (3 n,); friction and contact energy."""
    ledger[7] = 0.0
    for k in range(tools.place.shape[0]):
        ox, oy = tools.place[k, 0], tools.place[k, 1]
        mx, my = tools.moved[k, 0], tools.moved[k, 1]
        if k == tools.driven:
            ox += tools.toward[0] * g[3]
            oy += tools.toward[1] * g[3]
            mx += tools.toward[0] * (g[3] - old.g[3])
            my += tools.toward[1] * (g[3] - old.g[3])
        push[k, 0] = push[k, 1] = 0.0
        for i in range(old.half.shape[0]):
            load, drag, load0 = system.normal[k, i], system.tangent[k, i], tools.load[k, i]
            if load == 0.0 and load0 == 0.0:
                continue
            x, y = q[3 * i], q[3 * i + 1]
            d, nx, ny, _bend = nearest(tools.rows, tools.first[k], tools.first[k + 1], x - ox, y - oy)
            x0, y0 = old.q[3 * i], old.q[3 * i + 1]
            d0, _nx, _ny, _bend = nearest(tools.rows, tools.first[k], tools.first[k + 1], x0 - ox + mx, y0 - oy + my)
            tx, ty = ny, -nx
            fx, fy = load * nx + drag * tx, load * ny + drag * ty
            push[k, 0] += fx
            push[k, 1] += fy
            outer[3 * i] -= fx
            outer[3 * i + 1] -= fy
            slip = (x - x0 - mx) * tx + (y - y0 - my) * ty
            ledger[2] -= 0.5 * (drag + tools.drag[k, i]) * slip
            ledger[6] += 0.5 * (load0 + load) * (d0 - d)
            ledger[7] = max(ledger[7], old.half[i] - d)


@compiled
def accept(
    old: Sheet,
    tools: Tooling,
    drive: Drive,
    metal: Vector,
    law: Vector,
    q: Vector,
    g: Vector,
    system: System,
    new: Sheet,
    push: Matrix,
    outer: Vector,
    held: Vector,
    resultant: Vector,
    ledger: Vector,
) -> None:
    """Accept the equilibrium (q, g) that `system` was last assembled at.

    push (k, 2), outer (3 n,), held (3 n,), resultant (5,) hold tool forces, nodal loads with reactions, forces of the
    hold, and resultants of the last state and are brought up to date, as is the ledger (8,).
    """
    n = q.shape[0]
    fresh_push, fresh_outer = np.zeros((push.shape[0], 2)), np.zeros(n)
    for i in range(n):
        fresh_outer[i] = system.inner[i]
    accept_contact(old, tools, q, g, system, fresh_push, fresh_outer, ledger)
    work = 0.0
    for i in range(n):
        work += 0.5 * (outer[i] + fresh_outer[i]) * (q[i] - old.q[i])
    for i in range(old.area.shape[0]):
        for a in (3 * i, 3 * i + 1):
            # the hold is no outer load, though it stands in inner minus contact as if it were one
            pull = 0.0 if drive.fixed[a] else drive.hold * old.area[i] * (q[a] - old.q[a])
            fresh_outer[a] += pull
            work += 0.5 * pull * (q[a] - old.q[a])
            ledger[3] += 0.5 * (held[a] + pull) * (q[a] - old.q[a])
            held[a] = pull
    for k in range(push.shape[0]):
        mx, my = tools.moved[k, 0], tools.moved[k, 1]
        if k == tools.driven:
            mx += tools.toward[0] * (g[3] - old.g[3])
            my += tools.toward[1] * (g[3] - old.g[3])
        work += 0.5 * (push[k, 0] + fresh_push[k, 0]) * mx + 0.5 * (push[k, 1] + fresh_push[k, 1]) * my
    accept_layers(old, drive, metal, law, q, g, new, ledger)
    fresh = resultants(new)
    for k in range(3):
        work += 0.5 * (resultant[k] + fresh[k]) * (g[k] - old.g[k])
        resultant[k] = fresh[k]
    resultant[3] = system.balance[3] + drive.pull[3]
    resultant[4] = g[4]
    ledger[0] += work
    for k in range(push.shape[0]):
        push[k, 0], push[k, 1] = fresh_push[k, 0], fresh_push[k, 1]
    put(outer, fresh_outer)
