"""The walk through one step: increments, their length, what to do when one fails. Units mm, N, MPa, rad.

An increment is first guessed by carrying the last one on, then from the tangent; it is halved when neither converges,
grows by half after an easy one, shrinks after a hard one. Far down it is tried with a vanishing damping term
(pseudo-transient continuation). When nothing helps the run stops with its last state: never a silent wrong answer.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from hoopwright.kernels.flow import Vector
from hoopwright.kernels.section.accept import accept, longest_stride
from hoopwright.kernels.section.newton import newton, tangent_guess
from hoopwright.kernels.section.ramp import Ramp
from hoopwright.kernels.section.shapes import Counts, Matrix, Sheet, System, Tooling, new_system

WIDEST = 0.15
"""Largest strain of a fibre in one increment; what is further off may be another branch: shorter steps are tried."""

LIMIT = 30
"""Iterations allowed for an increment."""

SMALLEST = 1.0 / 4096.0
"""Shortest increment, as a share of the longest."""


class Stuck(Exception):
    """Raised inside the walk when the shortest increment fails; the run turns it into NotConverged."""

    def __init__(self, progress: float, state: int) -> None:
        self.progress, self.state = progress, state
        super().__init__(progress, state)


@dataclass(slots=True)
class Records:
    """Rows recorded at every accepted increment."""

    progress: list[float] = field(default_factory=list)
    push: list[Matrix] = field(default_factory=list)
    travel: list[Matrix] = field(default_factory=list)
    resultant: list[Vector] = field(default_factory=list)
    hoop: list[Vector] = field(default_factory=list)
    load: list[float] = field(default_factory=list)
    energy: list[Vector] = field(default_factory=list)
    iterations: list[int] = field(default_factory=list)


@dataclass(slots=True)
class Walk:
    """Everything that changes on the walk, in kernel units.

    place (k, 2), drag, load (k, n), push (k, 2), pressures (k, n) : of every tool of the schedule. outer, held (3 n,),
    resultant (5,), ledger (8,) : see `accept`. pressure : on the sheet now. largest : greatest norm of inner forces
    so far.
    """

    sheet: Sheet
    metal: Vector
    law: Vector
    contours: list[Matrix]
    friction: Vector
    place: Matrix
    drag: Matrix
    load: Matrix
    push: Matrix
    pressures: Matrix
    outer: Vector
    held: Vector
    resultant: Vector
    ledger: Vector
    pressure: float = 0.0
    dead: Vector = field(default_factory=lambda: np.zeros(0))
    largest: float = 0.0
    stored_start: float = 0.0
    iterations: int = 0
    records: Records = field(default_factory=Records)

    def packed(self, active: Counts) -> tuple[Matrix, Counts]:
        """Rows and first rows of the active contours."""
        rows = [self.contours[k] for k in active]
        first = np.cumsum([0] + [r.shape[0] for r in rows]).astype(np.int64)
        return (np.concatenate(rows) if rows else np.zeros((1, 8))), first

    def floor(self) -> float:
        """Residual that counts as none: 1e-10 of E t times the mean fibre length. [N]"""
        fibre = float(np.mean(self.sheet.fibre_t))
        return 1e-10 * float(self.metal[0]) * float(np.mean(self.sheet.thick)) * fibre


def blank_sheet(sheet: Sheet) -> Sheet:
    """A copy whose changing arrays are its own."""
    return sheet._replace(
        thick=sheet.thick.copy(),
        layers=sheet.layers.copy(),
        fibre_s=sheet.fibre_s.copy(),
        fibre_t=sheet.fibre_t.copy(),
        q=sheet.q.copy(),
        g=sheet.g.copy(),
        area=sheet.area.copy(),
        half=sheet.half.copy(),
    )


class Stride:
    """The increments of one step."""

    def __init__(self, walk: Walk, ramp: Ramp, number: int) -> None:
        self.walk, self.ramp, self.number = walk, ramp, number
        self.rows, self.first = walk.packed(ramp.active)
        self.friction = walk.friction[ramp.active]
        self.drag = walk.drag[ramp.active].copy()
        self.load = walk.load[ramp.active].copy()
        self.push = walk.push[ramp.active].copy()
        self.system: System = new_system(walk.sheet.area.shape[0], ramp.active.shape[0])
        self.spare = blank_sheet(walk.sheet)
        self.last_q, self.last_g, self.last_ds = np.zeros(0), np.zeros(0), 0.0
        self.increments = self.iterations = 0

    def run(self) -> None:
        """Walk the step from 0 to 1.

        Raises
        ------
        Stuck
            When the shortest increment does not converge; the walk stands at the last accepted state.
        """
        longest = 1.0 / self.ramp.increments
        s, ds = 0.0, longest
        while s < 1.0 - 1e-12:
            ds = min(ds, 1.0 - s)
            if 1.0 - s - ds < 1e-9:
                ds = 1.0 - s
            cut = ds <= longest / 16.0
            state, iterations = self.attempt(s + ds, ds, cut)
            self.iterations += iterations
            if state != 0:
                ds *= 0.5
                if ds < longest * SMALLEST:
                    raise Stuck(self.number + s, state)
                continue
            s += ds
            self.increments += 1
            self.record(s, ds, iterations)
            if iterations <= 10:
                ds = min(1.5 * ds, longest)
            elif iterations > 18:
                ds *= 0.7
        self.finish()

    def attempt(self, s: float, ds: float, rescue: bool) -> tuple[int, int]:
        """Try one increment; on success the walk stands at it. Returns state and iterations spent."""
        walk, ramp = self.walk, self.ramp
        drive = ramp.drive(s, ds)
        tools = ramp.tooling(s, ds, self.rows, self.first, self.friction, self.drag, self.load)
        q, g = walk.sheet.q.copy(), walk.sheet.g.copy()
        spent, state = 0, 1
        guesses = ["line", "tangent"] if self.last_ds > 0.0 else ["tangent"]
        guesses += ["damped"] if rescue else []
        inner = 0.0
        for guess in guesses:
            damping = 0.0
            if guess == "line":
                q[:] = walk.sheet.q + self.last_q * (ds / self.last_ds)
                g[:] = walk.sheet.g + self.last_g * (ds / self.last_ds)
                q[ramp.fixed] = drive.goal[ramp.fixed]
                g[~ramp.free] = drive.target[~ramp.free]
            else:
                tangent_guess(walk.sheet, tools, drive, walk.metal, walk.law, q, g, self.system)
            if guess == "damped":
                damping = 0.01 * float(walk.metal[0] / walk.sheet.thick.mean())
            state, count, _norm, inner = newton(
                walk.sheet,
                tools,
                drive,
                walk.metal,
                walk.law,
                q,
                g,
                self.system,
                walk.largest,
                walk.floor(),
                damping,
                3 * LIMIT if damping else LIMIT,
            )
            spent += count
            if state == 0 and longest_stride(walk.sheet, q, g) > WIDEST:
                state = 4
            if state == 0:
                break
        if state == 0:
            walk.largest = max(walk.largest, inner)
            self.accept(tools, s, ds, q, g)
        return state, spent

    def accept(self, tools: Tooling, s: float, ds: float, q: Vector, g: Vector) -> None:
        """Bring the walk to the converged increment."""
        walk = self.walk
        self.last_q, self.last_g, self.last_ds = q - walk.sheet.q, g - walk.sheet.g, ds
        accept(
            walk.sheet,
            tools,
            self.ramp.drive(s, ds),
            walk.metal,
            walk.law,
            q,
            g,
            self.system,
            self.spare,
            self.push,
            walk.outer,
            walk.held,
            walk.resultant,
            walk.ledger,
        )
        walk.sheet, self.spare = self.spare, walk.sheet
        self.drag[:] = self.system.tangent[: self.drag.shape[0]]
        self.load[:] = self.system.normal[: self.load.shape[0]]

    def record(self, s: float, ds: float, iterations: int) -> None:
        """Note forces, travel and energies."""
        walk, active, records = self.walk, self.ramp.active, self.walk.records
        walk.push[:] = 0.0
        walk.push[active] = self.push
        travel = walk.place.copy()
        travel[active] = self.ramp.place + s * self.ramp.travel
        if self.ramp.driven >= 0:
            travel[active[self.ramp.driven]] += self.ramp.toward * walk.sheet.g[3]
        records.progress.append(self.number + s)
        records.push.append(walk.push.copy())
        records.travel.append(travel)
        records.resultant.append(walk.resultant[:3].copy())
        records.hoop.append(walk.sheet.g[:3].copy())
        pressure = self.ramp.drive(s, ds).pressure
        records.load.append(float(walk.sheet.g[4]) if self.ramp.free[4] else float(pressure))
        records.energy.append(walk.ledger.copy())
        records.iterations.append(iterations)

    def finish(self) -> None:
        """Leave tools, loads and drag as the next step finds them."""
        walk, ramp, active = self.walk, self.ramp, self.ramp.active
        walk.iterations += self.iterations
        walk.place[active] = ramp.place + ramp.travel
        if ramp.driven >= 0:
            walk.place[active[ramp.driven]] += ramp.toward * walk.sheet.g[3]
        factor = float(walk.sheet.g[4]) if ramp.free[4] else 0.0
        walk.pressure = ramp.pressure[1] + factor * ramp.live_pressure
        walk.dead = ramp.dead[1] + factor * ramp.live
        walk.sheet.g[3] = walk.sheet.g[4] = 0.0
        walk.drag[:] = 0.0
        walk.drag[active] = self.drag
        walk.load[:] = 0.0
        walk.load[active] = self.load
        walk.pressures[:] = 0.0
        area = np.maximum(walk.sheet.area, 1e-300)
        for place, k in enumerate(active):
            walk.pressures[k] = self.system.normal[place] / area
