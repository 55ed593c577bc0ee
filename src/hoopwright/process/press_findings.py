"""What the figures of a press operation mean: splits, wrinkles, the press, ironing. Limits are the house's. mm, kN."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hoopwright.findings import Check, Figure, Finding, Level, Source, judged
from hoopwright.process.press_record import PressRecord
from hoopwright.process.press_tools import OVER_SHEET_MM, room_over_sheet
from hoopwright.process.press_wrinkle import worst_wrinkle
from hoopwright.process.shop import ShopCard

if TYPE_CHECKING:
    from hoopwright.process.press import Press

HILL = Source(
    "derived", "Hill 1952 and Swift 1952 with the card's uniform strain as exponent; not tested on this alloy"
)
BIFURCATION = Source("derived", "long strip with one free edge, reduced modulus; safe side")
EDGE_WORDS = {"laser_as_cut": "laser as cut", "deburred_reamed": "deburred or reamed", "machined": "machined"}


def press_findings(
    part: str,
    operation: Press,
    record: PressRecord,
    figures: tuple[Figure, ...],
    card: ShopCard,
) -> tuple[Finding, ...]:
    """All findings of the step."""
    by_end = {figure.identity.rpartition("/")[2]: figure for figure in figures}
    found = [
        *_thinning(by_end["thinning"], card),
        _forming_limit(by_end["forming-limit-used"]),
        _edge(operation, by_end, card),
        _wrinkle(part, operation, record, card),
        *_press(operation, by_end, card),
        _ironing(part, operation, record),
    ]
    return tuple(f for f in found if f is not None)


def _thinning(figure: Figure, card: ShopCard) -> list[Finding | None]:
    limits = card.limits
    stop = figure.value > 100.0 * limits.press_thinning_stop.value
    limit = limits.press_thinning_stop if stop else limits.press_thinning_plan
    level: Level = "stop" if stop else "caution"
    check = Check(
        "the pressing thins less than the house plans for",
        figure.value,
        100.0 * limit.value,
        "<=",
        "pct",
        limit.source,
        level,
        "more grease and a lower holder force first, then a larger radius or a pre-form",
        figure.identity,
    )
    said = f"The sheet thins by {figure.value:.1f} %; the house limit is {100.0 * limit.value:g} %."
    return [judged(check, said, "press-thinning")]


def _forming_limit(figure: Figure) -> Finding | None:
    check = Check(
        "strains stay below the forming limit",
        figure.value,
        100.0,
        "<=",
        "pct",
        HILL,
        "stop",
        "lower the holder force first, then widen the radius or anneal between two hits",
        figure.identity,
    )
    said = f"{figure.value:.0f} % of the forming limit is used."
    return judged(check, said, "press-split", "the limit is worked out from the uniform strain: confirm it on a grid")


def _edge(operation: Press, by_end: dict[str, Figure], card: ShopCard) -> Finding | None:
    """The more stretched edge against the edge card."""
    edge = max((by_end["inner-edge-strain"], by_end["outer-edge-strain"]), key=lambda f: f.value)
    limit: Figure = getattr(card.limits, f"edge_strain_{operation.cut_edge}_log")
    if edge.value <= 0.0:
        return None
    words = EDGE_WORDS[operation.cut_edge]
    better = card.limits.edge_strain_deburred_reamed_log
    helps = operation.cut_edge == "laser_as_cut" and edge.value <= better.value
    remedy = (
        f"ream and deburr the edge: {better.value:g} is allowed then, {100.0 * edge.value / better.value:.0f} % used"
        if helps
        else "machine the edge, or cut the hole larger and let the lip be shorter"
    )
    check = Check(
        f"the stretched edge, {words}, does not split",
        edge.value,
        limit.value,
        "<=",
        "log",
        limit.source,
        "stop",
        remedy,
        edge.identity,
    )
    said = (
        f"The edge is stretched by {edge.value:.3f} (log); {words} the card allows {limit.value:g}, "
        f"{100.0 * edge.value / limit.value:.0f} % used."
    )
    return judged(check, said, "edge-strain")


def _wrinkle(part: str, operation: Press, record: PressRecord, card: ShopCard) -> Finding | None:
    worst = worst_wrinkle(record.states, record.enclosed, card.metal)
    check = Check(
        "a flange without faces on both sides does not wave",
        worst.share,
        1.0,
        "<=",
        "1",
        BIFURCATION,
        "caution",
        "hold it with a blank holder; where one holds already, a smaller die radius leaves less of the edge free",
        f"{part}/press-{operation.name}/wrinkle",
    )
    said = (
        f"{worst.width_mm:.1f} mm at the {worst.edge} edge have room to wave under {worst.stress_MPa:.0f} MPa of hoop "
        f"compression; a strip like that waves at {worst.critical_MPa:.0f}."
    )
    return judged(check, said, "press-wrinkle", "estimate on the safe side; faces with clearance keep waves small")


def _press(operation: Press, by_end: dict[str, Figure], card: ShopCard) -> list[Finding | None]:
    press = card.machines.press
    tonnage = by_end["tonnage"]
    rows = [
        (tonnage, press.force_max_kN, "the press has the force with its margin", "press-force", "press"),
    ]
    if "holder-force" in by_end:
        rows.append(
            (
                by_end["holder-force"],
                press.holder_force_max_kN,
                "the press has the holder force",
                "press-holder",
                "holder",
            )
        )
    found = []
    for figure, limit, name, topic, word in rows:
        check = Check(
            name,
            figure.value,
            limit.value,
            "<=",
            "kN",
            limit.source,
            "stop",
            "press fewer features in one closing, or take a larger press",
            figure.identity,
        )
        said = f"{figure.value:.0f} kN are needed of the {word}; it has {limit.value:g}."
        found.append(judged(check, said, topic))
    return found


def _ironing(part: str, operation: Press, record: PressRecord) -> Finding | None:
    """Where the sheet has grown thicker than the room between two faces."""
    placed = tuple((tool.side, tool.contour.moved(way, 0.0)) for tool, way in operation.shut_tools())
    over, radius = room_over_sheet(record.shut, placed)
    check = Check(
        "the sheet has room between the shut faces everywhere",
        over,
        0.0,
        ">=",
        "mm",
        Source("derived", "press run on the section kernel"),
        "caution",
        f"open the clearance there by {max(0.0, OVER_SHEET_MM - over):.2f}",
        f"{part}/press-{operation.name}/clearance",
    )
    said = (
        f"At radius {radius:.1f} the shut faces leave {-over:.3f} less than the sheet: it is ironed, which the kernel "
        "leaves out."
    )
    return judged(check, said, "press-ironing")
