"""The cases of the two method papers on the section kernel (axisymmetric shell, rolling in prism mode).

Their figures are those of a study prototype of our own, so they stand under `reference`, not under `published`.
Materials are illustrative. x is the axis or the width, y the radius or the height.
"""

from __future__ import annotations

import math

import numpy as np

from hoopwright.kernels.flow import swift
from hoopwright.kernels.profile import Profile, arc, line
from hoopwright.kernels.profile_build import from_corners
from hoopwright.kernels.profile_offset import offset
from hoopwright.kernels.section import (
    FREE,
    SOFT,
    STIFF,
    Drift,
    Metal,
    Release,
    Schedule,
    Step,
    Support,
    Tool,
    clamp,
    mesh_line,
    mesh_profile,
    run,
    settled,
)
from hoopwright.kernels.section.contour import extended
from hoopwright.kernels.section.hoop import centroid_mm
from hoopwright.kernels.section.touch import first_touch_mm

RING_METAL = Metal(swift(1300.0, 0.005, 0.25), 200e3, 0.3)
PRESS_METAL = Metal(swift(550.0, 0.005, 0.22), 200e3, 0.3)
STRIP_METAL = Metal(swift(1630.0, 0.020, 0.385), 205e3, 0.32)


def bead(height, radius, width=60.0, crest=10.0, r=140.0):
    """Mid-line of a ring with one bead: flanks at 45 degrees, crest measured between its corners."""
    middle, half = 0.5 * width, 0.5 * crest
    xs = (0.0, middle - half - height, middle - half, middle + half, middle + half + height, width)
    ys = (r, r, r + height, r + height, r, r)
    return from_corners(list(zip(xs, ys, strict=True)), [radius] * 4)


