"""What trials say of every setting: one process a reading, and the slack each limit leaves. mm, s, W.

Readings: root width (or minus the missing depth), face width, underfill, log10 of pore area in percent, burn-through as
a flag. Constraints in this order: root, face, underfill (as logarithm), pores (log10), burn-through. A burnt trial has
no readings: it enters with large values and wide noise. Slack above 0 passes. Shapes assumed for underfill and pores
are priors of ours; the process corrects them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from hoopwright.kernels.gaussian_process import Choice, Process, fit_process
from hoopwright.kernels.melt_trial import (
    Melt,
    TrialMetal,
    TrialPrior,
    derivatives,
    fit_melt,
    melt_at,
    softplus,
    values_of,
)

Array = NDArray[np.float64]

CONSTRAINTS: Final = ("root width", "face width", "underfill", "pores", "burn-through")
ANISOTROPY: Final = (0.8, 1.0, 1.0, 1.3)
LENGTHS: Final = (0.35, 0.6, 1.0, 1.8)
BURN_OPENING: Final = 1.85
BURN_SD: Final = 0.25
LEAST_ROOT_SD: Final = 0.01

UNDER_MEAN: Final = np.array([-1.0, 0.45, 0.25, 0.25, 0.0, 0.0])
UNDER_SD: Final = np.array([1.0, 0.3, 0.25, 0.25, 0.3, 0.3])
PORE_MEAN: Final = np.array([-0.7, 1.0, 0.3, 0.2, 0.0, 0.0])
PORE_SD: Final = np.array([0.4, 0.6, 0.25, 0.2, 0.3, 0.3])


@dataclass(frozen=True, slots=True)
class WeldLimits:
    """Least root, widest face, deepest underfill [mm], most pores as log10 of area in percent."""

    root: float
    face: float
    underfill: float
    log_pores: float = 0.0


@dataclass(frozen=True, slots=True)
class WeldScatter:
    """One standard deviation: settings (shares of power and speed, focus and gap [mm]) and run to run (shares of root
    and face, underfill [mm], log10 pores)."""

    power: float = 0.02
    speed: float = 0.01
    focus: float = 0.15
    gap: float = 0.015
    root: float = 0.04
    face: float = 0.03
    underfill: float = 0.005
    log_pores: float = 0.10


@dataclass(frozen=True, slots=True, eq=False)
class Trials:
    """Trials made. settings (n, 4): power, speed, focus, gap; readings (n, 4); burnt (n,), whose readings count not."""

    settings: Array
    readings: Array
    burnt: NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Slack:
    """Slack of the five constraints at p settings: mean, doubt of the model, scatter of the machine, each (p, 5)."""

    mean: Array
    doubt: Array
    scatter: Array


@dataclass(frozen=True, slots=True, eq=False)
class Window:
    """Processes fitted to the trials of one machine, metal and sheet. chi2, readings : misfit of root and face."""

    metal: TrialMetal
    prior: TrialPrior
    limits: WeldLimits
    scatter: WeldScatter
    low: Array
    high: Array
    unit: Array
    processes: tuple[Process, Process, Process, Process]
    chi2: float
    readings: int

    def unit_of(self, settings: Array) -> Array:
        """Settings as places in the unit box."""
        found: Array = (settings - self.low) / (self.high - self.low)
        return found

    def slack(self, settings: Array, exact: bool = True) -> Slack:
        """Slack at settings, shape (p, 4); exact : scatter by differences of the means, else a typical one."""
        means, variances = self._predicted(settings)
        mean = self._slacks(settings, means)
        doubt = np.sqrt(variances)
        burn = np.sqrt(BURN_SD**2 + variances[:, 0] / self.metal.thickness**2)
        doubt = np.column_stack([doubt, burn])
        run = self._run_to_run(means)
        if not exact:
            return Slack(mean, doubt, 1.4 * run)
        return Slack(mean, doubt, np.sqrt(run**2 + self._settings_variance(settings)))

    def _settings_variance(self, settings: Array) -> Array:
        s = self.scatter
        steps: tuple[Array | float, ...] = (s.power * settings[:, 0], s.speed * settings[:, 1], s.focus, s.gap)
        shifted = []
        for k, step in enumerate(steps):
            for sign in (1.0, -1.0):
                moved = settings.copy()
                moved[:, k] += sign * step
                if k == 3:
                    moved[:, 3] = np.maximum(moved[:, 3], 0.0)
                shifted.append(moved)
        every = np.concatenate(shifted)
        slacks = self._slacks(every, self._middles(every)).reshape(4, 2, settings.shape[0], 5)
        total: Array = (((slacks[:, 0] - slacks[:, 1]) / 2.0) ** 2).sum(axis=0)
        return total

    def _run_to_run(self, means: Array) -> Array:
        s, root = self.scatter, np.abs(means[:, 0])
        under = np.clip(means[:, 2], -4.0, 1.5)
        # the reading scatters in mm: its share of the logarithm is the secant from here to the limit
        secant = np.where(np.abs(under) < 1e-6, 1.0, under / np.where(under == 0.0, 1.0, np.expm1(under)))
        run_root = np.maximum(s.root * root, LEAST_ROOT_SD)
        return np.column_stack(
            [
                run_root,
                s.face * means[:, 1],
                s.underfill / self.limits.underfill * secant,
                np.full(root.size, s.log_pores),
                s.root * root / self.metal.thickness,
            ]
        )

    def _slacks(self, settings: Array, means: Array) -> Array:
        lim = self.limits
        burn = BURN_OPENING - (means[:, 0] + 3.0 * settings[:, 3]) / self.metal.thickness
        return np.column_stack(
            [means[:, 0] - lim.root, lim.face - means[:, 1], -means[:, 2], lim.log_pores - means[:, 3], burn]
        )

    def _prepared(self, settings: Array) -> tuple[Array, Melt, tuple[tuple[Array, Array], ...]]:
        melt = melt_at(settings, values_of(self.unit, self.prior), self.metal)
        return self.unit_of(settings), melt, bases(settings, self.unit_of(settings), melt, self)

    def _predicted(self, settings: Array) -> tuple[Array, Array]:
        place, _, made = self._prepared(settings)
        found = [p.predict(place, b, m) for p, (b, m) in zip(self.processes, made, strict=True)]
        return np.column_stack([f[0] for f in found]), np.column_stack([f[1] for f in found])

    def _middles(self, settings: Array) -> Array:
        place, _, made = self._prepared(settings)
        return np.column_stack([p.middle(place, b, m) for p, (b, m) in zip(self.processes, made, strict=True)])


def bases(settings: Array, place: Array, melt: Melt, about: Window | _Fitting) -> tuple[tuple[Array, Array], ...]:
    """Linear basis and mean of each reading at settings. unitless but for mm of root and face"""
    slopes = derivatives(settings, about.unit, about.metal, about.prior)
    t, ones = about.metal.thickness, np.ones(settings.shape[0])
    speed, gap = settings[:, 1], settings[:, 3]
    ratio = np.maximum(melt.root, 0.0) / t
    under = np.column_stack(
        [
            ones,
            10.0 * gap / melt.face,
            softplus((ratio - 1.3) / 0.15),
            softplus((speed - 47.0) / 6.0),
            place[:, 0] - 0.5,
            place[:, 1] - 0.5,
        ]
    )
    pores = np.column_stack(
        [
            ones,
            np.exp(-np.abs(melt.over) / 0.2),
            softplus((melt.index - 41.0) / 5.0),
            softplus((16.0 - speed) / 3.0),
            place[:, 0] - 0.5,
            place[:, 1] - 0.5,
        ]
    )
    zero = np.zeros(settings.shape[0])
    return (
        (slopes[0], melt.root - slopes[0] @ about.unit),
        (slopes[1], melt.face - slopes[1] @ about.unit),
        (under, zero),
        (pores, zero),
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Fitting:
    unit: Array
    metal: TrialMetal
    prior: TrialPrior


def fit_window(
    trials: Trials, metal: TrialMetal, limits: WeldLimits, scatter: WeldScatter, low: Array, high: Array,
    prior: TrialPrior | None = None,
) -> Window:  # fmt: skip
    """Everything the trials say, as one process a reading over the box from `low` to `high`, shapes (4,)."""
    prior = prior or TrialPrior()
    y, noise = _entered(trials, metal, limits, scatter)
    place = (trials.settings - low) / (high - low)
    noise[:, :2] = np.hypot(noise[:, :2], _settings_noise(trials.settings, metal, prior, scatter))
    unit = fit_melt(trials.settings, y[:, 0], y[:, 1], noise[:, 0], noise[:, 1], metal, prior)
    melt = melt_at(trials.settings, values_of(unit, prior), metal)
    made = bases(trials.settings, place, melt, _Fitting(unit, metal, prior))
    t = metal.thickness
    geometry = (np.zeros(9), np.ones(9))
    plans = (
        (*geometry, Choice(LENGTHS, (0.08, 0.16, 0.3), ANISOTROPY, amplitude_unit=0.5 * t + 0.2)),
        (*geometry, Choice(LENGTHS, (0.08, 0.16, 0.3), ANISOTROPY, amplitude_unit=0.5 * t + 0.3)),
        (UNDER_MEAN, UNDER_SD, Choice(LENGTHS, (0.2, 0.4, 0.8), ANISOTROPY)),
        (PORE_MEAN, PORE_SD, Choice(LENGTHS, (0.12, 0.25, 0.5), ANISOTROPY)),
    )
    found = [
        fit_process(place, y[:, k], noise[:, k], made[k][0], made[k][1], mean, sd, choice)
        for k, (mean, sd, choice) in enumerate(plans)
    ]
    processes = (found[0], found[1], found[2], found[3])
    misfit = found[0].misfit + found[1].misfit
    return Window(metal, prior, limits, scatter, low, high, unit, processes, misfit, 2 * len(trials.burnt))


def _entered(trials: Trials, metal: TrialMetal, limits: WeldLimits, scatter: WeldScatter) -> tuple[Array, Array]:
    """Readings as the processes take them, and their noise, shapes (n, 4) each."""
    y = trials.readings.astype(np.float64).copy()
    under = np.maximum(y[:, 2], 0.15 * limits.underfill)
    noise = np.column_stack(
        [
            np.maximum(scatter.root * np.abs(y[:, 0]), LEAST_ROOT_SD),
            scatter.face * y[:, 1],
            scatter.underfill / under,
            np.full(len(y), scatter.log_pores),
        ]
    )
    y[:, 2] = np.log(under / limits.underfill)
    t, burnt = metal.thickness, trials.burnt
    y[burnt] = (2.1 * t, 1.1 * limits.face, math.log(3.0), 0.3)
    noise[burnt] = (0.5 * t, 0.4 * limits.face, 1.0, 1.0)
    return y, np.maximum(noise, 1e-4)


def _settings_noise(settings: Array, metal: TrialMetal, prior: TrialPrior, s: WeldScatter) -> Array:
    """Scatter of root and face that the settings make, by the melt model as assumed, shape (n, 2). [mm]"""
    values = np.array(prior.mean)
    total = np.zeros((len(settings), 2))
    steps: tuple[Array | float, ...] = (s.power * settings[:, 0], s.speed * settings[:, 1], s.focus)
    for k, step in enumerate(steps):
        pair = []
        for sign in (1.0, -1.0):
            moved = settings.copy()
            moved[:, k] += sign * step
            melt = melt_at(moved, values, metal)
            pair.append(np.column_stack([melt.root, melt.face]))
        total += ((pair[0] - pair[1]) / 2.0) ** 2
    return np.sqrt(total)
