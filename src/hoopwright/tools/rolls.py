"""Roll pair: the contours of the two rolls that form a ring's section.

First estimate: the rolls are cut to the part's own faces (inner roll to the face towards the axis, outer roll to the
other), so that they meet the sheet everywhere when closed. It is not yet proven: closed rolls of this shape make a
section a little too deep, and only a section kernel can say by how much.

A roll contour is a `Profile` with x along the roll axis and y the roll radius. The section is first turned by the cant
(what stands level in the rolls); conical rolls have their axes tilted towards the apex of the arc blank, so in the
frame of each roll the contour is turned once more by asin(R_p / slant), which keeps lines and arcs exact.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.errors import GeometryError, require_finite, require_positive
from hoopwright.kernels.profile import Profile, Segment, line
from hoopwright.kernels.profile_offset import offset


@dataclass(frozen=True, slots=True)
class RollPair:
    """Two contoured rolls.

    inner, outer : contour of the roll on the axis side of the ring and of the other (x along the roll, y radius).
    pitch_radius_mm : radius at which both run with the strip. pitch_height_mm : height of the pitch line in the frame
    of the (canted) section. cant_deg : turn of the section in the rolls. cone_deg : tilt of each roll axis, 0 for
    straight pitch lines, positive where both rolls grow thinner towards aft (apex towards +x). run_out_mm : what each
    end of the contour goes on beyond the finished edge.
    """

    inner: Profile
    outer: Profile
    pitch_radius_mm: float
    pitch_height_mm: float
    cant_deg: float
    cone_deg: float
    run_out_mm: float


def extended(profile: Profile, length: float) -> Profile:
    """The contour gone on straight by `length` [mm] at both ends."""
    require_finite("extension", length, "mm")
    if length <= 0.0:
        return profile
    (x0, y0), (x1, y1) = profile.start, profile.end
    a, b = profile.angle_at(0.0), profile.angle_at(profile.length)
    before = (x0 - length * math.cos(a), y0 - length * math.sin(a))
    after = (x1 + length * math.cos(b), y1 + length * math.sin(b))
    first, last = profile.segments[0], profile.segments[-1]
    middle = list(profile.segments)
    if len(middle) == 1 and not first.is_arc:
        return Profile((line(before, after, first.name),), profile.name)
    middle[0:1] = [line(before, first.end, first.name)] if not first.is_arc else [line(before, (x0, y0)), first]
    middle[-1:] = [line(last.start, after, last.name)] if not last.is_arc else [last, line((x1, y1), after)]
    return Profile(tuple(middle), profile.name)


def pitch_height(section: Profile) -> float:
    """Mid-depth of a section: where the pitch line makes the worst slip least. [mm]"""
    _, low, _, high = section.bounds
    return 0.5 * (low + high)


def roll_pair(
    section: Profile, thickness: float, pitch_radius: float, run_out: float, cant: float = 0.0, slant: float = math.inf
) -> RollPair:
    """Contours of both rolls, closed on a sheet of the given thickness.

    Parameters
    ----------
    section : mid-surface of the part, x = z and y = r. [mm]
    thickness : sheet thickness; the rolls closed stand this far apart. [mm]
    pitch_radius : roll radius at the pitch line. [mm]
    run_out : straight beyond each finished edge, for edge trim and guides. [mm]
    cant : turn of the section that brings its chord level. [rad]
    slant : distance of the middle of the arc blank from its apex, signed positive when the apex lies towards +x;
        infinite for straight pitch lines. [mm]

    Raises
    ------
    GeometryError
        When a roll would lose its radius at the contour's deepest place, or the cone is sharper than the roll.
    """
    t = require_positive("sheet thickness", thickness, "mm")
    radius = require_positive("pitch radius", pitch_radius, "mm")
    if abs(slant) <= radius:
        raise GeometryError(
            "slant radius of the blank", slant, "mm", f"above the pitch radius {radius:g}", "use smaller rolls"
        )
    turned = extended(section, run_out).turned(cant, section.start)
    height = pitch_height(section.turned(cant, section.start))
    tilt = math.asin(radius / slant) if math.isfinite(slant) else 0.0
    middle_x = 0.5 * (turned.start[0] + turned.end[0])
    centre = (middle_x, height)
    inner_face, outer_face = offset(turned, -0.5 * t), offset(turned, 0.5 * t)
    # towards an apex at +x both rolls grow thinner: each is turned about the pitch point by the tilt of its own axis
    inner = inner_face.turned(-tilt, centre).moved(-middle_x, radius - height)
    outer = outer_face.turned(tilt, centre).mirrored_y().moved(-middle_x, radius + height)
    for name, contour in (("inner", inner), ("outer", outer)):
        least = contour.bounds[1]
        if least <= 0.2 * radius:
            raise GeometryError(
                f"least radius of the {name} roll", round(least, 3), "mm", f"above {0.2 * radius:g}", "use bigger rolls"
            )
    return RollPair(inner, outer, radius, height, math.degrees(cant), math.degrees(tilt), run_out)


def chord_cant(section: Profile) -> float:
    """Turn that brings the line between both ends of a section level. [rad]"""
    (x0, y0), (x1, y1) = section.start, section.end
    return -math.atan2(y1 - y0, x1 - x0)


def contour_radius(contour: Profile, s: float) -> float:
    """Roll radius at the distance s along a contour. [mm]"""
    return contour.point_at(s)[1]


def straights(section: Profile) -> tuple[tuple[int, Segment], ...]:
    """The straight segments of a section with their numbers."""
    return tuple((k, segment) for k, segment in enumerate(section.segments) if not segment.is_arc)
