"""Softening of cold-worked strip at the seam: what the card's weld table says, and the stretch the seam can take."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from hoopwright.cards.alloy import Alloy
from hoopwright.cards.limits import HouseLimits
from hoopwright.errors import CardError, InputError, require_positive, require_range
from hoopwright.findings import Band, Check, Figure, Finding, Input, Source, gravest_first, judged
from hoopwright.kernels.flow import SWIFT
from hoopwright.kernels.metal import Metal
from hoopwright.kernels.softening import (
    HELD,
    Swift,
    joint_proof,
    neck_limit,
    rolled_strain,
    seam_strain,
    zone_from_proof,
)
from hoopwright.process.working import reckoned, stated

GAUGE_MM: Final = 50.0
GAUGE: Final = Source("practice", "gauge length of 50 mm assumed for the card's welded coupons; the sheet does not say")
ASKED: Final = Source("given", "entered by the person who asks")
NECKED_SHOWN: Final = 9.99


@dataclass(frozen=True, slots=True)
class SoftZone:
    """Zone widths that the card's welded coupons imply, by cold reduction [pct]; figures and findings of this strip."""

    card_zones_mm: tuple[tuple[float, float], ...]
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]


def plan_soft_zone(
    part: str,
    alloy: Alloy,
    prior_log: float,
    stretch_log: float,
    zone_mm: float,
    limits: HouseLimits,
    gauge_mm: float = GAUGE_MM,
) -> SoftZone:
    """Strength and strain of a seam in strip that was worked before.

    Parameters
    ----------
    prior_log, stretch_log : float
        Plastic strain of the strip before, and what the parent is to be stretched.
    zone_mm : float
        Softened width, by the heat kernel or a hardness traverse.

    Raises
    ------
    InputError, CardError
        A strain or width out of range; a card without a first-loading curve.
    """
    require_range("strain of the strip before the stretch", prior_log, 0.0, 1.0)
    require_range("stretch", stretch_log, 0.0, 1.0)
    require_positive("softened width", zone_mm, "mm")
    first = alloy.flow_curve_first()
    young, poisson = alloy.young_modulus_MPa(), alloy.poisson()
    metal = Metal(first.curve, young.value, poisson.value)
    uniform = alloy.uniform_strain_log()
    prior = stated(f"{part}/weld/strip-strain", "strain of the strip before the stretch", prior_log, "log", ASKED, 4)
    stretch = stated(f"{part}/weld/parent-stretch", "stretch of the parent", stretch_log, "log", ASKED, 4)
    inputs = (prior.as_input("p"), stretch.as_input("e"), Input("law", "first loading", "card", "", first.source))
    free, held = (seam_strain(metal, prior_log, stretch_log, c) if stretch_log else 0.0 for c in (1.0, HELD))
    shown = reckoned(
        f"{part}/weld/seam-strain-free",
        "strain of the seam, free to contract along itself",
        min(free, NECKED_SHOWN),
        "log",
        "seam ( p , e , law )",
        *inputs,
        digits=4,
        band=Band(min(held, NECKED_SHOWN), min(free, NECKED_SHOWN), "held by the parent, to free"),
    )
    neck = reckoned(
        f"{part}/weld/neck-stretch",
        "stretch of the parent at which the seam necks",
        neck_limit(metal, prior_log),
        "log",
        "neck ( p , law )",
        inputs[0],
        inputs[2],
        digits=4,
        band=Band(neck_limit(metal, prior_log), neck_limit(metal, prior_log, HELD), "free, to held by the parent"),
    )
    figures = [prior, stretch, shown, neck]
    zones: tuple[tuple[float, float], ...] = ()
    law = reyield_law(alloy)
    if law is not None:
        zones = card_zones(alloy, law, gauge_mm)
        width = Input("w", "softened width", zone_mm, "mm", ASKED)
        gauge = Input("G", "gauge length", gauge_mm, "mm", GAUGE)
        figures.append(
            reckoned(
                f"{part}/weld/joint-proof",
                f"proof stress of the joint over {gauge_mm:g} mm",
                joint_proof(zone_mm, gauge_mm, prior_log, law),
                "MPa",
                "w ez ( s ) + ( G - w ) ep ( s , p ) = 0.002 G",
                width,
                gauge,
                prior.as_input("p"),
                digits=0,
                note="a number of this gauge length; never compare it with another's",
            )
        )
    return SoftZone(zones, tuple(figures), _findings(part, free, uniform, prior_log, shown, limits))


def reyield_law(alloy: Alloy) -> Swift | None:
    """The card's law for metal strained before, where it has one in Swift's form."""
    if not alloy.has_reyield:
        return None
    kind, *constants = alloy.flow_curve_reyield().curve.law
    return Swift(*constants) if kind == SWIFT else None


def card_zones(alloy: Alloy, law: Swift, gauge_mm: float = GAUGE_MM) -> tuple[tuple[float, float], ...]:
    """Zone width [mm] that each welded row of the card implies, by reduction [pct]; rows that no width gives are
    out.
    """
    try:
        table = alloy.cold_work()
        at = table.columns.index("welded_yield_strength_MPa")
    except (CardError, ValueError):
        return ()
    found = []
    for row in table.rows:
        if row[0] <= 0.0:
            continue
        try:
            found.append((row[0], zone_from_proof(row[at], gauge_mm, rolled_strain(row[0] / 100.0), law)))
        except InputError:
            continue
    return tuple(found)


def _findings(
    part: str, strain: float, uniform: Figure, prior: float, shown: Figure, limits: HouseLimits
) -> tuple[Finding, ...]:
    allowed = limits.seam_strain_share_max.value * uniform.value
    words = "necks" if math.isinf(strain) else f"takes {100.0 * strain:.1f} %"
    checks = (
        (
            Check(
                "the seam takes no more than its share of the uniform strain",
                min(strain, NECKED_SHOWN),
                allowed,
                "<=",
                "log",
                limits.seam_strain_share_max.source,
                "stop",
                "stretch less; or planish the bead; or restore the hoop if all of it clears the grain trap",
                shown.identity,
            ),
            f"The seam {words}; the limit is {100.0 * allowed:.1f} %.",
            "seam-strain",
        ),
        (
            Check(
                "the strip is little worked before it is stretched",
                prior,
                limits.seam_prior_strain_caution_log.value,
                "<=",
                "log",
                limits.seam_prior_strain_caution_log.source,
                "caution",
                "take less depth in the rolls, or test a cross-weld coupon of strip strained as much",
                f"{part}/weld/strip-strain",
            ),
            f"The strip carries {100.0 * prior:.1f} % strain; the seam is its soft spot.",
            "seam-softening",
        ),
    )
    found = [judged(check, sentence, topic) for check, sentence, topic in checks]
    return gravest_first(f for f in found if f is not None)
