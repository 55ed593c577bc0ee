"""Which law a shop's tests get: the closest by least squares of those that reproduce the tests' own figures."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.cards.curves import Reproduction, fitted_curve, reproduced
from hoopwright.cards.fit import LawFit, fit_law, solve_law
from hoopwright.errors import InputError, NotConverged

Vector = NDArray[np.float64]

LAWS = ("swift", "voce", "ludwik")


@dataclass(frozen=True, slots=True)
class Tried:
    """One law tried: its fit, whether it was solved exactly from the three figures, and how it meets them."""

    fit: LawFit
    exact: bool
    meets: tuple[Reproduction, ...]

    @property
    def ok(self) -> bool:
        """Whether it necks, and every miss is inside its tolerance."""
        return bool(self.meets) and all(one.ok for one in self.meets)


def least_squares_fits(strain: Vector, stress_MPa: Vector) -> list[LawFit]:
    """Swift, Voce and Ludwik on points of plastic strain and true stress, shape (m,) each, closest first."""
    fits = []
    for law in LAWS:
        try:
            fits.append(fit_law(law, strain.tolist(), stress_MPa.tolist()))
        except NotConverged:
            continue
    return sorted(fits, key=lambda fit: fit.rms_MPa)


def exact_fit(proof_MPa: float, strength_MPa: float, uniform_log: float, strain: Vector, stress: Vector) -> LawFit:
    """The Swift law that meets the three figures exactly, with its misfit to the points. Raises InputError."""
    known = solve_law("swift", proof_MPa, strength_MPa, uniform_log).constants
    misfit = known["K_MPa"] * (known["e0_log"] + strain) ** known["n"] - stress
    return LawFit("swift", known, {}, math.sqrt(float(np.mean(misfit**2))), int(strain.size))


def tried(fit: LawFit, exact: bool, proof_MPa: float, strength_MPa: float, uniform_log: float, reach: float) -> Tried:
    """A fit held against the three figures."""
    try:
        return Tried(fit, exact, reproduced(fitted_curve(fit, reach), proof_MPa, strength_MPa, uniform_log))
    except InputError:
        return Tried(fit, exact, ())


def choose(all_tried: list[Tried]) -> Tried:
    """The closest fit that reproduces the figures, an exact one only where no least-squares fit does.

    Raises
    ------
    InputError
        None does.
    """
    ready = [one for one in all_tried if one.ok]
    if not ready:
        raise InputError(
            "flow curve",
            "none that reproduces the tests",
            "",
            "within 5 % of the proof stress, 3 % of the strength and 10 % of the uniform strain",
            "look at the readings, or enter points by hand as a tabulated curve",
        )
    return min(ready, key=lambda one: (one.exact, one.fit.rms_MPa))
