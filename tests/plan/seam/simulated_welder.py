"""Invented welding machines with a hidden good window, written and committed before the planner that they try.

Nothing here imports the planner or its heat kernel: line-source width, depth law and limits stand in their own
words. Four sets, each with its seeds:

main      shapes of the planner's own family, parameters drawn about its priors, four smooth distortions of 9 to 13 %
wide      deviations and distortions twice as large
alien     as wide, and underfill and pores follow smooth random fields that no law of the planner has
hopeless  underfill and pores raised until hardly any machine has a setting that holds its scatter

Settings: power [W], speed [mm/s], focus [mm], gap [mm]. Readings: root width or minus the missing depth [mm], face
width [mm], underfill [mm], log10 of pore area [%], slack of burn-through [1], negative when burnt.
All data invented: scores rank methods and promise no shop anything.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from scipy.special import k0, k1

Array = NDArray[np.float64]
Kind = Literal["main", "wide", "alien", "hopeless"]

SEEDS: dict[str, tuple[int, ...]] = {
    "main": tuple(range(1000, 1200)),
    "wide": tuple(range(3000, 3060)),
    "alien": tuple(range(4000, 4060)),
    "hopeless": tuple(range(5000, 5050)),
}

# N06625 at room temperature for the index, and secant to the melt edge for the width: invented machine, rounded metal
COLD_HEAT, COLD_DIFFUSIVITY, LIQUIDUS_RISE = 3.46e-3, 2.83, 1330.0
CONDUCTIVITY, HEAT, MELT_RISE = 20.4e-3, 5.63e-3, 1300.0
DIFFUSIVITY = CONDUCTIVITY / HEAT

SCATTER = np.array([0.02, 0.01, 0.15, 0.015])
"""One standard deviation: share of the power, share of the speed, focus [mm], gap [mm]."""
READING_SD = np.array([0.04, 0.03, 0.005, 0.10, 0.0])
"""Run to run: share of the root, share of the face, underfill [mm], log10 pores."""
LEAST_ROOT_SD = 0.01

NOMINAL = {"Ac": 0.40, "Ak": 0.75, "r0": 0.14, "zR": 1.5, "cd": 0.37, "B1": 11.4, "qs": 0.35, "ct": 1.2}
DEVIATION = {"Ac": 0.15, "Ak": 0.10, "r0": 0.15, "zR": 0.25, "cd": 0.20, "B1": 0.08, "qs": 0.25, "ct": 0.30}
FOCUS_DEVIATION = 0.35


def _widths() -> tuple[Array, Array]:
    """Widest chord Y = v w / a of the line source against X, from the parametric isotherm."""
    rho = np.geomspace(1e-4, 120.0, 4000)
    # widest point of exp(-xi) K0(rho): d/dxi at constant value gives xi/rho = -K0/K1
    cosine = -k0(rho) / k1(rho)
    xi, eta = rho * cosine, rho * np.sqrt(1.0 - cosine**2)
    load = 2.0 * math.pi / (np.exp(-xi) * k0(rho))
    good = np.isfinite(load)
    return load[good], 4.0 * eta[good]


LOADS, CHORDS = _widths()


def softplus(x: Array) -> Array:
    return np.logaddexp(0.0, x)


class Smooth:
    """A smooth random function on the unit box, standard deviation about 1."""

    def __init__(self, rng: np.random.Generator, terms: int = 6, pitch: float = 0.9) -> None:
        self.wave = rng.normal(0.0, 1.0 / pitch, (terms, 4))
        self.phase = rng.uniform(0.0, 2.0 * math.pi, terms)
        self.size = math.sqrt(2.0 / terms)

    def __call__(self, unit: Array) -> Array:
        return self.size * np.cos(unit @ self.wave.T + self.phase).sum(axis=1)


@dataclass(frozen=True)
class Box:
    """Range of settings that may be tried, shape (4,) each."""

    low: Array
    high: Array

    def unit(self, settings: Array) -> Array:
        return (settings - self.low) / (self.high - self.low)

    def real(self, unit: Array) -> Array:
        return self.low + unit * (self.high - self.low)


class Machine:
    """One hidden machine. `truth` is what it does at exact settings; `weld` makes one trial with scatter and noise."""

    def __init__(self, seed: int, kind: Kind = "main") -> None:
        rng = np.random.default_rng(seed)
        self.kind = kind
        stretch = 1.0 if kind in ("main", "hopeless") else 2.0
        self.t = float(rng.uniform(0.5, 1.2))
        self.p = {k: NOMINAL[k] * math.exp(stretch * DEVIATION[k] * rng.normal()) for k in NOMINAL}
        self.p["Ak"] = min(self.p["Ak"], 0.95)
        self.p["Ac"] = min(self.p["Ac"], 0.9 * self.p["Ak"])
        self.z0 = stretch * FOCUS_DEVIATION * rng.normal()
        self.width_power = 1.0 + 0.05 * stretch * rng.normal()
        self.bend = [stretch * float(rng.uniform(0.09, 0.13)) for _ in range(4)]
        self.waves = [Smooth(rng) for _ in range(4)]
        under = stretch * np.array([0.45, 0.15, 0.1, 0.1]) * rng.normal(size=4)
        self.under = np.array([-0.98, 0.45, 0.25, 0.25]) + under
        self.pores = np.array([-0.72, 1.0, 0.3, 0.2]) + stretch * np.array([0.2, 0.25, 0.1, 0.08]) * rng.normal(size=4)
        self.strange = [Smooth(rng, 8, 0.6) for _ in range(2)]
        self.burn = 1.85 + 0.10 * stretch * rng.normal()
        if kind == "hopeless":
            self.under[0] += 1.45
            self.pores[0] += 0.8
        power = penetrating_power(self.t)
        self.box = Box(np.array([0.5 * power, 10.0, -2.5, 0.0]), np.array([3.0 * power, 80.0, 2.5, 0.15]))
        self.rng = np.random.default_rng(seed + 777_000)
        self.limits = np.array([max(0.3, 0.5 * self.t), 0.9 + 0.9 * self.t, 0.05 * self.t, 0.0])

    def truth(self, settings: Array) -> Array:
        """Readings at exact settings, shapes (n, 4) to (n, 5)."""
        settings = np.atleast_2d(settings)
        power, speed, focus, gap = settings.T
        p, t, unit = self.p, self.t, self.box.unit(settings)
        wave = [1.0 + b * np.clip(w(unit), -2.5, 2.5) for b, w in zip(self.bend, self.waves, strict=True)]
        radius = p["r0"] * np.sqrt(1.0 + ((focus - self.z0) / p["zR"]) ** 2)
        index = 0.40 * power / (COLD_HEAT * LIQUIDUS_RISE * np.sqrt(math.pi * COLD_DIFFUSIVITY * speed * radius**3))
        keyhole = 1.0 / (1.0 + np.exp(-(index - 15.0) / 2.5))
        absorbed = (p["Ac"] + (p["Ak"] - p["Ac"]) * keyhole) * power
        depth = 4.0 * radius * p["cd"] * softplus((index - p["B1"]) / 4.0) * wave[0]
        chord = np.interp(absorbed / (CONDUCTIVITY * t * MELT_RISE), LOADS, CHORDS)
        width = (DIFFUSIVITY / speed * chord) ** self.width_power * wave[1]
        over = depth / t - 1.0
        root = np.where(over > 0.0, width * -np.expm1(-np.maximum(over, 0.0) / p["qs"]), np.maximum(over, -0.8) * t)
        face = width + p["ct"] * radius * (0.5 + 0.5 * keyhole)
        if self.kind == "alien":
            under = -0.75 + 0.9 * self.strange[0](unit) + 0.5 * (gap / 0.06) ** 1.5
            pores = -0.45 + 0.45 * self.strange[1](unit)
        else:
            under = (
                self.under[0]
                + self.under[1] * 10.0 * gap / face
                + self.under[2] * softplus((root / t - 1.3) / 0.15)
                + self.under[3] * softplus((speed - 47.0) / 6.0)
                + 2.0 * (wave[2] - 1.0)
            )
            pores = (
                self.pores[0]
                + self.pores[1] * np.exp(-np.abs(over) / 0.2)
                + self.pores[2] * softplus((index - 41.0) / 5.0)
                + self.pores[3] * softplus((16.0 - speed) / 3.0)
                + (wave[3] - 1.0)
            )
        underfill = self.limits[2] * np.exp(np.clip(under, -6.0, 3.5))
        return np.column_stack([root, face, underfill, np.minimum(pores, 2.0), self.burn - root / t - 3.0 * gap / t])

    def slack(self, readings: Array) -> Array:
        """What each reading leaves to its limit, in its own unit, shape (n, 5); negative fails."""
        root, face, under, pores, burn = readings.T
        return np.column_stack([root - self.limits[0], self.limits[1] - face, self.limits[2] - under, -pores, burn])

    def spread(self, settings: Array) -> Array:
        """One standard deviation of each slack, settings and run to run together, shape (n, 5)."""
        settings = np.atleast_2d(settings)
        now = self.truth(settings)
        run = np.column_stack(
            [
                np.maximum(READING_SD[0] * np.abs(now[:, 0]), LEAST_ROOT_SD),
                READING_SD[1] * now[:, 1],
                np.full(len(now), READING_SD[2]),
                np.full(len(now), READING_SD[3]),
                READING_SD[0] * np.abs(now[:, 0]) / self.t,
            ]
        )
        total = run**2
        for k in range(4):
            step = np.zeros_like(settings)
            step[:, k] = SCATTER[k] * (settings[:, k] if k < 2 else 1.0)
            up, down = settings + step, settings - step
            # a gap is never below nothing
            down[:, 3] = np.maximum(down[:, 3], 0.0)
            total += ((self.slack(self.truth(up)) - self.slack(self.truth(down))) / 2.0) ** 2
        return np.sqrt(total)

    def margin(self, settings: Array) -> Array:
        """Least slack in units of its scatter, shape (n,)."""
        settings = np.atleast_2d(settings)
        return (self.slack(self.truth(settings)) / self.spread(settings)).min(axis=1)

    def inside(self, settings: Array) -> NDArray[np.bool_]:
        """Whether every limit holds at exact settings."""
        return (self.slack(self.truth(settings)) > 0.0).all(axis=1)

    def scattered(self, settings: Array, count: int, rng: np.random.Generator) -> Array:
        """Settings as the machine makes them, shape (count, 4)."""
        made = np.tile(settings, (count, 1))
        noise = rng.normal(size=(count, 4)) * SCATTER
        made[:, :2] *= 1.0 + noise[:, :2]
        made[:, 2:] += noise[:, 2:]
        made[:, 3] = np.maximum(made[:, 3], 0.0)
        return made

    def weld(self, settings: Array, count: int = 1, rng: np.random.Generator | None = None) -> Array:
        """Welds made at a setting: readings with scatter and noise, shape (count, 5)."""
        rng = rng if rng is not None else self.rng
        now = self.truth(self.scattered(np.asarray(settings, dtype=float), count, rng))
        noise = rng.normal(size=(count, 5))
        read = now.copy()
        read[:, 0] += noise[:, 0] * np.maximum(READING_SD[0] * np.abs(now[:, 0]), LEAST_ROOT_SD)
        read[:, 1] *= 1.0 + READING_SD[1] * noise[:, 1]
        read[:, 2] = np.maximum(read[:, 2] + READING_SD[2] * noise[:, 2], 0.0)
        read[:, 3] += READING_SD[3] * noise[:, 3]
        read[:, 4] += READING_SD[0] * np.abs(now[:, 0]) / self.t * noise[:, 4]
        return read

    def passes(self, readings: Array) -> NDArray[np.bool_]:
        """Whether a weld's readings meet every limit."""
        return (self.slack(readings) > 0.0).all(axis=1)

    def yield_share(self, settings: Array, count: int = 2000) -> float:
        """Share of welds at a setting that pass, by drawing them."""
        rng = np.random.default_rng(99)
        return float(self.passes(self.weld(settings, count, rng)).mean())

    def best(self) -> tuple[Array, float]:
        """Setting of the largest true margin, and that margin."""
        rng = np.random.default_rng(5)
        unit = rng.random((6000, 4))
        unit[:1500, 3] = 0.0
        value = self.margin(self.box.real(unit))
        centre, top = unit[np.argmax(value)], float(value.max())
        for reach in (0.15, 0.08, 0.04, 0.02):
            cloud = np.clip(centre + reach * rng.normal(size=(600, 4)), 0.0, 1.0)
            value = self.margin(self.box.real(cloud))
            if value.max() > top:
                centre, top = cloud[np.argmax(value)], float(value.max())
        return self.box.real(centre), top

    def share_inside(self) -> float:
        """Share of the box in which every limit holds."""
        return float(self.inside(self.box.real(np.random.default_rng(6).random((8000, 4)))).mean())


def penetrating_power(t: float) -> float:
    """Power at which the nominal machine just penetrates at 30 mm/s in focus. [W]"""
    radius = NOMINAL["r0"]
    wanted = t / (4.0 * radius * NOMINAL["cd"])
    index = NOMINAL["B1"] + 4.0 * math.log(math.expm1(wanted))
    return index * COLD_HEAT * LIQUIDUS_RISE * math.sqrt(math.pi * COLD_DIFFUSIVITY * 30.0 * radius**3) / 0.40
