"""Strain budget: what every place of the ring has used of the strain the house plans with, at both faces."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hoopwright.findings import Check, Figure, Finding, judged
from hoopwright.process.face_radius import face_strain
from hoopwright.process.shop import ShopCard
from hoopwright.process.working import reckoned
from hoopwright.process.workpiece import Array, Workpiece


@dataclass(frozen=True, slots=True, eq=False)
class Budget:
    """Share of the budget used by station, inside and outside face, shapes (n,); the worst as a figure."""

    inside: Array
    outside: Array
    limit_log: float
    worst: Figure
    finding: Finding | None


def strain_budget(workpiece: Workpiece, card: ShopCard) -> Budget:
    """Plastic strain gathered so far at both faces, as share of the house limit times the uniform strain."""
    limits, part = card.limits, workpiece.part
    limit = limits.strain_budget_share.value * card.uniform_strain_log.value
    inside, outside = (face / limit for face in face_strain(workpiece))
    both = np.maximum(inside, outside)
    where = int(np.argmax(both))
    face = "inside" if inside[where] >= outside[where] else "outside"
    strain = reckoned(
        f"{part}/budget/strain",
        "largest plastic strain gathered",
        float(both[where] * limit),
        "log",
        "p_roll + p_curl + p_size",
        card.young_MPa.as_input("E"),
        digits=4,
        note=f"{face} face at z {workpiece.z_mm[where]:.1f}; corner bending, curl and stretch added up",
    )
    worst = reckoned(
        f"{part}/budget/worst",
        "strain budget used at the worst place",
        100.0 * float(both[where]),
        "pct",
        "100 p / ( share uniform )",
        strain.as_input("p"),
        limits.strain_budget_share.as_input("share"),
        card.uniform_strain_log.as_input("uniform"),
        digits=0,
        note=strain.note,
    )
    check = Check(
        "no place uses more than the strain budget",
        worst.value,
        100.0,
        "<=",
        "pct",
        limits.strain_budget_share.source,
        "caution",
        "ask for wider corner radii, or test the uniform strain of the cast and enter it",
        worst.identity,
    )
    sentence = (
        f"{part} uses {worst.value:.0f} % of the strain budget at z {workpiece.z_mm[where]:.1f}, {face} face "
        f"({100 * strain.value:.1f} of {100 * limit:.1f} %)."
    )
    return Budget(inside, outside, limit, worst, judged(check, sentence, "strain-budget"))
