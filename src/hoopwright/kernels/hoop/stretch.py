"""One hit on one part: from first touch to the end position, hold, and release. mm, N, MPa, rad."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from hoopwright.errors import NotConverged
from hoopwright.kernels.flow import Vector
from hoopwright.kernels.hoop.arrays import NO_SEGMENT, Matrix, Tool
from hoopwright.kernels.hoop.contact import smallest_gap
from hoopwright.kernels.hoop.ledger import edge_tension, girth
from hoopwright.kernels.hoop.walk import SEAT, SOFT, STIFF, Walk

SETTLE = 2
"""Steps without travel at the end of loading and of release, in which the guide lets go."""

RELEASE_STEPS = 6
GUIDE_WHILE_SEATING = 100.0
"""How much stiffer the guide is while an out-of-round hoop rests on few segments, where its balance is unstable."""

SMALLEST_STEP = 1e-5
"""Share of the travel below which a step is not halved again."""


@dataclass(slots=True)
class Track:
    """What is kept of every step of a hit, as lists: position, tension of every edge, forces on and places of the
    nodes, girth."""

    position: list[float] = field(default_factory=list)
    tension: list[Vector] = field(default_factory=list)
    push: list[Matrix] = field(default_factory=list)
    x: list[Matrix] = field(default_factory=list)
    girth: list[float] = field(default_factory=list)

    def note(self, walk: Walk, position: float) -> None:
        """Keep the present state."""
        self.position.append(position)
        self.tension.append(edge_tension(walk.chain, walk.state))
        self.push.append(walk.push.copy())
        self.x.append(walk.state.x.copy())
        self.girth.append(girth(walk.chain, walk.state.x))


def first_touch(walk: Walk) -> float:
    """Position at which the first node touches, to 1e-9 mm, by bisection on the smallest gap. [mm]"""
    nearest = float(np.hypot(*walk.state.x.T).min() - walk.state.height.max())

    def gap(position: float) -> float:
        return smallest_gap(walk.chain, walk.tool(position, SOFT), walk.state)

    step = 0.05 * nearest
    low = nearest - float(np.ptp(walk.errors)) - step
    while gap(low) <= 0.0:
        low -= step
    high = low + step
    while gap(high) > 0.0:
        high += step
    while high - low > 1e-9:
        middle = 0.5 * (low + high)
        if gap(middle) > 0.0:
            low = middle
        else:
            high = middle
    return low


NECKS_FROM = 0.9
"""Share of the necking strain from which a lost equilibrium is put down to necking."""


def _stopped(walk: Walk, what: str, share: float) -> NotConverged:
    """The error that carries the last state; it says so when the metal necks rather than the solver failing."""
    zone, used = walk.necking()
    if used >= NECKS_FROM:
        place = ("the hoop", "the weld")[zone]
        return NotConverged(
            f"{place} necks at {100.0 * share:.1f} % of the way: its plastic strain is "
            f"{used * walk.uniform[zone]:.4f}, and from {walk.uniform[zone]:.4f} on its tension falls.",
            walk.state,
            "stretch less, anneal the hoop before this hit, or check the flow curve of " + place,
        )
    return NotConverged(
        f"{what} stops at {100.0 * share:.2f} % of its way after {walk.steps} steps and {walk.iterations} iterations.",
        walk.state,
        "double the steps, or halve the longest edge at the slots",
    )


def contact_stiffness(seated: float, share: float) -> float:
    """Contact stiffness in EA/R^2: soft while the hoop seats (`seated` below 1), stiffer over the second half."""
    if seated < 1.0:
        return float(SEAT * (SOFT / SEAT) ** seated)
    return float(SOFT * (STIFF / SOFT) ** max(0.0, 2.0 * share - 1.0))


def load(walk: Walk, start: float, end: float, steps: int) -> Track:
    """Drive the segments from `start` to `end` [mm] and hold there.

    The step is at most 1/steps of the travel, or what strains the hoop by 0.0003 where that is more; four times as much
    while the hoop only seats.
    """
    track, dead = Track(), np.zeros_like(walk.state.x)
    travel = end - start
    walk.out = walk.tool(start, SOFT).out
    usual = min(0.25, max(1.0 / steps, 3e-4 * end / travel)) if travel > 0.0 else 1.0
    share, step, last = 0.0, usual, 0.0
    track.note(walk, start)
    while share < 1.0:
        seated = min(1.0, max(0.0, float(np.min(track.tension[-1])) / (0.5 * walk.scales.force)))
        step = min(step, usual if seated == 1.0 else min(0.25, 4.0 * usual), 1.0 - share)
        goal = 1.0 if 1.0 - share - step < 1e-9 else share + step
        tool = walk.tool(start + goal * travel, contact_stiffness(seated, goal))
        walk.guide = walk.scales.guide * GUIDE_WHILE_SEATING ** (1.0 - seated)
        before = walk.iterations
        found = walk.seek(tool, dead, step / last if last > 0.0 else 0.0)
        if found is None:
            step *= 0.5
            walk.halvings += 1
            if step < SMALLEST_STEP:
                raise _stopped(walk, "the stretch", share)
            continue
        walk.accept(found, tool)
        track.note(walk, start + goal * travel)
        share, last = goal, step
        if walk.necking()[1] >= 1.0:
            raise _stopped(walk, "the stretch", share)
        step *= 1.5 if walk.iterations - before <= 8 else 1.0
    settle(walk, walk.tool(end, STIFF), dead)
    track.note(walk, end)
    return track


def settle(walk: Walk, tool: Tool, dead: Matrix) -> None:
    """Steps without travel, so that the guide no longer pulls."""
    for _ in range(SETTLE):
        found = walk.seek(tool, dead, 0.0)
        if found is None:
            raise _stopped(walk, "the hold", 1.0)
        walk.accept(found, tool)


def release(walk: Walk) -> None:
    """Let the segments' forces die away evenly, as loads that keep their direction; then let the hoop settle."""
    load_now = walk.push.copy()
    tool = walk.tool(float(walk.figures[1]), 0.0)
    walk.guide, last = walk.scales.loose, 0.0
    for k in range(1, RELEASE_STEPS + 1):
        dead = load_now * (1.0 - k / RELEASE_STEPS)
        found = walk.seek(tool, dead, last)
        if found is None:
            raise _stopped(walk, "the release", (k - 1) / RELEASE_STEPS)
        found.segment[:] = NO_SEGMENT
        found.drag[:] = 0.0
        walk.accept(found, tool)
        last = 1.0
    free_settle(walk)


def free_settle(walk: Walk) -> None:
    """Let the hoop come to rest with nothing on it."""
    walk.guide = walk.scales.loose
    settle(walk, walk.tool(float(walk.figures[1]), 0.0), np.zeros_like(walk.state.x))
