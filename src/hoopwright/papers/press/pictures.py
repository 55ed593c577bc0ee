"""Pictures of a pressed plate and its tools: shut tools in half section with the sheet in them, blank, forces. mm.

Half sections lie as turned tools do: the press's axis to the right, the radius upward.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from hoopwright.kernels.profile import Point, Profile, line
from hoopwright.kernels.section import Section
from hoopwright.papers.drawing.items import (
    Chain,
    DiameterDimension,
    Drawing,
    Hatch,
    Item,
    Leader,
    Path,
    Text,
    circle,
    polyline,
)
from hoopwright.papers.numbers import written
from hoopwright.papers.pictures.curves import Axes, Curve, curves
from hoopwright.plan.plate.plate_plan import PlatePlan
from hoopwright.process.press_record import PressRecord
from hoopwright.tools.press_set_flanges import FlangeSet
from hoopwright.tools.press_set_pads import PadSet

CURVE_W, CURVE_H = 120.0, 52.0


def sheet_outline(section: Section, dx: float = 0.0) -> Chain:
    """Both faces of a formed sheet as a closed chain."""
    half = np.append(section.thickness_mm, section.thickness_mm[-1])
    half = 0.5 * np.where(np.arange(half.size) == 0, half, 0.5 * (half + np.roll(half, 1)))
    nx, ny = -np.sin(section.angle_rad), np.cos(section.angle_rad)
    x, y = section.x_mm + dx, section.y_mm
    left = list(zip(x + half * nx, y + half * ny, strict=True))
    right = list(zip(x - half * nx, y - half * ny, strict=True))
    return polyline([(float(a), float(b)) for a, b in (*left, *reversed(right), left[0])])


def cut(section: Profile, angle: float, title: str) -> list[Item]:
    """A closed section, hatched and outlined."""
    return [Hatch((section.segments,), angle, 2.6), Path(section.segments, "wide", None, True, "CONTOUR", title)]


def named(at: Point, words: str) -> Text:
    """The name of a part on its cut face."""
    return Text(at, words, anchor="middle", shift=(0.0, -1.1), knockout=True)


def pads_drawing(tool: PadSet, shut: Section, scale: float) -> Drawing:
    """One port of the tool for pads and lips, shut on its sheet, about the port's own axis."""
    down, up = tool.punch_way_mm, tool.plunger_way_mm
    reach = shut.y_mm[-1]
    block = Profile(
        (
            *tool.die.reversed().segments[:-1],
            *polyline(
                [
                    tool.die.reversed().segments[-2].end,
                    (tool.face_z, float(reach)),
                    (tool.bottom_z, float(reach)),
                    (tool.bottom_z, tool.mouth_mm),
                    tool.die.end,
                ]
            ),
        )
    )
    edge, back = tool.holder.segments[-2].end, tool.holder_top_z
    far = float(reach)
    outside = [edge, (edge[0], far), (back, far), (back, tool.holder_from_mm), tool.holder.start]
    holder = Profile((*tool.holder.segments[:-1], *polyline(outside)))
    punch, plunger = tool.punch_section().moved(down, 0.0), tool.plunger_section().moved(up, 0.0)
    items: list[Item] = [
        *cut(block, 45.0, "die block"),
        *cut(punch, -45.0, "pad punch"),
        *cut(plunger, 60.0, "plunger"),
        *cut(holder, 30.0, "holder plate"),
        Path(sheet_outline(shut), "narrow", "ink", True, title="sheet"),
        Path((line((plunger.bounds[0] - 3.0 / scale, 0.0), (punch.bounds[2] + 3.0 / scale, 0.0)),), "centre"),
    ]
    plunger_x = 0.5 * (plunger.bounds[0] + tool.bottom_z)
    items += [
        named((0.5 * (tool.bottom_z + tool.face_z), 0.5 * (tool.mouth_mm + far)), "die block"),
        named((plunger_x if plunger_x > plunger.bounds[0] else tool.bottom_z, 0.5 * tool.plunger.start[1]), "plunger"),
        named((0.5 * (edge[0] + back), 0.5 * (tool.holder_from_mm + far)), "holder"),
        named((0.5 * (back + punch.bounds[2]), 0.5 * (tool.bore_mm + tool.punch.end[1])), "pad punch"),
    ]
    return Drawing(tuple(items), tool.name, "one port, shut, half section about the port's axis")


def flanges_drawing(tool: FlangeSet, shut: Section) -> Drawing:
    """The tool for the flanges, shut on its sheet, between two ports."""
    sections = tool.sections()
    moved = {"punch", "pad"}
    angles = {"punch": -45.0, "outer die": 45.0, "inner die": 45.0, "pad": 60.0, "holder": 30.0}
    items: list[Item] = []
    for name, section in sections.items():
        here = section.moved(-tool.way_mm, 0.0) if name in moved else section
        x0, y0, x1, y1 = here.bounds
        items += [*cut(here, angles[name], name), named((0.5 * (x0 + x1), 0.5 * (y0 + y1)), name)]
    items.append(Path(sheet_outline(shut), "narrow", "ink", True, title="sheet"))
    return Drawing(tuple(items), tool.name, "shut, half section between two ports")


