"""Standing checks of taper pin, base, trim plug and weld bars. Units mm, MPa."""

from __future__ import annotations

from hoopwright.cards.toolroom import ToolRoom
from hoopwright.findings import Check
from hoopwright.tools import solids
from hoopwright.tools.base import BaseForm
from hoopwright.tools.fixtures import WeldFixture
from hoopwright.tools.standing_checks import GAP_MM, HERE, OVERLAP_MM3, Checked, at_least, same, sound, volume_check
from hoopwright.tools.taper_pin import PinForm
from hoopwright.tools.trim_plug import PlugForm


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
