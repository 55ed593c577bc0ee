"""The flanges of an end plate pressed as a body of revolution: faces for given settings, the forward run, the trim.

Aft of the sheet stands the punch that carries the plate's inside; forward the two dies, round and inside it, and the
pad that keeps the flat on the punch; a holder on a cushion keeps the outer flange from waving. The plate's ports are
left out of this run. mm, MPa.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hoopwright.kernels.profile import Profile
from hoopwright.kernels.profile_build import from_corners
from hoopwright.kernels.profile_offset import offset
from hoopwright.kernels.section import Section, mesh_line
from hoopwright.plan.plate.plate_shape import PlateShape
from hoopwright.process import pierce, press
from hoopwright.process.pierce import Trim
from hoopwright.process.press import CutEdge, Press, PressStep
from hoopwright.process.press_tools import OVER_SHEET_MM, HolderCushion, PressTool, Stroke
from hoopwright.process.proof_piece import piece_of, section_of
from hoopwright.process.shop import ShopCard
from hoopwright.process.step import Step
from hoopwright.process.workpiece import Array

BEYOND_MM = 40.0
PAD_BACK_MM = 2.0
"""How far the pad ends inside the flat, on either side, and the radius of its edges."""
FREE_MM = 4.0
"""Way of the punch beyond the one that draws the edges past the die's radius (common practice, no source)."""
HOLDER_EDGE_MM = 1.5


@dataclass(frozen=True, slots=True)
class FlangeSettings:
    """What is set or cut. inner_wall, outer_wall : mid-surface radii the punch is cut to. blank_inner, blank_outer : of
    the blank. clearance : between walls of punch and die. trim : what comes off each flange edge.
    """

    inner_wall: float
    outer_wall: float
    blank_inner: float
    blank_outer: float
    clearance: float
    die_radius: float
    trim: float
    holder_pressure_MPa: float
    cut_edge: CutEdge
    elements: int = 240


@dataclass(frozen=True, slots=True, eq=False)
class FlangeFaces:
    """Tool faces with the press open on the flat blank. way : of punch and pad. holder_from : its inner edge."""

    punch: Profile
    outer_die: Profile
    inner_die: Profile
    pad: Profile
    holder: Profile
    way: float
    holder_from: float


@dataclass(frozen=True, slots=True, eq=False)
class PlateFormed:
    """What came out. inner_edge, outer_edge : height of both edges above the flat before the trim. inner_radius,
    outer_radius : mid-surface radii at the control heights after it. *_lean_deg : of the flanges against the axis,
    positive when they open outward. flat : highest less lowest of the flat after the trim.
    """

    step: PressStep
    trim: Step
    inner_edge: float
    outer_edge: float
    inner_radius: float
    outer_radius: float
    inner_lean_deg: float
    outer_lean_deg: float
    flat: float


def lean_reach(shape: PlateShape, formed: PlateFormed) -> tuple[float, float]:
    """How far the ends of the straights stand off where the control heights are right: outer and inner flange. [mm]"""
    outer = max(shape.outer_end - shape.outer_at, shape.outer_at - shape.outer_bend)
    inner = max(shape.inner_end - shape.inner_at, shape.inner_at - shape.inner_bend)
    return (
        outer * math.tan(math.radians(abs(formed.outer_lean_deg))),
        inner * math.tan(math.radians(abs(formed.inner_lean_deg))),
    )


def flange_faces(shape: PlateShape, setting: FlangeSettings) -> FlangeFaces:
    """Faces for these settings.

    Raises
    ------
    GeometryError
        Bends that do not fit between their straights.
    """
    t, rd = shape.thickness, setting.die_radius
    way = max(shape.inner_end, shape.outer_end) + setting.trim + rd + FREE_MM
    tall = way + 10.0
    punch = offset(shape.middle(setting.inner_wall, setting.outer_wall, tall), -0.5 * t)
    outer = setting.outer_wall - 0.5 * t + setting.clearance
    inner = setting.inner_wall + 0.5 * t - setting.clearance
    far = setting.blank_outer + BEYOND_MM
    near = max(0.25 * setting.blank_inner, inner - BEYOND_MM)
    face = -0.5 * t
    outer_die = from_corners([(face, far), (face, outer), (face - way - 15.0, outer)], [rd])
    inner_die = from_corners([(face - way - 15.0, inner), (face, inner), (face, near)], [rd])
    low, high = shape.flat_from + PAD_BACK_MM, shape.flat_to - PAD_BACK_MM
    back = face - OVER_SHEET_MM
    pad = from_corners([(back - 12.0, high), (back, high), (back, low), (back - 12.0, low)], [PAD_BACK_MM, PAD_BACK_MM])
    holder_from = outer + rd + 0.5
    holder = from_corners([(-face + 20.0, holder_from), (-face, holder_from), (-face, far)], [HOLDER_EDGE_MM])
    return FlangeFaces(punch, outer_die, inner_die, pad, holder, way, holder_from)


def flange_press(shape: PlateShape, setting: FlangeSettings, name: str = "flanges") -> Press:
    """The press operation for these settings."""
    faces = flange_faces(shape, setting)
    tools = (
        PressTool("punch", faces.punch, "aft"),
        PressTool("outer die", faces.outer_die, "forward"),
        PressTool("inner die", faces.inner_die, "forward"),
        PressTool("pad", faces.pad, "forward"),
    )
    holder = HolderCushion(PressTool("holder", faces.holder, "aft"), setting.holder_pressure_MPa)
    stroke = Stroke("draw", (("punch", -faces.way), ("pad", -faces.way)), 80, 8)
    return Press(name, "Press both flanges", tools, (stroke,), holder, cut_edge=setting.cut_edge)


def form_flanges(part: str, shape: PlateShape, setting: FlangeSettings, card: ShopCard) -> PlateFormed:
    """Press both flanges, let go, trim, let go."""
    blank = mesh_line((0.0, setting.blank_inner), (0.0, setting.blank_outer), shape.thickness, setting.elements)
    step = press.run(piece_of(part, blank, 0.0), flange_press(shape, setting), card)
    free = step.record.free
    zero = float(_flat(free, shape).mean())
    cut = Trim("trim", "Trim both flanges", shape.inner_end, shape.outer_end, "x", "laser", zero)
    trimmed = pierce.run(step.workpiece, cut, card)
    return _measured(shape, step, trimmed, free, section_of(trimmed.workpiece))


def _measured(shape: PlateShape, step: PressStep, trimmed: Step, free: Section, left: Section) -> PlateFormed:
    high, flat = float(_flat(free, shape).mean()), _flat(left, shape)
    zero = float(flat.mean())
    half = left.x_mm.size // 2
    x, y = left.x_mm - zero, left.y_mm
    inner = np.interp(_rising(shape.inner_at), x[:half][::-1], y[:half][::-1])
    outer = np.interp(_rising(shape.outer_at), x[half:], y[half:])
    return PlateFormed(
        step,
        trimmed,
        float(free.x_mm[0]) - high,
        float(free.x_mm[-1]) - high,
        float(inner[1]),
        float(outer[1]),
        math.degrees(math.atan2(float(inner[2] - inner[0]), 2.0)),
        math.degrees(math.atan2(float(outer[2] - outer[0]), 2.0)),
        float(np.ptp(flat)),
    )


def _rising(at: float) -> Array:
    return np.array([at - 1.0, at, at + 1.0])


def _flat(section: Section, shape: PlateShape) -> Array:
    """x of the flat at 41 radii."""
    radii = np.linspace(shape.flat_from + 1.0, shape.flat_to - 1.0, 41)
    return np.interp(radii, section.y_mm, section.x_mm)
