"""The blank of a ring: strip or sector, as cut from the sheet, and the nest with its coupons.

Lengths along the hoop are measured on the neutral fibre, the one that keeps its length while the strip is curled. The
sheet narrows across by half the hoop strain it takes, so the blank is wider than the developed section; the line of an
arc blank is therefore laid over the flat width, which makes its sector a little smaller than one drawn on the developed
section.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hoopwright.findings import Figure, Finding, Input, Source
from hoopwright.kernels.arrays import rounded_up
from hoopwright.kernels.sector_nest import SectorNest, nest_sectors
from hoopwright.kernels.sector_shape import Sector
from hoopwright.kernels.strip_nest import SheetPlate, StripNest, nest_strips
from hoopwright.plan.shapes import Reckoning, RingJob
from hoopwright.process.working import reckoned

COUPON_LENGTH_MM = 120.0
"""Blank of a sheet coupon before it is machined, length along the hoop: common practice, no source."""
COUPONS = Source(
    "practice", "a band across the end of each sheet for tensile and weld coupons; common practice, no source"
)


@dataclass(frozen=True, slots=True, eq=False)
class BlankPlan:
    """Strip (length_mm, width_mm) or sector as cut, with its place on the sheet.

    length_mm : rough length; of a sector, of its middle arc. net_width_mm : without edge trims and rounding.
    coupon_band_mm : kept back across the end of each sheet. pieces : blanks to cut for one liner, set-up and spares in.
    """

    kind: str
    length_mm: float
    width_mm: float
    net_width_mm: float
    sector: Sector | None
    sheet: SheetPlate
    nest: StripNest | SectorNest
    coupon_band_mm: float
    pieces: int
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]


def coupon_band_mm(job: RingJob) -> float:
    """Least band across the end of a sheet in which coupons lie along the hoop. [mm]"""
    return COUPON_LENGTH_MM + job.limits.cut_gap_mm.value


def plan_blank(job: RingJob, reckoning: Reckoning) -> BlankPlan:
    """Blank, nest, mass and number of pieces of one ring."""
    width = _width(job, reckoning)
    return _strip(job, reckoning, width) if reckoning.line.slope == 0.0 else _sector(job, reckoning, width)


def flat_width(job: RingJob, reckoning: Reckoning) -> float:
    """Flat width of the finished section, edge trims not counted. [mm]"""
    s = job.stations.s
    on_ring = (s >= 0.0) & (s <= job.section.length)
    return float((job.stations.weight * np.exp(0.5 * reckoning.total_strain_log))[on_ring].sum())


def _width(job: RingJob, reckoning: Reckoning) -> Figure:
    net = flat_width(job, reckoning)
    mean = 2.0 * math.log(net / job.section.length)
    return reckoned(
        job.identity("blank/net-width"),
        "flat width of the finished section",
        net,
        "mm",
        "L exp ( ½ ε )",
        Input("L", "developed length of the section", job.section.length, "mm", job.liner.source("section")),
        Input("ε", "mean hoop strain, flat blank to sized ring", mean, "log", Source("derived", "the walk")),
    )


def _sheet(job: RingJob) -> SheetPlate:
    limits = job.limits
    return SheetPlate(
        limits.sheet_length_mm.value,
        limits.sheet_width_mm.value,
        limits.sheet_border_mm.value,
        limits.cut_gap_mm.value,
        band_end_mm=coupon_band_mm(job),
    )


def _pieces(job: RingJob) -> tuple[int, Figure]:
    """Blanks to cut: the ring, set-up pieces, and spares rounded up."""
    setup, spare = job.limits.setup_pieces, job.limits.spare_share
    count = math.ceil(1.0 + setup.value + spare.value - 1e-9)
    one = Input("n", "rings for one liner", 1.0, "1", job.liner.source("rings"))
    figure = reckoned(
        job.identity("blank/pieces"),
        "blanks to cut for one liner",
        float(count),
        "1",
        "n + n_setup + n share , up to a whole one",
        one,
        setup.as_input("n_setup"),
        spare.as_input("share"),
        digits=0,
    )
    return count, figure


def _common(job: RingJob, blank_mass: float, area_mm2: float, nest: StripNest | SectorNest) -> list[Figure]:
    sheet = Source("derived", "nest of this plan")
    band = reckoned(
        job.identity("blank/coupon-band"),
        "kept back across the end of each sheet for coupons",
        coupon_band_mm(job),
        "mm",
        "l + gap",
        Input("l", "coupon as cut, along the hoop", COUPON_LENGTH_MM, "mm", COUPONS),
        job.limits.cut_gap_mm.as_input("gap"),
        digits=0,
    )
    figures = [
        band,
        reckoned(
            job.identity("blank/mass"),
            "mass of one blank",
            blank_mass,
            "kg",
            "A t ρ / 1e9",
            Input("A", "area of the blank as cut", area_mm2, "mm2", sheet),
            job.thickness_mm.as_input("t"),
            job.density_kg_per_m3.as_input("ρ"),
        ),
        reckoned(
            job.identity("blank/per-sheet"),
            "blanks on a sheet",
            float(nest.count),
            "1",
            "rows and columns that fit",
            job.limits.sheet_length_mm.as_input("sheet_length"),
            job.limits.sheet_width_mm.as_input("sheet_width"),
            job.limits.cut_gap_mm.as_input("gap"),
            job.limits.sheet_border_mm.as_input("border"),
            band.as_input("band"),
            digits=0,
        ),
        reckoned(
            job.identity("blank/sheet-used"),
            "share of the sheet used",
            100.0 * nest.yield_share,
            "pct",
            "100 n A / A_sheet",
            Input("n", "blanks on a sheet", float(nest.count), "1", sheet),
            Input("A", "area of the blank as cut", area_mm2, "mm2", sheet),
            digits=0,
        ),
    ]
    return figures


def _none_fits(job: RingJob, nest: StripNest | SectorNest) -> list[Finding]:
    if nest.count:
        return []
    return [
        Finding(
            "stop",
            f"No blank of {job.ring.id} fits on a sheet of {job.limits.sheet_length_mm.value:g} × "
            f"{job.limits.sheet_width_mm.value:g}.",
            "buy a longer or wider sheet and enter it on the house card, or make the ring of two pieces",
            job.identity("blank/per-sheet"),
            "blank-too-big",
        )
    ]


def _strip(job: RingJob, reckoning: Reckoning, width: Figure) -> BlankPlan:
    limits = job.limits
    cut = reckoning.cut_length_mm
    rough = reckoned(
        job.identity("blank/rough-length"),
        "rough length of the strip",
        rounded_up(cut.value + 2.0 * limits.end_trim_mm.value, limits.length_step_mm.value),
        "mm",
        "L_cut + 2 e , up to a step",
        cut.as_input("L_cut"),
        limits.end_trim_mm.as_input("e"),
        limits.length_step_mm.as_input("step"),
        digits=0,
    )
    wide = reckoned(
        job.identity("blank/width"),
        "width of the strip",
        rounded_up(width.value + 2.0 * limits.edge_trim_mm.value, limits.width_step_mm.value),
        "mm",
        "W + 2 w , up to a step",
        width.as_input("W"),
        limits.edge_trim_mm.as_input("w"),
        limits.width_step_mm.as_input("step"),
        digits=1,
    )
    plate = _sheet(job)
    along, across = (nest_strips(plate, rough.value, wide.value, way) for way in ("rolling", "across"))
    nest = along if along.count else across
    area = rough.value * wide.value
    mass = area * job.thickness_mm.value * job.density_kg_per_m3.value * 1e-9
    count, pieces = _pieces(job)
    findings = _none_fits(job, nest)
    if not along.count and across.count:
        findings.append(_across_grain(job))
    figures = (rough, wide, width, pieces, *_common(job, mass, area, nest))
    return BlankPlan(
        "strip",
        rough.value,
        wide.value,
        width.value,
        None,
        plate,
        nest,
        coupon_band_mm(job),
        count,
        figures,
        tuple(findings),
    )


def _across_grain(job: RingJob) -> Finding:
    return Finding(
        "caution",
        f"The strip of {job.ring.id} only fits across the rolling direction.",
        "buy a longer sheet, so that the hoop runs along the rolling direction",
        job.identity("blank/per-sheet"),
        "strip-across-rolling",
        "coupons and hoop then stretch in different directions of the sheet; common practice, no source",
    )


def _sector(job: RingJob, reckoning: Reckoning, width: Figure) -> BlankPlan:
    limits, line = job.limits, reckoning.line
    slope = line.slope * line.developed_mm / width.value
    ends = (line.base_mm / abs(slope), (line.base_mm + line.slope * line.developed_mm) / abs(slope))
    turn = 2.0 * math.pi * abs(slope)
    trim = limits.edge_trim_mm.value
    allowance = limits.end_trim_mm.value + 0.5 * limits.weld_shrink_mm.value
    cut = Sector(max(ends) + trim, min(ends) - trim, turn, allowance)
    middle = 0.5 * (cut.outer_mm + cut.inner_mm)
    length = turn * middle + 2.0 * allowance
    figures, plate = _sector_figures(job, reckoning, width, ends, turn, cut, length), _sheet(job)
    nest = max((nest_sectors(plate, cut, way) for way in ("rolling", "across")), key=lambda found: found.count)
    count, pieces = _pieces(job)
    mass = cut.mass_kg(job.thickness_mm.value, job.density_kg_per_m3.value)
    figures += [pieces, *_common(job, mass, cut.area_mm2, nest)]
    findings = _none_fits(job, nest)
    return BlankPlan(
        "sector",
        length,
        cut.outer_mm - cut.inner_mm,
        width.value,
        cut,
        plate,
        nest,
        coupon_band_mm(job),
        count,
        tuple(figures),
        tuple(findings),
    )


def _sector_figures(
    job: RingJob,
    reckoning: Reckoning,
    width: Figure,
    ends: tuple[float, float],
    turn: float,
    cut: Sector,
    length: float,
) -> list[Figure]:
    line = reckoning.line
    walk = Source("derived", "least spread of hoop strain, scale by the walk")
    drawn = [line.base_mm / abs(line.slope), (line.base_mm + line.slope * line.developed_mm) / abs(line.slope)]
    base = Input("a", "radius of the closed blank at the forward edge", line.base_mm, "mm", walk)
    fall = Input("b", "its change over the developed length", line.slope, "mm_per_mm", walk)
    far = Input("L", "developed length of the section", line.developed_mm, "mm", job.liner.source("section"))
    narrow = width.as_input("W")
    note = (
        f"drawn on the developed section, without narrowing across: slant radii {drawn[0]:.2f} and {drawn[1]:.2f}, "
        f"sector {360.0 * abs(line.slope):.2f}°"
    )
    inputs = (base, fall, far, narrow)
    rows = [
        (
            "forward-slant",
            "slant radius of the finished forward edge",
            ends[0],
            "mm",
            "a W / ( | b | L )",
            inputs,
            2,
            note,
        ),
        (
            "aft-slant",
            "slant radius of the finished aft edge",
            ends[1],
            "mm",
            "( a + b L ) W / ( | b | L )",
            inputs,
            2,
            note,
        ),
        ("sector", "sector between the weld ends", math.degrees(turn), "deg", "360 | b | L / W", inputs, 2, note),
    ]
    figures = [
        reckoned(job.identity(f"blank/{word}"), name, value, unit, formula, *given, digits=digits, note=remark)
        for word, name, value, unit, formula, given, digits, remark in rows
    ]
    return [*figures, *_sector_as_cut(job, ends, turn, cut, length, walk), width]


def _sector_as_cut(
    job: RingJob, ends: tuple[float, float], turn: float, cut: Sector, length: float, walk: Source
) -> list[Figure]:
    """Sizes of the sector with its trims and allowances."""
    limits = job.limits
    edge, end = limits.edge_trim_mm.as_input("w"), limits.end_trim_mm.as_input("e")
    shrink = limits.weld_shrink_mm.as_input("s")
    big, small = (Input(f"R_{k}", f"slant radius, {k}", v, "mm", walk) for k, v in (("o", max(ends)), ("i", min(ends))))
    return [
        reckoned(
            job.identity("blank/outer-slant-cut"),
            "outer slant radius as cut",
            cut.outer_mm,
            "mm",
            "R_o + w",
            big,
            edge,
            digits=2,
        ),
        reckoned(
            job.identity("blank/inner-slant-cut"),
            "inner slant radius as cut",
            cut.inner_mm,
            "mm",
            "R_i - w",
            small,
            edge,
            digits=2,
        ),
        reckoned(
            job.identity("blank/end-allowance"),
            "allowance at each end, parallel to the weld end",
            cut.end_allowance_mm,
            "mm",
            "e + ½ s",
            end,
            shrink,
            digits=2,
        ),
        reckoned(
            job.identity("blank/rough-length"),
            "length of the middle arc as cut",
            length,
            "mm",
            "θ ( R_o + R_i ) / 2 + 2 e + s",
            Input("θ", "sector between the weld ends", turn, "rad", walk, job.identity("blank/sector")),
            big,
            small,
            end,
            shrink,
            digits=1,
        ),
    ]
