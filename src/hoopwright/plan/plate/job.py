"""The job of one end plate: its drawing as corners, the port circle, the metal and the cards. mm."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from hoopwright.design.mark import input_mark
from hoopwright.design.shapes import EndPlate, Liner
from hoopwright.errors import InputError
from hoopwright.findings import Figure, Source, weakest
from hoopwright.plan.plate.plate_shape import PlateShape, plate_shape
from hoopwright.plan.plate.port_shape import PortShape, port_shape
from hoopwright.plan.shelf import SheetMetal, Shelf
from hoopwright.process.press import CutEdge
from hoopwright.process.shop import ShopCard
from hoopwright.process.working import stated

DIE_RADIUS_SHARE = 0.25
"""Die radius between the house's least and most for a first form (common practice, no source)."""
EDGES: tuple[CutEdge, ...] = ("laser_as_cut", "deburred_reamed", "machined")
"""States of a cut edge, the cheapest first."""


@dataclass(frozen=True, slots=True, eq=False)
class PlateJob:
    """Everything the plan of an end plate starts from. port : None where the plate has none."""

    liner: Liner
    plate: EndPlate
    sheet: SheetMetal
    shape: PlateShape
    port: PortShape | None
    card: ShopCard
    mark: str

    @property
    def thickness_mm(self) -> Figure:
        """Sheet thickness of the drawing."""
        return stated(
            self.identity("sheet/thickness"),
            "sheet thickness",
            self.plate.thickness_mm,
            "mm",
            self.liner.source(f"{self.plate.id}, thickness_mm"),
            3,
        )

    def identity(self, rest: str) -> str:
        """Identity of a figure of this plate."""
        return f"{self.plate.id}/{rest}"

    def given(self, rest: str, name: str, value: float, digits: int = 2) -> Figure:
        """A size as the drawing has it."""
        return stated(self.identity(rest), name, value, "mm", self.liner.source(f"{self.plate.id}, {name}"), digits)

    @property
    def clearance_mm(self) -> float:
        """Clearance between walls of punch and die: the middle of the house's range."""
        limits = self.card.limits
        return 0.5 * (limits.die_clearance_min_t.value + limits.die_clearance_max_t.value) * self.plate.thickness_mm

    @property
    def die_radius_mm(self) -> float:
        """Die radius of the flange tool."""
        low, high = self.card.limits.die_radius_min_t.value, self.card.limits.die_radius_max_t.value
        return (low + DIE_RADIUS_SHARE * (high - low)) * self.plate.thickness_mm

    @property
    def field_mm(self) -> float:
        """Radius from a port's axis to where its neighbour's field begins."""
        return self.liner.port_pitch_radius_mm * math.sin(math.pi / self.liner.ports)

    def edge_limit(self, edge: CutEdge) -> Figure:
        """Edge strain the house allows."""
        found: Figure = getattr(self.card.limits, f"edge_strain_{edge}_log")
        return found


def plate_job(liner: Liner, shelf: Shelf) -> PlateJob:
    """The job of a liner's end plate.

    Raises
    ------
    InputError
        No end plate; ports without a port section.
    GeometryError
        A section that cannot be pressed as it is drawn.
    CardError
        A card or a figure on it is not there.
    """
    plate = liner.end_plate
    if plate is None:
        raise InputError(f"liner {liner.id}: end plate", "none", "", "drawn", "add the end plate to the liner file")
    sheet, limits, friction = shelf.sheet_metal(plate.material), shelf.limits(liner), shelf.friction(liner)
    machines = shelf.machines(liner.cards)
    ground = weakest((liner.source(plate.id), sheet.flow_source, sheet.young_MPa.source, friction.mu_press.source))
    ground = Source(ground.basis, "press run: " + ground.where.removeprefix("worked out here; "), ground.invented)
    card = ShopCard(sheet.metal, sheet.young_MPa, sheet.uniform_strain_log, limits, machines, friction, ground)
    port = None
    if plate.port is not None and liner.ports > 0:
        if liner.ports < 3:
            raise InputError("ports", liner.ports, "", "none, or 3 and more", "give the number of ports")
        port = port_shape(plate.port.section, plate.thickness_mm, plate.id)
    alone = replace(liner, rings=(), hole_patterns=())
    mark = input_mark(alone, sheet.alloy.digest, repr(limits), repr(machines.press), repr(friction))
    return PlateJob(liner, plate, sheet, plate_shape(plate), port, card, mark)
