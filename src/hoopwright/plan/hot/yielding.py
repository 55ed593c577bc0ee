"""Parts whose elastic constraint stress passes yield: the part alone on the section kernel, led as the shell moves it.

The part keeps its own free strain; its welds and its datum are led along the path that the elastic shell of the whole
liner gives them. The rest of the liner therefore stays elastic and as stiff as it was: strain is rather too large than
too small. Metal as at the hottest place of the part. Start, stop, start, stop, start; a path, no life.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.cards.alloy import Alloy
from hoopwright.findings import Band, Figure, Input, Source
from hoopwright.kernels.flow import FlowCurve, voce
from hoopwright.kernels.section import Metal, Schedule, Section, Step, Support, mesh_points, run
from hoopwright.kernels.section.schedule import Unknown
from hoopwright.kernels.shell_stack_mesh import Strand, strand
from hoopwright.plan.hot.job import HotPart
from hoopwright.process.working import reckoned

Vector = NDArray[np.float64]

RATE = 20.0
"""Rate at which the flow stress rises from yield to tensile strength, per unit of plastic strain: assumed, common
practice, no source."""
FINE_MM, REACH_MM = 0.125, 12.0
INCREMENTS, CYCLES = 20, 2
MESH_SHARE = 0.10
"""Plastic strain at a held edge converges slowly with the mesh: our own runs, 0.0130 to 0.0150 for elements of 0.25
to 0.06 mm."""


@dataclass(frozen=True, slots=True)
class Led:
    """A place of a part and what moves it: radial and axial movement, turn; None is free. [mm, rad]"""

    s_mm: float
    radial_mm: float | None
    axial_mm: float | None
    turn_rad: float | None


@dataclass(frozen=True, slots=True, eq=False)
class Yielded:
    """Greatest plastic strain of a part after the first start, the stop after it, and so on; where; elements used."""

    part: HotPart
    path: tuple[float, ...]
    at_mm: float
    elements: int
    metal_degC: float


def yielded(part: HotPart, free: tuple[Vector, Vector], led: Sequence[Led]) -> Yielded:
    """Run a part through starts and stops.

    Parameters
    ----------
    free : distances along the part's section [mm], and its free strain there when hot (engineering), shapes (n,).
    led : what moves the part; at least one place holds it along the axis.

    Raises
    ------
    NotConverged
        The section kernel stops short.
    CardError, RangeError
        The card lacks yield, strength or modulus at this temperature.
    """
    hot = part.hottest_degC
    metal = Metal(hot_curve(part.alloy, hot), part.alloy.young_modulus_MPa(hot).value, part.alloy.poisson().value)
    meridian = strand(
        part.section, part.thickness_mm, tuple(one.s_mm for one in led), 1.0, min(FINE_MM, 0.25 * part.thickness_mm),
        REACH_MM,
    )  # fmt: skip
    section = _section(part, meridian)
    middle = 0.5 * (meridian.s[1:] + meridian.s[:-1])
    grown = np.log1p(np.interp(middle, *free))
    steps = [_step("start 1", meridian, led, grown, 1.0)]
    for k in range(1, CYCLES + 1):
        steps.append(_step(f"stop {k}", meridian, led, grown, -1.0))
        steps.append(_step(f"start {k + 1}", meridian, led, grown, 1.0))
    result = run(section, Schedule(tuple(steps)), metal)
    path = tuple(float(end.section.plastic_strain.max()) for end in result.steps)
    worst = int(np.argmax(result.section.plastic_strain.max(axis=1)))
    return Yielded(part, path, float(middle[worst]), section.elements, hot)


def hot_curve(card: Alloy, degC: float) -> FlowCurve:
    """Flow curve of sheet at a temperature: from yield towards the tensile strength."""
    first, last = card.yield_MPa(degC).value, card.tensile_MPa(degC).value
    return voce(first, max(last - first, 1e-3 * first), RATE)


def _section(part: HotPart, meridian: Strand) -> Section:
    angles = np.array([part.section.angle_at(float(s)) for s in meridian.s])
    return mesh_points(meridian.z, meridian.r, angles, part.thickness_mm)


def _step(name: str, meridian: Strand, led: Sequence[Led], grown: Vector, sense: float) -> Step:
    supports: list[Support] = []
    for one in led:
        node = meridian.node_at(one.s_mm)
        # the shell counts turns from z to r the other way round
        turn = None if one.turn_rad is None else -one.turn_rad
        moves: tuple[tuple[Unknown, float | None], ...] = (
            ("x", one.axial_mm),
            ("y", one.radial_mm),
            ("angle", turn),
        )
        supports += [Support(node, unknown, sense * value) for unknown, value in moves if value is not None]
    return Step(name, supports=tuple(supports), free_log=tuple((sense * grown).tolist()), increments=INCREMENTS)


def plastic_figure(identity: str, told: Yielded, elastic: Figure) -> Figure:
    """Greatest plastic strain after the first start as a figure; the path stands in its note."""
    part = told.part
    yields, strength = part.alloy.yield_MPa(told.metal_degC), part.alloy.tensile_MPa(told.metal_degC)
    first = told.path[0]
    walk = ", ".join(f"{100.0 * p:.2f}" for p in told.path)
    return reckoned(
        identity,
        f"{part.id}: greatest plastic strain after the first start",
        100.0 * first,
        "pct",
        "100 p ( s , Y , R , b )",
        elastic.as_input("s"),
        yields.as_input("Y"),
        strength.as_input("R"),
        Input("b", "rate of hardening", RATE, "", Source("practice", "assumed, common practice, no source")),
        Input("p", "section kernel", first, "log", Source("derived", "section kernel, led as the elastic shell moves")),
        digits=2,
        band=Band(
            100.0 * first * (1.0 - MESH_SHARE), 100.0 * first * (1.0 + MESH_SHARE), f"mesh of {told.elements} elements"
        ),
        note=f"at {told.at_mm:.1f} mm along the section; after start, stop, start, stop, start: {walk} %; a path, not "
        "a life",
    )
