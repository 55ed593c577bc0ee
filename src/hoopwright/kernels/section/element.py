"""The shell element: two nodes, straight, shear-flexible, one point along it, layers through the thickness.

Node unknowns (x, y, angle): x along the axis (or across the strip), y the height (or radius), angle the direction of
travel of the section in the (x, y) plane. A layer lies at zeta to the left of travel. Its fibre lengths are

    A = l - zeta Dangle                          along the section
    B = b0 + kr Y + kz X                         along the hoop or strip,
    Y = ym + zeta cos(am),  X = xm - zeta sin(am)

(revolution is b0 = kz = 0, kr = 1: B is the radius). Strain increments are ln(A/An), ln(B/Bn): principal lines are
material lines, so adding logarithms is exact for any strain. Transverse shear g = wrap(am - chord angle) - offset.
Rod kinematics after Reissner 1972 and Simo and Vu-Quoc 1986 (from memory). Both A and B are linear in zeta, so the sum
over layers needs only three moments of each stiffness. Units mm, N, MPa, rad.
"""

from __future__ import annotations

import math

from hoopwright.kernels.compiled import compiled
from hoopwright.kernels.flow import Vector
from hoopwright.kernels.section.returnmap import return_layer
from hoopwright.kernels.section.shapes import Matrix, Sheet

# Places of the layer sums.
SS0, SS1, SS2, ST0, ST1, ST2, TT0, TT1, TT2, S0, S1, T0, T1, VOLUME = range(14)


@compiled
def layer_sums(
    e: int,
    length: float,
    turn: float,
    fibre: float,
    slope: float,
    warm: float,
    sheet: Sheet,
    metal: Vector,
    law: Vector,
    sums: Vector,
) -> bool:
    """Moments over zeta of stress and tangent of element e, into `sums` (14,).

    length, turn : l and Dangle. fibre, slope : B at the mid-line and dB/dzeta. warm : free thermal strain increment.
    Returns False when a fibre has lost four fifths of its length or grown fivefold in the step.
    """
    for k in range(14):
        sums[k] = 0.0
    last = sheet.share.shape[0] - 1
    # layers keep their place within a step, so free growth of a bend is as much shorter outside as it is longer inside
    warm_s = 0.5 * warm * (sheet.fibre_s[e, 0] + sheet.fibre_s[e, last])
    warm_t = 0.5 * warm * (sheet.fibre_t[e, 0] + sheet.fibre_t[e, last])
    for j in range(last + 1):
        zeta = sheet.share[j] * sheet.thick[e]
        a = length - zeta * turn
        b = fibre + zeta * slope
        ratio_s, ratio_t = a / sheet.fibre_s[e, j], b / sheet.fibre_t[e, j]
        if not (0.2 < ratio_s < 5.0 and 0.2 < ratio_t < 5.0):
            return False
        old = sheet.layers[e, j]
        s, t, _p, _xs, _xt, css, cst, ctt, _ds, _dt = return_layer(
            metal,
            law,
            old[0],
            old[1],
            old[2],
            old[3],
            old[4],
            math.log(ratio_s) - warm_s / sheet.fibre_s[e, j],
            math.log(ratio_t) - warm_t / sheet.fibre_t[e, j],
        )
        w = sheet.weight[e, j]
        ss, st, tt = w * (css - s) / (a * a), w * cst / (a * b), w * (ctt - t) / (b * b)
        ns, nt = w * s / a, w * t / b
        sums[0] += ss
        sums[1] += ss * zeta
        sums[2] += ss * zeta * zeta
        sums[3] += st
        sums[4] += st * zeta
        sums[5] += st * zeta * zeta
        sums[6] += tt
        sums[7] += tt * zeta
        sums[8] += tt * zeta * zeta
        sums[9] += ns
        sums[10] += ns * zeta
        sums[11] += nt
        sums[12] += nt * zeta
        sums[13] += w
    return True


