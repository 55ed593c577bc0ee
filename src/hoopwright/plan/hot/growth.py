"""How far every station of the liner moves when hot, by the shell, with the chain of lengths as first look beside
it."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.design.shapes import PathPart
from hoopwright.findings import Band, Figure, Finding, Input, Source
from hoopwright.plan.hot.gaps import Neighbours
from hoopwright.plan.hot.job import DRAWING_DEGC, HotJob
from hoopwright.plan.hot.model import HotModel, held_twice, port_place
from hoopwright.plan.hot.warm_band import METAL_SD_K, NINE_IN_TEN, band_of, card_step, strain_step
from hoopwright.plan.hot.weld_width import width_error, width_finding, width_models
from hoopwright.process.working import reckoned

Vector = NDArray[np.float64]

MODEL_MM = 0.002
"""Shell with weld widths against a solid: bound of our own runs, which differ by 0.0003."""
DISH_MM = 0.05
"""Difference of shell and chain above which the sheet says so: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Movement:
    """One station: part, what it is, cold and hot place and movement from the datum. [mm, degC]"""

    part: str
    name: str
    metal_degC: float
    z_cold_mm: float
    r_cold_mm: float
    radial_mm: float
    axial_mm: float

    @property
    def z_hot_mm(self) -> float:
        """Axial place when hot."""
        return self.z_cold_mm + self.axial_mm

    @property
    def r_hot_mm(self) -> float:
        """Radius when hot."""
        return self.r_cold_mm + self.radial_mm


@dataclass(frozen=True, slots=True, eq=False)
class Growth:
    """The growth sheet: movements of all stations, figures and findings."""

    movements: tuple[Movement, ...]
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]


def plan_growth(model: HotModel, met: Neighbours) -> Growth:
    """Movements, figures and findings of the steady state."""
    job = model.job
    others = width_models(model)
    figures = [*_main_figures(model, others), *_chain_figures(job), *_neighbour_figures(job, met)]
    known = {f.identity: f for f in figures}
    findings = _findings(job, known)
    asked = None if job.aft_outer is None else width_finding(model, others, model.end(job.aft_outer))
    findings += [asked] if asked is not None else []
    return Growth(tuple(movements(model)), tuple(figures), tuple(findings))


def movements(model: HotModel) -> list[Movement]:
    """Ends, welds, control sizes and given places of every part."""
    job, moved = model.job, model.moved()
    found: list[Movement] = []
    for k, part in enumerate(job.parts):
        wanted = {
            0.0: "forward edge" if part.side != "plate" else "inner edge",
            part.section.length: "aft edge" if part.side != "plate" else "outer edge",
        }
        for tie in job.ties:
            if k in (tie.outer, tie.inner):
                wanted[tie.outer_s_mm if k == tie.outer else tie.inner_s_mm] = f"weld {tie.joint.id}"
        if k == job.plate and job.liner.port_pitch_radius_mm > 0.0:
            wanted[port_place(job)] = "port circle"
        if len(part.places) > 1:
            wanted |= {p.s_mm: "given temperature" for p in part.places}
        for s, name in sorted(wanted.items()):
            node = model.node(k, s)
            z, r = model.place_of(node)
            metal = float(np.interp(s, [p.s_mm for p in part.places], [p.metal_degC for p in part.places]))
            found.append(Movement(part.id, name, metal, z, r, float(moved[node, 0]), float(moved[node, 1])))
    return found


def shell_band(model: HotModel, row: Vector, weld: float = 0.0) -> Band:
    """Band of a movement that is row @ strain: metal temperatures, expansion between rows, the model, and how far
    unknown weld widths move it (`weld`)."""
    job = model.job
    places = [(part, place) for part in job.parts for place in part.places]
    steps = np.array([strain_step(part.strain, p.metal_degC) for part, p in places])
    read = np.array([interpolation_error(job, part.id, p.metal_degC) for part, p in places])
    warm = math.sqrt(float(np.sum((row * steps) ** 2)))
    wide = NINE_IN_TEN * math.sqrt(warm**2 + float(np.sum((row * read) ** 2)) + MODEL_MM**2 + weld**2)
    value = float(row @ model.strain)
    how = (
        f"linear: metal temperatures +/- {METAL_SD_K:g} K (one sd, assumed), expansion between rows, shell model"
        f"{', unknown width of the lap welds' if weld else ''}"
    )
    return Band(value - wide, value + wide, how)


