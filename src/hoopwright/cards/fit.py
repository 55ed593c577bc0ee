"""Flow curve constants: solved exactly from three figures, or fitted to points by least squares.

Stresses in MPa. A plastic strain p is natural; the engineering stress at p is s(p) exp(-p), the elastic part left out
(as in `kernels.flow.tensile_strength`), so a law meets a card when

    s(0.002) exp(-0.002) = proof stress,   s(pu) exp(-pu) = tensile strength,   s'(pu) = s(pu)

with pu the uniform strain (Considere, *Annales des Ponts et Chaussees* 9, 1885; the last line is the maximum of force).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from hoopwright.cards.alloy_words import LAW_CONSTANTS
from hoopwright.errors import InputError, NotConverged, require_positive

PROOF_STRAIN = 0.002


@dataclass(frozen=True, slots=True)
class LawFit:
    """Constants of a law by name, their standard errors, and the root mean square misfit.

    `errors` is empty and `rms_MPa` zero for a law solved exactly.
    """

    law: str
    constants: dict[str, float]
    errors: dict[str, float]
    rms_MPa: float
    points: int


def solve_law(law: str, proof_MPa: float, strength_MPa: float, uniform_log: float) -> LawFit:
    """Constants of a law that meets proof stress, tensile strength and uniform strain exactly.

    Parameters
    ----------
    law : str
        "swift", "voce" or "ludwik".
    proof_MPa, strength_MPa : float
        0.2 % proof stress and tensile strength (engineering). [MPa]
    uniform_log : float
        Uniform plastic strain, natural.

    Raises
    ------
    InputError
        The three figures cannot belong to one tensile test, or the law cannot meet them.

    Examples
    --------
    >>> fit = solve_law("swift", 376.0, 783.0, 0.3646)
    >>> [round(fit.constants[name], 3) for name in ("K_MPa", "e0_log", "n")]
    [1628.189, 0.02, 0.385]
    """
    proof = require_positive("proof stress", proof_MPa, "MPa")
    strength = require_positive("tensile strength", strength_MPa, "MPa")
    uniform = require_positive("uniform strain", uniform_log, "log")
    if proof >= strength:
        remedy = "check which is which; a sheet that necks at yield has no first-loading curve"
        raise InputError("proof stress", proof, "MPa", f"below the tensile strength {strength:g} MPa", remedy)
    if uniform <= PROOF_STRAIN:
        raise InputError("uniform strain", uniform, "log", "above 0.002", "enter the uniform elongation of the test")
    solver = {"swift": _solve_swift, "voce": _solve_voce, "ludwik": _solve_ludwik}.get(law)
    if solver is None:
        raise InputError("law", law, "", "swift, voce or ludwik", "take one of these")
    at_proof = proof * math.exp(PROOF_STRAIN)
    at_neck = strength * math.exp(uniform)
    constants = solver(at_proof, at_neck, uniform)
    return LawFit(law, dict(zip(LAW_CONSTANTS[law], constants, strict=True)), {}, 0.0, 3)


def _solve_swift(at_proof: float, at_neck: float, uniform: float) -> tuple[float, float, float]:
    """Swift necks at n - e0; one unknown is left, e0."""
    wanted = math.log(at_proof / at_neck)

    def misfit(log_offset: float) -> float:
        offset = math.exp(log_offset)
        share = (offset + PROOF_STRAIN) / (offset + uniform)
        return (offset + uniform) * math.log(share) - wanted

    offset = math.exp(_root("Swift", misfit, math.log(1e-7), math.log(1e3)))
    exponent = offset + uniform
    return at_neck / exponent**exponent, offset, exponent


def _solve_voce(at_proof: float, at_neck: float, uniform: float) -> tuple[float, float, float]:
    """Voce: Q b exp(-b pu) = s(pu); one unknown is left, b."""

    def misfit(log_rate: float) -> float:
        rate = math.exp(log_rate)
        rise = at_neck / rate * math.exp(rate * uniform)
        return at_neck + rise * (math.exp(-rate * uniform) - math.exp(-rate * PROOF_STRAIN)) - at_proof

    rate = math.exp(_root("Voce", misfit, math.log(1e-3), math.log(50.0 / uniform)))
    rise = at_neck / rate * math.exp(rate * uniform)
    initial = at_neck - rise * (1.0 - math.exp(-rate * uniform))
    if initial <= 0.0:
        raise _cannot_meet("Voce")
    return initial, rise, rate


def _solve_ludwik(at_proof: float, at_neck: float, uniform: float) -> tuple[float, float, float]:
    """Ludwik: K n pu^(n-1) = s(pu); one unknown is left, n, not below pu where s0 is zero."""

    def misfit(exponent: float) -> float:
        share = math.pow(PROOF_STRAIN / uniform, exponent)
        return at_neck * (1.0 - uniform / exponent * (1.0 - share)) - at_proof

    exponent = _root("Ludwik", misfit, uniform, 50.0)
    strength = at_neck * uniform ** (1.0 - exponent) / exponent
    return max(at_neck * (1.0 - uniform / exponent), 0.0), strength, exponent


def _cannot_meet(law: str) -> InputError:
    return InputError(
        "flow curve",
        "proof stress, tensile strength and uniform strain",
        "",
        f"such that a {law} curve can meet them",
        "check the three figures against one test, or take another law",
    )


def _root(law: str, misfit: Callable[[float], float], low: float, high: float) -> float:
    """Root between two ends by bisection."""
    at_low, at_high = misfit(low), misfit(high)
    if at_low == 0.0:
        return low
    if at_low * at_high > 0.0:
        raise _cannot_meet(law)
    for _ in range(200):
        middle = 0.5 * (low + high)
        at_middle = misfit(middle)
        if at_middle == 0.0 or high - low <= 4e-16 * max(abs(low), abs(high)):
            return middle
        if at_low * at_middle < 0.0:
            high = middle
        else:
            low, at_low = middle, at_middle
    return 0.5 * (low + high)


def fit_law(law: str, strain_log: Sequence[float], stress_MPa: Sequence[float]) -> LawFit:
    """Constants of a law fitted to points of plastic strain and true stress by least squares in stress.

    Parameters
    ----------
    law : str
        "swift", "voce" or "ludwik".
    strain_log, stress_MPa : sequence of float, shape (m,)
        At least four points.

    Returns
    -------
    LawFit
        With standard errors from the curvature at the minimum (independent, equally scattered points) and
        `rms_MPa` = sqrt(sum of squares / m).

    Raises
    ------
    InputError
        Too few points, or points no curve can be fitted to.
    NotConverged
        No start led to a minimum.
    """
    import numpy as np

    from hoopwright.cards.least_squares import fit_starts

    strain = np.asarray(strain_log, dtype=np.float64)
    stress = np.asarray(stress_MPa, dtype=np.float64)
    if strain.shape != stress.shape or strain.ndim != 1 or strain.size < 4:
        raise InputError("points", f"{strain.size}", "", "4 or more pairs of strain and stress", "add points")
    if not (np.all(np.isfinite(strain)) and np.all(np.isfinite(stress))):
        raise InputError("points", "nan or inf among them", "", "finite", "remove the broken points")
    if np.any(strain < 0.0) or np.any(stress <= 0.0):
        raise InputError("points", "below 0", "", "strain 0 or more, stress above 0", "remove the broken points")
    if law not in ("swift", "voce", "ludwik"):
        raise InputError("law", law, "", "swift, voce or ludwik", "take one of these")
    best = fit_starts(law, strain, stress)
    if best is None:
        raise NotConverged(
            f"No {law} curve was found for these points.", None, "take another law, or look at the points"
        )
    values, errors, rms = best
    names = LAW_CONSTANTS[law]
    return LawFit(
        law,
        dict(zip(names, values, strict=True)),
        dict(zip(names, errors, strict=True)),
        rms,
        int(strain.size),
    )


def reduction_strain(reduction_pct: float) -> float:
    """Equivalent strain of a thickness reduction by flat rolling in plane strain, 2/sqrt(3) ln(1/(1-r)).

    Examples
    --------
    >>> round(reduction_strain(30.0), 4)
    0.4119
    """
    if not 0.0 <= reduction_pct < 100.0:
        raise InputError("reduction", reduction_pct, "pct", "from 0 to below 100", "enter the thickness reduction")
    return 2.0 / math.sqrt(3.0) * math.log(1.0 / (1.0 - reduction_pct / 100.0))
