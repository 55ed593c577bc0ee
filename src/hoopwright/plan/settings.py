"""Everything set or cut for one ring, rounded to what a shop can set: the walk runs on these."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.findings import Figure
from hoopwright.kernels.taper_drive import TaperDrive
from hoopwright.plan.shapes import Route
from hoopwright.tools.expander import StopSetting
from hoopwright.tools.segment_contour import SegmentContour
from hoopwright.tools.segments import SegmentSet


@dataclass(frozen=True, slots=True)
class PassShare:
    """One rolling pass of the walk: share of the full turn after it, and what the operator sets."""

    share: float
    figures: tuple[Figure, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Settings:
    """Settings of a ring's whole walk.

    ratio_per_mm : b/a of the blank line. cut_length_mm, shrinkage_mm, curl_radius_mm : of strip, weld and
    curl of the contour; plain_curl_radius_mm : of the plain cone, where the contour is rolled in the closed ring.
    stretch_log : mean stretch planned, welded hoop to segments. surface : profile of the segments. thinned_share :
    loaded over sheet thickness, mean. stops, stop_figures : of each hit in turn. drive : pin and friction.
    """

    route: Route
    ratio_per_mm: float
    cut_length_mm: float
    shrinkage_mm: float
    curl_radius_mm: float
    plain_curl_radius_mm: float
    stretch_log: float
    surface: SegmentContour
    thinned_share: float
    segments: SegmentSet
    drive: TaperDrive
    stops: tuple[StopSetting, ...]
    stop_figures: tuple[Figure, ...]
    passes: tuple[PassShare, ...]
    cut: tuple[Figure, ...]
    trim: tuple[Figure, ...]
    drill: tuple[Figure, ...]
    holes: int


@dataclass(frozen=True, slots=True)
class Shift:
    """A departure from the settings, for a band: [mm] each; the segments' and the pin's as radius of the tool."""

    cut_length_mm: float = 0.0
    shrinkage_mm: float = 0.0
    tool_radius_mm: float = 0.0
