"""Checks of each section on its own: one smooth line, bends no tighter than the house allows, faces that stay apart."""

from __future__ import annotations

from collections.abc import Iterator

from hoopwright.cards.limits import HouseLimits
from hoopwright.design.chain_checks import chain_troubles
from hoopwright.design.checks.sheets import Sheet
from hoopwright.design.faces import outline
from hoopwright.design.shapes import Liner
from hoopwright.errors import GeometryError
from hoopwright.findings import Check, Finding, Level, judged, weakest
from hoopwright.kernels.profile_crossing import self_crossings


def line_findings(liner: Liner, sheet: Sheet, limits: HouseLimits) -> Iterator[Finding]:
    """Findings of one section."""
    source = liner.source(f"{sheet.id}, section")
    troubles = chain_troubles(sheet.section.segments)
    for t in troubles:
        shown = f"{t.value} {t.unit}".strip()
        sentence = f"{sheet.id}: element {t.element + 1} of the section, {t.key}, is {shown}; it must be {t.must}."
        yield Finding("stop", sentence, t.remedy, sheet.key, t.topic, source=source)
    yield from bend_findings(liner, sheet, limits)
    if not troubles:
        yield from _face_findings(liner, sheet)


def bend_findings(liner: Liner, sheet: Sheet, limits: HouseLimits) -> Iterator[Finding]:
    """The tightest bend of a section against the house limits, inside radius over thickness."""
    bends = [(segment.radius, number) for number, segment in enumerate(sheet.section, 1) if segment.is_arc]
    if not bends:
        return
    radius, number = min(bends)
    inside = radius - 0.5 * sheet.thickness_mm
    ratio = inside / sheet.thickness_mm
    pairs: tuple[tuple[Level, float], ...] = (
        ("stop", limits.bend_radius_inside_stop_t.value),
        ("caution", limits.bend_radius_inside_min_t.value),
    )
    for level, limit in pairs:
        figure = limits.bend_radius_inside_stop_t if level == "stop" else limits.bend_radius_inside_min_t
        check = Check(
            name=f"{sheet.id}, tightest bend",
            value=ratio,
            limit=limit,
            sense=">=",
            unit="t",
            source=weakest([liner.source(f"{sheet.id}, section"), figure.source]),
            level=level,
            remedy=f"widen the arc to a mid radius of {(limit + 0.5) * sheet.thickness_mm:.2f} mm or more",
            about=sheet.key,
        )
        sentence = (
            f"{sheet.id}: the inside radius of element {number} is {inside:.2f} mm, {ratio:.2f} t; "
            f"the house limit is {limit:g} t."
        )
        found = judged(check, sentence, "bend-radius")
        if found is not None:
            yield found
            if not check.ok:
                return


def _face_findings(liner: Liner, sheet: Sheet) -> Iterator[Finding]:
    """A sheet that loses a radius on one face, or runs into itself although the mid-surface does not."""
    source = liner.source(f"{sheet.id}, section")
    try:
        edge = outline(sheet.section, sheet.thickness_mm)
    except GeometryError as problem:
        sentence = f"{sheet.id}: {problem.field} is {problem.value} {problem.unit}; it must be {problem.must}."
        yield Finding("stop", sentence, problem.remedy, sheet.key, "face-radius", source=source)
        return
    crossed = self_crossings(edge)
    if crossed:
        z, r = crossed[0][2]
        yield Finding(
            "stop",
            f"{sheet.id}: the sheet runs into itself at z {z:.3f}, r {r:.3f} mm.",
            "move the two parts of the section further apart than the thickness",
            sheet.key,
            "self-crossing",
            source=source,
        )
