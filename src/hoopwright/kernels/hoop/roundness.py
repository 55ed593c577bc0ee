"""Roundness of a closed outline: centre, waves, peak to valley, lobes and flats. mm, rad.

Radii are joined by a periodic cubic spline over the polar angle about the centre; waves are its Fourier sums over
evenly spaced angles. The centre is where wave 1 vanishes, which to first order is the least-squares centre.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import CubicSpline

from hoopwright.kernels.flow import Vector

SAMPLES = 4096


@dataclass(frozen=True, slots=True, eq=False)
class Outline:
    """An outline about its centre: angle, radius of the points (n,), rising angle from -pi; `order` sorts the points
    given; even : radius at `SAMPLES` even angles from 0; wave : complex sums, wave[m] = a_m exp(-i m phase) for m
    above 0."""

    centre: tuple[float, float]
    order: NDArray[np.int64]
    angle: Vector
    radius: Vector
    even: Vector
    wave: NDArray[np.complex128]

    @property
    def peak_to_valley(self) -> float:
        """Largest less smallest radius of points and samples. [mm]"""
        return float(max(self.even.max(), self.radius.max()) - min(self.even.min(), self.radius.min()))

    def amplitudes(self, orders: NDArray[np.int64]) -> Vector:
        """Amplitudes of waves. [mm]"""
        return np.abs(self.wave[orders])

    def phases(self, orders: NDArray[np.int64]) -> Vector:
        """Angle of a crest of each wave, from 0 to one wave length. [rad]"""
        return (-np.angle(self.wave[orders]) / orders) % (2.0 * math.pi / orders)

    def in_step(self, order: int, angle: float) -> float:
        """Part of a wave whose crest stands at `angle`; below 0 when a trough does. [mm]"""
        return float((self.wave[order] * np.exp(1j * order * angle)).real)

    def at(self, angle: Vector) -> Vector:
        """Radius at angles, straight between samples. [mm]"""
        step = 2.0 * math.pi / SAMPLES
        return np.interp(angle % (2.0 * math.pi), np.arange(SAMPLES + 1) * step, np.append(self.even, self.even[0]))

    def flats(self, slots: Vector, pitch: float) -> Vector:
        """Drop of the radius at each angle of `slots` below the mean of its two shoulders, the largest radii within
        half a pitch to either side. [mm]"""
        away = np.linspace(0.0, 0.5 * pitch, 65)
        left = self.at(slots[:, None] - away).max(axis=1)
        right = self.at(slots[:, None] + away).max(axis=1)
        return 0.5 * (left + right) - self.at(slots)


def _about(x: Vector, y: Vector, centre: tuple[float, float]) -> Outline:
    """Outline about a given centre."""
    u, v = x - centre[0], y - centre[1]
    angle, radius = np.arctan2(v, u), np.hypot(u, v)
    order = np.argsort(angle)
    angle, radius = angle[order], radius[order]
    closed = CubicSpline(np.append(angle, angle[0] + 2.0 * math.pi), np.append(radius, radius[0]), bc_type="periodic")
    even = closed(np.arange(SAMPLES) * (2.0 * math.pi / SAMPLES))
    wave = np.fft.rfft(even) * (2.0 / SAMPLES)
    return Outline(centre, order, angle, radius, even, wave)


def outline_of(x: Vector, y: Vector) -> Outline:
    """Outline of points that lie round a centre in any order, about the centre where wave 1 is less than 1e-9 mm.

    Examples
    --------
    >>> t = np.linspace(0.0, 6.28, 400)
    >>> r = 100.0 + 0.3 * np.cos(3.0 * (t - 0.2))
    >>> found = outline_of(5.0 + r * np.cos(t), r * np.sin(t))
    >>> round(found.centre[0], 4), round(float(abs(found.wave[3])), 4), round(found.peak_to_valley, 4)
    (5.0, 0.3, 0.6)
    """
    centre = (float(x.mean()), float(y.mean()))
    found = _about(x, y, centre)
    for _ in range(8):
        if abs(found.wave[1]) < 1e-9:
            break
        centre = (centre[0] + float(found.wave[1].real), centre[1] - float(found.wave[1].imag))
        found = _about(x, y, centre)
    return found
