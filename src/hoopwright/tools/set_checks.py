"""Standing checks of a segment set with its partners, loaded, collapsed and between. Units mm."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.cards.toolroom import ToolRoom
from hoopwright.findings import Check
from hoopwright.kernels.segment_retract import Contour
from hoopwright.tools import solids
from hoopwright.tools.base import BaseForm
from hoopwright.tools.segment_body import SetForm
from hoopwright.tools.segment_solids import beside_slot, passing_miss, placed
from hoopwright.tools.solids import Body, mesh
from hoopwright.tools.spacers import SpacerForm
from hoopwright.tools.standing_checks import GAP_MM, HERE, OVERLAP_MM3, at_least, same, sound, volume_check
from hoopwright.tools.taper_pin import PinForm

ROUNDING_SHARE = 0.25
"""Rounding is reckoned in planes square to the axis; on a 30 degree slope the ball takes a sixth more."""
MESH_MM = 0.02
"""Triangles leave the surface by 0.01 and the ring's inside is straight between stations."""


@dataclass(frozen=True, slots=True, eq=False)
class SetParts:
    """What a segment set is checked with. incoming, released : inside of the ring as it comes and as it leaves."""

    form: SetForm
    pin: PinForm
    base: BaseForm
    spacer: SpacerForm
    incoming: Contour
    released: Contour
    load_clearance_mm: float
    slot_clearance_mm: float


def check_set(tool: str, parts: SetParts, segment: Body, sharp: Body, room: ToolRoom) -> tuple[Check, ...]:
    """Segment set with its partners."""
    form = parts.form
    corners = mesh(segment, 0.01).points_mm
    taken = solids.volume(sharp) - solids.volume(segment)
    wanted = form.rounding_volume_mm3()
    checks = [
        sound(tool, (segment,)),
        volume_check(tool, sharp, form.segment_volume_mm3),
        same(
            tool,
            "rounded edges take what they should",
            taken / wanted if wanted else 1.0,
            1.0,
            ROUNDING_SHARE,
            "1",
            "use a smaller edge radius",
        ),
        *_retraction(tool, parts, segment, corners),
        *_passing(tool, parts, corners),
        *_drive(tool, parts, segment),
    ]
    checks.append(
        at_least(
            tool,
            "width of a segment at its bore",
            form.web_mm,
            room.web_min_mm.value,
            room.web_min_mm.source,
            "use fewer segments or a bigger pin",
        )
    )
    checks.append(
        at_least(
            tool,
            "wall between taper bore and outside",
            form.wall_mm,
            room.wall_min_mm.value,
            room.wall_min_mm.source,
            "take a smaller pin",
        )
    )
    spacer = parts.spacer.placed(form, 1)
    checks.append(volume_check(tool, spacer, parts.spacer.volume_mm3))
    checks.append(
        same(
            tool,
            "spacer fills its slot",
            solids.distance(spacer, placed(form, segment, 1)),
            0.0,
            GAP_MM,
            "mm",
            "check the slot",
        )
    )
    return tuple(checks)


def _retraction(tool: str, parts: SetParts, segment: Body, corners: NDArray[np.float64]) -> list[Check]:
    """Neighbours through the whole retraction: slot faces at three places, and all else behind them."""
    form, checks = parts.form, []
    on_slot = slot_faces(form)
    # numbers run clockwise: the right side of a segment faces the left side of the next
    right = solids.faces_on(segment, lambda x, y, z: y < 0.0 and on_slot(x, y, z), "slot faces, right")
    left = solids.faces_on(segment, lambda x, y, z: y > 0.0 and on_slot(x, y, z), "slot faces, left")
    # both faces are planes and neighbours move straight apart: the ends and one place between tell the whole way
    for share in (0.0, 0.5, 1.0):
        back = share * form.travel_mm
        one, two = placed(form, right, 1, back), placed(form, left, 2, back)
        checks.append(
            same(
                tool,
                f"slot {100 * share:.0f} % retracted is as reckoned",
                solids.distance(one, two),
                form.gap_mm(back),
                GAP_MM,
                "mm",
                "check slot and travel",
            )
        )
    behind = beside_slot(form, corners)
    checks.append(
        same(tool, "no part of a segment passes its slot faces", behind, 0.0, GAP_MM, "mm", "check tongues and edges")
    )
    least = form.gap_mm(form.travel_mm)
    clear = parts.slot_clearance_mm - GAP_MM
    checks.append(at_least(tool, "room between collapsed neighbours", least, clear, HERE, "widen the slot"))
    return checks


def slot_faces(form: SetForm) -> Callable[[float, float, float], bool]:
    """Says of a place whether it lies on a slot face of the segment about the x axis."""
    sine, cosine, half = math.sin(0.5 * form.pitch_rad), math.cos(0.5 * form.pitch_rad), 0.5 * form.slot_mm
    return lambda x, y, z: abs(x * sine - abs(y) * cosine - half) < 1e-6


def _passing(tool: str, parts: SetParts, corners: NDArray[np.float64]) -> list[Check]:
    form, clear = parts.form, parts.load_clearance_mm
    checks = []
    for word, ring in (("takes the incoming ring on", parts.incoming), ("lets the sized ring off", parts.released)):
        room = passing_miss(form, corners, ring, form.travel_mm)
        checks.append(
            at_least(
                tool,
                f"collapsed set {word}, least radial room",
                room,
                clear - MESH_MM,
                HERE,
                "give the segments more travel",
            )
        )
    return checks


def _drive(tool: str, parts: SetParts, segment: Body) -> list[Check]:
    """Pin and base, loaded and collapsed."""
    form = parts.form
    stroke = form.travel_mm / math.tan(form.half_angle_rad)
    back = solids.moved(segment, -form.travel_mm, 0.0, 0.0)
    loaded, raised = parts.pin.body(), parts.pin.body(stroke)
    checks = [
        same(
            tool,
            "pin bears on the loaded segment",
            solids.distance(segment, loaded),
            0.0,
            GAP_MM,
            "mm",
            "check bore and pin",
        ),
        same(
            tool,
            "pin bears on the collapsed segment",
            solids.distance(back, raised),
            0.0,
            GAP_MM,
            "mm",
            "check stroke and taper",
        ),
    ]
    for word, one, two in (("loaded", segment, loaded), ("collapsed", back, raised)):
        checks.append(
            Check(
                f"{tool}: pin and segment do not cross, {word}",
                solids.overlap(one, two),
                OVERLAP_MM3,
                "<=",
                "mm3",
                HERE,
                "stop",
                "check bore and pin",
                tool,
            )
        )
    base = parts.base.body()
    side = parts.base.slot_width_mm - form.tongue.width_mm
    for word, one in (("loaded", segment), ("collapsed", back)):
        tongue = solids.below(one, -0.5)
        checks.append(
            same(
                tool,
                f"tongue clears its slot, {word}",
                solids.distance(tongue, base),
                0.5 * side,
                GAP_MM,
                "mm",
                "check the base slot",
            )
        )
    return checks
