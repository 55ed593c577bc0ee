"""Size, on the section kernel: one hit on the segments, as a full circle of their hull's mean radius, then free.

The ring finds its own place along the axis: nothing holds it there but friction and the profile. Lobes, slots and seam
are the hoop kernel's part.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from hoopwright.design.shapes import ControlSize
from hoopwright.errors import InputError, require_finite, require_range
from hoopwright.findings import Figure, Input
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.section import Release, Schedule, Section, Support, Tool
from hoopwright.kernels.section import Step as Stride
from hoopwright.kernels.section import run as kernel_run
from hoopwright.kernels.section.contour import extended
from hoopwright.kernels.section.touch import first_touch_mm
from hoopwright.process.proof_piece import carried, section_metal, section_of
from hoopwright.process.shop import ShopCard
from hoopwright.process.size_figures import control_word
from hoopwright.process.step import Step
from hoopwright.process.working import reckoned
from hoopwright.process.workpiece import Workpiece

Stop = Literal["none", "forward", "aft"]

INSIDE_MM = 20.0
BEYOND_MM = 12.0
STRIDES = 80
GUIDE = 1e-6
"""Hold of the ring to its last place, as a share of E/t: what keeps it from sliding off before it grips."""


@dataclass(frozen=True, slots=True, eq=False)
class ProofSize:
    """Settings of one hit.

    surface : profile of the segments' inside face, loaded. standing_mm : mean radius of their hull above that profile.
    friction : ring on segments. controls : sizes to be told. least_in_mm : least mid radius as welded, mean between
    two nodes, least_nodes. stop : edge of the ring that a ledge holds along the axis.
    """

    number: int
    of: int
    surface: Profile
    standing_mm: float
    friction: float
    controls: tuple[ControlSize, ...]
    least_in_mm: float
    least_nodes: tuple[int, int]
    stop: Stop = "none"
    settings: tuple[Figure, ...] = ()

    def __post_init__(self) -> None:
        if not 1 <= self.number <= self.of:
            raise InputError("hit", self.number, "", f"from 1 to {self.of}", "count the hits from 1")
        require_finite("standing of the segments", self.standing_mm, "mm")
        require_range("friction of the ring on the segments", self.friction, 0.0, 1.0)


@dataclass(frozen=True, slots=True, eq=False)
class Stretched:
    """The ring on the segments and off them. force_N : radial, whole ring; drift_mm : slid along the axis; stop_N :
    what its ledge pushes back with along the axis."""

    loaded: Section
    free: Section
    force_N: float
    drift_mm: float
    stop_N: float


def stretched(hoop: Section, operation: ProofSize, card: ShopCard) -> Stretched:
    """The kernel's run of a hit."""
    whole = extended(operation.surface, BEYOND_MM)
    away = (0.0, -INSIDE_MM)
    touch = first_touch_mm(hoop, Tool("segments", whole), (0.0, 1.0), away) - INSIDE_MM
    if touch >= operation.standing_mm:
        raise InputError(
            "standing of the segments", operation.standing_mm, "mm", f"above first touch at {touch:.3f}",
            "cut the strip shorter, or stand the segments further out",
        )  # fmt: skip
    tool = Tool("segments", whole.moved(0.0, touch), operation.friction)
    edge = {"none": (), "forward": (Support(0, "x"),), "aft": (Support(-1, "x"),)}[operation.stop]
    travel = {"segments": (0.0, operation.standing_mm - touch)}
    step = Stride("size", travel, supports=edge, increments=STRIDES, hold=GUIDE)
    result = kernel_run(hoop, Schedule((step, Release()), (tool,)), section_metal(card.metal))
    end, middle = result.step("size"), hoop.x_mm.size // 2
    drift = float(result.section.x_mm[middle] - hoop.x_mm[middle])
    return Stretched(end.section, result.section, float(end.push_N[0, 1]), drift, float(end.outer_N[0::3].sum()))


