"""Angle across a seam and the shape it gives a closed hoop. mm, rad.

Prior phi = kp (s/wm) (w_face - w_root)/t, kp lognormal (ln 0.5, 0.6), assumed; the face side closes; kp is learned per
fixture. An elastic inextensional ring with a kink phi takes radial harmonics, all crests at the seam:

    a_n = phi R/(pi (n^2 - 1)),  n >= 2;   peak 3 phi R/(4 pi)

(derived; tests/exact/test_seam_exact.py sums the series). Flats of length f on each end act as phi = -2 f/R.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import InputError, require_finite, require_positive

Array = NDArray[np.float64]

KP_MEDIAN: Final = 0.5
KP_LOG_SD: Final = 0.6
READING_LOG_SD: Final = 0.25
"""Weld to weld and gauge together, as logarithm; assumed."""


@dataclass(frozen=True, slots=True)
class KinkEstimate:
    """Kink found in a trace. angle, angle_sd [rad]; handling : free second harmonic, cosine and sine [mm]."""

    angle: float
    angle_sd: float
    handling: tuple[float, float]


def kink_angle(shrinkage: float, face: float, root: float, thickness: float, factor: float = KP_MEDIAN) -> float:
    """Angle a weld leaves [rad], face side closing; widths, shrinkage and thickness [mm]."""
    require_positive("face width", face, "mm")
    require_positive("sheet thickness", thickness, "mm")
    mean = 0.5 * (face + max(root, 0.0))
    return factor * shrinkage / mean * (face - max(root, 0.0)) / thickness


def flats_angle(flat: float, radius: float) -> float:
    """Angle that stands for flats of length f on each strip end [rad]; f and R [mm]."""
    return -2.0 * flat / require_positive("hoop radius", radius, "mm")


def kink_harmonic(order: int, angle: float, radius: float) -> float:
    """Amplitude [mm] of a radial harmonic of a hoop of radius R [mm] with a kink [rad]; order 2 or more."""
    if order < 2:
        raise InputError("harmonic", order, "", "2 or more", "size is order 0, place is order 1")
    return angle * radius / (math.pi * (order * order - 1))


def kink_peak(angle: float, radius: float) -> float:
    """How far the hoop stands out at the seam [mm]: the sum of all harmonics."""
    return 3.0 * angle * radius / (4.0 * math.pi)


def bridge_reading(angle: float, length: float) -> float:
    """Reading of a three-point gauge of length L [mm] set over the kink [mm]."""
    return angle * length / 4.0


def estimate_kink(theta: Array, deviation: Array, radius: float, top: int = 8) -> KinkEstimate:
    """Kink of a trace by least squares on harmonics 2 to `top`, its shape fixed, with a free harmonic 2 (handling).

    theta : [rad] from the seam, shape (n,). deviation : radial [mm], shape (n,).

    Raises
    ------
    InputError
        Fewer than 2 top + 1 readings.
    """
    if theta.size != deviation.size or theta.size < 2 * top + 1:
        must = f"at least {2 * top + 1} angles and as many deviations"
        raise InputError("trace", theta.size, "readings", must, "read more places round the hoop")
    require_finite("deviation", float(np.abs(deviation).sum()), "mm")
    shape = sum(kink_harmonic(n, 1.0, radius) * np.cos(n * theta) for n in range(2, top + 1))
    basis = np.column_stack(
        [shape, np.cos(2 * theta), np.sin(2 * theta), np.ones_like(theta), np.cos(theta), np.sin(theta)]
    )
    found, *_ = np.linalg.lstsq(basis, deviation, rcond=None)
    left = deviation - basis @ found
    freedom = theta.size - basis.shape[1]
    spread = float(left @ left) / freedom * float(np.linalg.inv(basis.T @ basis)[0, 0])
    return KinkEstimate(float(found[0]), math.sqrt(spread), (float(found[1]), float(found[2])))


def learned_angle_factor(angles: Sequence[float], unit_angles: Sequence[float]) -> tuple[float, float]:
    """Posterior median of kp and its deviation as logarithm [1] from angles read [rad] and those of factor 1 [rad].

    Raises
    ------
    InputError
        Lists that do not match, an angle not above 0: the face side is the one that closes.
    """
    if len(angles) != len(unit_angles):
        raise InputError("angles", len(angles), "", f"{len(unit_angles)}, one for each weld", "give one of each")
    weight, pull = KP_LOG_SD**-2, math.log(KP_MEDIAN) * KP_LOG_SD**-2
    for read, unit in zip(angles, unit_angles, strict=True):
        ratio = require_positive("angle across the seam", read, "rad") / require_positive(
            "angle of factor 1", unit, "rad"
        )
        weight += READING_LOG_SD**-2
        pull += math.log(ratio) * READING_LOG_SD**-2
    return math.exp(pull / weight), weight**-0.5
