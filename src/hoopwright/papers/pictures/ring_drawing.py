"""One ring as the drawing wants it: section to scale, control sizes, bend radii, lengths. Units mm; x = z, y = r."""

from __future__ import annotations

import math

from hoopwright.design.shapes import ControlSize, Ring
from hoopwright.kernels.profile_crossing import levels_at
from hoopwright.papers.drawing.items import Drawing, Item, Leader, LinearDimension, RadiusDimension
from hoopwright.papers.numbers import diameter, plus_minus, radius, written
from hoopwright.papers.pictures.sheet_metal import Firmness, cut_sheet


def ring_drawing(ring: Ring, firmness: Firmness = "hatched", sizes: bool = True) -> Drawing:
    """Section of the ring with the sizes its drawing gives; `sizes` off leaves the bare section."""
    items: list[Item] = list(cut_sheet(ring.section, ring.thickness_mm, firmness, title=ring.id))
    if sizes:
        items += _controls(ring)
        items += _bends(ring)
        x0, y0, x1, _ = ring.section.bounds
        low = y0 - 0.5 * ring.thickness_mm
        items.append(LinearDimension((x0, low), (x1, low), -14.0, 2, "x"))
    words = f"{ring.id}: section, sheet {written(ring.thickness_mm, 3)} mm, {len(ring.controls)} control sizes"
    return Drawing(tuple(items), f"section of {ring.id}", words)


def control_text(control: ControlSize) -> tuple[str, str]:
    """What a control size says: its diameter with tolerance, and name with face."""
    digits = 2 if control.tolerance_mm >= 0.01 else 3
    size = diameter(control.diameter_mm, digits) + plus_minus(0.0, control.tolerance_mm, digits)[len("0.") + digits :]
    return size, f"{control.name.replace('_', ' ')}, {control.face}"


def _controls(ring: Ring) -> list[Item]:
    """Control sizes led out upward, shelves staggered so that neighbours do not meet."""
    items: list[Item] = []
    ordered = sorted(ring.controls, key=lambda c: c.z_mm)
    for k, control in enumerate(ordered):
        levels = levels_at(ring.section, control.z_mm)
        middle = levels[0] if levels else 0.5 * control.diameter_mm
        half = 0.5 * ring.thickness_mm if control.face == "outside" else -0.5 * ring.thickness_mm
        up = 12.0 + 12.0 * (k % 2)
        items.append(Leader((control.z_mm, middle + half), (2.0, up), control_text(control), "arrow"))
    return items


def _bends(ring: Ring) -> list[Item]:
    """Radius of the middle of every bend, on the side of its centre."""
    items: list[Item] = []
    for segment in ring.section.segments:
        if segment.centre is None or segment.radius > 50.0:
            continue
        middle = segment.point_at(0.5 * segment.length)
        spoke = math.degrees(math.atan2(middle[1] - segment.centre[1], middle[0] - segment.centre[0]))
        below = middle[1] > segment.centre[1]
        items.append(RadiusDimension(segment.centre, segment.radius, spoke, -5.0 if below else 5.0, 2))
    return items


def bend_words(ring: Ring) -> tuple[str, ...]:
    """Every bend of the section in words, forward to aft."""
    found = []
    for segment in ring.section.segments:
        if segment.centre is not None:
            turn = math.degrees(abs(segment.sweep))
            found.append(f"{radius(segment.radius, 2)} over {written(turn, 1)}°")
    return tuple(found)