def interpolation_error(job: HotJob, part: str, degC: float) -> float:
    """Difference of free strain when the mean coefficient is read straight or by a monotone cubic between rows."""
    from scipy.interpolate import PchipInterpolator

    card = job.parts[job.number(part)].alloy.card
    table = card.tables.get("mean_expansion")
    if table is None or table.reference_degC is None or len(table.rows) < 3 or degC < table.rows[0][0]:
        return 0.0
    at, values = np.array(table.rows)[:, 0], np.array(table.rows)[:, 1]
    straight = float(np.interp(degC, at, values))
    return abs(float(PchipInterpolator(at, values)(degC)) - straight) * 1e-6 * (degC - table.reference_degC)


def shell_figure(model: HotModel, name: str, said: str, row: Vector, note: str, weld: float = 0.0) -> Figure:
    """A movement by the shell as a figure: influence of each part times its free strain."""
    job = model.job
    inputs, terms = [], []
    for k, part in enumerate(job.parts):
        columns = slice(model.columns[k], model.columns[k] + len(part.places))
        share = float(np.sum(row[columns]))
        strain = float(row[columns] @ model.strain[columns] / share) if abs(share) > 1e-12 else 0.0
        growth = part.alloy.thermal_growth_eng(part.places[0].metal_degC)
        inputs += [
            Input(
                f"a{k}", f"influence of {part.id}", share, "mm", Source("derived", "linear shell of the whole liner")
            ),
            Input(f"e{k}", f"free strain of {part.id}", strain, "eng", growth.source),
        ]
        terms.append(f"a{k} e{k}")
    given = Input(
        "T",
        "metal temperatures",
        ", ".join(f"{p.id} {p.hottest_degC:g}" for p in job.parts),
        "degC",
        job.source("metal temperatures"),
    )
    value = float(row @ model.strain)
    return reckoned(
        job.identity(name),
        said,
        value,
        "mm",
        " + ".join(terms),
        *inputs,
        given,
        digits=3,
        band=shell_band(model, row, weld),
        note=note,
    )


def _main_figures(model: HotModel, others: tuple[HotModel, ...]) -> list[Figure]:
    job = model.job
    figures = []

    def moves(node: int, component: int, name: str, said: str) -> Figure:
        weld = width_error(model, others, node, component)
        return shell_figure(model, name, said, model.rows[node, component], "linear shell", weld)

    if job.plate is not None and job.liner.port_pitch_radius_mm > 0.0:
        node = model.node(job.plate, port_place(job))
        row = model.rows[node]
        figures.append(moves(node, 1, "growth/ports-axial", "ports along the axis, aft positive"))
        figures.append(moves(node, 0, "growth/ports-radial", "ports outward"))
        lean = float(row[2] @ model.strain)
        figures.append(
            reckoned(
                job.identity("growth/plate-lean"),
                "lean of the end plate at the ports",
                math.degrees(lean),
                "deg",
                "180 / pi theta",
                Input("theta", "rotation of the plate", lean, "rad", Source("derived", "linear shell")),
                digits=3,
                band=_turned(shell_band(model, row[2], width_error(model, others, node, 2))),
                note="rings hotter than the plate turn its flanges",
            )
        )
    if job.aft_outer is not None:
        end = model.end(job.aft_outer)
        figures.append(moves(end, 1, "growth/aft-lip-axial", "aft end of the outer shell along the axis"))
        figures.append(moves(end, 0, "growth/aft-lip-radial", "aft end of the outer shell outward"))
    return figures


def _turned(band: Band) -> Band:
    return Band(math.degrees(band.low), math.degrees(band.high), band.how)


def chain_length(job: HotJob, path: tuple[PathPart, ...]) -> float:
    """Sum of length times free strain along a path of the liner file. [mm]"""
    return math.fsum(q.length_mm * float(job.parts[job.number(q.part)].strain.at(q.metal_degC)) for q in path)