def blank_drawing(plan: PlatePlan, scale: float, layers: bool = False) -> Drawing:
    """The blank from the forward side: outside, inside, pre-holes on their circle, rolling direction."""
    setting = plan.flanges.setting
    cut_layer, mark_layer = ("CUT", "MARK") if layers else ("", "")
    items: list[Item] = [
        Path(circle((0.0, 0.0), setting.blank_outer), "wide", None, True, cut_layer, "outside"),
        Path(circle((0.0, 0.0), setting.blank_inner), "wide", None, True, cut_layer, "inside"),
        DiameterDimension((0.0, 0.0), setting.blank_outer, _between(plan, 1), 7.0, 2),
        DiameterDimension((0.0, 0.0), setting.blank_inner, _between(plan, 8), 2.0, 2),
    ]
    arm = setting.blank_outer + 6.0 / scale
    for a, b in (((-arm, 0.0), (arm, 0.0)), ((0.0, -arm), (0.0, arm))):
        items.append(Path((line(a, b),), "centre", layer=mark_layer))
    if plan.port is not None:
        items += _holes(plan, scale, cut_layer, mark_layer)
    # clear of the blank and of its centre lines
    grain, below = 0.5 * setting.blank_inner, -(setting.blank_outer + 13.0 / scale)
    items.append(Path((line((-grain, below), (grain, below)),), "narrow", layer=mark_layer))
    items.append(Text((0.0, below), "rolling direction", anchor="middle", shift=(0.0, 1.2)))
    return Drawing(tuple(items), f"blank {plan.job.plate.id}", "blank seen from the forward side")


def _between(plan: PlatePlan, number: int) -> float:
    """An angle a quarter of the way from one port to the next: neither end of a diameter there meets a hole. [deg]"""
    liner = plan.job.liner
    return liner.first_port_theta_deg + 360.0 * (number + 0.25) / max(liner.ports, 8 if liner.ports == 0 else 1)


def hole_places(plan: PlatePlan) -> tuple[tuple[float, float, float], ...]:
    """Angle [deg] and place of every pre-hole on its own pitch circle, port 1 first."""
    liner, pitch = plan.job.liner, plan.figure("port/pre-hole-pitch-radius").value
    found = []
    for k in range(liner.ports):
        angle = liner.first_port_theta_deg + 360.0 * k / liner.ports
        found.append((angle, pitch * math.cos(math.radians(angle)), pitch * math.sin(math.radians(angle))))
    return tuple(found)


def _holes(plan: PlatePlan, scale: float, cut_layer: str, mark_layer: str) -> list[Item]:
    assert plan.port is not None
    radius, pitch = plan.port.solved.setting.hole_radius, plan.figure("port/pre-hole-pitch-radius").value
    items: list[Item] = [Path(circle((0.0, 0.0), pitch), "centre", layer=mark_layer)]
    for number, (_, x, y) in enumerate(hole_places(plan), start=1):
        items.append(Path(circle((x, y), radius), "wide", None, True, cut_layer, f"pre-hole {number}"))
        # beside its hole, inward of the circle on which the holes lie and off the centre lines
        inward, aside = (pitch - radius - 3.0 / scale) / pitch, 2.6 / scale / pitch
        place = (x * inward - y * aside, y * inward + x * aside)
        items.append(Text(place, str(number), anchor="middle", shift=(0.0, -1.1)))
    angle, x, y = hole_places(plan)[1]
    turn = math.radians(angle)
    tip = (x + radius * math.cos(turn), y + radius * math.sin(turn))
    # the leader's elbow counts on paper: out past the blank's edge
    out = (plan.flanges.setting.blank_outer - pitch - radius) * scale + 8.0
    words = (f"{plan.job.liner.ports} × Ø {written(2.0 * radius, 3)}", f"on R {written(pitch, 2)}")
    items.append(Leader(tip, (out * math.cos(turn), out * math.sin(turn)), words))
    return items


def force_curve(record: PressRecord, driven: Sequence[str], title: str, count: int = 1) -> Drawing:
    """Force of the tools that move, all of one closing, over their stroke."""
    shown: list[Curve] = []
    # the tools are away in the last increments, when the part is let go
    shut = int(np.max(np.nonzero(np.any(record.force_N != 0.0, axis=0))[0])) + 1
    for name in driven:
        rows = np.abs(record.force_N[record.tools.index(name)][:shut]) * 1e-3 * count
        points: list[Point] = [(float(s), float(f)) for s, f in zip(record.stroke_mm[:shut], rows, strict=True)]
        shown.append(Curve(name, tuple(points), "wide" if not shown else "other"))
    return curves(Axes(CURVE_W, CURVE_H, "stroke, mm", "force, kN"), shown, title)
