"""What every corner of the section would need if it stood alone: shown beside the roll contour, not cut into it.

A lone corner opens on release by the closed form; between closed rolls the whole section decides, and overbending by
this figure makes every angle 0.7 to 1.9 degrees too large (reference runs on one section). So the rolls are cut to the
part's faces first, and the section kernel corrects them on the profile.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.errors import InputError
from hoopwright.findings import Figure, Input, Source
from hoopwright.kernels.corner_bend import BendSheet, corner_first_order
from hoopwright.plan.shapes import RingJob
from hoopwright.process.working import reckoned


@dataclass(frozen=True, slots=True)
class CornerRow:
    """One corner, forward to aft. Mid-surface radii; turns in degrees. lone_* : what a lone corner would be bent to.

    z_mm : middle of its arc. lone_radius_mm is None where a lone corner would not stay bent.
    """

    number: int
    z_mm: float
    radius_mm: float
    turn_deg: float
    lone_radius_mm: float | None
    lone_turn_deg: float | None


def corner_rows(job: RingJob) -> tuple[CornerRow, ...]:
    """Every arc of the section with its lone-corner figures (elastic-plastic, plane strain)."""
    sheet = bend_sheet(job)
    rows: list[CornerRow] = []
    for segment in job.section:
        if not segment.is_arc:
            continue
        turn = abs(segment.sweep)
        try:
            alone = corner_first_order(sheet, segment.radius, turn)
            lone: tuple[float | None, float | None] = (alone.loaded_radius_mm, math.degrees(alone.loaded_turn_rad))
        except InputError:
            lone = (None, None)
        z = segment.point_at(0.5 * segment.length)[0]
        rows.append(CornerRow(len(rows) + 1, z, segment.radius, math.degrees(turn), *lone))
    return tuple(rows)


def bend_sheet(job: RingJob) -> BendSheet:
    """The sheet of a ring as the bending kernel takes it."""
    metal = job.metal
    return BendSheet(
        metal.flow, metal.youngs_modulus_MPa, metal.poisson, job.thickness_mm.value, metal.normal_anisotropy
    )


def corner_figures(job: RingJob, rows: tuple[CornerRow, ...]) -> tuple[Figure, ...]:
    """The same rows as figures with their working."""
    inputs = (job.thickness_mm.as_input("t"), job.young_MPa.as_input("E"), job.poisson.as_input("ν"))
    figures: list[Figure] = []
    for row in rows:
        if row.lone_radius_mm is None or row.lone_turn_deg is None:
            continue
        place = Input("ρ", "mid-surface radius of the corner", row.radius_mm, "mm", job.liner.source("section"))
        turn = Input("θ", "turn of the corner", row.turn_deg, "deg", job.liner.source("section"))
        figures.append(
            reckoned(
                job.identity(f"roll/corner-{row.number}/lone-radius"),
                f"corner {row.number}, mid radius a lone corner would be bent to",
                row.lone_radius_mm,
                "mm",
                "1 / ( 1 / ρ + 12 M ( 1 / ρ ) ( 1 - ν ² ) / ( E t ³ ) )",
                place,
                *inputs,
                note="shown beside the contour, not cut into it: between closed rolls the whole section decides",
            )
        )
        lone = Input("ρ_l", "lone-corner radius", row.lone_radius_mm, "mm", Source("derived", "above"))
        figures.append(
            reckoned(
                job.identity(f"roll/corner-{row.number}/lone-turn"),
                f"corner {row.number}, turn of a lone corner",
                row.lone_turn_deg,
                "deg",
                "θ ρ / ρ_l",
                turn,
                place,
                lone,
                digits=2,
            )
        )
    return tuple(figures)
