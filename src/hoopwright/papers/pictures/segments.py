"""The segment set: its profile in the loaded position, and the set seen along the axis. Units mm, deg."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from hoopwright.errors import GeometryError, InputError
from hoopwright.kernels.profile import Point, Profile, Segment, line
from hoopwright.papers.drawing.items import (
    Chain,
    Drawing,
    Hatch,
    Item,
    Leader,
    LinearDimension,
    Path,
    RadiusDimension,
    Text,
    bow,
    circle,
)
from hoopwright.papers.numbers import radius, written
from hoopwright.papers.pictures.callouts import Callout, row_of_callouts
from hoopwright.papers.pictures.sheet_metal import sheet_outline


@dataclass(frozen=True, slots=True)
class ControlRadius:
    """One place of the profile that is held: its name, where, and the radii there.

    ring_free_mm, ring_loaded_mm : of the ring's middle. segment_mm : of the tool's surface.
    """

    name: str
    z_mm: float
    ring_free_mm: float
    ring_loaded_mm: float
    segment_mm: float


@dataclass(frozen=True, slots=True)
class SegmentView:
    """What the drawings of a segment set need. profile : surface in the loaded position, x = z, y = radius.

    ring, thickness_mm : the ring on it, loaded. bore_mm, bore_top_mm : radius of the taper bore at the base and at the
    top, where it is seen from above; None where the set is not shaped: a bore is then sketched at `SKETCHED_BORE`.
    """

    name: str
    profile: Profile
    count: int
    slot_mm: float
    controls: tuple[ControlRadius, ...] = ()
    ring: Profile | None = None
    thickness_mm: float = 0.0
    bore_mm: float | None = None
    bore_top_mm: float | None = None

    @property
    def shown_bore_mm(self) -> float:
        """Radius of the bore's edge seen from above."""
        known = self.bore_mm if self.bore_top_mm is None else self.bore_top_mm
        return SKETCHED_BORE * self.profile.bounds[1] if known is None else known


SKETCHED_BORE = 0.5
"""Share of the least profile radius at which the bore is sketched where it is not known."""


def half_section(view: SegmentView) -> Chain:
    """Closed chain of the set's half section: profile, both ends down to the axis, and the axis (y = 0)."""
    if view.profile.bounds[1] <= 0.0:
        raise GeometryError("segment profile", view.profile.bounds[1], "mm", "above the axis", "check the radii")
    (x0, y0), (x1, y1) = view.profile.start, view.profile.end
    return (*view.profile.segments, line((x1, y1), (x1, 0.0)), line((x1, 0.0), (x0, 0.0)), line((x0, 0.0), (x0, y0)))


def segment_dxf_drawing(view: SegmentView) -> Drawing:
    """The profile as it is ground: layers PROFILE (closed half section), CENTRE (axis at y = 0)."""
    x0, x1 = view.profile.start[0], view.profile.end[0]
    items: list[Item] = [
        Path(half_section(view), "wide", None, True, "PROFILE", f"half section of {view.name}"),
        Path((line((x0 - 5.0, 0.0), (x1 + 5.0, 0.0)),), "centre", layer="CENTRE"),
        LinearDimension((x0, 0.0), (x1, 0.0), -10.0, 3, "x"),
    ]
    for control in view.controls:
        foot = (control.z_mm, 0.0)
        items.append(LinearDimension(foot, (control.z_mm, control.segment_mm), 0.0, 3, "y", prefix="R "))
    items += _corners(view.profile, 3)
    items.append(Text((x0, view.profile.bounds[3]), view.name, 3.9, "figures-bold", shift=(0.0, 6.0)))
    return Drawing(tuple(items), view.name, "segment profile in the loaded position, slots open, axis at y = 0")


def _corners(profile: Profile, digits: int) -> list[Item]:
    """Radius of every arc, written on the side of its centre where there is room inside the tool."""
    items: list[Item] = []
    for segment in profile.segments:
        if segment.centre is not None:
            middle = segment.point_at(0.5 * segment.length)
            spoke = math.degrees(math.atan2(middle[1] - segment.centre[1], middle[0] - segment.centre[0]))
            hollow = middle[1] < segment.centre[1]
            items.append(RadiusDimension(segment.centre, segment.radius, spoke, 6.0 if hollow else -6.0, digits))
    return items


