"""Wire path of a segment set: where the wire's centre runs for every slot, and in what order. Units mm, deg.

Two cuts a slot, a kerf apart from the final faces, so that the strip between falls out; the wire starts in a hole in
that
strip and first runs outward on every slot, so that the bridges at the bore keep the blank whole; only then are the
bridges
cut, opposite slots in turn. A slot no wider than the kerf is one cut from outside.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.cards.machines import WireMachine
from hoopwright.cards.toolroom import ToolRoom
from hoopwright.errors import InputError
from hoopwright.findings import Check, Finding, judged
from hoopwright.kernels.profile import Point
from hoopwright.tools.segment_body import TONGUE_DEPTH, SetForm

OVER_RUN = 1.5
BRIDGE = 6.0


@dataclass(frozen=True, slots=True)
class WirePass:
    """One run of the wire along x in the slot's own frame (x outward, y across), on either side of its middle.

    name : "rough" or "skim 1". offset_mm : wire centre from the slot's middle. finish_mm : face it leaves, from the
    middle.
    """

    name: str
    offset_mm: float
    finish_mm: float


@dataclass(frozen=True, slots=True)
class WirePath:
    """The whole work. order : slots, by the number of the segment before each, in the order their bridges are cut.

    start_hole_mm : diameter and place from the axis; None where the wire comes in from outside. from_mm, to_mm : run.
    """

    form: SetForm
    passes: tuple[WirePass, ...]
    order: tuple[int, ...]
    start_hole_mm: tuple[float, float] | None
    from_mm: float
    to_mm: float
    height_mm: float
    findings: tuple[Finding, ...]

    @property
    def slot_angles_deg(self) -> tuple[float, ...]:
        """Middle of every slot, clockwise from the middle of segment 1, in the order of segments."""
        pitch = math.degrees(self.form.pitch_rad)
        return tuple((k + 0.5) * pitch for k in range(self.form.count))

    @property
    def face_area_cm2(self) -> float:
        """Area cut, all passes over both faces of every slot."""
        sides = 1 if self.start_hole_mm is None and len(self.passes) == 1 and self.passes[0].offset_mm == 0.0 else 2
        return self.form.count * sides * len(self.passes) * (self.to_mm - self.from_mm) * self.height_mm * 1e-2

    def line(self, one: WirePass, side: int) -> tuple[Point, Point]:
        """Ends of a pass on one side (+1, -1), in the slot's own frame."""
        return (self.from_mm, side * one.offset_mm), (self.to_mm, side * one.offset_mm)


def wire_path(form: SetForm, machine: WireMachine, room: ToolRoom) -> WirePath:
    """The path.

    Raises
    ------
    InputError
        A slot narrower than the wire and its gap can cut.
    """
    half, kerf, wire = 0.5 * form.slot_mm, machine.kerf_mm.value, machine.wire_dia_mm.value
    from_mm, to_mm = form.bore_mm - OVER_RUN, form.section.bounds[3] + OVER_RUN
    height = form.height_mm + TONGUE_DEPTH
    if form.slot_mm < wire + 2.0 * room.wire_gap_mm.value:
        raise InputError(
            f"{form.name}: slot",
            form.slot_mm,
            "mm",
            f"at least {wire + 2.0 * room.wire_gap_mm.value:g}",
            "use a thinner wire",
        )
    skims = round(room.skim_cuts.value)
    if form.slot_mm <= kerf:
        passes: tuple[WirePass, ...] = (WirePass("one cut", 0.0, half),)
        hole = None
    else:
        left = room.skim_stock_mm.value if skims else 0.0
        passes = (WirePass("rough", half - left - 0.5 * kerf, half - left), *_skims(half, left, skims, wire, room))
        wide = form.slot_mm - 2.0 * left - 0.5 > room.start_hole_mm.value
        hole = (room.start_hole_mm.value, _hole_place(form)) if wide else None
    findings = [
        judged(
            Check(
                "the wire machine takes the height",
                height,
                machine.height_max_mm.value,
                "<=",
                "mm",
                machine.height_max_mm.source,
                "stop",
                "cut the set in two halves, or use a taller machine",
                f"{form.name}/wire",
            ),
            f"{form.name} is {height:.0f} tall with its tongues; the wire machine takes "
            f"{machine.height_max_mm.value:g}.",
            "wire-height",
        ),
        judged(
            Check(
                "the skims take off what the rough cut affects",
                room.affected_rough_um.value * 1e-3,
                room.skim_stock_mm.value if skims else 0.0,
                "<=",
                "mm",
                room.affected_rough_um.source,
                "caution",
                "leave more for the skim, and add a second",
                f"{form.name}/wire",
            ),
            f"{form.name}: the rough cut affects {room.affected_rough_um.value:g} µm and the skims take less.",
            "wire-affected",
        ),
    ]
    return WirePath(
        form,
        passes,
        opposite_order(form.count),
        hole,
        from_mm,
        to_mm,
        height,
        tuple(f for f in findings if f is not None),
    )


def _skims(half: float, left: float, skims: int, wire: float, room: ToolRoom) -> tuple[WirePass, ...]:
    made = []
    for k in range(1, skims + 1):
        face = half - left * (skims - k) / skims
        made.append(WirePass(f"skim {k}", face - 0.5 * wire - room.wire_gap_mm.value, face))
    return tuple(made)


def _hole_place(form: SetForm) -> float:
    """Start hole: a bridge outside the bore's upper end."""
    return form.bore_mm + form.height_mm * math.tan(form.half_angle_rad) + BRIDGE


def opposite_order(count: int) -> tuple[int, ...]:
    """Slots 1 to N so that each is followed by the one opposite, and the pairs are spread round.

    >>> opposite_order(8)
    (1, 5, 3, 7, 2, 6, 4, 8)
    """
    half = count // 2
    firsts = sorted(range(half), key=lambda k: (_reversed_bits(k, half), k))
    order = [place for k in firsts for place in (k + 1, k + 1 + half)]
    return (*order, count) if count % 2 else tuple(order)


def _reversed_bits(k: int, size: int) -> int:
    bits = max(1, (size - 1).bit_length())
    return int(format(k, f"0{bits}b")[::-1], 2)
