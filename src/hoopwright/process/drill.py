"""Drill: holes after sizing; a hole cut before would stretch with the ring and start a crack."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.errors import InputError
from hoopwright.findings import Figure, Finding
from hoopwright.process.shop import ShopCard
from hoopwright.process.step import Step
from hoopwright.process.workpiece import Workpiece


@dataclass(frozen=True, slots=True)
class Drill:
    """Settings: how many holes, and the figures of the programme."""

    holes: int
    settings: tuple[Figure, ...] = ()

    def __post_init__(self) -> None:
        if self.holes < 1:
            raise InputError("holes", self.holes, "", "at least 1", "leave the step out")


def holes_before_sizing(workpiece: Workpiece) -> Finding | None:
    """What is to be said where holes are made in a ring that is still to be stretched."""
    if any(name.startswith("size") for name in workpiece.made_by):
        return None
    return Finding(
        "stop",
        f"The holes of {workpiece.part} come before sizing.",
        "move the holes after the last hit",
        workpiece.part,
        "holes-before-sizing",
        "the stretch makes them oval by the hoop strain, and their edges start to crack",
    )


def run(workpiece: Workpiece, operation: Drill, card: ShopCard) -> Step:
    """The metal beside the holes stays as it is."""
    finding = holes_before_sizing(workpiece)
    title = f"Make {operation.holes} holes"
    after = workpiece.after("drill")
    return Step(
        "drill",
        title,
        "rotary table, indexed to the seam",
        after,
        operation.settings,
        (),
        (finding,) if finding else (),
    )
