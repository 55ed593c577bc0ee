"""Small results made by hand for the tests of this room; every number is invented."""

from __future__ import annotations

import math

import numpy as np

from hoopwright.findings import Band, Figure, Finding, Source
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.profile_build import from_corners
from hoopwright.kernels.profile_offset import offset
from hoopwright.kernels.sector_shape import Sector
from hoopwright.papers.pictures.blanks import SectorBlank, StripBlank
from hoopwright.papers.pictures.icons import Icon
from hoopwright.papers.pictures.segments import ControlRadius, SegmentView
from hoopwright.papers.pictures.strain_wash import Strained
from hoopwright.papers.sheet_frame import Title
from hoopwright.papers.walk_content import RollsShown, Shown, StopLine, StopTableShown, WalkContent, WalkRow
from hoopwright.process.workpiece import Workpiece
from hoopwright.tools.rolls import roll_pair

THICKNESS_MM = 0.8
STRIP = StripBlank("XR-7", 815.0, 54.5, 764.01, 25.0, 3.0, THICKNESS_MM)
SECTOR = SectorBlank("XR-8", Sector(270.0, 204.34, math.radians(160.23), 25.06), False, 25.0, 3.0, THICKNESS_MM)
NARROW = SectorBlank("XR-9", Sector(601.93, 542.42, math.radians(74.94), 25.06), False, 25.0, 3.0, THICKNESS_MM)
SLENDER = SectorBlank("XR-6", Sector(1432.58, 1378.2, math.radians(24.9), 25.06), True, 25.0, 3.0, THICKNESS_MM)


def section() -> Profile:
    """A joggled section of straights and fillets, x = z, y = r."""
    corners = [(29.0, 123.85), (36.5, 123.85), (40.0, 125.75), (50.0, 125.75), (56.0, 123.4), (76.0, 123.4)]
    return from_corners(corners, [3.0, 3.0, 3.0, 4.0])


def piece(form: str = "hoop") -> Workpiece:
    """A workpiece over that section, two layers thick."""
    at = section().stations(1.0)
    n = at.s.size
    zero = np.zeros((n, 2))
    return Workpiece(
        "XR-7", form, at.s, at.weight, at.x, at.y, at.angle, at.curvature, np.full(n, THICKNESS_MM),  # type: ignore[arg-type]
        np.array([-0.25, 0.25]), zero, zero, zero, zero, 776.0,
    )  # fmt: skip


def strained(high: float = 0.0) -> Strained:
    """Corners at 95 %, flats at 12 %; the upper end of the band `high` above."""
    at = piece()
    share = np.where(np.abs(at.curvature_per_mm) > 0.0, 95.0, 12.0)
    return Strained(at, share, share + high)


def figure(word: str, value: float, unit: str = "mm", digits: int = 2, half: float | None = None) -> Figure:
    """A figure of the hand-made ring."""
    band = None if half is None else Band(value - half, value + half, "by hand")
    source = Source("derived", "by hand", True)
    return Figure(f"XR-7/{word}", word.replace("/", " "), value, unit, source, digits, band)


def finding(level: str, sentence: str) -> Finding:
    """A finding of the hand-made ring."""
    return Finding(level, sentence, "turn the stop back", "XR-7/size", "by-hand", "it is only made up")  # type: ignore[arg-type]


def rows() -> tuple[WalkRow, ...]:
    """A walk of four operations."""
    lip = Shown(figure("free lip", 247.6, half=0.03), 247.5, 247.7, 247.48)
    length, depth = Shown(figure("length", 815.0, digits=0)), Shown(figure("depth", 2.35))
    stop = Shown(figure("stop", 44.8))
    return (
        WalkRow("cut", "Cut the strip", "laser, edges deburred", Icon("strip"), None, (length,)),
        WalkRow("roll", "Roll, pass 1 of 1", "rolls XR-7", Icon("rolling"), strained(), (depth,)),
        WalkRow("size", "Stretch, hit 1 of 1", "segments XR-7", Icon("sized"), strained(10.0), (stop, lip), (), (1,)),
        WalkRow("trim", "Trim the edges", "", Icon("trimmed"), strained(), ()),
    )


def segments() -> SegmentView:
    """A segment set under that section."""
    controls = (
        ControlRadius("land", 32.0, 123.85, 124.241, 123.846),
        ControlRadius("crown", 45.0, 125.75, 126.147, 125.752),
        ControlRadius("lip", 66.0, 123.4, 123.79, 123.395),
    )
    return SegmentView("Segments XR-7", offset(section(), -0.4), 8, 4.6, controls, section(), THICKNESS_MM)


def content(findings: tuple[Finding, ...] | None = None, **changes: object) -> WalkContent:
    """The whole sheet of the hand-made ring."""
    title = Title("XR-7", "Walk through the shop", "XL-1 A", "A", "0a1b 2c3d", "2031-03-01", ("all data invented",))
    stops = StopTableShown(
        ("land", "lip"),
        tuple(StopLine(44.0 + 0.2 * k, 0.2 * k, (247.3, 248.2), (246.9, 247.5 + 0.02 * k)) for k in range(9)),
        (1, 6),
        4,
    )
    fields: dict[str, object] = {
        "title": title,
        "answer": "From strip 815 × 54.5 the ring comes off at lip Ø 247.60.",
        "budget_words": "Strain as share of the budget:",
        "rows": rows(),
        "findings": findings if findings is not None else (finding("caution", "The pin holds at 1.29° only."),),
        "proven": False,
        "blank": STRIP,
        "blank_figures": (Shown(figure("width", 54.5, digits=1)),),
        "rolls": RollsShown(roll_pair(section(), THICKNESS_MM, 50.0, 8.0), "XR-7-R", "First estimate."),
        "segments": segments(),
        "seam_deg": 11.25,
        "stops": stops,
        "press": (Shown(figure("pull", 40.3, "kN", 1)),),
    }
    return WalkContent(**{**fields, **changes})  # type: ignore[arg-type]
