"""Laps: both parts cylindrical about the weld, the gap weldable and as the drawing says, lands long enough."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from hoopwright.cards.limits import HouseLimits
from hoopwright.design.checks.sheets import ROUNDING_MM, Sheet, levels, radius_span, sheets_of
from hoopwright.design.shapes import Joint, Liner
from hoopwright.findings import Check, Finding, Source, judged, weakest

# Half of the length about a weld that must be a cylinder: the weld wanders, and a feeler needs a straight land.
# Common practice, no source.
STRAIGHT_MM = 1.0


@dataclass(frozen=True, slots=True)
class Lap:
    """A joint with the mid-surface radii of its two parts at the weld and the gap between their faces. mm."""

    joint: Joint
    outer: Sheet
    inner: Sheet
    outer_mid: float
    inner_mid: float

    @property
    def gap(self) -> float:
        """Radial gap between the faces that meet; below 0 they press. [mm]"""
        return self.outer_mid - self.inner_mid - 0.5 * (self.outer.thickness_mm + self.inner.thickness_mm)


def lap_of(liner: Liner, joint: Joint) -> Lap | None:
    """The lap of a joint; None where a part is unknown or does not reach the weld.

    Of parts with two walls there (the end plate) the pair that lies closest is taken.
    """
    sheets = {sheet.id: sheet for sheet in sheets_of(liner)}
    outer, inner = sheets.get(joint.outer), sheets.get(joint.inner)
    if outer is None or inner is None:
        return None
    half = 0.5 * (outer.thickness_mm + inner.thickness_mm)
    pairs = [(ro, ri) for ro in levels(outer.section, joint.weld_z_mm) for ri in levels(inner.section, joint.weld_z_mm)]
    if not pairs:
        return None
    ro, ri = min(pairs, key=lambda pair: abs(pair[0] - pair[1] - half))
    return Lap(joint, outer, inner, ro, ri)


def lap_findings(liner: Liner, limits: HouseLimits) -> Iterator[Finding]:
    """Findings of all joints."""
    for joint in liner.joints:
        lap = lap_of(liner, joint)
        if lap is None:
            yield from _off_part(liner, joint)
        elif lap.outer_mid < lap.inner_mid:
            yield _exchanged(liner, lap)
        else:
            yield from _cylinders(liner, lap)
            yield from _gap(liner, lap, limits)
            yield from _edges(liner, lap, limits)


def _off_part(liner: Liner, joint: Joint) -> Iterator[Finding]:
    for sheet in sheets_of(liner):
        if sheet.id in (joint.outer, joint.inner) and not levels(sheet.section, joint.weld_z_mm):
            low, _, high, _ = sheet.section.bounds
            yield Finding(
                "stop",
                f"{joint.id}: {sheet.id} has no sheet at the weld, z {joint.weld_z_mm:g} mm; "
                f"it stands from {low:g} to {high:g} mm.",
                "correct weld_z_mm, or the section",
                f"{joint.id}/weld",
                "lap-off-part",
                source=liner.source(f"joint {joint.id}"),
            )


def _exchanged(liner: Liner, lap: Lap) -> Finding:
    joint = lap.joint
    return Finding(
        "stop",
        f"{joint.id}: {joint.outer}, the outer part, lies inside {joint.inner} at the weld: mid radius "
        f"{lap.outer_mid:.3f} mm against {lap.inner_mid:.3f} mm.",
        "exchange outer and inner of the joint, or correct a section",
        f"{joint.id}/parts",
        "lap-exchanged",
        source=liner.source(f"joint {joint.id}"),
    )


def _cylinders(liner: Liner, lap: Lap) -> Iterator[Finding]:
    z = lap.joint.weld_z_mm
    for sheet, mid in ((lap.outer, lap.outer_mid), (lap.inner, lap.inner_mid)):
        span = radius_span(sheet.section, z - STRAIGHT_MM, z + STRAIGHT_MM, mid, 5.0)
        source = liner.source(f"joint {lap.joint.id} and {sheet.id}, section")
        if span is None:
            sentence = f"{lap.joint.id}: {sheet.id} ends within {STRAIGHT_MM:g} mm of the weld, z {z:g} mm."
        elif span[1] - span[0] > ROUNDING_MM:
            sentence = (
                f"{lap.joint.id}: {sheet.id} is no cylinder within {STRAIGHT_MM:g} mm of the weld, z {z:g} mm: "
                f"its radius runs from {span[0]:.3f} to {span[1]:.3f} mm."
            )
        else:
            continue
        remedy = "move the weld to the middle of the land, or make the land longer"
        yield Finding("stop", sentence, remedy, f"{lap.joint.id}/weld", "lap-not-cylindrical", source=source)


def _gap(liner: Liner, lap: Lap, limits: HouseLimits) -> Iterator[Finding]:
    joint, gap = lap.joint, lap.gap
    source = liner.source(f"joint {joint.id}")
    if joint.gap_mm is not None and abs(gap - joint.gap_mm) > ROUNDING_MM:
        yield Finding(
            "stop",
            f"{joint.id}: the sections leave a radial gap of {gap:.3f} mm, the joint says {joint.gap_mm:.3f} mm.",
            "correct the section of the part that is not as drawn, or gap_mm",
            f"{joint.id}/gap",
            "lap-gap-nominal",
            source=source,
        )
    thinner = min(lap.outer.thickness_mm, lap.inner.thickness_mm)
    widest = limits.lap_gap_max_t.value * thinner
    low, high = limits.lap_gap_min_mm, limits.lap_gap_max_t
    rules: tuple[tuple[float, str, Source, str], ...] = (
        (widest, "<=", high.source, "bring the faces closer: a lap weld does not bridge the gap"),
        (low.value, ">=", low.source, "open the lap: the parts do not go together"),
    )
    for limit, sense, ground, remedy in rules:
        check = Check(
            name=f"{joint.id}, nominal lap gap",
            value=round(gap, 6),
            limit=limit,
            sense="<=" if sense == "<=" else ">=",
            unit="mm",
            source=weakest([source, ground]),
            level="stop",
            remedy=remedy,
            about=f"{joint.id}/gap",
        )
        sentence = f"{joint.id}: the nominal radial gap is {gap:.3f} mm; the house limit is {limit:.3f} mm."
        found = judged(check, sentence, "lap-gap")
        if found is not None:
            yield found


def _edges(liner: Liner, lap: Lap, limits: HouseLimits) -> Iterator[Finding]:
    """Distance from the weld to the nearer end of each part, and the length of the lap itself."""
    joint = lap.joint
    reach: list[tuple[float, float]] = []
    for sheet in (lap.outer, lap.inner):
        low, high = sheet.section.bounds[0], sheet.section.bounds[2]
        reach.append((low, high))
        edge = min(joint.weld_z_mm - low, high - joint.weld_z_mm)
        figure = limits.edge_to_weld_min_mm
        check = Check(
            name=f"{joint.id}, {sheet.id}, edge to weld",
            value=round(edge, 6),
            limit=figure.value,
            sense=">=",
            unit="mm",
            source=weakest([liner.source(f"joint {joint.id}"), figure.source]),
            level="caution",
            remedy="move the weld away from the edge, or make the land longer",
            about=f"{joint.id}/weld",
        )
        limit = f"the house limit is {figure.value:g} mm"
        sentence = f"{joint.id}: the weld lies {edge:.2f} mm from the edge of {sheet.id}; {limit}."
        found = judged(check, sentence, "edge-to-weld")
        if found is not None:
            yield found
    yield from _land(liner, lap, limits, min(high for _, high in reach) - max(low for low, _ in reach))


def _land(liner: Liner, lap: Lap, limits: HouseLimits, overlap: float) -> Iterator[Finding]:
    joint, figure = lap.joint, limits.lap_land_min_mm
    check = Check(
        name=f"{joint.id}, length of the lap",
        value=round(overlap, 6),
        limit=figure.value,
        sense=">=",
        unit="mm",
        source=weakest([liner.source(f"joint {joint.id}"), figure.source]),
        level="caution",
        remedy="let the parts overlap more",
        about=f"{joint.id}/land",
    )
    sentence = f"{joint.id}: the parts overlap by {overlap:.2f} mm; the house limit is {figure.value:g} mm."
    found = judged(check, sentence, "lap-land")
    if found is not None:
        yield found
