"""Standing checks of a roll pair: faces one sheet apart, and the strip of every pass runs in. Units mm."""

from __future__ import annotations

from dataclasses import replace

from hoopwright.cards.toolroom import ToolRoom
from hoopwright.findings import Check
from hoopwright.tools import solids
from hoopwright.tools.roll_body import RollSet, closed_bodies, closed_faces, guide_plates, room_beside_collars
from hoopwright.tools.solids import Body
from hoopwright.tools.standing_checks import GAP_MM, HERE, Checked, at_least, same, sound, volume_check

PLATES_CLEAR_MM = 1.0
"""Least room between guide plates and rolls (common practice, no source)."""


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
