"""Plane-stress plasticity of one layer in its two principal directions (s along the section, t along the hoop).

The return runs in the two eigen-directions a = (s + t)/sqrt 2 and b = (s - t)/sqrt 2, in which both the elastic law and
the yield function are diagonal, so that one scalar equation is left (after Simo and Taylor 1986 and Hill 1948, 1950;
from memory). Yield: sqrt(ca xa^2 + cb xb^2) = flow stress, x = stress - back stress, ca = 1/(1 + r),
cb = (1 + 2 r)/(1 + r); r = 1 is von Mises. Back stress after Armstrong and Frederick with modulus H and recovery g.
Units: mm, N, MPa.
"""

from __future__ import annotations

import math

from hoopwright.kernels.compiled import compiled
from hoopwright.kernels.flow import Vector, flow_slope, flow_stress

# Places in the packed metal vector.
YOUNG, POISSON, CA, CB, KINEMATIC, RECOVERY, EXPANSION, SHEAR = range(8)

LayerReturn = tuple[float, float, float, float, float, float, float, float, float, float]


@compiled
def flow_pair(law: Vector, p: float) -> tuple[float, float]:
    """Flow stress and its slope [MPa]; Swift's law with one power instead of two, the others as in `kernels.flow`."""
    if law[0] == 0.0:
        base = law[2] + p
        stress = law[1] * base ** law[3]
        return stress, law[3] * stress / base
    return flow_stress(law, p), flow_slope(law, p)


@compiled
def plastic_increment(
    metal: Vector, law: Vector, p: float, trial_a: float, trial_b: float, xa: float, xb: float, sy: float, hard: float
) -> tuple[float, float, float, float]:
    """Increment of plastic strain that puts the trial stress back on the yield surface.

    sy, hard : flow stress and slope at p. Returns (dp, dF/d(dp), flow stress, slope at p + dp).

    F = phi - flow stress falls from above zero; Newton inside a bracket, halved when a step leaves it. Stops at 1e-10
    of the flow stress.
    """
    ca, cb, h, gam = metal[2], metal[3], metal[4], metal[5]
    ea, eb = metal[0] / (1.0 - metal[1]), metal[0] / (1.0 + metal[1])
    ha, hb = 2.0 * h, 2.0 * h / 3.0
    low, high, dp = 0.0, -1.0, 0.0
    slope = -1.0
    for _ in range(200):
        # products with the four reciprocals, because divisions are what this loop would spend its time on
        keep, per_sy = 1.0 / (1.0 + gam * dp), 1.0 / sy
        m = dp * per_sy
        dm = (1.0 - m * hard) * per_sy
        stiff_a, stiff_b = ca * (ea + ha * keep), cb * (eb + hb * keep)
        da, db = 1.0 / (1.0 + m * stiff_a), 1.0 / (1.0 + m * stiff_b)
        ya, yb = (trial_a - xa * keep) * da, (trial_b - xb * keep) * db
        phi = math.sqrt(ca * ya * ya + cb * yb * yb)
        value = phi - sy
        loss = gam * keep * keep
        dya = (xa * loss - ya * (dm * stiff_a - m * ca * ha * loss)) * da
        dyb = (xb * loss - yb * (dm * stiff_b - m * cb * hb * loss)) * db
        per_phi = 1.0 / phi
        fall = (ca * ya * dya + cb * yb * dyb) * per_phi
        slope = fall - hard
        if abs(value) <= 1e-10 * sy:
            break
        if value > 0.0:
            low = dp
        else:
            high = dp
        if high > 0.0 and high - low <= 1e-15 * high:
            break
        # Newton on 1/phi - 1/flow stress, which is nearly straight in dp
        rise = hard * phi * per_sy - fall * sy * per_phi
        step = dp + value / rise if rise > 0.0 else -1.0
        if high < 0.0:
            dp = step if step > low else 2.0 * low + 1e-6
        else:
            dp = step if low < step < high else 0.5 * (low + high)
        sy, hard = flow_pair(law, p + dp)
    return dp, slope, sy, hard


