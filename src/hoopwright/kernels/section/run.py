"""Run a schedule on a section. Units mm, N, MPa, K, rad."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from hoopwright.errors import InputError, NotConverged
from hoopwright.kernels.section.accept import resultants, stored_energy
from hoopwright.kernels.section.assemble import inner_forces
from hoopwright.kernels.section.checks import check_paths, check_start
from hoopwright.kernels.section.contour import check_contour, packed
from hoopwright.kernels.section.cutting import kept
from hoopwright.kernels.section.metal import Metal
from hoopwright.kernels.section.plan import step_ramp, tool_numbers
from hoopwright.kernels.section.ramp import Ramp
from hoopwright.kernels.section.release import fading_ramp, moment_ramp, retracting_ramp
from hoopwright.kernels.section.result import Energies, History, Result, StepEnd
from hoopwright.kernels.section.schedule import Cut, Release, Schedule, Step, Support
from hoopwright.kernels.section.seating import seat
from hoopwright.kernels.section.section import Section
from hoopwright.kernels.section.stepping import Stride, Stuck, Walk
from hoopwright.kernels.section.tool import STIFF, Contact, Force, Tool

REASONS = {
    1: "the iteration stalled",
    2: "an element was distorted beyond use",
    3: "the system was singular",
    4: "the only solution found lies too far off to be the next one",
}

FLOWED = 0.05
"""Plastic strain in a release that cannot be springback: the section has jumped to another branch."""


def start_walk(section: Section, metal: Metal, tools: Sequence[Tool]) -> Walk:
    """A walk that stands at the section, tools where they were drawn."""
    sheet = section.sheet()
    k, n = len(tools), section.x_mm.shape[0]
    vector, law = metal.vector(), metal.curve.vector()
    return Walk(
        sheet,
        vector,
        law,
        [packed(tool.contour) for tool in tools],
        np.array([tool.friction for tool in tools], dtype=np.float64),
        np.zeros((k, 2)),
        np.zeros((k, n)),
        np.zeros((k, n)),
        np.zeros((k, 2)),
        np.zeros((k, n)),
        inner_forces(sheet, vector, law),
        np.zeros(3 * n),
        resultants(sheet),
        np.zeros(8),
        dead=np.zeros(3 * n),
        stored_start=float(stored_energy(sheet, vector)),
    )


@dataclass(slots=True)
class _Run:
    """A run in progress."""

    section: Section
    metal: Metal
    tools: tuple[Tool, ...]
    walk: Walk
    ends: list[StepEnd] = field(default_factory=list)
    supports: tuple[Support, ...] = ()
    shut: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    contact: Contact = STIFF
    number: int = 0

    def stride(self, ramp: Ramp) -> None:
        """Walk one ramp and note its end."""
        stride = Stride(self.walk, ramp, self.number)
        self.number += 1
        stride.run()
        walk, extent = self.walk, self.section.extent
        load = walk.records.load[-1]
        self.section = self.section.after(walk.sheet)
        self.ends.append(
            StepEnd(
                ramp.name,
                self.section,
                walk.push * extent,
                walk.place.copy(),
                walk.pressures.copy(),
                walk.outer * extent,
                walk.resultant[:3] * extent,
                float(walk.ledger[7]),
                load,
                stride.increments,
                stride.iterations,
            )
        )

    def step(self, step: Step) -> None:
        self.supports, self.shut, self.contact = step.supports, step.moves, step.contact_end or step.contact
        self.check(step)
        if step.force is not None:
            self.seat(step, step.force)
        self.stride(step_ramp(self.section, self.walk, self.tools, step))

    def check(self, step: Step) -> None:
        """Refuse tools in impossible places; a force-driven tool's travel is not known yet and is left out."""
        active, travel = tool_numbers(self.tools, step.moves)
        place = self.walk.place[active].reshape(-1, 2)
        fresh = [i for i, k in enumerate(active) if not np.any(self.walk.load[k])]
        check_start(step.name, self.section, self.tools, list(active[fresh]), place[fresh])
        led = [i for i, k in enumerate(active) if step.force is None or self.tools[k].name != step.force.tool]
        check_paths(step.name, self.tools, list(active[led]), place[led], (place + travel)[led])

    def seat(self, step: Step, force: Force) -> None:
        """Bring a force-driven tool to its starting force; the seating strides are not steps of the schedule."""
        number = [tool.name for tool in self.tools].index(force.tool)
        along = np.array([force.dx, force.dy]) / np.hypot(force.dx, force.dy)

        def advance(quiet: Step) -> tuple[float, Section, tuple[float, float]]:
            self.stride(step_ramp(self.section, self.walk, self.tools, quiet))
            self.ends.pop()
            x, y = self.walk.place[number]
            return float(self.walk.push[number] @ along) * self.section.extent, self.section, (float(x), float(y))

        pressing = float(self.walk.push[number] @ along) * self.section.extent
        place = (float(self.walk.place[number, 0]), float(self.walk.place[number, 1]))
        seat(step, self.section, self.tools[number], place, self.metal.young_MPa, advance, pressing)

    def release(self, release: Release) -> None:
        if release.retract is not None:
            self.stride(retracting_ramp(self.section, self.walk, self.tools, release, self.contact))
            self.shut = {}
            return
        first = moment_ramp(self.section, self.walk, self.tools, self.shut, release, self.supports, self.contact)
        if first is not None:
            self.stride(first)
        self.fade(release)
        self.shut, self.supports = {}, ()

    def fade(self, release: Release) -> None:
        """Fade what holds the section, and refuse an answer that flowed on the way."""
        before = self.section.plastic_strain
        self.stride(fading_ramp(self.section, self.walk, release))
        if float(np.max(self.section.plastic_strain - before)) > FLOWED:
            message = f"{release.name}: the section flowed by more than {FLOWED:g} while it was let go."
            raise NotConverged(
                message, self.result(False, message), "lead the tools away instead (retract), or use more increments"
            )

    def cut(self, cut: Cut) -> None:
        """Keep a part; energies of the removed metal leave the ledger with it, so the ledger starts anew."""
        part = kept(self.section, cut.first, cut.last)
        old = self.walk
        walk = start_walk(part, self.metal, self.tools)
        walk.place, walk.largest, walk.iterations, walk.records = old.place, old.largest, old.iterations, old.records
        self.section, self.walk, self.supports, self.shut = part, walk, (), {}
        self.fade(Release(cut.name, cut.supports, increments=cut.increments))

    def result(self, converged: bool, message: str) -> Result:
        """What stands now."""
        walk, extent, records = self.walk, self.section.extent, self.walk.records
        count, k = len(records.progress), len(self.tools)
        energy = np.array(records.energy).reshape(count, 8)
        energy *= extent
        energy[:, 7] /= extent
        history = History(
            np.array(records.progress),
            np.array(records.push).reshape(count, k, 2) * extent,
            np.array(records.travel).reshape(count, k, 2),
            np.array(records.resultant).reshape(count, 3) * extent,
            np.array(records.hoop).reshape(count, 3),
            np.array(records.load),
            energy,
            np.array(records.iterations),
            tuple(tool.name for tool in self.tools),
        )
        outer, plastic, friction, hold, thermal, elastic, touch, _deepest = (float(v) for v in walk.ledger * extent)
        energies = Energies(outer, elastic, walk.stored_start * extent, plastic, friction, touch, hold, thermal)
        section = self.section.after(walk.sheet)
        return Result(section, tuple(self.ends), history, energies, converged, walk.iterations, message)


