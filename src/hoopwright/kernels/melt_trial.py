"""The cheap melt model of trial planning: root and face width at many settings at once. mm, s, W, K.

    r = r0 sqrt(1 + ((z - z0)/zR)^2);  B, S, A as in `heat_absorbed`;  D = 4 r cd ln(1 + exp((B - B1)/4))
    w = (a/v) Y(A P/(k t dT)), line source;  q = D/t - 1
    root = w (1 - exp(-q/qs)) when through, else q t (not below -0.8 t);  face = w + ct r (0.5 + 0.5 S)

Nine parameters, each counted from its prior in units of the prior's deviation (logarithm, but for z0). It is a mean for
a process that corrects it, never a prediction by itself: that is the image series.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.special import k0e, k1e

from hoopwright.kernels.compiled import compiled
from hoopwright.kernels.heat_absorbed import KEYHOLE_INDEX, KEYHOLE_SPREAD, LABEL_A
from hoopwright.kernels.heat_metal import HeatMetal

Array = NDArray[np.float64]

NAMES: Final = (
    "conduction absorptivity",
    "keyhole absorptivity",
    "beam radius in focus",
    "Rayleigh length",
    "focus offset",
    "column factor",
    "column threshold",
    "root opening",
    "face flare",
)
PRIOR_MEAN: Final = (0.40, 0.75, 0.14, 1.5, 0.0, 0.37, 11.4, 0.35, 1.2)
PRIOR_SD: Final = (0.15, 0.10, 0.15, 0.25, 0.35, 0.20, 0.08, 0.25, 0.30)
OFFSET: Final = 4
"""Place of the focus offset: the one parameter that is no logarithm."""


@dataclass(frozen=True, slots=True)
class TrialMetal:
    """Metal and sheet of the trials. k [W/(mm K)], heat [J/(mm3 K)], rise [K] at the melt edge; cold ones for B."""

    thickness: float
    conductivity: float
    heat: float
    rise: float
    cold_heat: float
    cold_diffusivity: float
    liquidus_rise: float


@dataclass(frozen=True, slots=True)
class TrialPrior:
    """Prior of the nine parameters, values and deviations (of the logarithm, focus offset in mm)."""

    mean: tuple[float, ...] = PRIOR_MEAN
    sd: tuple[float, ...] = PRIOR_SD


@dataclass(frozen=True, slots=True, eq=False)
class Melt:
    """Melt at n settings: root or minus missing depth, face [mm], index B, over-penetration q, each shape (n,)."""

    root: Array
    face: Array
    index: Array
    over: Array


def trial_metal(metal: HeatMetal, thickness: float) -> TrialMetal:
    """Constants of the melt model from the card's heat functions; thickness [mm]."""
    melt = metal.melt()
    return TrialMetal(
        thickness, melt.conductivity, melt.heat, melt.rise, metal.cold_heat,
        metal.cold_conductivity / metal.cold_heat, metal.liquidus - metal.start,
    )  # fmt: skip


LOG_LOAD_LOW: Final = -1.0
LOG_LOAD_STEP: Final = 0.004


@cache
def _chords() -> Array:
    """ln Y of the line source on even steps of ln X."""
    rho = np.geomspace(1e-7, 300.0, 4000)
    ratio = k0e(rho) / k1e(rho)
    log_load = math.log(2.0 * math.pi) - np.log(k0e(rho)) - rho * (ratio - 1.0)
    even = LOG_LOAD_LOW + LOG_LOAD_STEP * np.arange(1800)
    found: Array = np.interp(even, log_load, np.log(4.0 * rho * np.sqrt(1.0 - ratio**2)))
    return found


def values_of(unit: Array, prior: TrialPrior) -> Array:
    """Parameters from units of prior deviations, last axis the nine parameters."""
    mean, sd = np.array(prior.mean), np.array(prior.sd)
    safe = np.where(mean > 0.0, mean, 1.0)
    found = safe * np.exp(sd * unit)
    found[..., OFFSET] = mean[OFFSET] + sd[OFFSET] * unit[..., OFFSET]
    return found


def softplus(x: Array) -> Array:
    """ln(1 + exp x). unitless"""
    found: Array = np.logaddexp(0.0, x)
    return found


@compiled
def _softplus(x: float) -> float:
    return x if x > 40.0 else math.log1p(math.exp(x))