@compiled
def return_layer(
    metal: Vector, law: Vector, s: float, t: float, p: float, xs: float, xt: float, de_s: float, de_t: float
) -> LayerReturn:
    """Stress after a strain increment of one layer.

    Parameters
    ----------
    metal : packed elastic and hardening figures, see `metal.Metal.vector`, shape (8,).
    law : packed flow law of `kernels.flow`.
    s, t, p, xs, xt : stress, plastic strain and back stress of the last accepted state. [MPa]
    de_s, de_t : increments of logarithmic strain.

    Returns
    -------
    (s, t, p, xs, xt, c_ss, c_st, c_tt, dep_s, dep_t) : new state, consistent tangent [MPa], plastic strain increments.
        The tangent is symmetric but for the recovery term, of which the symmetric part is returned.
    """
    r2 = math.sqrt(0.5)
    ea, eb = metal[0] / (1.0 - metal[1]), metal[0] / (1.0 + metal[1])
    trial_a, trial_b = (s + t) * r2 + ea * (de_s + de_t) * r2, (s - t) * r2 + eb * (de_s - de_t) * r2
    xa, xb = (xs + xt) * r2, (xs - xt) * r2
    ca, cb = metal[2], metal[3]
    na, nb = trial_a - xa, trial_b - xb
    sy, hard = flow_pair(law, p)
    # a layer that sits on the surface and is not strained answers elastically: the first guess of an unloading needs it
    if math.sqrt(ca * na * na + cb * nb * nb) <= sy * (1.0 + 1e-9):
        even, odd = 0.5 * (ea + eb), 0.5 * (ea - eb)
        return (trial_a + trial_b) * r2, (trial_a - trial_b) * r2, p, xs, xt, even, odd, even, 0.0, 0.0
    dp, slope, sy, hard = plastic_increment(metal, law, p, trial_a, trial_b, xa, xb, sy, hard)
    h, gam = metal[4], metal[5]
    ha, hb = 2.0 * h, 2.0 * h / 3.0
    g = 1.0 + gam * dp
    loss = gam / (g * g)
    m = dp / sy
    dm = (1.0 - m * hard) / sy
    stiff_a, stiff_b = ca * (ea + ha / g), cb * (eb + hb / g)
    da, db = 1.0 + m * stiff_a, 1.0 + m * stiff_b
    ya, yb = (trial_a - xa / g) / da, (trial_b - xb / g) / db
    phi = math.sqrt(ca * ya * ya + cb * yb * yb)
    dya = (xa * loss - ya * (dm * stiff_a - m * ca * ha * loss)) / da
    dyb = (xb * loss - yb * (dm * stiff_b - m * cb * hb * loss)) / db
    flow_a, flow_b = m * ca * ya, m * cb * yb
    # d(dp)/d(trial) from F = 0, then the same formulas differentiated
    ga, gb = -ca * ya / (da * phi * slope), -cb * yb / (db * phi * slope)
    qa, qb = ca * (dm * ya + m * dya), cb * (dm * yb + m * dyb)
    caa = ea * (1.0 - ea * (m * ca / da + qa * ga))
    cab = -ea * qa * gb * eb
    cba = -eb * qb * ga * ea
    cbb = eb * (1.0 - eb * (m * cb / db + qb * gb))
    a, b = trial_a - ea * flow_a, trial_b - eb * flow_b
    xa, xb = (xa + ha * flow_a) / g, (xb + hb * flow_b) / g
    mixed = 0.5 * (cab + cba)
    return (
        (a + b) * r2,
        (a - b) * r2,
        p + dp,
        (xa + xb) * r2,
        (xa - xb) * r2,
        0.5 * (caa + cbb) + mixed,
        0.5 * (caa - cbb),
        0.5 * (caa + cbb) - mixed,
        (flow_a + flow_b) * r2,
        (flow_a - flow_b) * r2,
    )