def run(section: Section, schedule: Schedule, metal: Metal) -> Result:
    """Take a section through a schedule.

    Parameters
    ----------
    section : where it starts; what it remembers is carried on.
    schedule : tools and steps.
    metal : behaviour of the sheet.

    Returns
    -------
    Result : final section, state at the end of every step, forces and energies at every increment.

    Raises
    ------
    InputError
        When a tool contour crosses itself or has a radius below the thickness, a name is unknown, and the like.
    NotConverged
        When the shortest increment fails; `last_state` is a `Result` that stops there.
    """
    if not isinstance(schedule, Schedule):
        raise InputError("schedule", type(schedule).__name__, "", "a Schedule", "wrap the steps in Schedule")
    thick = float(section.thickness_mm.max())
    for tool in schedule.tools:
        check_contour(tool.name, tool.contour, thick)
    state = _Run(section, metal, schedule.tools, start_walk(section, metal, schedule.tools))
    for step in schedule.steps:
        try:
            if isinstance(step, Step):
                state.step(step)
            elif isinstance(step, Release):
                state.release(step)
            else:
                state.cut(step)
        except Stuck as stuck:
            part = 100.0 * (stuck.progress - int(stuck.progress))
            message = f"{step.name}: stopped after {part:.1f} % of the step, {REASONS[stuck.state]}."
            if isinstance(step, Step) and step.force is not None:
                message += f" The sheet may have left {step.force.tool}, which is driven by force."
            raise NotConverged(
                message,
                state.result(False, message),
                "use more increments or softer contact first, look for a limit load (lead a node instead of a load), "
                "or for tools that leave no room for the sheet",
            ) from None
    return state.result(True, f"converged in {state.walk.iterations} iterations")
