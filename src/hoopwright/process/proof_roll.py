"""Roll, on the section kernel: one pass of a strip, or of a closed hoop, between two contoured rolls.

The rolls close a share of the way in each pass; the strip is let go between passes. A closed hoop keeps its curl and
camber, so that all it can do is to draw in or out as a whole: its stretch force is nothing.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hoopwright.errors import InputError, require_positive, require_range
from hoopwright.findings import Figure, Input
from hoopwright.kernels.flow import Vector
from hoopwright.kernels.roll_pass import ForceOpening, PassLoad, pass_load, relative_radius
from hoopwright.kernels.section import FREE, Release
from hoopwright.process.proof_closing import Closed, RollGap, closing, touching
from hoopwright.process.proof_piece import carried, section_metal, section_of
from hoopwright.process.shop import ShopCard
from hoopwright.process.step import Step
from hoopwright.process.working import reckoned
from hoopwright.process.workpiece import Workpiece

GRIPPED = 0.999
"""Share of the opening at first touch that a pass must at least take to be a pass."""


@dataclass(frozen=True, slots=True, eq=False)
class ProofPass:
    """Settings of one pass.

    share : of the depth that stands after it, above 0 to 1. rolls : the pair. node : of the section, held in its place
    along the rolls. pitch_radius_mm : of the rolls. closed : the hoop is closed already. settings : what the operator
    sets.
    """

    number: int
    of: int
    share: float
    rolls: RollGap
    node: int
    pitch_radius_mm: float
    closed: bool = False
    settings: tuple[Figure, ...] = ()

    def __post_init__(self) -> None:
        if not 1 <= self.number <= self.of:
            raise InputError("pass", self.number, "", f"from 1 to {self.of}", "count the passes from 1")
        require_range("share of the contour", self.share, 1e-6, 1.0)
        require_positive("pitch radius", self.pitch_radius_mm, "mm")


def closed_pass(workpiece: Workpiece, operation: ProofPass, card: ShopCard) -> Closed:
    """The kernel's run of a pass."""
    section, rolls = section_of(workpiece), operation.rolls
    _, low, _, high = rolls.middle.bounds
    left = (1.0 - operation.share) * (high - low)
    if left > 0.0:
        left = min(left, GRIPPED * touching(section, rolls)[1])
    metal = section_metal(card.metal)
    if operation.closed:
        kept = Release(held=("curl", "camber"))
        return closing(section, rolls, operation.node, metal, left, release=kept, straight=None)
    return closing(section, rolls, operation.node, metal, left, straight=FREE)


def run(workpiece: Workpiece, operation: ProofPass, card: ShopCard) -> Step:
    """Close the rolls, let go; line force, load, work and thickness."""
    closed = closed_pass(workpiece, operation, card)
    load = load_of(closed, operation.pitch_radius_mm)
    place = f"{workpiece.part}/proof/roll-{operation.number}"
    after = carried(workpiece, closed.section, f"roll pass {operation.number}")
    title = f"Roll, pass {operation.number} of {operation.of}"
    where = "contoured roll pair" + (", inner roll in the ring" if operation.closed else "")
    return Step("roll", title, where, after, operation.settings, pass_figures(place, closed, load, card), ())


def load_of(closed: Closed, pitch_radius_mm: float) -> PassLoad:
    """Load, work and torque of both rolls from the closing force, as the entry gap grows by s^2/(2 R_e)."""
    opening, force = rising(closed.opening_mm, closed.force_N_per_mm)
    table = ForceOpening(opening, force)
    return pass_load(table, relative_radius(pitch_radius_mm, pitch_radius_mm), pitch_radius_mm)


def rising(opening: Vector, force: Vector) -> tuple[Vector, Vector]:
    """The table from the closed end on, openings that repeat left out, 0 at the closed end."""
    order = np.argsort(opening)
    value, first = np.unique(np.maximum(opening[order], 0.0), return_index=True)
    value = np.concatenate(([0.0], value[1:]))
    return value, force[order][first]


def pass_figures(place: str, closed: Closed, load: PassLoad, card: ShopCard) -> tuple[Figure, ...]:
    """Line force at the running gap, load, torque, least thickness."""
    force = float(closed.force_N_per_mm[-1])
    ground = card.ground
    work = Input("W", "work per unit of strip", load.work_N, "N", ground)
    section = closed.section
    return (
        reckoned(
            f"{place}/line-force", "closing force per mm of strip, at the running gap", force, "N_per_mm",
            "F", Input("F", "sum of contact pressure on one roll", force, "N_per_mm", ground), digits=0,
        ),
        reckoned(
            f"{place}/load", "roll load", load.load_N * 1e-3, "kN", "sum of F ds , s = √ ( 2 R_e opening )",
            Input("F", "closing force by opening, its last value", force, "N_per_mm", ground),
            Input("R_e", "half the pitch radius", 500.0 * load.torque_Nm / load.work_N, "mm", ground),
            digits=2,
        ),
        reckoned(f"{place}/torque", "drive torque, both rolls together", load.torque_Nm, "Nm", "W R_p / 1000", work,
                 Input("R_p", "pitch radius", 1e3 * load.torque_Nm / load.work_N, "mm", ground), digits=1),
        reckoned(
            f"{place}/least-thickness", "least thickness in the corners", float(section.thickness_mm.min()), "mm",
            "t exp ( e_t )",
            Input("t", "sheet", float(section.thickness_start_mm.max()), "mm", ground),
            Input("e_t", "thickness strain there", float(section.strains()[2].min()), "log", ground), digits=4,
        ),
    )  # fmt: skip
