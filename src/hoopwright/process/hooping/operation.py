"""Size on segments: the settings of all hits, and the run that adds what the segments do to what the section does."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from hoopwright.design.shapes import ControlSize
from hoopwright.errors import InputError, NotConverged, require_finite, require_positive
from hoopwright.findings import Figure
from hoopwright.kernels.hoop import (
    Fineness,
    Harmonic,
    Hit,
    HitResult,
    HoopResult,
    HoopSection,
    InitialShape,
    SegmentTool,
    Weld,
)
from hoopwright.kernels.hoop import size_hoop as kernel
from hoopwright.kernels.hoop.round_tool import RoundHit, round_hits
from hoopwright.kernels.metal import Metal
from hoopwright.kernels.segment_hull import girth_factor
from hoopwright.kernels.sizing_weld import scaled
from hoopwright.kernels.taper_drive import TaperDrive
from hoopwright.process.anneal import annealed
from hoopwright.process.hooping.fibres import ROWS, HoopFibres, hoop_fibres
from hoopwright.process.hooping.fineness import tries
from hoopwright.process.size import stretched
from hoopwright.process.workpiece import Array, Workpiece


@dataclass(frozen=True, slots=True)
class SegmentHit:
    """One hit: how far the segments stand past the position they were turned in, how far the ring is turned on them
    against the first hit, and whether it is annealed before."""

    standing_mm: float
    index_deg: float = 0.0
    anneal_before: bool = False

    def __post_init__(self) -> None:
        require_finite("standing of the segments", self.standing_mm, "mm")
        require_finite("index of the ring", self.index_deg, "deg")


@dataclass(frozen=True, slots=True)
class SeamZone:
    """The seam as the hoop feels it: width without cold work, strength over annealed parent, and where it stands at the
    first hit, counted like the segments from the middle of segment 1."""

    width_mm: float
    strength_ratio: float = 1.0
    from_segment_deg: float = 0.0

    def __post_init__(self) -> None:
        require_positive("width of the seam's zone", self.width_mm, "mm")
        require_positive("strength ratio of the seam", self.strength_ratio)
        require_finite("place of the seam", self.from_segment_deg, "deg")


@dataclass(frozen=True, slots=True, eq=False)
class SizeOnSegments:
    """Settings of the whole sizing.

    surface_mm : radius the segments were turned to under each station, shape (n,). count, slot_mm, edge_radius_mm,
    friction : of the set. errors_mm : how far each segment stands out by itself, () for none. hits : in order.
    controls : sizes to be told. drawn_mm : first and last z of the drawing, the trims lie outside. drive : pin and
    base. waves : out-of-round of the welded hoop, phases from the middle of segment 1; added to the workpiece's own,
    which keep their place to the seam.
    """

    surface_mm: Array
    count: int
    slot_mm: float
    edge_radius_mm: float
    friction: float
    hits: tuple[SegmentHit, ...]
    controls: tuple[ControlSize, ...]
    drawn_mm: tuple[float, float]
    drive: TaperDrive
    seam: SeamZone | None = None
    errors_mm: tuple[float, ...] = ()
    waves: tuple[Harmonic, ...] = ()
    settings: tuple[Figure, ...] = ()
    rows: int = ROWS

    def __post_init__(self) -> None:
        if not self.hits:
            raise InputError("hits", "an empty list", "", "at least one hit", "add a hit")
        if self.drive.count != self.count:
            raise InputError("segments of the drive", self.drive.count, "", f"{self.count}, as the set has", "match it")


@dataclass(frozen=True, slots=True, eq=False)
class HoopedHit:
    """One hit. hoop : on its segments. round : the same fibres on a round tool of the set's mean girth. loaded, free :
    the section on and off the tool, every station moved by what the segments add."""

    number: int
    hoop: HitResult
    round: RoundHit
    loaded: Workpiece
    free: Workpiece

    @property
    def added_loaded_mm(self) -> float:
        """What the segments add to a girth diameter while loaded. [mm]"""
        return self.hoop.loaded.mean_diameter_mm - 2.0 * self.round.loaded_radius_mm

    @property
    def added_free_mm(self) -> float:
        """What they add to a free one. [mm]"""
        return self.hoop.free.mean_diameter_mm - 2.0 * self.round.free_radius_mm

    @property
    def strain_over_round_log(self) -> Array:
        """Strain round the free hoop less that on a round tool, at the nodes of `hoop.free`, shape (k,)."""
        return np.asarray(self.hoop.loaded.strain_log - self.round.strain_log)


@dataclass(frozen=True, slots=True, eq=False)
class Hooped:
    """A whole sizing. incoming : the welded ring. fibres : what the hoop was run with. tool : the set."""

    incoming: Workpiece
    fibres: HoopFibres
    tool: SegmentTool
    weld: Weld | None
    result: HoopResult
    hits: tuple[HoopedHit, ...]

    @property
    def last(self) -> HoopedHit:
        """The last hit."""
        return self.hits[-1]


def hooped(workpiece: Workpiece, operation: SizeOnSegments, metal: Metal, fineness: Fineness | None = None) -> Hooped:
    """Run all hits.

    Raises
    ------
    InputError
        What cannot be: see `size_hoop`. NotConverged where it finds no equilibrium.
    """
    area = workpiece.weight_mm * workpiece.thickness_mm
    turned = float(area @ operation.surface_mm / area.sum())
    standing = [hit.standing_mm for hit in operation.hits]
    tool = SegmentTool(
        operation.count, turned, operation.slot_mm, operation.edge_radius_mm, operation.friction, operation.errors_mm
    )
    stretch = _stretch_to_come(workpiece, turned + standing[-1])
    fibres = hoop_fibres(workpiece, metal, workpiece.width_mm, stretch, operation.rows, 1)
    section = fibres.section
    shape = InitialShape(fibres.axis_radius_mm, _waves(workpiece, operation))
    weld = _weld(operation.seam, metal)
    hits = [Hit(turned + hit.standing_mm, math.radians(-hit.index_deg), hit.anneal_before) for hit in operation.hits]
    wanted = [fineness] if fineness is not None else list(tries(section, tool.edge_radius_mm, _zone(operation)))
    result = _balanced(section, shape, tool, hits, weld, wanted)
    share = girth_factor(operation.count)
    tools = [turned + share * d for d in standing]
    plain = round_hits(section, fibres.axis_radius_mm, tools, [hit.anneal_before for hit in operation.hits])
    done: list[HoopedHit] = []
    before = workpiece
    for number, (one, hit, even) in enumerate(zip(operation.hits, result.hits, plain, strict=True), start=1):
        before = annealed(before) if one.anneal_before else before
        loaded, free, _sized = stretched(before, operation.surface_mm + share * one.standing_mm, metal)
        done.append(_added(number, hit, even, loaded, free))
        before = free.after(f"size hit {number}", annealed=False)
    return Hooped(workpiece, fibres, tool, weld, result, tuple(done))


def _balanced(
    section: HoopSection,
    shape: InitialShape,
    tool: SegmentTool,
    hits: list[Hit],
    weld: Weld | None,
    wanted: list[Fineness],
) -> HoopResult:
    """The run with the first fineness that finds its balance; the last one's refusal where none does."""
    for fineness in wanted[:-1]:
        try:
            return kernel(section, shape, tool, hits, weld, fineness)
        except NotConverged:
            continue
    return kernel(section, shape, tool, hits, weld, wanted[-1])


