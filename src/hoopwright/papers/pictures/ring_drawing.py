"""One ring as the drawing wants it: section to scale, control sizes, bend radii, lengths. Units mm; x = z, y = r."""

from __future__ import annotations

import math

from hoopwright.design.shapes import ControlSize, Ring
from hoopwright.kernels.profile_crossing import levels_at
from hoopwright.papers.drawing.items import Drawing, Item, LinearDimension
from hoopwright.papers.numbers import diameter, plus_minus, radius, written
from hoopwright.papers.pictures.callouts import Callout, row_of_callouts
from hoopwright.papers.pictures.sheet_metal import Firmness, cut_sheet


def ring_drawing(ring: Ring, scale: float, firmness: Firmness = "hatched", sizes: bool = True) -> Drawing:
    """Section of the ring with the sizes its drawing gives; `sizes` off leaves the bare section.

    scale : paper scale the labels are laid out for; the drawing is to be shown at it.
    """
    items: list[Item] = list(cut_sheet(ring.section, ring.thickness_mm, firmness, title=ring.id))
    if sizes:
        x0, y0, x1, y1 = ring.section.bounds
        low, high = y0 - 0.5 * ring.thickness_mm, y1 + 0.5 * ring.thickness_mm
        bends = _bends(ring)
        items.append(LinearDimension((x0, low), (x1, low), -21.0 if bends else -9.0, 2, "x"))
        items += row_of_callouts(_controls(ring), high + 13.0 / scale, scale, "arrow")
        items += row_of_callouts(bends, low - 13.0 / scale, scale, "arrow")
    words = f"{ring.id}: section, sheet {written(ring.thickness_mm, 3)} mm, {len(ring.controls)} control sizes"
    return Drawing(tuple(items), f"section of {ring.id}", words)


def control_name(control: ControlSize) -> str:
    """The name of a control size as the shop writes it: od and id are the face's business, and it is said beside it."""
    words = [w for w in control.name.split("_") if w not in ("od", "id")]
    return " ".join(words) or control.name


def control_text(control: ControlSize) -> tuple[str, str]:
    """What a control size says: its diameter with tolerance, and name with face."""
    digits = 2 if control.tolerance_mm >= 0.01 else 3
    size = diameter(control.diameter_mm, digits) + plus_minus(0.0, control.tolerance_mm, digits)[len("0.") + digits :]
    return size, f"{control_name(control)}, {control.face}"


def _controls(ring: Ring) -> list[Callout]:
    """Control sizes, from the face they belong to."""
    found = []
    for control in ring.controls:
        levels = levels_at(ring.section, control.z_mm)
        middle = levels[0] if levels else 0.5 * control.diameter_mm
        half = 0.5 * ring.thickness_mm if control.face == "outside" else -0.5 * ring.thickness_mm
        found.append(Callout((control.z_mm, middle + half), control_text(control)))
    return found


def _bends(ring: Ring) -> list[Callout]:
    """Radius of the middle of every bend, from its middle."""
    return [
        Callout(segment.point_at(0.5 * segment.length), (radius(segment.radius, 2),))
        for segment in ring.section.segments
        if segment.is_arc
    ]


def bend_words(ring: Ring) -> tuple[str, ...]:
    """Every bend of the section in words, forward to aft."""
    found = []
    for segment in ring.section.segments:
        if segment.centre is not None:
            turn = math.degrees(abs(segment.sweep))
            found.append(f"{radius(segment.radius, 2)} over {written(turn, 1)}°")
    return tuple(found)