def run(workpiece: Workpiece, operation: ProofSize, card: ShopCard) -> Step:
    """One hit: loaded and free sizes, force, stretch and thickness."""
    if workpiece.form != "hoop":
        raise InputError(f"{workpiece.part} form", workpiece.form, "", "a hoop", "close and weld it first")
    done = stretched(section_of(workpiece), operation, card)
    place, ground = f"{workpiece.part}/proof/hit-{operation.number}", card.ground
    figures: list[Figure] = []
    for control in operation.controls:
        word, said = control_word(control), control.name.replace("_", " ")
        for state, section, where in (("loaded", done.loaded, "on the segments"), ("free", done.free, "free")):
            radius, thick = face_parts(section, control.z_mm)
            size = diameter_at(section, control.z_mm, control.face)
            sign = {"inside": "- t / c", "mid": "", "outside": "+ t / c"}[control.face]
            inputs = [Input("R", "mid-surface radius there", radius, "mm", ground)]
            if sign:
                inputs += [Input("t", "sheet there", thick[0], "mm", ground),
                           Input("c", "cosine of the slope", thick[1], "1", ground)]  # fmt: skip
            figures.append(reckoned(f"{place}/{state}-{word}", f"{said}, {where}", size, "mm",
                                    f"2 R {sign}".strip(), *inputs, digits=3))  # fmt: skip
    free, loaded = (_least(section, operation.least_nodes) for section in (done.free, done.loaded))
    kept = free / operation.least_in_mm - 1.0
    thin = float(done.free.thickness_mm.min())
    figures += [
        reckoned(f"{place}/stretch", "stretch kept, at the smallest mid-surface radius", 100.0 * kept, "pct",
                 "100 ( R_free / R_in - 1 )", Input("R_free", "least, free", free, "mm", ground),
                 Input("R_in", "least, as welded", operation.least_in_mm, "mm", ground), digits=2),
        reckoned(f"{place}/stretch-loaded", "stretch on the segments, at the smallest mid-surface radius",
                 100.0 * (loaded / operation.least_in_mm - 1.0), "pct",
                 "100 ( R_loaded / R_in - 1 )",
                 Input("R_loaded", "least, on the segments", loaded, "mm", ground),
                 Input("R_in", "least, as welded", operation.least_in_mm, "mm", ground), digits=2),
        reckoned(f"{place}/radial-force", "sum of radial force on the segments", done.force_N * 1e-3, "kN", "F / 1000",
                 Input("F", "contact pressure summed", done.force_N, "N", ground), digits=1),
        reckoned(f"{place}/stop-force", "force of the ledge along the axis", done.stop_N * 1e-3, "kN", "F / 1000",
                 Input("F", "reaction at the edge that is held", done.stop_N, "N", ground), digits=1),
        reckoned(f"{place}/drift", "slide of the ring along the axis", done.drift_mm, "mm", "x_free - x_in",
                 Input("x_free", "middle node, free", float(done.free.x_mm[done.free.x_mm.size // 2]), "mm", ground),
                 Input("x_in", "the same before", float(done.free.x_mm[done.free.x_mm.size // 2]) - done.drift_mm,
                       "mm", ground)),
        reckoned(f"{place}/least-thickness", "least thickness", thin, "mm", "t exp ( e_t )",
                 Input("t", "sheet", float(done.free.thickness_start_mm.max()), "mm", ground),
                 Input("e_t", "thickness strain there", float(done.free.strains()[2].min()), "log", ground), digits=4),
    ]  # fmt: skip
    after = carried(workpiece, done.free, f"size hit {operation.number}")
    title = f"Stretch, hit {operation.number} of {operation.of}"
    return Step("size", title, "full circle of the segments' hull", after, operation.settings, tuple(figures), ())


def _least(section: Section, nodes: tuple[int, int]) -> float:
    """Mean radius between two nodes. [mm]"""
    return float(section.y_mm[nodes[0] : nodes[1] + 1].mean())


def face_parts(section: Section, z_mm: float) -> tuple[float, tuple[float, float]]:
    """Mid-surface radius at z [mm], sheet thickness there [mm] and cosine of the slope.

    Raises
    ------
    InputError
        A place beyond the edges of the section.
    """
    x = section.x_mm
    if not x[0] <= z_mm <= x[-1] or np.any(np.diff(x) <= 0.0):
        raise InputError("z", z_mm, "mm", f"on the section, {x[0]:.3f} to {x[-1]:.3f}", "move the control size")
    middle = 0.5 * (x[1:] + x[:-1])
    radius = float(np.interp(z_mm, x, section.y_mm))
    thick = float(np.interp(z_mm, middle, section.thickness_mm))
    return radius, (thick, math.cos(float(np.interp(z_mm, x, section.angle_rad))))


def diameter_at(section: Section, z_mm: float, face: Literal["inside", "mid", "outside"]) -> float:
    """Diameter of a face at z. [mm]"""
    radius, (thick, cosine) = face_parts(section, z_mm)
    return 2.0 * radius + {"inside": -1.0, "mid": 0.0, "outside": 1.0}[face] * thick / cosine
