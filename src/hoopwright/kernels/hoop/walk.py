"""Stepping one part of a hoop from equilibrium to equilibrium. mm, N, MPa, rad."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np

from hoopwright.kernels.flow import Vector
from hoopwright.kernels.hoop.arrays import NO_SEGMENT, Chain, Matrix, State, Tool, Work, copied
from hoopwright.kernels.hoop.build import scratch
from hoopwright.kernels.hoop.inputs import HoopSection, SegmentTool
from hoopwright.kernels.hoop.ledger import add_contact_work, add_fibre_work, add_guide_work, largest_plastic
from hoopwright.kernels.hoop.solve import assemble, newton

NEWTON_LIMIT = 40
SEAT, SOFT, STIFF = 30.0, 300.0, 3000.0
"""Contact stiffness at first touch, during the stretch and at its end, in EA/R^2."""

DRAG = 80.0
"""Stiffness of sticking friction over the coefficient of friction, in EA/R^2: the slip up to full friction then does
not depend on the coefficient."""


@dataclass(slots=True)
class Scales:
    """Sizes of things, for tolerances and stiffnesses. spring : EA/R^2 [N/mm2]. force : at first yield [N]. floor :
    what round-off leaves of a nodal force [N]. guide, loose : stiffness of the guide on the segments and off them
    [N/mm2]."""

    spring: float
    force: float
    floor: float
    guide: float
    loose: float

    @property
    def tolerance(self) -> float:
        """Nodal force that counts as balanced. [N]"""
        return max(1e-7 * self.force, self.floor)


def scales_of(chain: Chain, section: HoopSection, wobbly: bool) -> Scales:
    """Scales of a chain; `wobbly` where rigid moves are only held by the segments."""
    young, radius = section.metal.youngs_modulus_MPa, float(chain.sheet[2])
    stiff, bend = young * section.area_mm2, young * section.bending_mm4
    edge = float(chain.length.min())
    return Scales(
        spring=stiff / radius**2,
        force=section.metal.flow.stress(0.0) * section.area_mm2,
        floor=20.0 * float(np.finfo(np.float64).eps) * radius * (bend / edge**3 + stiff / edge),
        guide=(1e-4 if wobbly else 1e-7) * stiff / radius**2,
        loose=1e-7 * stiff / radius**2,
    )


@dataclass(slots=True)
class Walk:
    """One part under way: its present state, what it did last, and what it has cost.

    uniform : plastic strain at which each zone, parent and weld, necks in tension.
    """

    chain: Chain
    scales: Scales
    state: State
    figures: Vector
    errors: Vector
    uniform: tuple[float, ...]
    guide: float = field(init=False)
    work: Work = field(init=False)
    out: Vector = field(init=False)
    push: Matrix = field(init=False)
    pull: Matrix = field(init=False)
    last_move: Matrix = field(init=False)
    ledger: Vector = field(init=False)
    iterations: int = 0
    steps: int = 0
    halvings: int = 0
    guide_used: float = 0.0
    residual: float = 0.0

    def __post_init__(self) -> None:
        self.guide = self.scales.loose
        self.work = scratch(self.chain)
        self.start_anew()

    def start_anew(self) -> None:
        """Nothing touches, nothing has been done yet: before a hit."""
        n = self.chain.half.size
        self.out = self.errors.copy()
        self.push, self.pull, self.last_move = np.zeros((n, 2)), np.zeros((n, 2)), np.zeros((n, 2))
        self.ledger = np.zeros(6)
        self.state.segment[:] = NO_SEGMENT
        self.state.drag[:] = 0.0

    def tool(self, position: float, stiffness: float) -> Tool:
        """The segments with their middles at a radius [mm]; stiffness in EA/R^2, 0 for none there."""
        spring = self.scales.spring
        return Tool(
            self.figures, position - self.figures[1] + self.errors, stiffness * spring, DRAG * self.figures[4] * spring
        )

    def try_from(self, guess: Matrix, tool: Tool, dead: Matrix, guide: float) -> State | None:
        """Equilibrium sought from `guess`; None when it is not found."""
        new = copied(self.state)
        new.x[:] = guess
        end, used, _ = newton(
            self.chain, tool, self.state, new, dead, self.state.x, guide, self.scales.tolerance, NEWTON_LIMIT, self.work
        )
        self.iterations += used
        self.guide_used = guide
        return new if end == 0 else None

    def seek(self, tool: Tool, dead: Matrix, ratio: float) -> State | None:
        """Equilibrium under `tool`: from the last move times `ratio`, from rest, by way of a softer contact, or with a
        stiffer guide, in this order."""
        start = self.state.x
        for guess in [start + ratio * self.last_move, start] if ratio > 0.0 else [start]:
            found = self.try_from(guess, tool, dead, self.guide)
            if found is not None:
                return found
        guess, found = start, None
        for share in (0.03, 0.2, 1.0):
            found = self.try_from(guess, tool._replace(normal=share * tool.normal), dead, self.guide)
            if found is None:
                break
            guess = found.x
        if found is not None:
            return found
        for more in (1e2, 1e4):
            found = self.try_from(start, tool, dead, more * self.guide)
            if found is not None:
                return found
        return None

    def accept(self, new: State, tool: Tool) -> None:
        """Take `new`, the equilibrium found last, as the present state and book the work of the step."""
        pull = self.guide_used * self.chain.half[:, None] * (new.x - self.state.x)
        add_fibre_work(self.chain, self.state, new, self.ledger)
        add_contact_work(
            self.chain,
            self.state,
            new,
            self.push,
            self.work.push,
            self.out,
            tool.out,
            float(self.figures[5]),
            self.ledger,
        )
        add_guide_work(self.chain, self.state, new, self.pull, pull, self.ledger)
        self.last_move = new.x - self.state.x
        self.push, self.pull = self.work.push.copy(), pull
        self.out, self.state = tool.out, new
        self.steps += 1

    def necking(self) -> tuple[int, float]:
        """Zone that is nearest to necking, and its largest plastic strain over the one at which it necks."""
        shares = [largest_plastic(self.chain, self.state, zone) / limit for zone, limit in enumerate(self.uniform)]
        zone = int(np.argmax(shares))
        return zone, float(shares[zone])

    def note_imbalance(self, tool: Tool) -> None:
        """Keep the largest nodal force out of balance of the states asked about, the guide left out. [N]"""
        state, nothing = self.state, np.zeros_like(self.state.x)
        _whole, largest = assemble(self.chain, tool, state, copied(state), nothing, state.x, 0.0, self.work)
        self.residual = max(self.residual, float(largest))


def tool_figures(tool: SegmentTool, index: float) -> Vector:
    """Packed figures of the segments; `index` is where segment 0 stands in the part's frame."""
    reach = (0.5 * tool.slot_mm + tool.edge_radius_mm) / (tool.turned_radius_mm - tool.edge_radius_mm)
    half_angle = math.pi / tool.count - math.asin(reach)
    return np.array(
        [tool.count, tool.turned_radius_mm, half_angle, tool.edge_radius_mm, tool.friction, index], dtype=np.float64
    )
