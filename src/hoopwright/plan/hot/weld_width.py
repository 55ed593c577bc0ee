"""Lap welds have a width: what growth owes to it where the liner file does not say it."""

from __future__ import annotations

from dataclasses import replace

from hoopwright.findings import Finding
from hoopwright.kernels.shell_links import TURN
from hoopwright.plan.hot.job import HotJob, Tie
from hoopwright.plan.hot.model import LOCKS, HotModel, Vector, hot_model

NARROW, WIDE = 0.75, 2.0
"""Width of a lap weld's foot between the sheets, in thicknesses: common practice, no source."""


def unknown_widths(job: HotJob) -> tuple[str, ...]:
    """Welded joints whose width the liner file does not give."""
    return tuple(t.joint.id for t in job.ties if _welded(t) and t.joint.weld_width_mm is None)


def _welded(tie: Tie) -> bool:
    return TURN in LOCKS[tie.joint.hold or "welded"]


def with_widths(job: HotJob, share: float) -> HotJob:
    """The job with every unknown weld width set to a share of the thinner sheet."""

    def wide(tie: Tie) -> Tie:
        if not _welded(tie) or tie.joint.weld_width_mm is not None:
            return tie
        thinner = min(job.parts[k].thickness_mm for k in (tie.outer, tie.inner))
        return replace(tie, joint=replace(tie.joint, weld_width_mm=share * thinner))

    return replace(job, ties=tuple(wide(tie) for tie in job.ties))


def width_models(model: HotModel) -> tuple[HotModel, ...]:
    """The same shell with narrow and with wide welds; none where every width is given, or no weld is there."""
    if not unknown_widths(model.job):
        return ()
    strands = model.stack.strands
    return tuple(hot_model(with_widths(model.job, share), strands=strands) for share in (NARROW, WIDE))


def width_error(model: HotModel, others: tuple[HotModel, ...], node: int, component: int) -> float:
    """How far the movement of a node lies from that with narrow or wide welds, at most. [mm]"""
    own = float(model.rows[node, component] @ model.strain)
    moved: list[Vector] = [other.rows[node, component] @ other.strain for other in others]
    return max((abs(float(m) - own) for m in moved), default=0.0)


def width_finding(model: HotModel, others: tuple[HotModel, ...], node: int) -> Finding | None:
    """Asks for the widths, and says what they move at the aft end of the outer shell (`node`)."""
    if not others:
        return None
    job = model.job
    own = float(model.rows[node, 1] @ model.strain)
    there = sorted(float(other.rows[node, 1] @ other.strain) for other in others)
    thinner = min(part.thickness_mm for part in job.parts)
    return Finding(
        "note",
        f"{job.liner.id}: the width of {', '.join(unknown_widths(job))} is not given; they are taken as ties without "
        f"width.",
        "measure the welds in section and enter joint.weld_width_mm",
        job.identity("growth/aft-lip-axial"),
        "ask-weld-width",
        f"the aft end of the outer shell moves {own:+.3f} mm so, {there[-1]:+.3f} to {there[0]:+.3f} mm with welds "
        f"{NARROW * thinner:.1f} to {WIDE * thinner:.1f} mm wide",
    )
