"""Press: a plate between rigid faces, followed on the section kernel from first touch to let go. mm, N, MPa.

The plate is a body of revolution. The shut faces keep a gap of the sheet and 0.02 at least: pressing the sheet thinner
(ironing, coining) is not in the kernel; flattening is reckoned by area times pressure, common practice, and said.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from hoopwright.errors import InputError
from hoopwright.findings import Figure
from hoopwright.kernels.section import (
    SOFT,
    Force,
    Release,
    Result,
    Schedule,
    Section,
    Support,
    Tool,
    clamp,
    settled,
)
from hoopwright.kernels.section import Step as KernelStep
from hoopwright.kernels.section import run as run_section
from hoopwright.process.press_figures import press_figures
from hoopwright.process.press_findings import press_findings
from hoopwright.process.press_record import PressRecord, record_of
from hoopwright.process.press_tools import (
    OVER_SHEET_MM,
    Holder,
    HolderCushion,
    HolderForce,
    HolderGap,
    PressTool,
    Stroke,
    shut_gap_mm,
)
from hoopwright.process.proof_piece import carried, section_metal, section_of
from hoopwright.process.shop import ShopCard
from hoopwright.process.step import Step
from hoopwright.process.workpiece import Workpiece

Edge = Literal["free", "level", "held"]
CutEdge = Literal["laser_as_cut", "deburred_reamed", "machined"]
HOLD = 1e-8
"""Hold of a blank that nothing touches yet, as a share of E/t."""
SEAT = 0.2
"""Share of the holder force with which the holder is seated."""


@dataclass(frozen=True, slots=True)
class Press:
    """Settings of one closing of the press.

    name : key in identities ("pads"). title : as the shop says it. tools : faces, without the holder. strokes : in
    order. holder : by force or by gap, or none. inner_edge, outer_edge : "free", "level" (no tilt) or "held" (no tilt,
    no draw-in). cut_edge : how the stretched edge was made. count : of these in one plate and one closing of the press.
    flatten_area_mm2 : of each, coined at the end of the stroke.
    """

    name: str
    title: str
    tools: tuple[PressTool, ...]
    strokes: tuple[Stroke, ...]
    holder: Holder | None = None
    inner_edge: Edge = "free"
    outer_edge: Edge = "free"
    cut_edge: CutEdge = "laser_as_cut"
    count: int = 1
    flatten_area_mm2: float = 0.0
    settings: tuple[Figure, ...] = ()

    def __post_init__(self) -> None:
        if not self.tools or not self.strokes:
            raise InputError(f"{self.name}: tools and strokes", 0, "", "at least one of each", "add them")
        names = [tool.name for tool in self.all_tools]
        for stroke in self.strokes:
            for tool, _ in stroke.travel_mm:
                if tool not in names:
                    raise InputError(f"{stroke.name}: tool", tool, "", f"one of {', '.join(names)}", "name a tool")
        if self.count < 1:
            raise InputError(f"{self.name}: count", self.count, "", "at least 1", "count the features pressed at once")

    @property
    def all_tools(self) -> tuple[PressTool, ...]:
        """Faces with the holder."""
        return self.tools if self.holder is None else (*self.tools, self.holder.tool)

    def travels(self) -> dict[str, float]:
        """Way of each tool to the shut press."""
        return {tool.name: sum(s.of(tool.name) for s in self.strokes) for tool in self.all_tools}

    def standing(self, thickness_mm: float) -> tuple[PressTool, ...]:
        """Faces as they stand on a sheet before the first stroke, the holder last."""
        holder = self.holder
        if isinstance(holder, (HolderGap, HolderCushion)):
            return (*self.tools, holder.placed(thickness_mm))
        return self.all_tools

    def shut_tools(self) -> tuple[tuple[PressTool, float], ...]:
        """Every face but the holder with its way to the shut press."""
        ways = self.travels()
        return tuple((tool, ways[tool.name]) for tool in self.tools)


@dataclass(frozen=True, slots=True)
class PressStep(Step):
    """A step with the record of the press."""

    record: PressRecord = field(kw_only=True)


def run(workpiece: Workpiece, operation: Press, card: ShopCard) -> PressStep:
    """Close the press on a plate and let go.

    Raises
    ------
    InputError, GeometryError
        A workpiece without a section; faces that cross, fold, have a radius below the sheet's thickness or close on
        less than the sheet and 0.02; a punch that cannot enter.
    NotConverged
        The kernel stopped short; its message says where.
    """
    section = section_of(workpiece)
    if section.mode != "revolution":
        raise InputError(f"{workpiece.part} form", section.mode, "", "a plate (revolution)", "press a plate")
    result, seats = pressed(section, operation, card)
    record = record_of(result, operation.standing(float(section.thickness_mm.max())), seats)
    after = carried(workpiece, result.section, operation.name)
    figures = press_figures(workpiece.part, operation, record, section, card)
    findings = press_findings(workpiece.part, operation, record, figures, card)
    return PressStep(
        "press", operation.title, _subtitle(operation), after, operation.settings, figures, findings, record=record
    )


def _subtitle(operation: Press) -> str:
    if operation.holder is None:
        return "no blank holder"
    if isinstance(operation.holder, HolderCushion):
        return f"holder on a cushion, {operation.holder.pressure_MPa:g} MPa"
    if isinstance(operation.holder, HolderForce):
        return f"holder {1e-3 * operation.holder.force_N * operation.count:.1f} kN"
    return f"holder at gap {operation.holder.gap_mm:g} mm"


def pressed(section: Section, operation: Press, card: ShopCard) -> tuple[Result, int]:
    """The kernel's run of the operation, and how many steps came before the first stroke."""
    thickness = float(section.thickness_mm.max())
    gap = shut_gap_mm(operation.tools, operation.travels(), (float(section.y_mm.min()), float(section.y_mm.max())))
    if gap < thickness + OVER_SHEET_MM - 1e-6:
        raise InputError(
            f"{operation.name}: gap between the shut faces",
            round(gap, 4),
            "mm",
            f"at least the sheet and {OVER_SHEET_MM:g}, {thickness + OVER_SHEET_MM:.4f}",
            "shorten the stroke or widen the clearance; flattening is reckoned by area and pressure",
        )
    steps, seats = _steps(section, operation)
    rate = operation.holder.rate_MPa_per_mm if isinstance(operation.holder, HolderCushion) else None
    tools = tuple(
        Tool(
            tool.name,
            tool.contour,
            card.friction.mu_press.value if tool.friction is None else tool.friction,
            rate if operation.holder is not None and tool.name == operation.holder.tool.name else None,
        )
        for tool in operation.standing(thickness)
    )
    held = clamp(-1) if operation.outer_edge == "held" else clamp(0) if operation.inner_edge == "held" else None
    schedule = Schedule((*steps, *settled(steps[-1]), Release(supports=held)), tools)
    return run_section(section, schedule, section_metal(card.metal)), seats


