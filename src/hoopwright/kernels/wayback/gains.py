"""How much of an error to correct, and where to aim: stop gains against over-correcting, cost of over against short.

Sizes in mm. A stop moved by g times each measured error, part scatter p, gauge m, S2 = p^2 + m^2, drift q per ring:

    rms^2 = p^2 + g S2/(2 - g) + q^2/(g (2 - g)),   best steady g = (-r + sqrt(r^2 + 4 r))/2,  r = q^2/S2
    first rings   g_i = P/(P + S2),  P <- P (1 - g) + q^2   (about 1/(i + S2/P0))
    aim           target - (s^2/2T) ln(C_over/C_short)

References
----------
Derived here; the funnel experiment (Deming) and the harmonic rule (Grubbs 1954) from memory. Checked by simulation and
by a numerical optimum in tests/exact/test_gains_exact.py.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from scipy import special

from hoopwright.errors import InputError, require_finite, require_positive, require_range
from hoopwright.kernels.arrays import whole_count


def steady_rms(gain: float, part: float, gauge: float, drift: float) -> float:
    """Scatter of rings about the target when each error is corrected by `gain` [1]; sizes in mm. [mm]"""
    g = require_range("gain", gain, 0.0, 1.999)
    p, m, q = (require_range(n, v, 0.0, 1e3, "mm") for n, v in (("part", part), ("gauge", gauge), ("drift", drift)))
    if g == 0.0:
        if q > 0.0:
            raise InputError("gain", g, "", "above 0 where the machine drifts", "correct by a small share")
        return p
    s2 = p * p + m * m
    return math.sqrt(p * p + g * s2 / (2.0 - g) + q * q / (g * (2.0 - g)))


def best_steady_gain(part: float, gauge: float, drift: float) -> float:
    """The gain of least scatter [1]; part, gauge, drift per ring in mm."""
    s2 = require_positive("part scatter", part, "mm") ** 2 + require_range("gauge", gauge, 0.0, 1e3, "mm") ** 2
    r = require_range("drift", drift, 0.0, 1e3, "mm") ** 2 / s2
    return 0.5 * (-r + math.sqrt(r * r + 4.0 * r))


def opening_gains(count: int, first_sd: float, part: float, gauge: float, drift: float) -> tuple[float, ...]:
    """Falling gains for the first rings [1]: first error of sd `first_sd` [mm], then what is still unknown."""
    n = whole_count("rings", count, 1, 10_000)
    s2 = require_positive("part scatter", part, "mm") ** 2 + require_range("gauge", gauge, 0.0, 1e3, "mm") ** 2
    unknown = require_positive("first uncertainty", first_sd, "mm") ** 2
    gains = []
    for _ in range(n):
        g = unknown / (unknown + s2)
        gains.append(g)
        unknown = unknown * (1.0 - g) + drift * drift
    return tuple(gains)


def same_ring_gain(unknown_sd: float, gauge: float) -> float:
    """Share of a ring's own error to correct at its next hit [1]: only gauge noise stands against it. mm"""
    p = require_positive("uncertainty", unknown_sd, "mm") ** 2
    return p / (p + require_range("gauge", gauge, 0.0, 1e3, "mm") ** 2)


@dataclass(frozen=True, slots=True)
class Landing:
    """offset : aim less target. over, short : chance of each [1]. loss : in units of one short ring. mm"""

    offset: float
    over: float
    short: float
    loss: float


def aim(landing_sd: float, tolerance: float, cost_ratio: float, last_hit: bool = False) -> Landing:
    """Aim by the cost of over against short, tolerance +-T [mm]; on the last hit short is as bad as over."""
    s, t = require_positive("landing sd", landing_sd, "mm"), require_positive("tolerance", tolerance, "mm")
    ratio = 1.0 if last_hit else require_range("cost of over against short", cost_ratio, 1.0, 1e6)
    offset = -s * s / (2.0 * t) * math.log(ratio)
    over = float(special.ndtr((offset - t) / s))
    short = float(special.ndtr((-t - offset) / s))
    return Landing(offset, over, short, ratio * over + short)


def stop_change(
    wanted: float, half_angle_rad: float, segments: int, hardening_share: float = 0.0, girth: bool = True
) -> float:
    """Pin stop for a wanted change of the free diameter [mm]: wanted / (2 tan a (sin b/b) (1 - Et/E)).

    `girth` False takes the diameter across segment middles (the hand method). hardening_share is Et/E [1].
    """
    w = require_finite("wanted change", wanted, "mm")
    a = require_range("half angle", half_angle_rad, 1e-3, 1.2, "rad")
    share = require_range("hardening share", hardening_share, 0.0, 0.9)
    b = math.pi / whole_count("segments", segments, 2, 400)
    factor = math.sin(b) / b if girth else 1.0
    return w / (2.0 * math.tan(a) * factor * (1.0 - share))
