"""Figures of one press operation: tonnage, energy, holder, thinning, edge strain, draw-in, springback. N, mm, MPa."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from hoopwright.findings import Figure, Input, Source
from hoopwright.kernels.forming_limit import major_limit
from hoopwright.kernels.press_formulas import coining_force
from hoopwright.kernels.section import Section
from hoopwright.process.press_record import PressRecord
from hoopwright.process.shop import ShopCard
from hoopwright.process.working import reckoned

if TYPE_CHECKING:
    from hoopwright.process.press import Press

WALK = Source("derived", "press run on the section kernel")
FORCE_MARGIN = 1.3
"""Press force to have over what is reckoned (common practice, no source)."""


def forming_force_N(record: PressRecord, operation: Press) -> float:
    """Greatest force that the tools of one side put on the sheet together, of one part."""
    sides = {tool.name: tool.side for tool in operation.all_tools}
    sums = [
        np.abs(sum((record.force_N[k] for k, name in enumerate(record.tools) if sides[name] == side), np.zeros(1)))
        for side in ("forward", "aft")
    ]
    return float(max(s.max() for s in sums))


def forming_shares(record: PressRecord, exponent: float) -> tuple[float, float, float]:
    """Worst share of the forming limit used at mid-thickness, with its strain ratio and radius.

    Over all states; the two edges' own elements are left to the edge card.
    """
    worst = (0.0, 0.0, 0.0)
    for state in record.states:
        along, hoop, _ = (row[1:-1] for row in state.strains())
        major, minor = np.maximum(along, hoop), np.minimum(along, hoop)
        for e1, e2, r in zip(major, minor, 0.5 * (state.y_mm[1:] + state.y_mm[:-1])[1:-1], strict=True):
            if e1 <= 1e-4:
                continue
            ratio = max(-1.0, float(e2 / e1))
            share = float(e1) / major_limit(exponent, ratio)
            worst = max(worst, (share, ratio, float(r)))
    return worst


def edge_strains_log(record: PressRecord) -> tuple[float, float]:
    """Hoop strain of the inner and the outer edge itself (the node, not its element), shut."""
    shut = record.shut
    start = _edge_radii_at_start(shut)
    return math.log(shut.y_mm[0] / start[0]), math.log(shut.y_mm[-1] / start[1])


def _edge_radii_at_start(section: Section) -> tuple[float, float]:
    """Radii of both edges in the blank, which is flat or travelled outward: half an element beyond its end elements."""
    fibre, length = section.fibre_start, section.length_start_mm
    slope_in = (fibre[1] - fibre[0]) / (0.5 * (length[0] + length[1]))
    slope_out = (fibre[-1] - fibre[-2]) / (0.5 * (length[-1] + length[-2]))
    return float(fibre[0] - 0.5 * length[0] * slope_in), float(fibre[-1] + 0.5 * length[-1] * slope_out)


def press_figures(
    part: str, operation: Press, record: PressRecord, before: Section, card: ShopCard
) -> tuple[Figure, ...]:
    """All figures of the step."""
    place = f"{part}/press-{operation.name}"
    return (
        *force_figures(place, operation, record, card),
        *strain_figures(place, record, before, card),
        *shape_figures(place, record, before, card),
    )


def force_figures(place: str, operation: Press, record: PressRecord, card: ShopCard) -> list[Figure]:
    """Forming force, holder, flattening, tonnage, energy."""
    one = forming_force_N(record, operation)
    count = float(operation.count)
    found = [
        reckoned(
            f"{place}/force",
            "forming force, all parts of the stroke",
            1e-3 * count * one,
            "kN",
            "n F / 1000",
            Input("n", "pressed at once", count, "", card.ground),
            Input("F", "greatest force on one, by the section kernel", one, "N", card.ground),
            digits=1,
            note="friction and holder are in it",
        )
    ]
    flat = (
        coining_force(operation.flatten_area_mm2, card.limits.restrike_pressure_MPa.value)
        if (operation.flatten_area_mm2 > 0.0)
        else 0.0
    )
    if flat:
        found.append(
            reckoned(
                f"{place}/flatten-force",
                "force to flatten at the end of the stroke",
                1e-3 * count * flat,
                "kN",
                "n A p / 1000",
                Input("n", "flattened at once", count, "", card.ground),
                Input("A", "area of one", operation.flatten_area_mm2, "mm2", card.ground),
                card.limits.restrike_pressure_MPa.as_input("p"),
                digits=0,
                note="closed form: area times pressure, common practice; the kernel does not press thinner",
            )
        )
    if operation.holder is not None:
        held = record.peak_N(operation.holder.tool.name)
        found.append(
            reckoned(
                f"{place}/holder-force",
                "blank-holder force, greatest",
                1e-3 * count * held,
                "kN",
                "n H / 1000",
                Input("n", "held at once", count, "", card.ground),
                Input("H", "greatest on one", held, "N", card.ground),
                digits=1,
            )
        )
    needed = max(one, flat) * count
    words = "force to form" if one >= flat else "force to flatten"
    found.append(
        reckoned(
            f"{place}/tonnage",
            "press force to have",
            1e-3 * FORCE_MARGIN * needed,
            "kN",
            "s F",
            Input("s", "margin", FORCE_MARGIN, "", Source("practice", "common practice, no source")),
            Input("F", words, 1e-3 * needed, "kN", card.ground),
            digits=0,
        )
    )
    found.append(
        reckoned(
            f"{place}/energy",
            "work of the press, flattening left out",
            count * record.energy_J,
            "J",
            "n W",
            Input("n", "pressed at once", count, "", card.ground),
            Input("W", "work on one, force over travel", record.energy_J, "J", card.ground),
            digits=0,
        )
    )
    return found


def strain_figures(place: str, record: PressRecord, before: Section, card: ShopCard) -> list[Figure]:
    """Thinning, edge strains, share of the forming limit."""
    shut = record.shut
    thin = int(np.argmin(shut.thickness_mm / shut.thickness_start_mm))
    r = 0.5 * (shut.y_mm[thin] + shut.y_mm[thin + 1])
    start, now = float(shut.thickness_start_mm[thin]), float(shut.thickness_mm[thin])
    exponent = card.uniform_strain_log
    share, ratio, where = forming_shares(record, exponent.value)
    inner, outer = edge_strains_log(record)
    found = [
        reckoned(
            f"{place}/thinning",
            "greatest thinning of the sheet",
            100.0 * (1.0 - now / start),
            "pct",
            "100 ( 1 - t / t0 )",
            Input("t", f"least thickness, at radius {r:.1f}", now, "mm", card.ground),
            Input("t0", "sheet", start, "mm", card.ground),
            digits=1,
        ),
        reckoned(
            f"{place}/forming-limit-used",
            "share of the forming limit used",
            100.0 * share,
            "pct",
            "100 e1 / limit ( n , b )",
            Input("e1", f"major strain at radius {where:.1f}", share * major_limit(exponent.value, ratio), "log", WALK),
            Input("b", "minor over major strain", ratio, "", WALK),
            exponent.as_input("n"),
            digits=0,
            note="limit of Hill and Swift from the uniform strain on the card; no measured limit curve is on it",
        ),
    ]
    for word, value, radius in (
        ("inner", inner, float(shut.y_mm[0])),
        ("outer", outer, float(shut.y_mm[-1])),
    ):
        found.append(
            reckoned(
                f"{place}/{word}-edge-strain",
                f"hoop strain of the {word} edge",
                value,
                "log",
                "ln ( r / r0 )",
                Input("r", "radius of the edge, shut", radius, "mm", card.ground),
                Input("r0", "radius of the edge in the blank", radius / math.exp(value), "mm", card.ground),
                digits=4,
            )
        )
    return found


def shape_figures(place: str, record: PressRecord, before: Section, card: ShopCard) -> list[Figure]:
    """Draw-in of the edges and greatest springback."""
    free, back = record.free, record.springback_mm
    rigid = back[:, 0] - np.median(back[:, 0])
    way = np.hypot(rigid, back[:, 1])
    far = int(np.argmax(way))
    found = [
        reckoned(
            f"{place}/springback",
            "greatest springback of the section",
            float(way[far]),
            "mm",
            "sqrt ( a ^ 2 + r ^ 2 )",
            Input("a", "way along the axis, rigid shift taken out", abs(float(rigid[far])), "mm", card.ground),
            Input(
                "r",
                f"way along the radius, at radius {free.y_mm[far]:.1f}",
                abs(float(back[far, 1])),
                "mm",
                card.ground,
            ),
            digits=3,
        )
    ]
    for word, node in (("inner", 0), ("outer", -1)):
        found.append(
            reckoned(
                f"{place}/{word}-edge-draw-in",
                f"way of the {word} edge along the radius",
                float(free.y_mm[node] - before.y_mm[node]),
                "mm",
                "r - r_before",
                Input("r", "after", float(free.y_mm[node]), "mm", card.ground),
                Input("r_before", "before", float(before.y_mm[node]), "mm", card.ground),
                digits=3,
            )
        )
    return found
