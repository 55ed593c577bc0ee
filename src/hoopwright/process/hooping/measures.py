"""What is read off a run: roundness held and free, strain and thickness round the ring, share of the limit used."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.kernels.hoop import RingState
from hoopwright.kernels.taper_drive import drive_forces
from hoopwright.process.face_radius import face_strain
from hoopwright.process.hooping.operation import Hooped, SizeOnSegments
from hoopwright.process.shop import ShopCard
from hoopwright.process.workpiece import Array, Workpiece


def held_peak_to_valley(state: RingState) -> float:
    """Peak-to-valley without the two-lobe part, which any plug or ring presses out of a thin hoop. [mm]"""
    two = int(np.flatnonzero(state.order == 2)[0])
    oval = state.amplitude_mm[two] * np.cos(2.0 * (state.angle_rad - state.phase_rad[two]))
    return float(np.ptp(state.radius_mm - oval))


@dataclass(frozen=True, slots=True, eq=False)
class Round:
    """The ring round its girth at the nodes of the loaded state of a hit, rising angle of the machine, (k,) each.

    strain_log : of this ring's metal since it was welded. least_thickness_mm : of the thinnest station that stays on
    the ring. share_pct : of the limit used, the house's budget in the parent, the seam's own in its zone. seam : nodes
    of the seam's zone.
    """

    angle_rad: Array
    strain_log: Array
    least_thickness_mm: Array
    share_pct: Array
    seam: NDArray[np.bool_]
    parent: NDArray[np.bool_]

    @property
    def peak(self) -> int:
        """Node of the largest share."""
        return int(np.argmax(self.share_pct))


def on_drawing(workpiece: Workpiece, drawn_mm: tuple[float, float]) -> NDArray[np.bool_]:
    """Which stations stay on the ring when the trims are off, shape (n,)."""
    return np.asarray((workpiece.z_mm >= drawn_mm[0]) & (workpiece.z_mm <= drawn_mm[1]), dtype=np.bool_)


def round_of(run: Hooped, number: int, drawn_mm: tuple[float, float], card: ShopCard) -> Round:
    """The ring round its girth at the end of a hit (counted from 1)."""
    hit = run.hits[number - 1]
    state = hit.hoop.loaded
    kept = on_drawing(hit.free, drawn_mm)
    over = hit.strain_over_round_log
    thinnest = float(hit.free.thickness_mm[kept].min())
    worked = float(np.maximum(*face_strain(hit.free))[kept].max())
    budget = card.limits.strain_budget_share.value * card.uniform_strain_log.value
    share = (worked + over) / budget
    seam = np.zeros(state.angle_rad.size, dtype=np.bool_)
    parent = ~seam
    if run.weld is not None:
        reach = 0.5 * run.weld.width_mm / run.fibres.axis_radius_mm
        away = np.abs((state.material_rad - run.weld.angle_rad + np.pi) % (2.0 * np.pi) - np.pi)
        seam = away <= reach
        parent = away > reach + run.fibres.section.thickness_mm / run.fibres.axis_radius_mm
        allowed = card.limits.seam_strain_share_max.value * card.uniform_strain_log.value
        share = np.where(seam, state.strain_log / allowed, share)
    return Round(state.angle_rad, state.strain_log, thinnest * np.exp(-0.5 * over), 100.0 * share, seam, parent)


def equivalent_tension(run: Hooped, number: int) -> float:
    """Hoop tension whose segment forces add up to those of the run at the end of a hit. [N]"""
    hit = run.hits[number - 1].hoop
    return float(hit.segments.force_N.sum() / (2.0 * run.tool.count * np.sin(np.pi / run.tool.count)))


@dataclass(frozen=True, slots=True, eq=False)
class PullCurve:
    """Pin pull of one hit from first touch: pin travel before full position [mm], pull going in and hold there [kN],
    radius of the segment middles [mm]; (k,) each."""

    before_full_mm: Array
    pull_kN: Array
    hold_kN: Array
    position_mm: Array


def pull_curve(run: Hooped, number: int, operation: SizeOnSegments) -> PullCurve:
    """Pull against stroke, friction of pin and base in it; the drive is in proportion to the segments' forces."""
    hit = run.hits[number - 1].hoop
    total = hit.history.segment_force_N.sum(axis=1)
    one = drive_forces(operation.drive, 1.0)
    share = total / one.radial_sum_N
    ahead = (hit.position_mm - hit.history.position_mm) / np.tan(operation.drive.half_angle_rad)
    return PullCurve(ahead, 1e-3 * share * one.pull_N, 1e-3 * share * one.hold_N, hit.history.position_mm)
