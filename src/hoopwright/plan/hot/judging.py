"""Elastic constraint stress against yield when hot; above yield the part runs on the section kernel."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import CardError, NotConverged, RangeError
from hoopwright.findings import Check, Figure, Finding, weakest
from hoopwright.plan.hot.job import HotPart
from hoopwright.plan.hot.yielding import Led, plastic_figure, yielded

Vector = NDArray[np.float64]

CAUTION_SHARE, YIELD_SHARE = 0.8, 1.0
WORDS = "estimate of elastic constraint stress, axisymmetric, from the temperatures given; not a life"
REMEDY = "lessen the difference of temperature across the weld, or let the joint slide"


def judged_stress(
    part: HotPart, figure: Figure, step: float, free: tuple[Vector, Vector], led: Sequence[Led]
) -> tuple[list[Figure], list[Finding]]:
    """What is to be said of the elastic stress `figure` of a part.

    Parameters
    ----------
    step : the same stress with temperature stepping at the weld. [MPa]
    free, led : the part alone, see `yielded`; used above yield.
    """
    try:
        limit = part.alloy.yield_MPa(part.hottest_degC)
    except (CardError, RangeError) as problem:
        return [], [_unknown(part, figure, problem)]
    check = Check(
        f"{part.id}: elastic constraint stress against yield when hot",
        figure.value,
        CAUTION_SHARE * limit.value,
        "<=",
        "MPa",
        weakest([figure.source, limit.source]),
        "caution",
        REMEDY,
        figure.identity,
        (WORDS,),
    )
    if check.ok:
        return [], []
    share = figure.value / limit.value
    yields = share > YIELD_SHARE
    told, more = _run(part, figure, free, led) if yields else ([], "")
    sentence = (
        f"{part.id}: {figure.value:.0f} MPa of elastic constraint stress, {share:.2f} of the yield of "
        f"{limit.value:.0f} MPa at {part.hottest_degC:g} degC"
        f"{': it yields, the elastic number is no longer a stress' if yields else ''}."
    )
    young = part.alloy.young_modulus_MPa(part.hottest_degC).value
    why = (
        f"{more}elastic it would be {1e2 * figure.value / young:.2f} % of strain each start; {step:.0f} MPa if "
        f"temperature steps at the weld; {WORDS}"
    )
    topic = "constraint-yield" if yields else "constraint"
    return told, [Finding("caution", sentence, REMEDY, figure.identity, topic, why, check, check.source)]


def _run(part: HotPart, figure: Figure, free: tuple[Vector, Vector], led: Sequence[Led]) -> tuple[list[Figure], str]:
    """Plastic strain on the section kernel, and words; words alone where the run stops or the card lacks strength."""
    try:
        told = yielded(part, free, led)
    except (NotConverged, CardError, RangeError) as problem:
        return [], f"the section kernel gives no plastic strain ({str(problem).partition(' Do: ')[0]}); "
    plastic = plastic_figure(f"{figure.identity}-plastic", told, figure)
    walk = ", ".join(f"{100.0 * p:.2f}" for p in told.path)
    words = (
        f"on the section kernel {plastic.value:.2f} % of plastic strain at the first start, at {told.at_mm:.1f} mm "
        f"along the section; after each half cycle {walk} %; "
    )
    return [plastic], words


def _unknown(part: HotPart, figure: Figure, problem: Exception) -> Finding:
    return Finding(
        "caution",
        f"{part.id}: yield at {part.hottest_degC:g} degC is not known.",
        "enter hot tensile rows on a card of your own",
        figure.identity,
        "constraint-yield-unknown",
        str(problem).partition(" Do: ")[0],
    )
