"""Trim, on the section kernel: the edge strips come off with their stress, and what is left springs."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hoopwright.errors import InputError
from hoopwright.findings import Figure, Input
from hoopwright.kernels.section import Cut, Schedule
from hoopwright.kernels.section import run as kernel_run
from hoopwright.process.proof_piece import carried, section_metal, section_of
from hoopwright.process.shop import ShopCard
from hoopwright.process.step import Step
from hoopwright.process.working import reckoned
from hoopwright.process.workpiece import Workpiece


@dataclass(frozen=True, slots=True)
class ProofTrim:
    """Settings: nodes of the section that become the forward and the aft edge."""

    first: int
    last: int
    settings: tuple[Figure, ...] = ()

    def __post_init__(self) -> None:
        if not 0 <= self.first < self.last:
            raise InputError("edges", (self.first, self.last), "", "two nodes in order", "swap the two")


def run(workpiece: Workpiece, operation: ProofTrim, card: ShopCard) -> Step:
    """Cut both edges; how far the ring springs on that."""
    section = section_of(workpiece)
    cut = Cut(operation.first, operation.last)
    result = kernel_run(section, Schedule((cut,)), section_metal(card.metal))
    kept = slice(operation.first, operation.last + 1)
    moved = float(np.max(np.abs(result.section.y_mm - section.y_mm[kept])))
    spring = reckoned(
        f"{workpiece.part}/proof/trim/spring", "greatest change of radius when the edges come off", moved, "mm", "u",
        Input("u", "node that moves most", moved, "mm", card.ground), digits=4,
    )  # fmt: skip
    after = carried(workpiece, result.section, "trim")
    return Step("trim", "Trim the edges", "cut with their stress", after, operation.settings, (spring,), ())
