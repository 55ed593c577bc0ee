"""Plastic strain ratio r (ISO 10113) and strain hardening exponent n (ISO 10275); definitions from memory.

r = width strain over thickness strain, both natural and plastic, the thickness strain from constant volume.
n = slope of ln true stress against ln true plastic strain over 10 to 20 % (engineering plastic strain), or to the
uniform elongation where that is less.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from hoopwright.cards.coupons.csv_file import Readings
from hoopwright.cards.coupons.specimen import Specimen
from hoopwright.errors import Fault, FileFaults, InputError, require_positive

Vector = NDArray[np.float64]

R_RANGE_ENG = (0.05, 0.15)
N_RANGE_ENG = (0.10, 0.20)
POISSON = 0.3
"""Only for the elastic part of the width strain: 0.1 of it is 2e-4 of strain at 400 MPa, and r moves by 0.3 %."""


def r_from_lengths(length_before: float, length_after: float, width_before: float, width_after: float) -> float:
    """Plastic strain ratio from gauge length and width before and after a uniform strain, any unit of length.

    Raises
    ------
    InputError
        A length is not above zero, the piece did not get longer, or its thickness did not fall.

    Examples
    --------
    Isotropic sheet narrows as it thins:

    >>> round(r_from_lengths(1.0, 1.21, 1.0, 1.0 / 1.1), 9)
    1.0
    """
    for name, value in (
        ("length before", length_before),
        ("length after", length_after),
        ("width before", width_before),
        ("width after", width_after),
    ):
        require_positive(name, value, "mm")
    along, across = math.log(length_after / length_before), math.log(width_after / width_before)
    if along <= 0.0:
        raise InputError("length after", length_after, "mm", f"above {length_before:g}", "measure the stretched piece")
    return ratio(across / along)


def ratio(slope: float) -> float:
    """r from the slope of width strain against length strain, between -1 and 0."""
    if not -1.0 < slope < 0.0:
        must = "between -1 and 0 (narrower, and thinner)"
        raise InputError("width strain over length strain", f"{slope:.4g}", "", must, "check the width readings")
    return -slope / (1.0 + slope)


def plastic_strain_ratio(
    specimen: Specimen, test: Readings, stress: Vector, strain: Vector, slope: float
) -> tuple[float | None, tuple[str, ...]]:
    """r of a test with width readings, by a line through the origin over 5 to 15 %; None without them.

    Parameters
    ----------
    stress, strain : ndarray, shape (n,)
        Engineering stress [MPa] and strain from zero stress.
    slope : float
        Elastic slope. [MPa]
    """
    if "width_strain" in test.columns:
        name, across = "width_strain", np.log1p(test.columns["width_strain"])
    elif "width" in test.columns:
        name = "width"
        first = specimen.width_mm if specimen.width_mm is not None else float(test.columns["width"][0])
        across = np.log(test.columns["width"] / first)
    else:
        return None, ()
    true = stress * (1.0 + strain)
    along = np.log1p(strain) - true / slope
    across = across + POISSON * true / slope
    low, high = (math.log1p(end) for end in R_RANGE_ENG)
    inside = (along >= low) & (along <= high) & (np.arange(strain.size) <= int(np.argmax(stress)))
    if np.count_nonzero(inside) < 5:
        return None, ("no r-value: fewer than 5 width readings between 5 and 15 %",)
    found = float(np.sum(across[inside] * along[inside]) / np.sum(along[inside] ** 2))
    if not -1.0 < found < 0.0:
        must = "a contraction, smaller than the length strain"
        remedy = "write a contraction with its minus sign, and check the unit"
        shown = f"{found:.4g} of the length strain"
        raise FileFaults(test.path, [Fault(f"column {test.headers[name].text}", shown, "", must, remedy)])
    return ratio(found), (f"r-value over 5 to 15 %, {np.count_nonzero(inside)} readings",)


def hardening_exponent(plastic_strain: Vector, true_stress_MPa: Vector) -> float | None:
    """n over 10 to 20 % plastic strain, or to the last point where that is less; None with fewer than 5 points."""
    low, high = (math.log1p(end) for end in N_RANGE_ENG)
    inside = (plastic_strain >= low) & (plastic_strain <= high)
    if np.count_nonzero(inside) < 5:
        return None
    x, y = np.log(plastic_strain[inside]), np.log(true_stress_MPa[inside])
    return float(np.polyfit(x, y, 1)[0])
