"""Standing checks of every solid: its volume is the analytic one, partners stand off by their gap, nothing fouls,
nothing is
thinner than its process allows. Each is a `Check`; a failed one is a finding with a stop. Units mm, mm^3.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from hoopwright.cards.toolroom import ToolRoom
from hoopwright.findings import Check, Finding, Source, judged
from hoopwright.kernels.segment_retract import Contour
from hoopwright.tools import solids
from hoopwright.tools.base import BaseForm
from hoopwright.tools.fixtures import WeldFixture
from hoopwright.tools.roll_body import RollSet, closed_bodies, closed_faces, guide_plates, room_beside_collars
from hoopwright.tools.segment_body import SetForm
from hoopwright.tools.segment_solids import beside_slot, passing_miss, placed
from hoopwright.tools.solids import Body, mesh
from hoopwright.tools.spacers import SpacerForm
from hoopwright.tools.taper_pin import PinForm
from hoopwright.tools.trim_plug import PlugForm

HERE = Source("derived", "standing check of the solid, taken on the CAD body")
VOLUME_SHARE = 1e-7
"""The library integrates cut faces by its own rule; a wrong size shows at 1e-4 and above."""
ROUNDING_SHARE = 0.25
"""Rounding is reckoned in planes square to the axis; on a 30 degree slope the ball takes a sixth more."""
GAP_MM = 1e-6
PLATES_CLEAR_MM = 1.0
"""Least room between guide plates and rolls (common practice, no source)."""
OVERLAP_MM3 = 1e-3
MESH_MM = 0.02
"""Triangles leave the surface by 0.01 and the ring's inside is straight between stations."""


