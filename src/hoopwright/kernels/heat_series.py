"""Moving beam on a sheet: image series, Gaussian beam, power shared between face and a column. mm, s, W, K.

Rise, x > 0 behind the beam, z from the face:

    T - T0 = (P / rho c t) int dtau exp(-((x - v tau)^2 + y^2)/den) / (pi den) Z,   den = 4 a tau + r^2/2
    Z = 1 + 2 sum [fs + (1 - fs) sin(n pi d/t)/(n pi d/t)] exp(-n^2 pi^2 a tau/t^2) cos(n pi z/t)

r beam radius at 1/e2, fs share on the face, d column depth. Short times take three images instead of the series. With
r to 0, fs 0, d = t it is the line source; in a thick plate the point source. Source: Green's function of a sheet with
insulated faces, summed over the beam; tests/exact/test_heat_exact.py. The peak inside the column is fiction
(evaporation is not in it): widths only.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from hoopwright.kernels.compiled import compiled

Array = NDArray[np.float64]

NODES, WEIGHTS = (np.ascontiguousarray(v) for v in np.polynomial.legendre.leggauss(12))
PANELS = 20
SHORT_TIME = 0.08


@compiled
def depth_factor(tau: float, z: float, a: float, t: float, fs: float, d: float) -> float:
    """Z of the sheet at depth z [mm] and age tau [s]; thickness t and column depth d [mm]. [1]"""
    fourier = math.pi * math.pi * a * tau / (t * t)
    if fourier < SHORT_TIME:
        s = math.sqrt(4.0 * a * tau)
        face, column = 0.0, 0.0
        for m in (-1, 0, 1):
            zm = z - 2.0 * m * t
            face += math.exp(-((zm / s) ** 2))
            column += math.erf((zm + d) / s) - math.erf((zm - d) / s)
        return fs * 2.0 * t * face / (math.sqrt(math.pi) * s) + (1.0 - fs) * 0.5 * t / d * column
    total = 1.0
    for n in range(1, 60):
        decay = math.exp(-n * n * fourier)
        if decay < 1e-12:
            break
        angle = n * math.pi * d / t
        total += 2.0 * (fs + (1.0 - fs) * math.sin(angle) / angle) * decay * math.cos(n * math.pi * z / t)
    return total


@compiled
def ages(x_far: float, v: float, a: float, t: float, r: float, fs: float, d: float, z: float, near: float) -> Array:
    """Quadrature in ln tau for one depth: rows age [s], den [mm2], weight Z tau/(pi den) [s/mm2], shape (3, n)."""
    low = math.log(1e-3 * min(0.5 * r * r, near) / a)
    high = math.log(60.0 * a / (v * v) + 6.0 * max(x_far, r) / v + 10.0 * r * r / a)
    half = 0.5 * (high - low) / PANELS
    out = np.empty((3, PANELS * NODES.size))
    k = 0
    for panel in range(PANELS):
        centre = low + (2.0 * panel + 1.0) * half
        for j in range(NODES.size):
            tau = math.exp(centre + half * NODES[j])
            den = 4.0 * a * tau + 0.5 * r * r
            out[0, k], out[1, k] = tau, den
            out[2, k] = half * WEIGHTS[j] * tau * depth_factor(tau, z, a, t, fs, d) / (math.pi * den)
            k += 1
    return out


@compiled
def summed(x: float, v: float, q: Array, side: Array) -> float:
    """Integral over the ages [s/mm2]; side : factor of each age for its distance from the line, shape (n,)."""
    total = 0.0
    for k in range(side.size):
        if side[k] > 0.0:
            gone = (x - v * q[0, k]) ** 2 / q[1, k]
            if gone < 60.0:
                total += side[k] * math.exp(-gone)
    return total


@compiled
def rise(
    x: float, y: float, z: float, load: float, v: float, a: float, t: float, r: float, fs: float, d: float
) -> float:
    """Temperature rise [K] at a place [mm]; load = P/(rho c t) [mm2 K/s]."""
    q = ages(abs(x), v, a, t, r, fs, d, z, x * x + y * y + 0.02 * r * r)
    return load * summed(x, v, q, q[2] * np.exp(-y * y / q[1]))


@compiled
def peak(y: float, load: float, v: float, a: float, r: float, q: Array) -> tuple[float, float]:
    """Largest rise [K] along x at a distance y [mm], and where [mm]; q from `ages` of one depth."""
    side = q[2] * np.exp(-y * y / q[1])
    far = 1.5 * y * y * v / a + 5.0 * r + 6.0 * a / v
    best, at = -1.0, 0
    places = np.empty(15)
    for k in range(15):
        places[k] = -r + (far + r) * (k / 14.0) ** 2
        value = summed(places[k], v, q, side)
        if value > best:
            best, at = value, k
    x1 = places[at]
    x0, x2 = (places[at - 1] if at > 0 else x1 - r), (places[at + 1] if at < 14 else x1 + r)
    f0, f1, f2 = summed(x0, v, q, side), best, summed(x2, v, q, side)
    for _ in range(5):
        bend = (x1 - x0) * (f1 - f2) - (x1 - x2) * (f1 - f0)
        if bend == 0.0:
            break
        x = x1 - 0.5 * ((x1 - x0) ** 2 * (f1 - f2) - (x1 - x2) ** 2 * (f1 - f0)) / bend
        if not x0 < x < x2 or abs(x - x1) < 1e-7:
            break
        f = summed(x, v, q, side)
        if f > f1:
            if x > x1:
                x0, f0 = x1, f1
            else:
                x2, f2 = x1, f1
            x1, f1 = x, f
        elif x > x1:
            x2, f2 = x, f
        else:
            x0, f0 = x, f
    return load * f1, x1


@compiled
def width(target: float, z: float, load: float, v: float, a: float, t: float, r: float, fs: float, d: float) -> float:
    """Width [mm] inside which a rise [K] is passed at depth z [mm]; 0 where it is passed nowhere."""
    far = 40.0 * a / v + 20.0 * r + 3.0 * t
    q = ages(far, v, a, t, r, fs, d, z, 0.02 * r * r)
    inner, f_in = 0.0, math.log(peak(0.0, load, v, a, r, q)[0] / target)
    if f_in <= 0.0:
        return 0.0
    outer = 0.5 * r + 0.2 * t
    f_out = math.log(peak(outer, load, v, a, r, q)[0] / target)
    for _ in range(60):
        if f_out <= 0.0:
            break
        inner, f_in = outer, f_out
        outer *= 1.6
        if 1.5 * outer * outer * v / a + 5.0 * r > far:
            far *= 4.0
            q = ages(far, v, a, t, r, fs, d, z, 0.02 * r * r)
        f_out = math.log(max(peak(outer, load, v, a, r, q)[0], 1e-290) / target)
    for _ in range(60):
        middle = (inner * f_out - outer * f_in) / (f_out - f_in)
        f = math.log(peak(middle, load, v, a, r, q)[0] / target)
        if abs(f) < 1e-7 or outer - inner < 1e-7 * outer:
            return 2.0 * middle
        if f > 0.0:
            inner, f_in = middle, f
            f_out *= 0.5
        else:
            outer, f_out = middle, f
            f_in *= 0.5
    return inner + outer


@compiled
def depth(target: float, load: float, v: float, a: float, t: float, r: float, fs: float, d: float) -> float:
    """Depth [mm] to which a rise [K] is passed on the centre line; t when it goes through."""
    far = 12.0 * a / v + 10.0 * r + 2.0 * t
    low, high = 0.0, t
    for k in range(22):
        z = t if k == 0 else 0.5 * (low + high)
        q = ages(far, v, a, t, r, fs, d, z, 0.02 * r * r)
        hot = peak(0.0, load, v, a, r, q)[0] > target
        if k == 0 and hot:
            return t
        if hot:
            low = z
        elif k > 0:
            high = z
    return 0.5 * (low + high)
