"""Cut: a strip or an arc blank out of the sheet."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.errors import InputError, require_positive
from hoopwright.findings import Figure
from hoopwright.process.shop import ShopCard
from hoopwright.process.step import Step
from hoopwright.process.workpiece import Workpiece


@dataclass(frozen=True, slots=True)
class Cut:
    """Settings of the cut.

    shape : what is cut, in the shop's words ("strip", "arc blank"). length_mm : rough, along the rolling direction (of
    an arc, along its middle). width_mm : cut width. edge_trim_mm : what comes off each edge after sizing. settings :
    the figures the operator reads, in order of use.
    """

    shape: str
    length_mm: float
    width_mm: float
    edge_trim_mm: float
    settings: tuple[Figure, ...] = ()

    def __post_init__(self) -> None:
        require_positive("cut length", self.length_mm, "mm")
        require_positive("cut width", self.width_mm, "mm")
        if self.edge_trim_mm < 0.0 or 2.0 * self.edge_trim_mm >= self.width_mm:
            raise InputError("edge trim", self.edge_trim_mm, "mm", "0 or more and less than half the width", "mend it")


def run(workpiece: Workpiece, operation: Cut, card: ShopCard) -> Step:
    """Cut the blank; the metal stays as it is."""
    after = workpiece.after(
        "cut",
        length_mm=operation.length_mm,
        edge_trim_forward_mm=operation.edge_trim_mm,
        edge_trim_aft_mm=operation.edge_trim_mm,
    )
    title = f"Cut the {operation.shape}"
    return Step("cut", title, "burr side recorded, edges deburred", after, operation.settings, (), ())
