"""Roll: one pass of a strip (or of a closed hoop) between two contoured rolls; the corners take their strain here.

Closed form of the strain (rolling of a lone corner in plane strain, elastic core taken off), by station and layer:

    p = max(0, 2/sqrt3 |zeta| kappa - e_y)       zeta from the mid-surface, kappa curvature of the section line

Derived; against a full section kernel it gives released radii within 0.01 mm after sizing (method paper on rolling,
section 8). In a pass that takes a share of the contour every angle stands at that share, its arc length kept.
All passes stand in one frame, that of the finished contour: z along the axis of the ring, heights above the pitch line.
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
    rolls, at the pitch line. slip : worst slip between the faces of the finished contour [pct],
    by the route. settings :
    the figures the operator sets.
    """

    number: int
    of: int
    share: float
    contour: Contour
    pitch_radius_mm: Figure
    slip: Figure
    settings: tuple[Figure, ...] = ()

    def __post_init__(self) -> None:
        if not 1 <= self.number <= self.of:
            raise InputError("pass", self.number, "", f"from 1 to {self.of}", "count the passes from 1")
        require_range("share of the contour", self.share, 1e-6, 1.0)


def corner_strain(thickness: Array, curvature: Array, layer: Array, yield_strain: float) -> Array:
    """Plastic strain of the corners by station and layer, shape (n, m)."""
    return prior_strain_map(curvature, thickness, yield_strain, 0.0, midpoint_layers(layer.size))


def _partly(workpiece: Workpiece, contour: Contour, share: float) -> dict[str, Array]:
    """Section line at the share of the contour that this pass reaches."""
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
    along = _gathered(width * np.cos(angle))
    height = _gathered(width * (np.sin(angle) - math.sin(level)))
    return {
        "z_mm": along + contour.z_mm[0] - along[0],
        "r_mm": height - float(np.average(height, weights=width)),
        "angle_rad": angle,
        "curvature_per_mm": share * contour.curvature_per_mm,
    }


def _gathered(parts: Array) -> Array:
    """Running sum at the middle of each part, shape (n,)."""
    return np.asarray(np.cumsum(parts) - 0.5 * parts)


def roll_findings(workpiece: Workpiece, operation: RollPass, card: ShopCard) -> tuple[list[Figure], list[Finding]]:
    """Slip and bend radius of the finished contour, against the house limits."""
    found = [slip_finding(workpiece.part, operation.slip, card)]
    figures = [operation.slip]
    bent = np.abs(operation.contour.curvature_per_mm)
    if np.any(bent > 0.0):
        figure, tight = _bend_radius(workpiece, float(bent.max()), card)
        figures.append(figure)
        found.append(tight)
    return figures, [finding for finding in found if finding is not None]


def slip_finding(part: str, slip: Figure, card: ShopCard) -> Finding | None:
    """Face-to-face slip against what hardened rolls, and coated ones, stand without galling."""
    limits = card.limits
    share, limit, coated = slip.value / 100.0, limits.roll_slip_max, limits.roll_slip_coated_max
    pitch = next(given for given in slip.inputs if given.symbol == "R_p")
    needed = math.ceil(float(pitch.value) * share / limit.value - 1e-9)
    remedy = (
        f"use a pitch radius of {needed} or more" if share <= 2.0 * limit.value else "let one roll idle, or split it"
    )
    if share <= coated.value:
        remedy += f"; or coated rolls and a strong lubricant, which stand {100 * coated.value:g} %"
    check = Check(
        "the faces of the rolls slip no more than the house allows",
        share,
        limit.value,
        "<=",
        "",
        limit.source,
        "stop",
        remedy,
        slip.identity,
    )
    sentence = f"{part} slips {slip.value:.2f} % between these rolls; the house limit is {100 * limit.value:g} %."
    return judged(check, sentence, "roll-slip", "nickel sheet picks up on the faces, and both rolls are scored")


def _bend_radius(workpiece: Workpiece, curvature: float, card: ShopCard) -> tuple[Figure, Finding | None]:
    part, limits, t = workpiece.part, card.limits, float(workpiece.thickness_mm.max())
    ground = card.ground
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


def rolled(workpiece: Workpiece, contour: Contour, share: float, name: str, card: ShopCard) -> Workpiece:
    """The strip with a share of the contour's full turn, and the plastic strain of its corners."""
    line = _partly(workpiece, contour, share)
    bent = corner_strain(workpiece.thickness_mm, line["curvature_per_mm"], workpiece.layer, card.metal.yield_strain)
    strain = np.maximum(workpiece.plastic_strain, bent)
    return workpiece.after(name, plastic_strain=strain, annealed=False, **line)


def run(workpiece: Workpiece, operation: RollPass, card: ShopCard) -> Step:
    """One pass; the last one is judged for slip and bend radius."""
    after = rolled(workpiece, operation.contour, operation.share, f"roll pass {operation.number}", card)
    last = operation.number == operation.of
    figures, findings = roll_findings(after, operation, card) if last else ([], [])
    title = f"Roll, pass {operation.number} of {operation.of}"
    return Step("roll", title, "contoured roll pair", after, operation.settings, tuple(figures), tuple(findings))


def run_closed(cone: Workpiece, ring: Workpiece, operation: RollPass, card: ShopCard, last: bool) -> Step:
    """One pass in the closed ring: from the plain cone towards the contoured ring by the pass's share.

    cone, ring : welded hoop before the first pass and after the last one, at the same stations.
    """
    share = operation.share

    def part(name: str) -> Array:
        begin, end = getattr(cone, name), getattr(ring, name)
        return np.asarray(begin + share * (end - begin))

    names = ("z_mm", "r_mm", "angle_rad", "curvature_per_mm", "weight_mm", "thickness_mm", "plastic_strain")
    stress = ("stress_hoop_MPa", "stress_section_MPa", "back_stress_MPa")
    rows = {name: part(name) for name in (*names, *stress)}
    after = cone.after(f"roll pass {operation.number}", annealed=False, **rows)
    figures, findings = roll_findings(after, operation, card) if last else ([], [])
    title = f"Roll in the closed ring, pass {operation.number} of {operation.of}"
    return Step(
        "roll",
        title,
        "contoured roll pair, inner roll in the ring",
        after,
        operation.settings,
        tuple(figures),
        tuple(findings),
    )