def profile_drawing(view: SegmentView, scale: float, shown_depth_mm: float = 9.0) -> Drawing:
    """The profile as a toolmaker reads it: hatched, broken off, the loaded ring on it, control radii led out.

    scale : paper scale the labels are laid out for; the drawing is to be shown at it.
    """
    profile = view.profile
    x0, x1 = profile.start[0], profile.end[0]
    low = profile.bounds[1] - shown_depth_mm
    steps = 8
    points = [(x1 + (x0 - x1) * k / steps, low + (0.4 if k % 2 else 0.0)) for k in range(steps + 1)]
    edge: list[Segment] = [line(a, b) for a, b in pairwise(points)]
    body: Chain = (*profile.segments, line(profile.end, points[0]), *edge, line(points[-1], profile.start))
    items: list[Item] = [Path(body, "narrow", "sheet", True), Hatch((body,), 45.0, 2.0), Path(profile.segments, "wide")]
    if view.ring is not None and view.thickness_mm > 0.0:
        items.append(Path(sheet_outline(view.ring, view.thickness_mm), "other", None, True, title="the ring, loaded"))
    high = max(profile.bounds[3], view.ring.bounds[3] if view.ring else 0.0)
    items += row_of_callouts(_control_callouts(view), high + 13.0 / scale, scale, right_x=x1)
    items.append(LinearDimension((x0, low), (x1, low), -6.0, 2, "x"))
    return Drawing(tuple(items), f"{view.name}: profile", "profile in the loaded position, slots open")


def _control_callouts(view: SegmentView) -> list[Callout]:
    """Control radii with their places."""
    return [
        Callout((c.z_mm, c.segment_mm), (radius(c.segment_mm), f"{c.name}, z {written(c.z_mm, 1)}"))
        for c in view.controls
    ]


def _polar(r: float, clock_deg: float) -> Point:
    t = math.radians(90.0 - clock_deg)
    return (r * math.cos(t), r * math.sin(t))


def _one_segment(outer: float, bore: float, slot: float, clock_deg: float, pitch_deg: float) -> Chain:
    """A segment between two slots with parallel sides."""
    half = 0.5 * slot
    a = math.degrees(math.asin(half / outer))
    b = math.degrees(math.asin(half / bore))
    first, last = 90.0 - clock_deg + 0.5 * pitch_deg, 90.0 - clock_deg - 0.5 * pitch_deg
    rim = bow((0.0, 0.0), outer, first - a, last + a)
    back = bow((0.0, 0.0), bore, last + b, first - b)
    return (rim, line(rim.end, back.start), back, line(back.end, rim.start))


def polar_drawing(view: SegmentView, seam_deg: float | None = None, lettering: bool = True) -> Drawing:
    """The set seen along the axis: numbered clockwise, segment 1 at the top; the ring round it with its seam.

    seam_deg : clockwise from the middle of segment 1.
    """
    outer, bore = view.profile.bounds[3], view.shown_bore_mm
    if view.count < 2:
        raise InputError("segments", view.count, "", "2 or more", "give the count of the set")
    if 0.5 * view.slot_mm >= bore * math.sin(math.pi / view.count):
        raise GeometryError(
            "slot", view.slot_mm, "mm", "narrow enough to leave metal at the bore", "use fewer segments"
        )
    pitch = 360.0 / view.count
    items: list[Item] = []
    for k in range(view.count):
        chain = _one_segment(outer, bore, view.slot_mm, k * pitch, pitch)
        items.append(Path(chain, "wide", "sheet", True))
        if k == 0:
            items.append(Hatch((chain,), 45.0, 2.2))
    ring = outer + max(view.thickness_mm, 0.012 * outer)
    items.append(Path(circle((0.0, 0.0), ring), "narrow", title="the ring"))
    if view.bore_mm is not None and view.bore_top_mm is not None:
        items.append(Path(circle((0.0, 0.0), view.bore_mm), "narrow", title="taper bore at the base"))
    reach = 1.08 * outer
    items += [
        Path((line((-reach, 0.0), (reach, 0.0)),), "centre"),
        Path((line((0.0, -reach), (0.0, reach)),), "centre"),
    ]
    if seam_deg is not None:
        items.append(Path(circle(_polar(ring, seam_deg), 0.03 * outer), "narrow", "sheet", True, title="the seam"))
    if lettering:
        for k in range(view.count):
            place = _polar(0.45 * outer + 0.55 * bore, k * pitch)
            items.append(Text(place, str(k + 1), 3.9, "figures-bold", "middle", (0.0, -1.3), knockout=True))
        tip = _polar(0.9 * outer, 0.5 * pitch)
        words = f"{view.count} × {written(view.slot_mm, 1)}"
        items.append(Leader(tip, (9.0, 9.0), (words,), "dot"))
    return Drawing(
        tuple(items), f"{view.name}: from above", f"{view.count} segments, slots {written(view.slot_mm, 1)} wide"
    )
