"""Trim: the edge strips come off the sized ring, held on a plug."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hoopwright.errors import InputError, require_finite
from hoopwright.findings import Figure
from hoopwright.process.shop import ShopCard
from hoopwright.process.step import Step
from hoopwright.process.workpiece import Workpiece


@dataclass(frozen=True, slots=True)
class Trim:
    """Settings: axial places of the two finished edges."""

    forward_z_mm: float
    aft_z_mm: float
    settings: tuple[Figure, ...] = ()

    def __post_init__(self) -> None:
        low, high = (
            require_finite("forward edge", self.forward_z_mm, "mm"),
            require_finite("aft edge", self.aft_z_mm, "mm"),
        )
        if low >= high:
            raise InputError("forward edge", low, "mm", f"below the aft edge at {high:g}", "swap the two")


def run(workpiece: Workpiece, operation: Trim, card: ShopCard) -> Step:
    """Stations beyond the edges go; a trim releases nothing that is reckoned here."""
    keep = (workpiece.z_mm >= operation.forward_z_mm) & (workpiece.z_mm <= operation.aft_z_mm)
    if not np.any(keep):
        raise InputError("edges", operation.forward_z_mm, "mm", f"on {workpiece.part}", "check the trim programme")
    rows = (
        "s_mm",
        "weight_mm",
        "z_mm",
        "r_mm",
        "angle_rad",
        "curvature_per_mm",
        "thickness_mm",
        "plastic_strain",
        "back_stress_MPa",
        "stress_hoop_MPa",
        "stress_section_MPa",
    )
    changes = {name: getattr(workpiece, name)[keep] for name in rows}
    after = workpiece.after("trim", edge_trim_forward_mm=0.0, edge_trim_aft_mm=0.0, **changes)
    return Step(
        "trim", "Trim the edges", "on an expanding plug, from a contour feature", after, operation.settings, (), ()
    )