@dataclass(frozen=True, slots=True, eq=False)
class Checked:
    """Bodies of one tool with the checks made on them."""

    tool: str
    bodies: tuple[Body, ...]
    checks: tuple[Check, ...]

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What failed."""
        return tuple(
            f
            for f in (
                judged(c, f"{c.name}: {c.value:.6g} {c.unit} against {c.limit:.6g}.", "solid") for c in self.checks
            )
            if f
        )


def same(tool: str, what: str, value: float, wanted: float, within: float, unit: str, remedy: str) -> Check:
    """A claim that two ways of measuring agree."""
    return Check(f"{tool}: {what}", abs(value - wanted), within, "<=", unit, HERE, "stop", remedy, tool)


def at_least(tool: str, what: str, value: float, limit: float, source: Source, remedy: str) -> Check:
    """A claim that metal, room or clearance is left."""
    return Check(f"{tool}: {what}", value, limit, ">=", "mm", source, "stop", remedy, tool)


def volume_check(tool: str, body: Body, wanted: float) -> Check:
    """Volume of the body against the exact one, as a share."""
    share = solids.volume(body) / wanted
    return same(
        tool,
        f"volume of {body.name} is the analytic one",
        share,
        1.0,
        VOLUME_SHARE,
        "1",
        "report this; the solid is not what was planned",
    )


def sound(tool: str, bodies: Iterable[Body]) -> Check:
    """Every body is one valid solid."""
    bad = [body.name for body in bodies if solids.solid_count(body) != 1 or not solids.is_valid(body)]
    return Check(
        f"{tool}: every body is one sound solid",
        float(len(bad)),
        0.0,
        "<=",
        "",
        HERE,
        "stop",
        f"look at {', '.join(bad) or 'the tool'}",
        tool,
    )


def check_rolls(tool: str, rolls: RollSet, room: ToolRoom) -> Checked:
    """Roll pair: volumes, gap between the faces all along, collars clear, wall over the keyway."""
    inner, outer = closed_bodies(rolls)
    nearest = min(rolls.thickness_mm, rolls.side_mm) if rolls.collared else rolls.thickness_mm
    checks = [
        sound(tool, (inner, outer)),
        volume_check(tool, inner, rolls.inner.volume_mm3),
        volume_check(tool, outer, rolls.outer.volume_mm3),
    ]
    faces = solids.distance(*closed_faces(rolls))
    checks.append(
        same(
            tool,
            "closed faces stand one sheet apart",
            faces,
            rolls.thickness_mm,
            GAP_MM,
            "mm",
            "check the offset of the contours",
        )
    )
    near = solids.distance(inner, outer)
    checks.append(
        same(
            tool,
            "closed rolls come no nearer than sheet or collar clearance",
            near,
            nearest,
            GAP_MM,
            "mm",
            "check collars and reliefs",
        )
    )
    for form in (rolls.inner, rolls.outer):
        checks.append(
            at_least(
                tool,
                f"wall of {form.name} over the keyway",
                form.wall_mm,
                room.wall_min_mm.value,
                room.wall_min_mm.source,
                "take bigger rolls or a thinner shaft",
            )
        )
    checks += _strip_runs(tool, rolls, inner, outer)
    colours = ((0.62, 0.66, 0.70), (0.55, 0.60, 0.68))
    return Checked(tool, (inner.named(inner.name, colours[0]), outer.named(outer.name, colours[1])), tuple(checks))


def _strip_runs(tool: str, rolls: RollSet, inner: Body, outer: Body) -> list[Check]:
    """The strip of every pass goes in between the collars, and the plates that guide it clear both rolls."""
    checks = []
    if rolls.collared:
        # the feeler stands on the roll as made about its own axis
        rooms = room_beside_collars(rolls, inner)
        words = tuple(
            f"pass {row.number}: room {before:.3f} going in, {after:.3f} coming out, nearer side"
            for row, (before, after) in zip(rolls.strip, rooms, strict=True)
        )
        least = at_least(
            tool,
            f"strip enters all {len(rooms)} passes between the collars, least room a side",
            min(min(pair) for pair in rooms),
            rolls.guide_mm - GAP_MM,
            HERE,
            "set the collars wider apart",
        )
        checks.append(replace(least, notes=words))
    for row in (rolls.strip[0], rolls.strip[-1]):
        plates = guide_plates(rolls, row.number)
        checks.append(
            same(
                tool,
                f"guide plates of pass {row.number} stand the strip and its clearance apart",
                solids.distance(*plates),
                row.entering_width_mm + 2.0 * rolls.guide_mm,
                GAP_MM,
                "mm",
                "set the plates anew",
            )
        )
        near = min(solids.distance(plate, roll) for plate in plates for roll in (inner, outer))
        words_near = f"guide plates of pass {row.number} clear the rolls"
        checks.append(at_least(tool, words_near, near, PLATES_CLEAR_MM, HERE, "move the plates back"))
    return checks


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


def check_pin(tool: str, pin: PinForm, room: ToolRoom) -> Checked:
    """Taper pin: volume, pull stress in the stud."""
    body = pin.body()
    stress = Check(
        f"{tool}: pull stress in the stud",
        pin.pull_stress_MPa,
        room.pin_stress_max_MPa.value,
        "<=",
        "MPa",
        room.pin_stress_max_MPa.source,
        "stop",
        "take a bigger pin",
        tool,
    )
    return Checked(tool, (body,), (sound(tool, (body,)), volume_check(tool, body, pin.volume_mm3), stress))


def check_base(tool: str, base: BaseForm, room: ToolRoom) -> Checked:
    """Base: volume, floor, rim and webs of its slots."""
    body = base.body()
    source, least = room.wall_min_mm.source, room.wall_min_mm.value
    walls = [
        at_least(tool, f"{word} of the base", value, least, source, "make the base bigger")
        for word, value in (
            ("rim outside the slots", base.rim_mm),
            ("floor under the slots", base.floor_mm),
            ("web between slots", base.web_mm),
        )
    ]
    return Checked(tool, (body,), (sound(tool, (body,)), volume_check(tool, body, base.volume_mm3), *walls))


def check_plug(tool: str, plug: PlugForm, room: ToolRoom) -> Checked:
    """Trim plug: volumes, the ring goes on and home with its fit, the arbor bears and opens the sleeve onto it."""
    body, arbor = plug.body(), plug.arbor()
    fit = at_least(tool, "room under the ring", plug.least_room_mm(), plug.fit_mm - 1e-6, HERE, "make the plug smaller")
    grip = at_least(
        tool,
        "opened sleeve comes up to the ring",
        plug.opening_mm - plug.least_room_mm(),
        0.0,
        HERE,
        "make the plug bigger",
    )
    bears = same(
        tool, "arbor bears in the closed sleeve", solids.distance(body, arbor), 0.0, GAP_MM, "mm", "check the taper"
    )
    crossing = Check(
        f"{tool}: arbor and sleeve do not cross",
        solids.overlap(body, arbor),
        OVERLAP_MM3,
        "<=",
        "mm3",
        HERE,
        "stop",
        "check the taper",
        tool,
    )
    below = -min(0.0, plug.arbor_section.bounds[0] - plug.stroke_mm)
    checks = (
        sound(tool, (body, arbor)),
        volume_check(tool, body, plug.volume_mm3),
        volume_check(tool, arbor, plug.arbor_volume_mm3),
        fit,
        grip,
        bears,
        crossing,
        Check(
            f"{tool}: arbor drawn in stays above the stop's face", below, 0.0, "<=", "mm", HERE, "stop", "shorten it"
        ),
        at_least(
            tool,
            "wall of the sleeve",
            plug.wall_mm,
            room.wall_min_mm.value,
            room.wall_min_mm.source,
            "take a smaller arbor",
        ),
    )
    return Checked(tool, (body, arbor), checks)


def check_weld(tool: str, fixture: WeldFixture, room: ToolRoom) -> Checked:
    """Weld bars: volumes, one sheet between them, metal under the groove."""
    backing, clamp = fixture.bodies()
    gap = solids.distance(*fixture.faces())
    checks = (
        sound(tool, (backing, clamp)),
        volume_check(tool, backing, fixture.backing_volume_mm3),
        volume_check(tool, clamp, fixture.clamp_volume_mm3),
        same(
            tool, "bars stand one sheet apart", gap, fixture.thickness_mm, GAP_MM, "mm", "check the offset of the faces"
        ),
        at_least(
            tool,
            "metal under the gas groove",
            fixture.wall_mm,
            room.wall_min_mm.value,
            room.wall_min_mm.source,
            "make the bar deeper",
        ),
    )
    return Checked(tool, (backing, clamp), checks)
