"""Heat-treat order of a tool: what the hardener is told, from the steel card and the hardness wanted."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.cards.machines import Furnace
from hoopwright.cards.tool_steel import ToolSteel
from hoopwright.findings import Check, Finding, Source, judged


@dataclass(frozen=True, slots=True)
class HardeningOrder:
    """One tool at the furnace. size_mm : largest lengths of it as it goes in, long side first."""

    tool: str
    steel: str
    pieces: int
    mass_kg: float
    size_mm: tuple[float, float, float]
    hardness_HRC: tuple[float, float]
    steps: tuple[str, ...]
    test_place: str
    growth_pct: tuple[float, float]
    findings: tuple[Finding, ...]


def hardening_order(
    tool: str,
    pieces: int,
    mass_kg: float,
    size_mm: tuple[float, float, float],
    hardness: tuple[float, float],
    test_place: str,
    steel: ToolSteel,
    furnace: Furnace,
) -> HardeningOrder:
    """The order.

    Raises
    ------
    RangeError
        A hardness the steel's temper table does not reach.
    """
    middle = 0.5 * (hardness[0] + hardness[1])
    temper = steel.temper_degC(middle)
    soak = f" for {steel.soak_min.value:g} min at heat" if steel.soak_min is not None else ""
    preheat = (
        f"Preheat at {steel.preheat_degC.value:g} °C."
        if steel.preheat_degC is not None
        else "Preheat by the steel maker's sheet."
    )
    steps = (
        "Stress relieve after roughing, before this order.",
        preheat,
        f"Austenitise at {steel.austenitise_degC.value:g} °C{soak}, in vacuum or protective gas.",
        "Quench in still air or gas to below 65 °C; temper at once.",
        f"Temper twice at {temper:.0f} °C, two hours each, cold between.",
        f"Test: {hardness[0]:g} to {hardness[1]:g} HRC, {test_place}. Write it down with the furnace chart number.",
    )
    largest = sorted(size_mm)
    room = sorted((furnace.chamber_width_mm.value, furnace.chamber_height_mm.value, furnace.chamber_depth_mm.value))
    worst = max(range(3), key=lambda k: largest[k] - room[k])
    findings = [
        judged(
            Check(
                "the tool goes into the furnace",
                largest[worst],
                room[worst],
                "<=",
                "mm",
                furnace.chamber_width_mm.source,
                "stop",
                "send it to a bigger furnace",
                f"{tool}/harden",
            ),
            f"{tool} is {largest[worst]:.0f} mm and the furnace takes {room[worst]:g}.",
            "tool-furnace",
        ),
        judged(
            Check(
                "the furnace reaches the hardening heat",
                steel.austenitise_degC.value,
                furnace.temp_max_degC.value,
                "<=",
                "degC",
                Source("read", f"card {steel.card_id}"),
                "stop",
                "send it to a hotter furnace",
                f"{tool}/harden",
            ),
            f"{tool} hardens at {steel.austenitise_degC.value:g} °C and the furnace ends at "
            f"{furnace.temp_max_degC.value:g}.",
            "tool-furnace-heat",
        ),
    ]
    growth = (steel.size_change_low_pct, steel.size_change_high_pct)
    return HardeningOrder(
        tool,
        steel.card_id,
        pieces,
        mass_kg,
        size_mm,
        hardness,
        steps,
        test_place,
        growth,
        tuple(f for f in findings if f is not None),
    )