@compiled
def local_element(
    sums: Vector, kr: float, kz: float, ym: float, xm: float, am: float, force: Vector, tangent: Matrix
) -> None:
    """Force (8,) and tangent (8, 8) in the generalised unknowns (l, Dangle, ym, xm, am, b0, kr, kz)."""
    c, s = math.cos(am), math.sin(am)
    h0 = (kr, kz, 0.0, 1.0, ym, xm)
    h1 = (0.0, 0.0, -(kr * s + kz * c), 0.0, c, -s)
    n0, n1 = sums[11], sums[12]
    force[0], force[1] = sums[9], -sums[10]
    tangent[0, 0], tangent[0, 1], tangent[1, 0], tangent[1, 1] = sums[0], -sums[1], -sums[1], sums[2]
    for i in range(6):
        force[2 + i] = n0 * h0[i] + n1 * h1[i]
        cross_l = sums[3] * h0[i] + sums[4] * h1[i]
        cross_d = -(sums[4] * h0[i] + sums[5] * h1[i])
        tangent[0, 2 + i] = tangent[2 + i, 0] = cross_l
        tangent[1, 2 + i] = tangent[2 + i, 1] = cross_d
        for j in range(6):
            tangent[2 + i, 2 + j] = (
                sums[6] * h0[i] * h0[j] + sums[7] * (h0[i] * h1[j] + h1[i] * h0[j]) + sums[8] * h1[i] * h1[j]
            )
    # second derivatives of B
    tangent[4, 4] += n1 * (kz * s - kr * c)
    tangent[2, 6] += n0
    tangent[6, 2] += n0
    tangent[3, 7] += n0
    tangent[7, 3] += n0
    tangent[4, 6] -= n1 * s
    tangent[6, 4] -= n1 * s
    tangent[4, 7] -= n1 * c
    tangent[7, 4] -= n1 * c


@compiled
def element_system(
    e: int,
    sheet: Sheet,
    metal: Vector,
    law: Vector,
    q: Vector,
    g: Vector,
    warm: float,
    sums: Vector,
    reach: int,
    force: Vector,
    tangent: Matrix,
    node_force: Vector,
    node_tangent: Matrix,
) -> bool:
    """Force (9,) and tangent (9, 9) of element e in the unknowns (x1, y1, a1, x2, y2, a2, b0, kr, kz).

    reach : 6 when the globals are held, else 9; unknowns beyond it are left out. force (8,), tangent (8, 8), sums
    (14,) : working arrays. Returns False when the element is distorted beyond use.
    """
    i = 3 * e
    dx, dy = q[i + 3] - q[i], q[i + 4] - q[i + 1]
    length = math.sqrt(dx * dx + dy * dy)
    if not length > 0.0:
        return False
    c, s = dx / length, dy / length
    xm, ym, am = 0.5 * (q[i] + q[i + 3]), 0.5 * (q[i + 1] + q[i + 4]), 0.5 * (q[i + 2] + q[i + 5])
    turn = q[i + 5] - q[i + 2]
    b0, kr, kz = g[0], g[1], g[2]
    slope = kr * math.cos(am) - kz * math.sin(am)
    if not layer_sums(e, length, turn, b0 + kr * ym + kz * xm, slope, warm, sheet, metal, law, sums):
        return False
    local_element(sums, kr, kz, ym, xm, am, force, tangent)
    along = (-c, -s, 0.0, c, s, 0.0)
    across = (s, -c, 0.0, -s, c, 0.0)
    shear = math.atan2(math.sin(am), math.cos(am)) - math.atan2(dy, dx)
    shear = math.atan2(math.sin(shear), math.cos(shear)) - sheet.offset[e]
    stiff = metal[7] * sums[13]
    # every unknown reaches two generalised ones: x and y the length and their mean, an angle the turn and its mean
    one, share = (0, 0, 1, 0, 0, 1, 5, 6, 7), (-c, -s, -1.0, c, s, 1.0, 1.0, 1.0, 1.0)
    two, half = (3, 2, 4, 3, 2, 4, 0, 0, 0), (0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.0, 0.0, 0.0)
    for a in range(reach):
        i1, v1, i2, v2 = one[a], share[a], two[a], half[a]
        node_force[a] = v1 * force[i1] + v2 * force[i2]
        for b in range(a, reach):
            j1, w1, j2, w2 = one[b], share[b], two[b], half[b]
            value = v1 * (tangent[i1, j1] * w1 + tangent[i1, j2] * w2)
            value += v2 * (tangent[i2, j1] * w1 + tangent[i2, j2] * w2)
            node_tangent[a, b] = node_tangent[b, a] = value
    for a in range(6):
        ga = -across[a] / length + (0.5 if a == 2 or a == 5 else 0.0)
        node_force[a] += stiff * shear * ga
        for b in range(6):
            gb = -across[b] / length + (0.5 if b == 2 or b == 5 else 0.0)
            node_tangent[a, b] += force[0] * across[a] * across[b] / length
            bow = (along[a] * across[b] + across[a] * along[b]) / (length * length)
            node_tangent[a, b] += stiff * (ga * gb + shear * bow)
    return True