def _zone(operation: SizeOnSegments) -> float | None:
    return None if operation.seam is None else operation.seam.width_mm


def _added(number: int, hit: HitResult, even: RoundHit, loaded: Workpiece, free: Workpiece) -> HoopedHit:
    """A hit with the section moved by what the segments add to the girth."""
    plain = HoopedHit(number, hit, even, loaded, free)
    return replace(
        plain,
        loaded=replace(loaded, r_mm=loaded.r_mm + 0.5 * plain.added_loaded_mm),
        free=replace(free, r_mm=free.r_mm + 0.5 * plain.added_free_mm),
    )


def _stretch_to_come(workpiece: Workpiece, tool_mm: float) -> float:
    """Mean stretch of the ring onto a tool. [log]"""
    area = workpiece.weight_mm * workpiece.thickness_mm
    inside = workpiece.r_mm - 0.5 * np.cos(workpiece.angle_rad) * workpiece.thickness_mm
    return max(0.0, math.log(tool_mm / float(area @ inside / area.sum())))


def turned_deg(workpiece: Workpiece, operation: SizeOnSegments) -> float:
    """By how much places of the drawing are turned to become places on the segments at the first hit."""
    if workpiece.seam is None or operation.seam is None:
        return 0.0
    return operation.seam.from_segment_deg - workpiece.seam.theta_deg


def _waves(workpiece: Workpiece, operation: SizeOnSegments) -> tuple[Harmonic, ...]:
    turn = turned_deg(workpiece, operation)
    own = tuple(Harmonic(w.order, w.amplitude_mm, math.radians(w.phase_deg + turn)) for w in workpiece.harmonics)
    return own + operation.waves


def _weld(seam: SeamZone | None, metal: Metal) -> Weld | None:
    """The seam's zone: annealed metal of its own strength, without cold work or stress."""
    if seam is None:
        return None
    soft = replace(metal, flow=scaled(metal.flow, seam.strength_ratio))
    return Weld(seam.width_mm, math.radians(seam.from_segment_deg), soft)
