"""The plan of a pressed end plate: blank, holes, order of work, tool faces, sizes let go, findings. mm, N, MPa.

Order: cut blank and pre-holes; ream the edges that are stretched; pads and lips in the flat sheet, flattened at the end
of the stroke; then both flanges; then the trim. Pads go first because a flat blank draws in evenly and lies level under
one holder; flanges go last because they close the plate's edges.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np

from hoopwright.design.shapes import Liner
from hoopwright.findings import Check, Figure, Finding, Input, gravest_first, judged
from hoopwright.kernels.section import mesh_line
from hoopwright.plan.plate.flange_figures import flange_figures, flange_findings
from hoopwright.plan.plate.flange_press import FlangeFaces, flange_faces, flange_press
from hoopwright.plan.plate.flange_solve import FlangesSolved, solve_flanges
from hoopwright.plan.plate.job import PlateJob, plate_job
from hoopwright.plan.plate.neighbours import Neighbours, neighbours
from hoopwright.plan.plate.port_figures import port_figures
from hoopwright.plan.plate.port_findings import port_findings
from hoopwright.plan.plate.port_press import PortFaces, port_faces, port_press
from hoopwright.plan.plate.port_solve import PortSolved, solve_port
from hoopwright.plan.shelf import Shelf
from hoopwright.process.press import Press, PressStep
from hoopwright.process.press_window import HolderWindow, holder_window
from hoopwright.process.proof_piece import piece_of
from hoopwright.process.step import Step
from hoopwright.process.working import reckoned

WINDOW_ELEMENTS = 120
"""Elements of the runs that look for the holder window."""
HOLDER_STEP_PCT = 20
"""Step by which a holder force is raised at a try-out (common practice, no source). [pct]"""


@dataclass(frozen=True, slots=True, eq=False)
class PortPlan:
    """Ports of a plate."""

    solved: PortSolved
    near: Neighbours
    faces: PortFaces
    window: HolderWindow


@dataclass(frozen=True, slots=True, eq=False)
class PlatePlan:
    """The whole plan. port : None where the plate has no ports. walk : steps in order."""

    job: PlateJob
    port: PortPlan | None
    flanges: FlangesSolved
    faces: FlangeFaces
    window: HolderWindow
    walk: tuple[Step, ...]
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]

    @property
    def mark(self) -> str:
        """Digest of drawing and cards."""
        return self.job.mark

    def figure(self, rest: str) -> Figure:
        """A figure by the end of its identity. Raises KeyError where there is none."""
        for figure in self.figures:
            if figure.identity == self.job.identity(rest):
                return figure
        raise KeyError(rest)

    def steps(self, kind: str) -> tuple[PressStep, ...]:
        """Press steps of the walk."""
        return tuple(step for step in self.walk if step.kind == kind and isinstance(step, PressStep))


def plan_plate(liner: Liner, shelf: Shelf | None = None, tell: Callable[[str], None] | None = None) -> PlatePlan:
    """Plan the end plate of a liner.

    Raises
    ------
    InputError, GeometryError
        No end plate; a section that cannot be pressed; faces that cannot be.
    NotConverged
        A press run or the closing of the faces stopped short.
    """
    job = plate_job(liner, shelf or Shelf())
    if tell is not None:
        tell(f"{job.plate.id}: pressing")
    return _planned(_ByMark(job.mark, job))


@dataclass(frozen=True, slots=True)
class _ByMark:
    """A job by the mark of all that it is made from: the same plate is not pressed twice in one process."""

    mark: str
    job: PlateJob = field(compare=False)


@lru_cache(maxsize=4)
def _planned(asked: _ByMark) -> PlatePlan:
    job = asked.job
    solved = solve_flanges(job)
    last = solved.closed.last
    press = flange_press(job.shape, solved.setting)
    window = _window(job, press, last.step, solved.setting.blank_inner, solved.setting.blank_outer)
    port: PortPlan | None = None
    if job.port is not None:
        port = _port(job, solved)
    figures = list(flange_figures(job, solved))
    findings = [*flange_findings(job, solved), *_holder(job, "flanges", window)]
    figures += _window_figures(job, "flanges", window, 1)
    if port is not None and job.port is not None:
        figures += [
            *port_figures(job, job.port, port.solved, port.near),
            *_window_figures(job, "pads", port.window, job.liner.ports),
        ]
        findings += port_findings(job, job.port, port.solved, port.near)
        findings += _holder(job, "pads", port.window)
    walk = _walk(job, solved, port)
    strain, strained = _strain(job, walk)
    figures += [f for step in walk for f in step.figures] + [strain]
    findings += [f for step in walk for f in step.findings] + [strained]
    kept = gravest_first(f for f in findings if f is not None)
    return PlatePlan(job, port, solved, flange_faces(job.shape, solved.setting), window, walk, tuple(figures), kept)


def _port(job: PlateJob, flanges: FlangesSolved) -> PortPlan:
    assert job.port is not None
    solved = solve_port(job, job.port)
    setting, shape = solved.setting, job.shape
    near = neighbours(
        job.port,
        solved.closed.last,
        solved.drawn_in,
        job.liner.port_pitch_radius_mm,
        job.liner.ports,
        (flanges.setting.blank_inner, flanges.setting.blank_outer),
        (shape.flat_from, shape.flat_to),
        job.card.metal,
    )
    press = port_press(job.port, setting, job.liner.ports)
    window = _window(job, press, solved.closed.last.step, setting.hole_radius, setting.field)
    return PortPlan(solved, near, port_faces(job.port, setting), window)


def _window(job: PlateJob, press: Press, step: PressStep, inner: float, outer: float) -> HolderWindow:
    blank = mesh_line((0.0, inner), (0.0, outer), job.plate.thickness_mm, WINDOW_ELEMENTS)
    return holder_window(piece_of(job.plate.id, blank, 0.0), press, job.card, step)


def _window_figures(job: PlateJob, word: str, window: HolderWindow, count: int) -> list[Figure]:
    place = job.identity(f"press-{word}")
    n = Input("n", "held at once", float(count), "", job.card.ground)
    rows = (
        (
            "holder-low",
            "push of the sheet on a holder that stands still",
            window.low_N,
            "a lower force lets the holder lift",
        ),
        ("holder-high", "highest holder force", window.high_N, window.high_by),
    )
    return [
        reckoned(
            f"{place}/{key}",
            name,
            1e-3 * count * value,
            "kN",
            "n H / 1000",
            n,
            Input("H", "on one", value, "N", job.card.ground),
            digits=1,
            note=note,
        )
        for key, name, value, note in rows
    ]


def _holder(job: PlateJob, word: str, window: HolderWindow) -> list[Finding | None]:
    """Whether the first setting lies in the window."""
    count = job.liner.ports if word == "pads" else 1
    low, high, now = (1e-3 * count * v for v in (window.low_N, window.high_N, window.set_N))
    check = Check(
        f"the holder of the {word} stays down",
        now,
        low,
        ">=",
        "kN",
        job.card.limits.holder_pressure_MPa.source,
        "caution",
        f"start there and raise it by {HOLDER_STEP_PCT} % a plate at the try-out, up to {high:.0f} kN",
        job.identity(f"press-{word}/holder-force"),
    )
    said = f"The first holder setting, {now:.0f} kN, is less than the {low:.0f} with which the sheet lifts a holder."
    return [judged(check, said, "holder-lifts", "first setting by the house's pressure on what is held")]


def _walk(job: PlateJob, solved: FlangesSolved, port: PortPlan | None) -> tuple[Step, ...]:
    """Steps in the order of work."""
    setting = solved.setting
    blank = piece_of(
        job.plate.id, mesh_line((0.0, setting.blank_inner), (0.0, setting.blank_outer), job.plate.thickness_mm, 60), 0.0
    )
    holes = f", {job.liner.ports} pre-holes" if port is not None else ""
    steps: list[Step] = [Step("cut", f"Cut the blank{holes}", "burr side recorded", blank, (), (), ())]
    edges = [setting.cut_edge] + ([port.solved.setting.cut_edge] if port is not None else [])
    if any(edge != "laser_as_cut" for edge in edges):
        words = " and ".join(
            w
            for w, edge in zip(("inner edge of the blank", "pre-holes"), edges, strict=False)
            if edge != "laser_as_cut"
        )
        verb = "Machine" if "machined" in edges else "Ream and deburr"
        steps.append(Step("ream", f"{verb} {words}", "edge looked at under a glass", blank, (), (), ()))
    if port is not None:
        steps.append(port.solved.closed.last.step)
    return (*steps, solved.closed.last.step, solved.closed.last.trim)


def _strain(job: PlateJob, walk: tuple[Step, ...]) -> tuple[Figure, Finding | None]:
    """Largest plastic strain that stays, against what may go into service without another heat treatment."""
    worst, where = 0.0, ""
    for step in walk:
        if isinstance(step, PressStep):
            p = step.record.free.plastic_strain
            if p.max() > worst:
                element = int(np.argmax(p.max(axis=1)))
                worst, where = float(p.max()), f"{step.title.lower()}, radius {step.record.free.y_mm[element]:.1f}"
    limit = job.card.limits.service_cold_strain_max_log
    figure = reckoned(
        job.identity("plate/strain-left"),
        "largest plastic strain left in the plate",
        worst,
        "log",
        "p",
        Input("p", where, worst, "log", job.card.ground),
        digits=3,
        note="at a face",
    )
    check = Check(
        "cold work may stay in service",
        worst,
        limit.value,
        "<=",
        "log",
        limit.source,
        "caution",
        "solution anneal after the flanges, on a support that keeps the flat; then flatten",
        figure.identity,
    )
    said = f"The plate keeps {worst:.2f} (log) of cold work at a face; {limit.value:g} may go into service untreated."
    return figure, judged(check, said, "plate-cold-work", limit.note)
