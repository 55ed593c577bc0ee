"""The operation as the walk takes it: workpiece in, step with figures and findings out."""

from __future__ import annotations

import math

from hoopwright.findings import Figure
from hoopwright.process.hooping import figures as told
from hoopwright.process.hooping.findings import Drawing, hit_findings
from hoopwright.process.hooping.measures import round_of
from hoopwright.process.hooping.operation import Hooped, HoopedHit, SizeOnSegments, hooped, turned_deg
from hoopwright.process.shop import ShopCard
from hoopwright.process.step import Step
from hoopwright.process.workpiece import Harmonic, Workpiece

HARMONICS_KEPT_MM = 1e-4


def run(workpiece: Workpiece, operation: SizeOnSegments, card: ShopCard, drawing: Drawing) -> Step:
    """All hits on the segments.

    Raises
    ------
    InputError, NotConverged
        As `hooped`.
    """
    return step_of(hooped(workpiece, operation, card.metal), operation, card, drawing)


def step_of(done: Hooped, operation: SizeOnSegments, card: ShopCard, drawing: Drawing) -> Step:
    """The step of a run that is at hand."""
    figures: list[Figure] = []
    for hit in done.hits:
        figures += hit_figures(done, hit, operation, card)
    known = {figure.identity: figure for figure in figures}
    findings = hit_findings(done, operation, known, drawing, card)
    return Step(
        "size",
        f"Stretch on {operation.count} segments, {len(done.hits)} hits",
        f"hoop run, {done.result.symmetry} of the ring, {done.result.nodes} nodes",
        sized(done, operation),
        operation.settings,
        tuple(figures),
        tuple(findings),
    )


def hit_figures(done: Hooped, hit: HoopedHit, operation: SizeOnSegments, card: ShopCard) -> list[Figure]:
    """Everything told about one hit."""
    place = f"{done.incoming.part}/segments-run/hit-{hit.number}"
    around = round_of(done, hit.number, operation.drawn_mm, card)
    return [
        *told.size_figures(place, hit, operation, card),
        *told.roundness_figures(place, hit, card),
        *told.strain_figures(place, hit, around, card),
        *told.contact_figures(place, done, hit, card),
        *told.drive_figures(place, done, hit, operation, card),
    ]


def sized(done: Hooped, operation: SizeOnSegments) -> Workpiece:
    """The ring as it comes off: the section, and its out-of-round as waves (above 0.1 um), places as on the drawing."""
    free, turn = done.last.hoop.free, turned_deg(done.incoming, operation)
    waves = tuple(
        Harmonic(int(order), float(size), math.degrees(float(phase)) - turn)
        for order, size, phase in zip(free.order, free.amplitude_mm, free.phase_rad, strict=True)
        if size > HARMONICS_KEPT_MM
    )
    return done.last.free.after("size on segments", annealed=False, harmonics=waves)
