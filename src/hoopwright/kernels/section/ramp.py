"""One step of a schedule as two ends between which everything goes in line. Units mm, N, MPa, rad."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hoopwright.kernels.flow import Vector
from hoopwright.kernels.section.shapes import Counts, Drive, Flags, Matrix, Tooling


@dataclass(slots=True)
class Ramp:
    """Start and end of a step, in kernel units (per radian or per mm of strip).

    fixed, goal : held unknowns, at start and end. free, target, pull : globals. dead, live, pressure : loads. place :
    of the tools. stiffness (k, 2), blend (k, 2) : contact at start and end, going in equal ratios. active : which tools
    touch. warm : free thermal strain of the whole step by element.
    """

    name: str
    fixed: Flags
    goal: Matrix
    free: Flags
    target: Matrix
    pull: Matrix
    dead: Matrix
    live: Vector
    pressure: tuple[float, float]
    live_pressure: float
    control: int
    volume: tuple[float, float]
    weigh: float
    warm: Vector
    hold: float
    active: Counts
    place: Matrix
    travel: Matrix
    stiffness: Matrix
    blend: Matrix
    driven: int
    toward: Vector
    increments: int

    def drive(self, s: float, ds: float) -> Drive:
        """What is held and pulls at the part s of the step, reached by an increment ds."""
        pressure = self.pressure[0] + s * (self.pressure[1] - self.pressure[0])
        return Drive(
            self.fixed,
            between(self.goal, s),
            self.free,
            between(self.target, s),
            between(self.pull, s),
            between(self.dead, s),
            self.live,
            pressure,
            self.live_pressure,
            self.control,
            self.volume[0] + s * (self.volume[1] - self.volume[0]),
            self.weigh,
            self.warm * ds,
            self.hold,
        )

    def tooling(
        self, s: float, ds: float, rows: Matrix, first: Counts, friction: Vector, drag: Matrix, load: Matrix
    ) -> Tooling:
        """The active tools at the part s of the step."""
        grow = (self.stiffness[:, 1] / self.stiffness[:, 0]) ** s
        shrink = (self.blend[:, 1] / self.blend[:, 0]) ** s
        return Tooling(
            rows,
            first,
            self.place + s * self.travel,
            ds * self.travel,
            friction,
            self.stiffness[:, 0] * grow,
            self.blend[:, 0] * shrink,
            drag,
            load,
            self.driven,
            self.toward,
        )


def between(ends: Matrix, s: float) -> Vector:
    """Value at the part s between ends[0] and ends[1]."""
    return ends[0] + s * (ends[1] - ends[0])


def constant(values: Vector) -> Matrix:
    """Both ends alike, shape (2, n)."""
    return np.stack((values, values))
