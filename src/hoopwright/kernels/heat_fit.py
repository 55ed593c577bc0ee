"""Absorption learnt from the shop's own sections, with its uncertainty and what cannot be learnt. mm, s, W.

Damped Gauss-Newton on priors and readings together. Priors: ln Ac N(ln 0.35, 0.30), ln Ak N(ln 0.70, 0.20), ln cd
N(ln 0.37, 0.30), fsk N(0.30, 0.15) (assumed). Deviation of a reading: sqrt(0.03^2 + (0.05 max(|y|, 0.2))^2) mm.
A parameter whose posterior deviation exceeds 0.7 of its prior is not learnt. The fit swallows faults of the card
(conductivity, latent heat): what it gives is an effective absorption with that card, and chi-square cannot warn.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import InputError, require_finite
from hoopwright.kernels.heat_absorbed import Absorption, Section, Shot, section_of
from hoopwright.kernels.heat_metal import HeatMetal

Array = NDArray[np.float64]

NAMES: Final = ("conduction absorptivity", "keyhole absorptivity", "column factor", "face share")
PRIOR_MEAN: Final = (math.log(0.35), math.log(0.70), math.log(0.37), 0.30)
PRIOR_SD: Final = (0.30, 0.20, 0.30, 0.15)
NOT_LEARNT: Final = 0.7
STEP: Final = 0.03
ROUNDS: Final = 9


@dataclass(frozen=True, slots=True)
class Learnt:
    """One parameter. value : as used; deviation : posterior sd (of the logarithm but for the face share); ratio : over
    the prior's. learnt : whether the sections say anything of it."""

    name: str
    value: float
    deviation: float
    ratio: float

    @property
    def learnt(self) -> bool:
        """Posterior narrower than 0.7 of the prior."""
        return self.ratio <= NOT_LEARNT


@dataclass(frozen=True, slots=True, eq=False)
class AbsorptionFit:
    """Posterior. mean : ln Ac, ln Ak, ln cd, fsk, shape (4,); covariance (4, 4); information : of the data alone, in
    units of the prior, shape (4, 4); chi2 of the readings, number of them."""

    mean: Array
    covariance: Array
    information: Array
    chi2: float
    readings: int

    @property
    def absorption(self) -> Absorption:
        """The posterior mean as the kernels take it."""
        return absorption_of(self.mean)

    @property
    def parameters(self) -> tuple[Learnt, ...]:
        """Each parameter with its uncertainty."""
        deviations = np.sqrt(np.diag(self.covariance))
        values = (*np.exp(self.mean[:3]), self.mean[3])
        return tuple(
            Learnt(name, float(v), float(s), float(s) / p)
            for name, v, s, p in zip(NAMES, values, deviations, PRIOR_SD, strict=True)
        )

    @property
    def not_learnt(self) -> tuple[str, ...]:
        """Names of the parameters that rest on the prior."""
        return tuple(p.name for p in self.parameters if not p.learnt)


def absorption_of(theta: Array) -> Absorption:
    """Parameters as the kernels take them; the face share held between 0 and 1, Ak and Ac at most 1. [1]"""
    conduction, keyhole, column = np.exp(theta[:3])
    return Absorption(
        min(float(conduction), 1.0), min(float(keyhole), 1.0), float(column), float(np.clip(theta[3], 0.0, 1.0))
    )


def reading_deviation(value: float) -> float:
    """Standard deviation of a width or depth read off a section. [mm]"""
    return math.hypot(0.03, 0.05 * max(abs(value), 0.2))


def fit_absorption(sections: Sequence[tuple[Shot, Section]], metal: HeatMetal) -> AbsorptionFit:
    """Posterior of the absorption from sections.

    Raises
    ------
    InputError
        No section; a reading that is no number, a face width not above 0, a missing depth beyond the thickness.
    """
    if not sections:
        raise InputError("sections", "none", "", "at least one", "cut and measure one section")
    shots = [shot for shot, _ in sections]
    y = np.array([v for shot, s in sections for v in _checked(shot, s)])
    weight = 1.0 / np.array([reading_deviation(v) for v in y])
    prior, spread = np.array(PRIOR_MEAN), np.array(PRIOR_SD)

    def model(theta: Array) -> Array:
        found = absorption_of(theta)
        made = [section_of(shot, found, metal) for shot in shots]
        return np.array([v for s in made for v in (s.face, s.root)])

    def cost(theta: Array, read: Array) -> float:
        return float((((y - read) * weight) ** 2).sum() + (((theta - prior) / spread) ** 2).sum())

    theta, damping = prior.copy(), 1e-3
    now = model(theta)
    value = cost(theta, now)
    for _ in range(ROUNDS):
        jacobian = _jacobian(model, theta) * weight[:, None]
        normal = jacobian.T @ jacobian + np.diag(spread**-2)
        slope = jacobian.T @ ((y - now) * weight) - (theta - prior) / spread**2
        for _ in range(6):
            move = np.linalg.solve(normal + damping * np.diag(np.diag(normal)), slope)
            tried = theta + move
            read = model(tried)
            if (reached := cost(tried, read)) < value:
                theta, now, value, damping = tried, read, reached, 0.3 * damping
                break
            damping = max(10.0 * damping, 1e-3)
        else:
            break
        if np.abs(move / spread).max() < 1e-3:
            break
    jacobian = _jacobian(model, theta) * weight[:, None]
    information = jacobian.T @ jacobian
    covariance: Array = np.linalg.inv(information + np.diag(spread**-2)).astype(np.float64)
    chi2 = float((((y - now) * weight) ** 2).sum())
    scaled = information * np.outer(spread, spread)
    return AbsorptionFit(theta, covariance, scaled, chi2, y.size)


def _jacobian(model: Callable[[Array], Array], theta: Array) -> Array:
    columns = []
    for k in range(theta.size):
        step = np.zeros(theta.size)
        step[k] = STEP
        columns.append((model(theta + step) - model(theta - step)) / (2.0 * STEP))
    return np.column_stack(columns)


def _checked(shot: Shot, section: Section) -> tuple[float, float]:
    face, root = require_finite("face width", section.face, "mm"), require_finite("root width", section.root, "mm")
    if face <= 0.0:
        raise InputError("face width", face, "mm", "above 0", "measure the bead on the face")
    if root < -shot.thickness:
        must = f"{-shot.thickness:g} or more: minus the missing depth"
        raise InputError("root width", root, "mm", must, "enter the depth that is not melted, with a minus")
    return face, root