def ring(start, increments, elements=120, points_per_half=4, friction=0.12, t=1.2, stretch=2.8):
    """Corrugated ring stretched by `stretch` over the mandrel of the 6 mm bead, and released."""
    mandrel = extended(offset(bead(6.0, 8.0), -0.5 * t), 15.0)
    section = mesh_profile(start, t, elements, points_per_half=points_per_half)
    touch = first_touch_mm(section, Tool("m", mandrel), (0.0, 1.0), (0.0, -5.0)) - 5.0
    tool = Tool("m", mandrel.moved(0.0, touch), friction)
    hold = (Support(elements // 2, "x"),)
    step = Step("size", {"m": (0.0, stretch - touch)}, supports=hold, increments=increments)
    return run(section, Schedule((step, Release()), (tool,)), RING_METAL)


def radii(section, parts=(0, 1, 2, 3, 4)):
    """Radii at eighths of the section, from one edge to the crest."""
    return section.y_mm[[section.elements * k // 8 for k in parts]]


def hole_flange(elements=120, contact=SOFT, settle=False):
    """Hole r 15 in a disc clamped at r 60, ball-nosed punch r 25, die r 26.4 with R5, travel 40 from touch."""
    section = mesh_line((0.0, 15.0), (0.0, 60.0), 1.0, elements)
    nose = Profile(
        (
            line((-80.0, 25.0), (-40.0, 25.0)),
            arc((-40.0, 25.0), (-15.1, 0.1), (-40.0, 0.1), False),
            line((-15.1, 0.1), (-15.1, -5.0)),
        )
    )
    touch = first_touch_mm(section, Tool("punch", nose), (1.0, 0.0))
    tools = (
        Tool("punch", nose.moved(touch, 0.0), 0.05),
        Tool("die", from_corners([(60.0, 26.4), (0.5, 26.4), (0.5, 100.0)], [5.0]), 0.05),
    )
    step = Step("flange", {"punch": (40.0, 0.0), "die": (0.0, 0.0)}, supports=clamp(-1), contact=contact, increments=80)
    steps = (step, *settled(step)) if settle else (step,)
    return run(section, Schedule(steps, tools), PRESS_METAL)


def cup(elements=120, settle=False):
    """Cup: blank r 90, punch r 50/R8, die r 51.2/R8, depth 40, elastic holder."""
    section = mesh_line((0.0, 0.0), (0.0, 90.0), 1.0, elements)
    holder = from_corners([(-0.4, 120.0), (-0.4, 59.2), (-20.0, 59.2)], [2.0])
    tools = (
        Tool("punch", from_corners([(-60.0, 50.0), (-0.5, 50.0), (-0.5, -5.0)], [8.0]), 0.05),
        Tool("die", from_corners([(60.0, 51.2), (0.5, 51.2), (0.5, 120.0)], [8.0]), 0.05),
        Tool("holder", holder, 0.05, cushion_N_per_mm3=20.0),
    )
    moves = {"punch": (40.0, 0.0), "die": (0.0, 0.0), "holder": (0.0, 0.0)}
    step = Step("draw", moves, contact=SOFT, increments=100)
    steps = (step, *settled(step)) if settle else (step,)
    return run(section, Schedule(steps, tools), PRESS_METAL)


def joggled_plate(gap=0.05, elements=120):
    """Annulus r 60 to 110 pressed to a 4 mm step from r 80 on, R5, closed to t + gap, released."""
    middle = extended(from_corners([(0.0, 60.0), (0.0, 80.0), (4.0, 84.0), (4.0, 110.0)], [5.0, 5.0]), 20.0)
    section = mesh_line((0.0, 60.0), (0.0, 110.0), 1.0, elements)
    die, punch = offset(middle, -0.5), offset(middle, 0.5).moved(-gap, 0.0).reversed()
    die_at = 20.0 - first_touch_mm(section, Tool("die", die), (-1.0, 0.0), (20.0, 0.0))
    punch_at = -20.0 + first_touch_mm(section, Tool("punch", punch), (1.0, 0.0), (-20.0, 0.0))
    tools = (Tool("die", die.moved(die_at, 0.0), 0.1), Tool("punch", punch.moved(punch_at, 0.0), 0.1))
    travel = die_at - punch_at
    near = {"die": (0.0, 0.0), "punch": (travel - 0.3, 0.0)}
    shut = {"die": (0.0, 0.0), "punch": (0.3, 0.0)}
    steps = (
        Step("near", near, contact=SOFT, increments=80, hold=1e-6),
        Step("shut", shut, contact=SOFT, contact_end=STIFF, increments=80, hold=1e-6),
        Release(),
    )
    return run(section, Schedule(steps, tools), RING_METAL)


# --- the rolled strip: t 0.8, developed 47.832 and 3.33 more at each edge

CORNERS = [(29.0, 0.0), (35.0, 0.0), (38.5, 1.9), (48.0, 1.9), (54.0, -0.45), (76.0, -0.45)]
MIDLINE = from_corners(CORNERS, [3.0, 3.0, 3.0, 4.0])
MARGIN, SHEET = 3.33, 0.8
CROWN = 4
"""Number of the crown's straight in MIDLINE; 0 is the land, 8 the lip."""


def middle_of(segment):
    """Distance along the unstrained strip of the middle of a straight."""
    breaks = MIDLINE.breaks + MARGIN
    return 0.5 * (breaks[segment] + breaks[segment + 1])


def flat_strip(elements, points_per_half=4):
    """The strip, its crown middle where the rolls have theirs; and the node next to it."""
    x, y = MIDLINE.point_at(middle_of(CROWN) - MARGIN)
    begin = x - middle_of(CROWN)
    width = MIDLINE.length + 2.0 * MARGIN
    strip = mesh_line((begin, y), (begin + width, y), SHEET, elements, "prism", points_per_half)
    return strip, int(np.argmin(np.abs(strip.x_mm - x)))


def roll_pass(section, node, clear=0.02, friction=0.1, curl=None, camber=None, after=False, increments=(30, 20, 30)):
    """Close the rolls on a strip (and curl it to `curl` [1/mm] while or after they close), then let go.

    Returns the result and the names of the steps before the release. Contact hardens between openings 0.6 and 0.2.
    """
    middle = extended(MIDLINE, 15.0)
    low, up = offset(middle, -0.5 * SHEET), offset(middle, 0.5 * SHEET).moved(0.0, clear).reversed()
    section = section.moved(0.0, 10.0 - first_touch_mm(section, Tool("lower", low), (0.0, 1.0), (0.0, -10.0)))
    opening = 10.0 - first_touch_mm(section, Tool("upper", up), (0.0, -1.0), (0.0, 10.0))
    tools = (Tool("lower", low, friction), Tool("upper", up.moved(0.0, opening), friction))
    soft, hard = (0.6, 0.2) if opening > 0.7 else (0.8 * opening, 0.3 * opening)
    parts = (opening - soft, soft - hard, hard)
    back = MIDLINE.point_at(middle_of(CROWN) - MARGIN)[0] - section.x_mm[node]
    steps, done = [], 0.0
    for name, part, (begin, end), count in zip(
        ("soft", "ramp", "shut"), parts, ((SOFT, SOFT), (SOFT, STIFF), (STIFF, STIFF)), increments, strict=True
    ):
        done += part
        steps.append(
            Step(
                name,
                {"lower": (0.0, 0.0), "upper": (0.0, -part)},
                supports=(Support(node, "x", back * part / opening),),
                stretch=FREE,
                curl=FREE if curl is None or after else Drift(curl * done / opening),
                camber=camber,
                contact=begin,
                contact_end=end,
                increments=count,
                hold=1e-5,
            )
        )
    if after:
        still = {"lower": (0.0, 0.0), "upper": (0.0, 0.0)}
        curling = {"stretch": FREE, "curl": Drift(curl), "camber": camber, "hold": 1e-5, "increments": 40}
        steps.append(Step("curl", still, supports=(Support(node, "x"),), **curling))
    return run(section, Schedule((*steps, Release()), tools), STRIP_METAL)


def pass_sequence(count, elements, metal=STRIP_METAL, clear=0.02, friction=0.1):
    """Several passes, each closing the same rolls an equal part further, the strip let go between. The last result."""
    strip, node = flat_strip(elements)
    middle = extended(MIDLINE, 15.0)
    low, up = offset(middle, -0.5 * SHEET), offset(middle, 0.5 * SHEET).moved(0.0, clear).reversed()
    first, result = 0.0, None
    for number in range(count):
        strip = strip.moved(0.0, 10.0 - first_touch_mm(strip, Tool("lower", low), (0.0, 1.0), (0.0, -10.0)))
        opening = 10.0 - first_touch_mm(strip, Tool("upper", up), (0.0, -1.0), (0.0, 10.0))
        first = first or opening
        tools = (Tool("lower", low, friction), Tool("upper", up.moved(0.0, opening), friction))
        steps, at = [], opening
        for name, target, contact in (
            ("soft", 0.6, (SOFT, SOFT)),
            ("ramp", 0.2, (SOFT, STIFF)),
            ("shut", 0.0, (STIFF,) * 2),
        ):
            to = max(target, first * (1.0 - (number + 1) / count))
            if at - to > 1e-9:
                moves = {"lower": (0.0, 0.0), "upper": (0.0, to - at)}
                steps.append(
                    Step(
                        name,
                        moves,
                        supports=(Support(node, "x"),),
                        stretch=FREE,
                        curl=FREE,
                        contact=contact[0],
                        contact_end=contact[1],
                        increments=25,
                        hold=1e-5,
                    )
                )
                at = to
        result = run(strip, Schedule((*steps, Release()), tools), metal)
        strip = result.section
    return result


def depths(section, fit):
    """Depth of land and lip below the crown after a fit, at the middles of the three straights."""
    crown = fit.y_at(section, middle_of(CROWN))
    return crown - fit.y_at(section, middle_of(0)), crown - fit.y_at(section, middle_of(8))


RING_LINE = MIDLINE.moved(0.0, 123.85)


def size_hoop(section, shift=0.3925, friction=0.12):
    """Stretch a hoop of this section over the nominal inner faces moved out by `shift`, and release. L0 763.89."""
    mandrel = extended(offset(RING_LINE, -0.5 * SHEET), 15.0)
    touch = first_touch_mm(section, Tool("m", mandrel), (0.0, 1.0), (0.0, -20.0)) - 20.0
    tool = Tool("m", mandrel.moved(0.0, touch), friction)
    hold = (Support(int(np.argmax(section.y_mm)), "x"),)
    step = Step("size", {"m": (0.0, shift - touch)}, supports=hold, increments=80)
    return run(section, Schedule((step, Release()), (tool,)), STRIP_METAL)


def heights(section):
    """Radii at the middles of land, crown and lip."""
    from hoopwright.kernels.section.measure import at_material

    return [at_material(section, middle_of(k))[1] for k in (0, CROWN, 8)]


def stress_free_hoop(elements=160):
    """The nominal section with its edges, unstrained, its lip at the radius of the strip's length."""
    return mesh_profile(extended(RING_LINE, MARGIN).moved(0.0, 763.89 / (2.0 * math.pi) - 123.4), SHEET, elements)


def v_bend(elements=160):
    """Half of a V bend: shoulders 20 apart with R2, nose R1, to five depths; plane strain, no friction. N per mm."""
    half = mesh_line((0.0, 0.0), (15.0, 0.0), SHEET, elements, "prism")
    s = 0.5 * SHEET
    shoulder = Profile(
        (
            line((8.0, -10.0), (8.0, -s - 2.0)),
            arc((8.0, -s - 2.0), (12.0, -s - 2.0), (10.0, -s - 2.0), False),
            line((12.0, -s - 2.0), (12.0, -10.0)),
        )
    )
    nose = Profile(
        (
            line((1.0, 10.0), (1.0, s + 1.0)),
            arc((1.0, s + 1.0), (-1.0, s + 1.0), (0.0, s + 1.0), False),
            line((-1.0, s + 1.0), (-1.0, 10.0)),
        )
    )
    steps, last = [], 0.0
    for depth in (0.5, 1.0, 2.0, 3.0, 3.5):
        moves = {"shoulder": (0.0, 0.0), "nose": (0.0, last - depth)}
        steps.append(Step(f"h {depth}", moves, supports=(Support(0, "x"), Support(0, "angle")), increments=40))
        last = depth
    hold = (Support(0, "x"), Support(0, "angle"), Support(0, "y"))
    steps.append(Release(supports=hold, held=("stretch", "curl", "camber")))
    return run(half, Schedule(tuple(steps), (Tool("shoulder", shoulder), Tool("nose", nose))), STRIP_METAL)


def curled(section, radius, supports, increments=60, release=None):
    """A strip curled to a loaded centroid radius with stretch free and camber held; three runs find the curl."""
    curl = 1.0 / radius
    for _ in range(3):
        step = Step("curl", supports=supports, stretch=FREE, curl=Drift(curl), hold=1e-7, increments=increments)
        result = run(section, Schedule((step, release or Release())), STRIP_METAL)
        _x, y = centroid_mm(result.steps[0].section)
        loaded = result.steps[0].section
        curl *= (loaded.stretch / loaded.curl_per_mm + y) / radius
    return result
