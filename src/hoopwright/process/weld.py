"""Weld: the butt seam that closes the hoop; what it takes of the length, and how soft it is against worked metal."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hoopwright.errors import InputError, require_finite
from hoopwright.findings import Check, Figure, Finding, judged
from hoopwright.kernels.metal import Metal
from hoopwright.kernels.sizing_weld import weld_necking_limit, weld_strain
from hoopwright.process.seam_numbers import SeamNumbers
from hoopwright.process.shop import ShopCard
from hoopwright.process.step import Step
from hoopwright.process.working import reckoned, stated
from hoopwright.process.workpiece import Harmonic, Seam, Workpiece


@dataclass(frozen=True, slots=True)
class Weld:
    """Settings of the weld.

    shrinkage_mm : strip length the joint consumes. zone_width_mm : softened width. stretch_log : hoop stretch that is
    planned for the parent metal afterwards. restored : whether the hoop is annealed before that. settings : the figures
    the welder reads. seam : angle, mismatch and strength with the rest; its shrinkage and width are those given before.
    figures : what is told of the seam besides.
    """

    theta_deg: float
    shrinkage_mm: float
    zone_width_mm: float
    stretch_log: float
    settings: tuple[Figure, ...] = ()
    restored: bool = False
    seam: SeamNumbers | None = None
    figures: tuple[Figure, ...] = ()

    def __post_init__(self) -> None:
        require_finite("seam angle", self.theta_deg, "deg")
        for name, value in (("weld shrinkage", self.shrinkage_mm), ("softened width", self.zone_width_mm)):
            if require_finite(name, value, "mm") < 0.0:
                raise InputError(name, value, "mm", "0 or more", "enter the loss of length")


def seam_strain(metal: Metal, prior_log: float, stretch_log: float, constraint: float = 1.0) -> float:
    """Strain of a seam without cold work when the parent beside it is stretched; infinite when it necks.

    Parameters
    ----------
    prior_log : float
        Plastic strain in the parent before the stretch; the seam has none.
    stretch_log : float
        Strain that the parent takes.
    constraint : float
        1 where the seam contracts along itself, 2/sqrt3 where the parent holds it.

    Examples
    --------
    >>> from hoopwright.kernels.flow import swift
    >>> round(seam_strain(Metal(swift(1630.0, 0.020, 0.385), 205e3, 0.32), 0.05, 0.02), 3)
    0.087
    """
    if stretch_log <= 0.0:
        return 0.0
    if stretch_log >= weld_necking_limit(metal, constraint, prior_log, 0.0):
        return math.inf
    return weld_strain(metal, stretch_log, constraint, prior_log, 0.0)


def seam_findings(
    workpiece: Workpiece, stretch_log: float, card: ShopCard, restored: bool = False
) -> tuple[tuple[Figure, ...], list[Finding]]:
    """How far the seam will stretch when the ring does, against the house limits."""
    part, limits = workpiece.part, card.limits
    weights = workpiece.weight_mm * workpiece.thickness_mm
    prior = 0.0 if restored else float(weights @ workpiece.plastic_strain.mean(axis=1) / weights.sum())
    strain = seam_strain(card.metal, prior, stretch_log)
    carried = stated(
        f"{part}/weld/prior-strain",
        "plastic strain of the strip beside the weld, mean over the section",
        prior,
        "log",
        card.ground,
        4,
    )
    allowed = limits.seam_strain_share_max.value * card.uniform_strain_log.value
    figure = reckoned(
        f"{part}/weld/seam-strain",
        "strain of the seam when the ring is stretched",
        min(strain, 9.99),
        "log",
        "seam so that s ( seam ) exp ( - seam ) = s ( prior + stretch ) exp ( - stretch )",
        carried.as_input("prior"),
        stated(f"{part}/weld/stretch", "stretch of the parent", stretch_log, "log", carried.source, 4).as_input(
            "stretch"
        ),
        digits=4,
        note="seam as annealed, free to contract along itself; held by the parent it takes less",
    )
    check = Check(
        "the seam takes no more than its share of the uniform strain",
        figure.value,
        allowed,
        "<=",
        "log",
        limits.seam_strain_share_max.source,
        "stop",
        "planish the bead; or restore the welded hoop in the furnace, if all of its section clears the grain trap",
        figure.identity,
    )
    findings: list[Finding] = []
    words = (
        "necks" if math.isinf(strain) else f"takes {100 * strain:.1f} % when the ring takes {100 * stretch_log:.1f} %"
    )
    found = judged(
        check,
        f"The seam {words}; the limit is {100 * allowed:.1f} %.",
        "seam-strain",
        "the weld is annealed metal between worked metal, and sizing strain runs to it",
    )
    if found:
        findings.append(found)
    worked = Check(
        "the strip is little worked before it is stretched",
        prior,
        limits.seam_prior_strain_caution_log.value,
        "<=",
        "log",
        limits.seam_prior_strain_caution_log.source,
        "caution",
        "take less depth in the rolls, or test a cross-weld coupon of strip strained as much",
        carried.identity,
    )
    found = judged(
        worked,
        f"The strip carries {100 * prior:.1f} % strain into sizing; above {100 * worked.limit:.0f} % the seam is the "
        "soft spot.",
        "seam-softening",
    )
    if found:
        findings.append(found)
    return (carried, figure), findings


def joined(
    workpiece: Workpiece,
    theta_deg: float,
    shrinkage_mm: float,
    zone_width_mm: float = 0.0,
    seam: SeamNumbers | None = None,
) -> Workpiece:
    """The welded hoop: shorter by the shrinkage, radii smaller by its share of a turn, with the kink of the seam."""
    made, waves = Seam(theta_deg, shrinkage_mm, zone_width_mm), workpiece.harmonics
    if seam is not None:
        angle = math.degrees(seam.angle_rad)
        made = Seam(theta_deg, shrinkage_mm, zone_width_mm, angle, seam.mismatch_mm, seam.strength_ratio)
        mean = float(np.average(workpiece.r_mm, weights=workpiece.weight_mm))
        waves = (*waves, *(Harmonic(n, a, theta_deg) for n, a in seam.harmonics_mm(mean).items()))
    return workpiece.after(
        "weld",
        seam=made,
        harmonics=waves,
        length_mm=workpiece.length_mm - shrinkage_mm,
        r_mm=workpiece.r_mm - shrinkage_mm / (2.0 * math.pi),
    )


def run(workpiece: Workpiece, operation: Weld, card: ShopCard) -> Step:
    """Join the ends: the strip becomes a hoop; the seam loses its cold work."""
    if workpiece.form != "hoop":
        raise InputError(f"{workpiece.part} form", workpiece.form, "", "a hoop, closed", "close the strip first")
    figures, findings = seam_findings(workpiece, operation.stretch_log, card, operation.restored)
    after = joined(workpiece, operation.theta_deg, operation.shrinkage_mm, operation.zone_width_mm, operation.seam)
    return Step(
        "weld",
        "Weld the seam",
        "butt, full penetration, within a shift of cleaning",
        after,
        operation.settings,
        (*operation.figures, *figures),
        tuple(findings),
    )


def worst_seam_strain(workpiece: Workpiece, stretch_log: float, card: ShopCard) -> float:
    """Seam strain beside the most worked station, if nothing but that station pulled at it."""
    prior = float(np.max(workpiece.plastic_strain.mean(axis=1)))
    return seam_strain(card.metal, prior, stretch_log)
