"""Everything geometry and the cards alone can say about a liner, as findings, gravest first."""

from __future__ import annotations

import math
from collections.abc import Iterator
from pathlib import Path

from hoopwright.cards.limits import HouseLimits
from hoopwright.design.checks.holes import hole_findings, seam_findings
from hoopwright.design.checks.laps import lap_findings
from hoopwright.design.checks.lines import line_findings
from hoopwright.design.checks.magnitude import magnitude_findings
from hoopwright.design.checks.metals import metal_findings
from hoopwright.design.checks.neighbours import neighbour_findings
from hoopwright.design.checks.seals import seal_findings
from hoopwright.design.checks.sheets import Sheet, sheet_of, sheets_of
from hoopwright.design.checks.sizes import control_findings, size_findings
from hoopwright.design.shapes import Liner, Ring
from hoopwright.design.wishes import limits_for
from hoopwright.findings import Finding, gravest_first


def geometry_findings(
    liner: Liner, limits: HouseLimits | None = None, shop_folder: Path | None = None
) -> tuple[Finding, ...]:
    """All geometric findings of a liner.

    Parameters
    ----------
    limits : HouseLimits, optional
        Left out, those of the liner's card with its own wishes.
    shop_folder : Path, optional
        The shop's own cards.

    Raises
    ------
    CardError
        A card is not there, or lacks a figure.
    """
    rules = limits if limits is not None else limits_for(liner, shop_folder)
    return gravest_first(_all(liner, rules, shop_folder))


def _all(liner: Liner, limits: HouseLimits, shop_folder: Path | None) -> Iterator[Finding]:
    yield from magnitude_findings(liner)
    yield from metal_findings(liner, shop_folder)
    for sheet in sheets_of(liner):
        yield from line_findings(liner, sheet, limits)
    if liner.end_plate is not None and liner.end_plate.port is not None:
        plate = liner.end_plate
        port = Sheet(f"{plate.id} port", f"{plate.id}/port", liner.end_plate.port.section, plate.thickness_mm)
        yield from line_findings(liner, port, limits)
    yield from size_findings(liner)
    for ring in liner.rings:
        yield from _route(liner, ring, limits)
    yield from neighbour_findings(liner, limits)
    yield from lap_findings(liner, limits)
    yield from hole_findings(liner, limits)
    yield from seam_findings(liner, limits)
    yield from seal_findings(liner, limits, shop_folder)


def ring_findings(liner: Liner, ring: Ring, limits: HouseLimits) -> tuple[Finding, ...]:
    """What geometry says of one ring alone: its line, bends, sizes and route."""
    found = [*line_findings(liner, sheet_of(ring), limits), *_route(liner, ring, limits)]
    for control in ring.controls:
        found += control_findings(liner, ring, control)
    return gravest_first(found)


def radius_range_log(ring: Ring) -> float:
    """ln of the largest over the smallest mid-surface radius: what a straight strip has to make up. [log]"""
    _, low, _, high = ring.section.bounds
    return math.log(high / low)


def _route(liner: Liner, ring: Ring, limits: HouseLimits) -> Iterator[Finding]:
    """The designer's route against the house rule for straight strips; what to take instead is the plan's to weigh."""
    span = radius_range_log(ring)
    comfort, caution = limits.straight_strip_comfort_log, limits.straight_strip_caution_log
    about = f"{ring.id}/route"
    source = liner.source(f"{ring.id}, route")
    if ring.route == "straight" and span > caution.value:
        sentence = (
            f"{ring.id}: a straight strip is asked for, but the radii range over {100 * span:.2f} %; "
            f"the house limit is {100 * caution.value:g} %."
        )
        yield Finding("stop", sentence, 'write route = "arc"', about, "route-wish", source=source)
    elif ring.route == "arc" and span <= comfort.value:
        sentence = (
            f"{ring.id}: an arc blank is asked for, but the radii range over {100 * span:.2f} % only; "
            f"a straight strip does up to {100 * comfort.value:g} %."
        )
        yield Finding("caution", sentence, 'write route = "straight", or leave it to the plan', about, "route-wish",
                      source=source)  # fmt: skip
