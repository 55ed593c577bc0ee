"""What a run hands back. Forces are those of the whole ring, or per mm of strip. Units mm, N, MPa, N mm, rad."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hoopwright.errors import InputError
from hoopwright.kernels.flow import Vector
from hoopwright.kernels.section.section import Section
from hoopwright.kernels.section.shapes import Cube, Matrix


@dataclass(frozen=True, slots=True)
class Energies:
    """Ledger of energy at the end of a run; a cut starts it anew for the part that is kept. [N mm]

    outer : work of tools, loads and supports. stored, stored_start : elastic, now and in the section the run started
    from. dissipated : plastic. friction : lost to friction. contact : put into the contact penalty and not given back:
    tools hardened or taken away under load keep it, and a face that follows the thinning sheet under pressure loses
    it. hold : lost to the hold of a loose strip. thermal : stress times free thermal strain.
    """

    outer: float
    stored: float
    stored_start: float
    dissipated: float
    friction: float
    contact: float
    hold: float
    thermal: float

    @property
    def gap(self) -> float:
        """Outer work minus all the rest, as a share of the larger of outer work and dissipation."""
        change = self.stored - self.stored_start
        rest = change + self.dissipated + self.friction + self.contact + self.hold + self.thermal
        size = max(abs(self.outer), self.dissipated, abs(self.stored), 1e-300)
        return (self.outer - rest) / size


@dataclass(frozen=True, slots=True)
class History:
    """What was recorded at every accepted increment; the first axis is the increment.

    progress (i,) : number of the stride plus the part of it done; a step is one stride, a force-driven tool is seated
    in strides of its own, a strip is released in two. push_N (i, k, 2) : force of each tool on the sheet.
    travel_mm (i, k, 2) : where each tool stands. resultant (i, 3) : stretch force [N], curl and camber moment [N mm].
    hoop (i, 3) : b0, kr, kz. load (i,) : factor of a led load, or the pressure [MPa]. energy (i, 8) : outer,
    dissipated, friction, hold, thermal, stored, contact, greatest contact depth [mm]. iterations (i,).
    """

    progress: Vector
    push_N: Cube
    travel_mm: Cube
    resultant: Matrix
    hoop: Matrix
    load: Vector
    energy: Matrix
    iterations: Vector
    tools: tuple[str, ...]

    def force_N(self, tool: str) -> Matrix:
        """Force of one tool on the sheet (x, y) at every increment, shape (i, 2). [N]"""
        if tool not in self.tools:
            raise InputError(
                "tool", tool, "", f"one of {', '.join(self.tools) or 'none'}", "name a tool of the schedule"
            )
        return np.ascontiguousarray(self.push_N[:, self.tools.index(tool), :])


@dataclass(frozen=True, slots=True)
class StepEnd:
    """State at the end of a step.

    section : as it stands there, under load. push_N (k, 2) : tool forces. pressure_MPa (k, n) : contact pressure of
    each tool at each node. outer_N (3 n,) : nodal loads and support reactions (N, N, N mm). resultant (3,) : N, N mm,
    N mm. deepest_mm : greatest contact depth. increments, iterations : spent on it.
    """

    name: str
    section: Section
    push_N: Matrix
    travel_mm: Matrix
    pressure_MPa: Matrix
    outer_N: Vector
    resultant: Vector
    deepest_mm: float
    load: float
    increments: int
    iterations: int


@dataclass(frozen=True, slots=True)
class Result:
    """Outcome of `run`. section : final state. steps : one per step of the schedule. converged is True unless the
    result is the last state carried by a NotConverged."""

    section: Section
    steps: tuple[StepEnd, ...]
    history: History
    energies: Energies
    converged: bool
    iterations: int
    message: str

    @property
    def volume_gap(self) -> float:
        """Change of volume over the start volume; elastic strain alone makes it some 1e-3 under load."""
        return self.section.volume_mm3() / self.section.volume_start_mm3() - 1.0

    def step(self, name: str) -> StepEnd:
        """State at the end of the last step of that name."""
        for end in reversed(self.steps):
            if end.name == name:
                return end
        raise InputError(
            "step", name, "", f"one of {', '.join(e.name for e in self.steps)}", "name a step of the schedule"
        )
