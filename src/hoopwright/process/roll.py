"""Roll: one pass of a strip (or of a closed hoop) between two contoured rolls; the corners take their strain here.

Closed form of the strain (rolling of a lone corner in plane strain, elastic core taken off), by station and layer:

    p = max(0, 2/sqrt3 |zeta| kappa - e_y)       zeta from the mid-surface, kappa curvature of the section line

Derived; against a full section kernel it gives released radii within 0.01 mm after sizing (method paper on rolling,
section 8). In a pass that takes a share of the contour every angle stands at that share, its arc length kept.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hoopwright.errors import InputError, require_range
from hoopwright.findings import Check, Figure, Finding, judged
from hoopwright.kernels.chain_prior import prior_strain_map
from hoopwright.kernels.layers import midpoint_layers
from hoopwright.process.shop import ShopCard
from hoopwright.process.step import Step
from hoopwright.process.working import reckoned, stated
from hoopwright.process.workpiece import Array, Workpiece


@dataclass(frozen=True, slots=True, eq=False)
class Contour:
    """The section line a set of rolls makes, at the stations of the workpiece; all shapes (n,).

    z_mm, height_mm : place and height. angle_rad, curvature_per_mm : direction and curvature. pitch_angle_rad : what
    stands level in the rolls (0 where the section is rolled as drawn, the slope of its chord where it is canted).
    """

    z_mm: Array
    height_mm: Array
    angle_rad: Array
    curvature_per_mm: Array
    pitch_angle_rad: float = 0.0

    @property
    def roll_height_mm(self) -> Array:
        """Height above the pitch line as it stands in the rolls, shape (n,)."""
        cos, sin = math.cos(self.pitch_angle_rad), math.sin(self.pitch_angle_rad)
        return np.asarray(self.height_mm * cos - (self.z_mm - self.z_mm[0]) * sin)

    @property
    def depth_mm(self) -> float:
        """Depth of the contour in the rolls."""
        height = self.roll_height_mm
        return float(height.max() - height.min())


@dataclass(frozen=True, slots=True, eq=False)
class RollPass:
    """Settings of one pass.

    share : share of the full turn of every corner that stands after this pass, above 0 to 1. pitch_radius_mm : of the
    rolls, at the pitch line. settings : the figures the operator sets.
    """

    number: int
    of: int
    share: float
    contour: Contour
    pitch_radius_mm: Figure
    settings: tuple[Figure, ...] = ()

    def __post_init__(self) -> None:
        if not 1 <= self.number <= self.of:
            raise InputError("pass", self.number, "", f"from 1 to {self.of}", "count the passes from 1")
        require_range("share of the contour", self.share, 1e-6, 1.0)


def corner_strain(thickness: Array, curvature: Array, layer: Array, yield_strain: float) -> Array:
    """Plastic strain of the corners by station and layer, shape (n, m)."""
    return prior_strain_map(curvature, thickness, yield_strain, 0.0, midpoint_layers(layer.size))


def slip(depth_mm: float, pitch_radius_mm: float) -> float:
    """Worst difference of speed between the two faces of the rolls, pitch line at mid-depth: 2 (depth/2) / radius."""
    return depth_mm / pitch_radius_mm


def _partly(workpiece: Workpiece, operation: RollPass) -> dict[str, Array]:
    """Section line at the share of the contour that this pass reaches."""
    contour, share = operation.contour, operation.share
    if share >= 1.0:
        return {
            "z_mm": contour.z_mm,
            "r_mm": contour.height_mm,
            "angle_rad": contour.angle_rad,
            "curvature_per_mm": contour.curvature_per_mm,
        }
    level = contour.pitch_angle_rad
    angle = level + share * (contour.angle_rad - level)
    width = workpiece.weight_mm
    return {
        "z_mm": _gathered(width * np.cos(angle)),
        "r_mm": _gathered(width * np.sin(angle)),
        "angle_rad": angle,
        "curvature_per_mm": share * contour.curvature_per_mm,
    }


def _gathered(parts: Array) -> Array:
    """Running sum at the middle of each part, shape (n,)."""
    return np.asarray(np.cumsum(parts) - 0.5 * parts)


def roll_findings(workpiece: Workpiece, operation: RollPass, card: ShopCard) -> tuple[list[Figure], list[Finding]]:
    """Slip and bend radius of the finished contour, against the house limits."""
    part, limits, contour = workpiece.part, card.limits, operation.contour
    depth = stated(
        f"{part}/roll/depth",
        "depth of the contour in the rolls",
        contour.depth_mm,
        "mm",
        operation.pitch_radius_mm.source,
    )
    radius = operation.pitch_radius_mm
    worst = reckoned(
        f"{part}/roll/slip",
        "worst slip between the faces",
        100.0 * slip(depth.value, radius.value),
        "pct",
        "100 * depth / R_p",
        depth.as_input("depth"),
        radius.as_input("R_p"),
        digits=2,
        note="pitch line at mid-depth, where the worst is least",
    )
    needed = depth.value / limits.roll_slip_max.value
    gentle = Check(
        "the faces of the rolls slip no more than the house allows",
        worst.value / 100.0,
        limits.roll_slip_max.value,
        "<=",
        "",
        limits.roll_slip_max.source,
        "stop",
        f"use a pitch radius of {math.ceil(needed - 1e-9):.0f} or more"
        + (
            f", or coated rolls and a strong lubricant (limit {100 * limits.roll_slip_coated_max.value:g} %)"
            if worst.value / 100.0 <= limits.roll_slip_coated_max.value
            else ", or cant the section"
        ),
        worst.identity,
    )
    findings: list[Finding] = []
    found = judged(
        gentle,
        f"{part} slips {worst.value:.2f} % between these rolls; the house limit is {100 * gentle.limit:g} %.",
        "roll-slip",
        "nickel sheet picks up on the faces, and both rolls are scored",
    )
    if found:
        findings.append(found)
    figures = [depth, worst]
    bent = np.abs(contour.curvature_per_mm)
    if np.any(bent > 0.0):
        figure, found = _bend_radius(workpiece, float(bent.max()), card)
        figures.append(figure)
        if found:
            findings.append(found)
    return figures, findings


def _bend_radius(workpiece: Workpiece, curvature: float, card: ShopCard) -> tuple[Figure, Finding | None]:
    part, limits, t = workpiece.part, card.limits, float(workpiece.thickness_mm.max())
    ground = card.young_MPa.source
    mid = stated(f"{part}/roll/least-mid-radius", "least radius of the mid-surface", 1.0 / curvature, "mm", ground)
    sheet = stated(f"{part}/roll/sheet", "sheet thickness", t, "mm", ground)
    inside = reckoned(
        f"{part}/roll/inside-radius",
        "least inside bend radius in sheet thicknesses",
        (1.0 / curvature - 0.5 * t) / t,
        "t",
        "( rho - t / 2 ) / t",
        mid.as_input("rho"),
        sheet.as_input("t"),
        digits=2,
    )
    too_tight = inside.value < limits.bend_radius_inside_stop_t.value
    limit = limits.bend_radius_inside_stop_t if too_tight else limits.bend_radius_inside_min_t
    check = Check(
        "the bends are no tighter than the house plans",
        inside.value,
        limit.value,
        ">=",
        "t",
        limit.source,
        "stop" if too_tight else "caution",
        "ask the designer for wider corners, or prove the corner on a test strip",
        inside.identity,
    )
    return inside, judged(
        check, f"The tightest corner has {inside.value:.2f} t inside; the house plans {limit.value:g} t.", "bend-radius"
    )


def rolled(workpiece: Workpiece, operation: RollPass, card: ShopCard) -> Workpiece:
    """The strip after a pass: the contour at its share of the full turn, and the plastic strain of its corners."""
    line = _partly(workpiece, operation)
    bent = corner_strain(workpiece.thickness_mm, line["curvature_per_mm"], workpiece.layer, card.metal.yield_strain)
    strain = np.maximum(workpiece.plastic_strain, bent)
    return workpiece.after(f"roll pass {operation.number}", plastic_strain=strain, annealed=False, **line)


def run(workpiece: Workpiece, operation: RollPass, card: ShopCard) -> Step:
    """One pass; the last one is judged for slip and bend radius."""
    after = rolled(workpiece, operation, card)
    last = operation.number == operation.of
    figures, findings = roll_findings(after, operation, card) if last else ([], [])
    title = f"Roll, pass {operation.number} of {operation.of}"
    return Step("roll", title, "contoured roll pair", after, operation.settings, tuple(figures), tuple(findings))
