"""Reading the port lips of a pressed plate: how thin the edges came out, and what the split ones have in common. mm.

Thickness of the lips' edges round the plate is taken apart into orders: one is a blank off centre, two the rolling
direction of the sheet, three a holder on three supports of which none carries its share.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hoopwright.design.readings import PortLips
from hoopwright.errors import InputError
from hoopwright.findings import Figure, Finding, Source

CAUSES = {
    1: ("the blank lay off centre", "look at the locators of the blank"),
    2: ("the rolling direction of the sheet shows", "turn the blank by 90 degrees and press one more to be sure"),
    3: ("something under the holder has three-fold order", "check the three supports of the holder"),
    4: ("the sheet is weaker along and across the rolling direction alike", "ask for the r-values of the sheet"),
}
LEAD = 1.5
"""How much larger the leading order must be than the next one (common practice, no source)."""
MOST_ORDER = 4


@dataclass(frozen=True, slots=True)
class LipStatement:
    """What the readings say. orders_mm : amplitude of orders 1 to 4 round the plate. split_thinner_mm : mean of the
    others less mean of the split ones; 0 without splits. leading : the order that leads, 0 where none does.
    """

    mean_mm: float
    split_mean_mm: float
    split_thinner_mm: float
    orders_mm: tuple[float, ...]
    leading: int
    findings: tuple[Finding, ...]


def lip_statement(reading: PortLips, edge_limit: Figure, strain_log: float, better: Figure) -> LipStatement:
    """What the lips of one plate say.

    Parameters
    ----------
    edge_limit : edge strain the house allows for the edge the holes had. strain_log : of the lips. better : what it
    allows for a reamed edge.

    Raises
    ------
    InputError
        Split ports that the plate does not have.
    """
    thick = np.array(reading.lip_edge_thickness_mm, dtype=np.float64)
    count = thick.size
    wrong = [p for p in reading.split_ports if not 1 <= p <= count]
    if wrong:
        raise InputError("split_ports", wrong, "", f"from 1 to {count}", "count the ports from 1")
    split = np.zeros(count, dtype=bool)
    split[[p - 1 for p in reading.split_ports]] = True
    most = min(MOST_ORDER, (count - 1) // 2)
    theta = 2.0 * math.pi * np.arange(count) / count
    orders = tuple(float(2.0 / count * abs(np.sum(thick * np.exp(-1j * k * theta)))) for k in range(1, most + 1))
    leading = _leading(orders)
    with_split, without = bool(split.any()), bool((~split).any())
    low = float(thick[split].mean()) if with_split else float(thick.mean())
    thinner = float(thick[~split].mean()) - low if with_split and without else 0.0
    findings = _findings(reading, leading, thinner, edge_limit, strain_log, better)
    return LipStatement(float(thick.mean()), low, thinner, orders, leading, findings)


def _leading(orders: tuple[float, ...]) -> int:
    ranked = sorted(range(len(orders)), key=lambda k: -orders[k])
    if not ranked or orders[ranked[0]] <= 0.0:
        return 0
    if len(ranked) > 1 and orders[ranked[0]] < LEAD * orders[ranked[1]]:
        return 0
    return ranked[0] + 1


def _findings(
    reading: PortLips, leading: int, thinner: float, limit: Figure, strain: float, better: Figure
) -> tuple[Finding, ...]:
    found: list[Finding] = []
    split = ", ".join(str(p) for p in reading.split_ports)
    read = Source("read", f"reading {reading.name}")
    if reading.split_ports and strain > limit.value:
        helps = strain <= better.value
        found.append(
            Finding(
                "stop",
                f"Lips of ports {split} of {reading.serial} are split; their edges take {strain:.3f} (log) and "
                f"{limit.value:g} is allowed as they were cut.",
                f"ream and deburr the pre-holes, no change of the press tool: {better.value:g} is allowed then, "
                f"{100.0 * strain / better.value:.0f} % used"
                if helps
                else "cut the pre-holes larger and let the lips be shorter",
                reading.serial,
                "lips-split",
                source=limit.source,
            )
        )
    if leading and reading.split_ports:
        cause, remedy = CAUSES[leading]
        found.append(
            Finding(
                "caution",
                f"Split lips are {thinner:.3f} thinner than the rest, with order {leading} round the plate: {cause}.",
                remedy,
                reading.serial,
                "lips-order",
                source=read,
            )
        )
    return tuple(found)
