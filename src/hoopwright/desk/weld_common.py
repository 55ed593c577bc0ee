"""What the weld commands share: the sheet that is welded, the report that is shown, the papers' heads."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from hoopwright.cards.alloy import alloy
from hoopwright.cards.machines import Laser
from hoopwright.cards.shop import machines
from hoopwright.design.mark import input_mark
from hoopwright.design.readings import Readings
from hoopwright.desk.folders import checked_target, write_whole
from hoopwright.findings import Figure, Finding
from hoopwright.plan.seam.heat_card import HeatCard, heat_card

if TYPE_CHECKING:
    from hoopwright.papers.weld.common import WeldTitle


@dataclass(frozen=True, slots=True)
class WeldReport:
    """What a command shows. sentence : the answer; files : written, empty where no folder was named."""

    sentence: str
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]
    files: tuple[Path, ...]

    @property
    def stops(self) -> int:
        """How many findings say stop."""
        return sum(finding.level == "stop" for finding in self.findings)


@dataclass(frozen=True, slots=True)
class Sheet:
    """What a weld is made in, and with which cards."""

    material: str
    thickness_mm: float
    part: str = "seam"
    machine: str = "demo"
    limits: str = "house"
    cards: Path | None = None

    @property
    def heat(self) -> HeatCard:
        """The alloy as heat sees it."""
        return heat_card(alloy(self.material, self.cards))

    @property
    def laser(self) -> Laser:
        """The welding laser."""
        return machines(self.machine, self.cards).laser


def sheet_title(sheet: Sheet, date: dt.date, inputs: str, machine: bool = True) -> WeldTitle:
    """Head of a paper about a sheet; inputs : what else the figures come from; machine : whether its card is one."""
    from hoopwright.papers.weld.common import WeldTitle

    mark = input_mark(alloy(sheet.material, sheet.cards).digest, repr(sheet.laser), inputs)
    said = f"{sheet.material}, {sheet.thickness_mm:g} mm"
    invented = machine and sheet.laser.power_max_W.source.invented
    return WeldTitle(sheet.part, said, "-", mark, date, invented)


def lot_title(readings: Readings, lot: str, date: dt.date, inputs: str) -> WeldTitle:
    """Head of a paper about a weld lot."""
    from hoopwright.papers.weld.common import WeldTitle

    return WeldTitle(f"Lot {lot}", f"readings of {readings.liner}", "-", input_mark(inputs), date, readings.invented)


def papers_in(folder: Path | None, files: Callable[[], dict[str, bytes]]) -> tuple[Path, ...]:
    """Files in a folder, whole or not at all; none where no folder is named."""
    if folder is None:
        return ()
    checked_target(folder)
    return write_whole(folder, files())
