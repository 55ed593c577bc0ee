"""Anneal: solution anneal of a part, and the trap it holds for lightly strained sheet."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hoopwright.errors import require_finite
from hoopwright.findings import Check, Figure, Finding, Input, judged
from hoopwright.process.face_radius import face_strain
from hoopwright.process.shop import ShopCard
from hoopwright.process.step import Step
from hoopwright.process.working import reckoned
from hoopwright.process.workpiece import Workpiece


@dataclass(frozen=True, slots=True)
class Anneal:
    """Settings of the furnace."""

    temperature_degC: float
    settings: tuple[Figure, ...] = ()

    def __post_init__(self) -> None:
        require_finite("furnace temperature", self.temperature_degC, "degC")


def grain_trap(workpiece: Workpiece, card: ShopCard) -> tuple[Figure, Finding | None]:
    """Share of the width in which an anneal would grow coarse grain, and what is to be said about it."""
    limits, part = card.limits, workpiece.part
    inside, outside = face_strain(workpiece)
    outer = np.maximum(inside, outside)
    low, clear = limits.critical_strain_low_log, limits.critical_strain_clear_log
    trapped = (outer > low.value) & (outer < clear.value)
    share = 100.0 * float(workpiece.weight_mm[trapped].sum() / workpiece.weight_mm.sum())
    figure = reckoned(
        f"{part}/anneal/critical-width",
        "width strained into the range where an anneal grows coarse grain",
        share,
        "pct",
        "100 w / W",
        Input("w", "width between low and clear", float(workpiece.weight_mm[trapped].sum()), "mm", card.ground),
        Input("W", "whole width", workpiece.width_mm, "mm", card.ground),
        digits=0,
        note=f"outer-fibre strain from {low.value:g} to {clear.value:g}",
    )
    check = Check(
        "no part of the width lies in the critical strain range",
        share,
        0.0,
        "<=",
        "pct",
        limits.critical_strain_high_log.source,
        "stop",
        "leave the ring as it is; if room is needed, ask for wider corner radii or a proven lower stress relief",
        figure.identity,
    )
    sentence = (
        f"Annealing would spoil this ring: {share:.0f} % of its width has between {100 * low.value:.0f} and "
        f"{100 * clear.value:.0f} % outer-fibre strain and would grow coarse grain."
    )
    return figure, judged(check, sentence, "critical-strain", "coarse grain shows as orange peel and cannot be undone")


def annealed(workpiece: Workpiece) -> Workpiece:
    """Strain, back stress and residual stress gone; the size stays."""
    nothing = np.zeros_like(workpiece.plastic_strain)
    return workpiece.after(
        "anneal",
        plastic_strain=nothing,
        back_stress_MPa=nothing,
        stress_hoop_MPa=nothing,
        stress_section_MPa=nothing,
        annealed=True,
    )


def run(workpiece: Workpiece, operation: Anneal, card: ShopCard) -> Step:
    """Anneal, and say where coarse grain would grow; the seam is as the rest afterwards."""
    figure, finding = grain_trap(workpiece, card)
    title = f"Anneal at {operation.temperature_degC:.0f} degC"
    findings = (finding,) if finding else ()
    after = annealed(workpiece)
    return Step("anneal", title, "cleaned first, rapid cool", after, operation.settings, (figure,), findings)