def _steps(section: Section, operation: Press) -> tuple[list[KernelStep], int]:
    holder = operation.holder
    supports = (*_edge(0, operation.inner_edge), *_edge(-1, operation.outer_edge))
    still = {tool.name: (0.0, 0.0) for tool in operation.all_tools}
    steps: list[KernelStep] = []
    force: Force | None = None
    if isinstance(holder, HolderForce):
        towards = 1.0 if holder.tool.side == "forward" else -1.0
        full = holder.force_N
        against = {name: way for name, way in still.items() if name not in _driven(operation)}
        seat = Force(holder.tool.name, towards, 0.0, SEAT * full, full)
        steps.append(_step("hold", against, seat, supports, 3))
        force = Force(holder.tool.name, towards, 0.0, full, full)
    seats = len(steps)
    for stroke in operation.strokes:
        moves = dict(still)
        share = 1.0 / stroke.parts
        for tool, travel in stroke.travel_mm:
            moves[tool] = (travel * share, 0.0)
        each = -(-stroke.increments // stroke.parts)
        steps += [_step(f"{stroke.name} {k + 1}", moves, force, supports, each) for k in range(stroke.parts)]
    return steps, seats


def _step(
    name: str,
    moves: dict[str, tuple[float, float]],
    force: Force | None,
    supports: tuple[Support, ...],
    increments: int,
) -> KernelStep:
    return KernelStep(name, moves, force=force, supports=supports, contact=SOFT, increments=increments, hold=HOLD)


def _driven(operation: Press) -> set[str]:
    return {tool for stroke in operation.strokes for tool, travel in stroke.travel_mm if travel != 0.0}


def _edge(node: int, edge: Edge) -> tuple[Support, ...]:
    if edge == "free":
        return ()
    level = (Support(node, "angle"),)
    return level if edge == "level" else (*level, Support(node, "y"))
