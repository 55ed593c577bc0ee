"""Flange a hole: a round punch turns the edge of a hole through a die. mm; the punch moves along +x."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.errors import InputError, require_positive
from hoopwright.findings import Figure
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.profile_build import from_corners
from hoopwright.kernels.section.tool import Tool as KernelTool
from hoopwright.kernels.section.touch import first_touch_mm
from hoopwright.process.press import CutEdge, Edge, Press, PressStep
from hoopwright.process.press import run as run_press
from hoopwright.process.press_tools import Holder, PressTool, Stroke
from hoopwright.process.proof_piece import section_of
from hoopwright.process.shop import ShopCard
from hoopwright.process.workpiece import Workpiece

TAIL_MM = 40.0
"""Length of punch and die walls beyond their work."""


@dataclass(frozen=True, slots=True)
class FlangeHole:
    """Settings of a hole flange in a flat plate whose faces lie at x = plus and minus half its thickness.

    punch_radius_mm, nose_radius_mm : of the punch and of its nose (equal for a ball). die_radius_mm : of the die's
    edge. clearance_mm : between the walls of punch and die. travel_mm : of the punch from its first touch. outer_edge :
    what holds the plate outside. count : flanged at once.
    """

    name: str
    punch_radius_mm: float
    nose_radius_mm: float
    die_radius_mm: float
    clearance_mm: float
    travel_mm: float
    outer_edge: Edge = "held"
    holder: Holder | None = None
    cut_edge: CutEdge = "laser_as_cut"
    count: int = 1
    increments: int = 80
    friction: float | None = None
    settings: tuple[Figure, ...] = ()

    def __post_init__(self) -> None:
        for name in ("punch_radius_mm", "nose_radius_mm", "die_radius_mm", "clearance_mm", "travel_mm"):
            require_positive(f"{self.name}: {name}", getattr(self, name), "mm")
        if self.nose_radius_mm > self.punch_radius_mm:
            raise InputError(
                f"{self.name}: nose_radius_mm",
                self.nose_radius_mm,
                "mm",
                f"at most the punch radius {self.punch_radius_mm:g}",
                "make the nose smaller",
            )

    def punch(self) -> Profile:
        """Contour of the punch, its tip at x = 0, free side on the left of travel."""
        r = self.punch_radius_mm
        return from_corners([(-TAIL_MM - self.travel_mm, r), (0.0, r), (0.0, -5.0)], [self.nose_radius_mm])

    def die(self, face_x_mm: float, reach_mm: float) -> Profile:
        """Contour of the die, its face at x, out to a radius."""
        bore = self.punch_radius_mm + self.clearance_mm
        return from_corners(
            [(face_x_mm + TAIL_MM + self.travel_mm, bore), (face_x_mm, bore), (face_x_mm, reach_mm)],
            [self.die_radius_mm],
        )


def press_of(workpiece: Workpiece, operation: FlangeHole) -> Press:
    """The press operation of a hole flange: the punch brought to its first touch.

    Raises
    ------
    InputError
        A hole that the punch falls through.
    """
    section = section_of(workpiece)
    hole, outside = float(section.y_mm[0]), float(section.y_mm[-1])
    if hole >= operation.punch_radius_mm:
        raise InputError(
            f"{operation.name}: hole radius",
            round(hole, 4),
            "mm",
            f"below the punch radius {operation.punch_radius_mm:g}",
            "pierce a smaller hole or take a larger punch",
        )
    face = float(section.x_mm.mean()) + 0.5 * float(section.thickness_mm.max())
    nose = operation.punch()
    touch = first_touch_mm(section, KernelTool("punch", nose.moved(-TAIL_MM, 0.0)), (1.0, 0.0)) - TAIL_MM
    tools = (
        PressTool("punch", nose.moved(touch, 0.0), "forward", operation.friction),
        PressTool("die", operation.die(face, outside + TAIL_MM), "aft", operation.friction),
    )
    stroke = Stroke("flange", (("punch", operation.travel_mm),), operation.increments)
    return Press(
        operation.name,
        "Flange the hole" if operation.count == 1 else f"Flange {operation.count} holes",
        tools,
        (stroke,),
        operation.holder,
        outer_edge=operation.outer_edge,
        cut_edge=operation.cut_edge,
        count=operation.count,
        settings=operation.settings,
    )


def run(workpiece: Workpiece, operation: FlangeHole, card: ShopCard) -> PressStep:
    """Flange the hole; errors as those of `press.run`."""
    return run_press(workpiece, press_of(workpiece, operation), card)
