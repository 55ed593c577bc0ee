"""One port pressed as a body of revolution: tool faces for given settings, the forward run, and what came out. mm, MPa.

Forward of the sheet stand the die (its floor takes the pad) and the plunger that turns the lip; aft the pad punch,
whose bore takes the lip, and the blank holder round it. The field of a port ends where its neighbour's begins.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hoopwright.kernels.profile import Profile, arc, line
from hoopwright.kernels.profile_build import from_corners
from hoopwright.kernels.profile_offset import offset
from hoopwright.kernels.section import Section, mesh_line
from hoopwright.plan.plate.port_shape import PortShape
from hoopwright.process import press
from hoopwright.process.press import CutEdge, Edge, Press, PressStep
from hoopwright.process.press_tools import OVER_SHEET_MM, HolderForce, PressTool, Stroke
from hoopwright.process.proof_piece import piece_of
from hoopwright.process.shop import ShopCard

BEYOND_MM = 30.0
"""How far flats of the tools go on beyond the field."""
NOSE_SHARE = 0.9
"""Nose radius of the plunger over its own: a blunt ball (common practice, no source)."""
CLEAR_MM = 0.5
"""Room between the plunger and the bore of the die."""
EDGE_T = 1.2
"""Radius at the mouth of bores and at the end of the punch's flank, in sheet thicknesses."""


@dataclass(frozen=True, slots=True)
class PortSettings:
    """What is set or cut for a port.

    pad_height, plunger_radius, hole_radius : the three that are solved. clearance : between plunger and the punch's
    bore. field : radius where the neighbour's begins. holder_pressure_MPa : on the flat round the pad. outer_edge :
    "held" as between two equal neighbours, "level" where metal draws in freely.
    """

    pad_height: float
    plunger_radius: float
    hole_radius: float
    clearance: float
    field: float
    holder_pressure_MPa: float
    cut_edge: CutEdge
    outer_edge: Edge = "held"
    elements: int = 120


@dataclass(frozen=True, slots=True, eq=False)
class PortFaces:
    """Tool faces of a port, each where the press is open and touching: die, punch and holder on the flat sheet.

    nose : radius of the plunger's nose. way : travel of the plunger. bore : radius of the punch's bore, holder_from :
    of the holder's inner edge.
    """

    die: Profile
    punch: Profile
    plunger: Profile
    holder: Profile
    nose: float
    way: float
    bore: float
    holder_from: float


@dataclass(frozen=True, slots=True, eq=False)
class PortFormed:
    """A port as it came out.

    lip_end, pad_height : along the axis, from the flat. bore_radius : of the lip's inside face at the middle of its
    straight. pad_flatness : highest less lowest of the pad. lip_lean_deg : of the lip's edge against the axis, positive
    when it closes in. edge_thickness, edge_strain_log : of the lip's edge. field_strain_log : plastic strain at the
    field's edge. draw_in : of the field's edge.
    """

    step: PressStep
    pad_height: float
    bore_radius: float
    lip_end: float
    pad_flatness: float
    lip_lean_deg: float
    edge_thickness: float
    edge_strain_log: float
    field_strain_log: float
    draw_in: float


def port_faces(shape: PortShape, setting: PortSettings) -> PortFaces:
    """Faces for these settings.

    Raises
    ------
    GeometryError
        Bends that do not fit between their straights.
    """
    t, h = shape.thickness, setting.pad_height
    far = setting.field + BEYOND_MM
    middle = from_corners(
        [(-h, shape.flat_from + 0.5), (-h, shape.pad_corner_at(h)), (0.0, shape.foot_corner), (0.0, far)],
        [shape.pad_bend, shape.foot_bend],
    )
    forward, aft = offset(middle, 0.5 * t), offset(middle, -0.5 * t)
    edge = EDGE_T * t
    mouth = setting.plunger_radius + CLEAR_MM
    floor = -h - 0.5 * t
    head = from_corners([(floor - 12.0, mouth), (floor, mouth), (floor, forward.start[1])], [edge])
    die = Profile((*head.segments, *forward.segments)).reversed()
    bore = setting.plunger_radius + setting.clearance
    top = -h + 0.5 * t
    rim = from_corners([(shape.lip_end_x + 8.0, bore), (top, bore), (top, aft.start[1])], [shape.lip_bend - 0.5 * t])
    punch = _turned_away(Profile((*rim.segments, *aft.segments[:3])), edge, 10.0)
    nose = NOSE_SHARE * setting.plunger_radius
    open_at = floor - 2.0
    plunger = from_corners(
        [(open_at - 60.0, setting.plunger_radius), (open_at, setting.plunger_radius), (open_at, -3.0)], [nose]
    )
    holder_from = shape.foot_from + edge
    holder = from_corners([(0.5 * t + 15.0, holder_from), (0.5 * t, holder_from), (0.5 * t, far)], [edge])
    way = shape.lip_end_x + nose + 3.0 - open_at
    return PortFaces(die, punch.moved(h, 0.0), plunger, holder, nose, way, bore, holder_from)


