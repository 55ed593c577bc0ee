"""Whether control sizes are the sizes of the section they belong to."""

from __future__ import annotations

from collections.abc import Iterator

from hoopwright.design.checks.magnitude import looks_like
from hoopwright.design.checks.sheets import ROUNDING_MM, levels
from hoopwright.design.shapes import ControlSize, EndPlate, Liner, Ring
from hoopwright.errors import GeometryError
from hoopwright.findings import Finding
from hoopwright.kernels.profile_offset import offset


def size_findings(liner: Liner) -> Iterator[Finding]:
    """Findings of all control sizes of a liner."""
    parts: tuple[Ring | EndPlate, ...] = liner.rings
    if liner.end_plate is not None:
        parts = (*parts, liner.end_plate)
    for part in parts:
        for control in part.controls:
            yield from control_findings(liner, part, control)


def control_findings(liner: Liner, part: Ring | EndPlate, control: ControlSize) -> Iterator[Finding]:
    """Findings of one control size against the faces of its part."""
    about = f"{part.id}/control/{control.name}"
    source = liner.source(f"{part.id}, control {control.name}")
    here = face_diameters(part, control, control.face)
    if here is None:
        return
    if not here:
        low, _, high, _ = part.section.bounds
        yield Finding(
            "stop",
            f"{part.id}, {control.name}: the part has no {control.face} face at z {control.z_mm:g} mm; "
            f"it stands from {low:g} to {high:g} mm.",
            "correct z_mm of the size, or the section",
            about,
            "control-off-section",
            source=source,
        )
        return
    nearest = min(here, key=lambda diameter: abs(diameter - control.diameter_mm))
    miss = control.diameter_mm - nearest
    if abs(miss) <= ROUNDING_MM:
        return
    within = abs(miss) <= control.tolerance_mm
    yield Finding(
        "caution" if within else "stop",
        f"{part.id}, {control.name}: the size is {control.diameter_mm:.3f} mm, the section gives {nearest:.3f} mm on "
        f"the {control.face} face at z {control.z_mm:g}: {abs(miss):.3f} mm "
        f"{'larger' if miss > 0 else 'smaller'}, tolerance {control.tolerance_mm:g} mm.",
        _remedy(part, control, nearest),
        about,
        "control-size",
        why="tools are cut from the section, the part is judged by the size: both must be the same line",
        source=source,
    )


def _remedy(part: Ring | EndPlate, control: ControlSize, nearest: float) -> str:
    faces = face_diameters(part, control, "inside" if control.face == "outside" else "outside") or []
    if any(abs(diameter - control.diameter_mm) <= ROUNDING_MM for diameter in faces):
        return "correct the face of the size: it fits the other face exactly"
    unit = looks_like(control.diameter_mm, nearest)
    if unit:
        return f"enter the size in mm; it looks like {unit}"
    return "correct the size or the section, whichever the drawing does not show"


def face_diameters(part: Ring | EndPlate, control: ControlSize, face: str) -> list[float] | None:
    """Diameters of a face at the z of a size; None where the face cannot be made (a finding of its own).

    A part with two walls at that z (the end plate's flanges) gives two; outward of the mid-surface is "outside".
    """
    half = 0.5 * part.thickness_mm
    try:
        lines = [offset(part.section, half), offset(part.section, -half)]
    except GeometryError:
        return None
    diameters: list[float] = []
    mids = levels(part.section, control.z_mm)
    for line in lines:
        for level in levels(line, control.z_mm):
            if mids and (level > min(mids, key=lambda mid: abs(mid - level))) == (face == "outside"):
                diameters.append(2.0 * level)
    return diameters