@compiled
def _melt(settings: Array, parameters: Array, constants: Array, chords: Array) -> Array:
    """Rows root, face, index, over for every set of parameters (m, 9) and setting (n, 4), shape (m, 4, n)."""
    t, k, heat, melt_rise, cold_heat, cold_a, liquidus_rise = constants
    out = np.empty((parameters.shape[0], 4, settings.shape[0]))
    for m in range(parameters.shape[0]):
        ac, ak, r0, zr, z0, cd, b1, qs, ct = parameters[m]
        for i in range(settings.shape[0]):
            power, speed, focus = settings[i, 0], settings[i, 1], settings[i, 2]
            radius = r0 * math.sqrt(1.0 + ((focus - z0) / zr) ** 2)
            spread = math.sqrt(math.pi * cold_a * speed * radius * radius * radius)
            index = LABEL_A * power / (cold_heat * liquidus_rise * spread)
            keyhole = 1.0 / (1.0 + math.exp(-(index - KEYHOLE_INDEX) / KEYHOLE_SPREAD))
            absorbed = min(ac + (ak - ac) * keyhole, 1.0) * power
            over = 4.0 * radius * cd * _softplus((index - b1) / 4.0) / t - 1.0
            place = (math.log(absorbed / (k * t * melt_rise)) - LOG_LOAD_LOW) / LOG_LOAD_STEP
            place = min(max(place, 0.0), chords.size - 1.001)
            j = int(place)
            width = k / heat / speed * math.exp(chords[j] + (chords[j + 1] - chords[j]) * (place - j))
            out[m, 0, i] = -width * math.expm1(-over / qs) if over > 0.0 else max(over, -0.8) * t
            out[m, 1, i] = width + ct * radius * (0.5 + 0.5 * keyhole)
            out[m, 2, i] = index
            out[m, 3, i] = over
    return out


def _many(settings: Array, parameters: Array, metal: TrialMetal) -> Array:
    constants = np.array(
        [metal.thickness, metal.conductivity, metal.heat, metal.rise, metal.cold_heat, metal.cold_diffusivity,
         metal.liquidus_rise]
    )  # fmt: skip
    return _melt(np.ascontiguousarray(settings), np.ascontiguousarray(parameters), constants, _chords())


def melt_at(settings: Array, parameters: Array, metal: TrialMetal) -> Melt:
    """Melt at settings (power [W], speed [mm/s], focus [mm], gap [mm]), shape (n, 4); parameters, shape (9,)."""
    root, face, index, over = _many(settings, parameters[None], metal)[0]
    return Melt(root, face, index, over)


def penetrating_power(metal: TrialMetal, speed: float, prior: TrialPrior) -> float:
    """Power at which the model as assumed just goes through in focus [W]; speed [mm/s]."""
    radius, cd, b1 = prior.mean[2], prior.mean[5], prior.mean[6]
    index = b1 + 4.0 * math.log(math.expm1(metal.thickness / (4.0 * radius * cd)))
    held = metal.cold_heat * metal.liquidus_rise
    return index * held * math.sqrt(math.pi * metal.cold_diffusivity * speed * radius**3) / LABEL_A


def derivatives(settings: Array, unit: Array, metal: TrialMetal, prior: TrialPrior, step: float = 0.05) -> Array:
    """d(root, face)/d(parameter unit) at settings by central differences, shape (2, n, 9). [mm]"""
    shifted = unit + step * np.concatenate([np.eye(9), -np.eye(9)])
    made = _many(settings, values_of(shifted, prior), metal)[:, :2]
    slopes: Array = np.ascontiguousarray(np.moveaxis((made[:9] - made[9:]) / (2.0 * step), 0, 2))
    return slopes


def fit_melt(
    settings: Array, root: Array, face: Array, root_sd: Array, face_sd: Array, metal: TrialMetal, prior: TrialPrior,
    rounds: int = 6,
) -> Array:  # fmt: skip
    """Most probable parameters in units of prior deviations, shape (9,): Gauss-Newton on root and face [mm]."""
    unit = np.zeros(9)
    y, weight = np.concatenate([root, face]), 1.0 / np.concatenate([root_sd, face_sd])

    def left(at: Array) -> Array:
        made = melt_at(settings, values_of(at, prior), metal)
        return (y - np.concatenate([made.root, made.face])) * weight

    now = left(unit)
    cost = float(now @ now)
    for _ in range(rounds):
        slope = np.concatenate(list(derivatives(settings, unit, metal, prior))) * weight[:, None]
        move = np.linalg.solve(slope.T @ slope + np.eye(9), slope.T @ now - unit)
        for shrink in (1.0, 0.5, 0.25, 0.1):
            tried = np.clip(unit + shrink * move, -4.0, 4.0)
            gone = left(tried)
            reached = float(gone @ gone) + float(tried @ tried)
            if reached < cost:
                break
        else:
            break
        done = cost - reached < 1e-3
        unit, now, cost = tried, gone, reached
        if done:
            break
    return unit