def _chain_figures(job: HotJob) -> list[Figure]:
    assert job.liner.thermal is not None
    figures: list[Figure] = []
    changes: list[list[float]] = []
    for side in ("inner", "outer"):
        path = job.liner.thermal.inner_path if side == "inner" else job.liner.thermal.outer_path
        if not path:
            continue
        inputs, terms, steps = [], [], []
        for k, link in enumerate(path):
            own = link.length_mm * strain_step(job.parts[job.number(link.part)].strain, link.metal_degC)
            steps.append(own)
            growth = job.parts[job.number(link.part)].alloy.thermal_growth_eng(link.metal_degC)
            inputs += [
                Input(f"L{k}", f"length in {link.part}", link.length_mm, "mm", job.source(f"{side}_path")),
                Input(
                    f"e{k}",
                    f"free strain of {link.part} at {link.metal_degC:g} degC",
                    growth.value,
                    "eng",
                    growth.source,
                ),
            ]
            terms.append(f"L{k} e{k}")
        figures.append(
            reckoned(
                job.identity(f"growth/chain-{side}"),
                f"growth of the {side} shell by the chain of lengths",
                chain_length(job, path),
                "mm",
                " + ".join(terms),
                *inputs,
                band=band_of(chain_length(job, path), steps),
                note="first look: a leaning end plate is not in it",
            )
        )
        changes.append(steps)
    if len(figures) == 2:
        slip = figures[1].value - figures[0].value
        figures.append(
            reckoned(
                job.identity("growth/chain-slip"),
                "aft end of the outer shell by the chain of lengths, aft positive",
                slip,
                "mm",
                "o - i",
                figures[1].as_input("o"),
                figures[0].as_input("i"),
                band=band_of(slip, [*changes[0], *changes[1]]),
                note="first look: a leaning end plate is not in it",
            )
        )
    return figures


def _neighbour_figures(job: HotJob, met: Neighbours) -> list[Figure]:
    nozzle, groove = job.liner.nozzle, job.liner.turbine_nozzle
    figures = []
    if nozzle is not None and met.casing is not None:
        card = job.metal(nozzle.casing_material)
        for word, said, length, degC in (
            (
                "casing-axial",
                "casing from the datum to the nozzle mount",
                nozzle.casing_length_datum_to_mount_mm,
                nozzle.casing_mean_degC,
            ),
            (
                "nozzle-radial",
                "nozzles outward",
                nozzle.pitch_radius_cold_mm + (nozzle.stem_length_mm or 0.0),
                nozzle.casing_degC,
            ),
        ):
            strain = card.thermal_growth_eng(degC)
            figures.append(
                reckoned(
                    job.identity(f"growth/{word}"),
                    said,
                    length * strain.value,
                    "mm",
                    "L e",
                    Input("L", "cold length", length, "mm", job.source("nozzle")),
                    strain.as_input("e"),
                    band=band_of(length * strain.value, [length * card_step(card, degC)]),
                    note=f"at {degC:g} degC from {DRAWING_DEGC:g} degC",
                )
            )
    if groove is not None and met.groove is not None:
        strain = job.metal(groove.material).thermal_growth_eng(groove.outer_groove_degC)
        reach = groove.outer_groove_radius_mm
        step = card_step(job.metal(groove.material), groove.outer_groove_degC)
        figures.append(
            reckoned(
                job.identity("growth/groove-radial"),
                "groove of the turbine nozzle outward",
                reach * strain.value,
                "mm",
                "R e",
                Input("R", "cold radius", reach, "mm", job.source("turbine_nozzle")),
                strain.as_input("e"),
                band=band_of(reach * strain.value, [reach * step]),
            )
        )
    return figures


def _findings(job: HotJob, known: dict[str, Figure]) -> list[Finding]:
    found = []
    shell, chain = known.get(job.identity("growth/aft-lip-axial")), known.get(job.identity("growth/chain-slip"))
    if shell is not None and chain is not None and abs(shell.value - chain.value) > DISH_MM:
        way = "forward" if shell.value < 0.0 else "aft"
        found.append(
            Finding(
                "note",
                f"The end plate leans: the aft end of the outer shell moves {abs(shell.value):.3f} mm {way}, the "
                "chain of lengths says "
                f"{chain.value:+.3f} mm.",
                "take growth from the shell, not from the chain",
                shell.identity,
                "plate-leans",
                "rings hotter than the plate turn both flanges",
                source=shell.source,
            )
        )
    for name, path, miss in held_twice(job):
        found.append(
            Finding(
                "caution",
                f"{job.liner.id}: joint {name} closes the loop {', '.join(path)}, which misses itself by "
                f"{miss:+.3f} mm when hot.",
                "let one joint of the loop slide along the axis",
                job.identity(f"joints/{name}"),
                "held-twice",
                "the metal must take the difference as stress",
            )
        )
    return found