def _turned_away(face: Profile, radius: float, length: float) -> Profile:
    """A face that ends on a flank, rounded off towards +x and gone on along the axis."""
    x, y = face.end
    angle = face.angle_at(face.length)
    centre = (x + radius * math.sin(angle), y - radius * math.cos(angle))
    level = (centre[0], centre[1] + radius)
    return Profile(
        (*face.segments, arc((x, y), level, centre, False), line(level, (level[0] + length, level[1]))), face.name
    )


def port_press(shape: PortShape, setting: PortSettings, count: int, name: str = "pads") -> Press:
    """The press operation for these settings, of one port; `count` are pressed at once."""
    faces = port_faces(shape, setting)
    tools = (
        PressTool("die", faces.die, "forward"),
        PressTool("pad punch", faces.punch, "aft"),
        PressTool("plunger", faces.plunger, "forward"),
    )
    area = math.pi * (setting.field**2 - faces.holder_from**2)
    holder = HolderForce(PressTool("holder", faces.holder, "aft"), setting.holder_pressure_MPa * area)
    strokes = (
        Stroke("pad", (("pad punch", shut_gap(shape) - setting.pad_height),), 40, 4),
        Stroke("lip", (("plunger", faces.way),), 80, 8),
    )
    return Press(
        name,
        f"Press {count} pads and lips",
        tools,
        strokes,
        holder,
        outer_edge=setting.outer_edge,
        cut_edge=setting.cut_edge,
        count=count,
        flatten_area_mm2=shape.pad_area_mm2,
    )


def shut_gap(shape: PortShape) -> float:
    """Gap along the axis by which die and punch stay open, so that their flanks keep 0.02 too. [mm]"""
    return OVER_SHEET_MM / math.cos(math.atan(1.0 / shape.flank_slope)) + 1e-4


def form_port(part: str, shape: PortShape, setting: PortSettings, count: int, card: ShopCard) -> PortFormed:
    """Press a port and let go."""
    blank = mesh_line((0.0, setting.hole_radius), (0.0, setting.field), shape.thickness, setting.elements)
    step = press.run(piece_of(part, blank, 0.0), port_press(shape, setting, count), card)
    return measured(shape, step, setting)


def measured(shape: PortShape, step: PressStep, setting: PortSettings) -> PortFormed:
    """Sizes of the port let go."""
    free, shut = step.record.free, step.record.shut
    flat = _levels(free, shape.foot_from + 1.0, setting.field - 0.5)
    pad = _levels(free, shape.flat_from + 0.5, shape.pad_to - 0.5)
    zero = float(flat.mean())
    x = free.x_mm - zero
    lip = slice(0, int(np.argmin(x)))
    middle = shape.lip_end_x - 0.5 * shape.lip_straight
    order = np.argsort(x[lip])
    lip_rho = float(np.interp(middle, x[lip][order], free.y_mm[lip][order]))
    lean = math.degrees(math.pi - float(np.unwrap(free.angle_rad)[0]))
    edge = free.thickness_mm
    return PortFormed(
        step,
        zero - float(pad.mean()),
        lip_rho - 0.5 * float(edge[0]),
        float(x[0]),
        float(np.ptp(pad)),
        lean,
        float(edge[0] + 0.5 * (edge[0] - edge[1])),
        math.log(float(shut.y_mm[0]) / setting.hole_radius),
        float(free.plastic_strain[-1].max()),
        float(setting.field - free.y_mm[-1]),
    )


def _levels(section: Section, low: float, high: float) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """x of the section at 41 radii on its way outward beyond the lip."""
    start = int(np.argmin(section.x_mm))
    radii = np.linspace(low, high, 41)
    return (
        np.interp(radii, section.y_mm[start:], section.x_mm[start:])
        if low > section.y_mm[start]
        else np.interp(radii, section.y_mm, section.x_mm)
    )
