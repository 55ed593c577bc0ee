"""An alloy card as the heat kernels take it, with the weakest of its sources and what was assumed."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hoopwright.cards.alloy import Alloy
from hoopwright.cards.card import Card
from hoopwright.findings import Source, weakest
from hoopwright.kernels.heat_metal import HeatMetal, heat_metal

LATENT_J_PER_KG = 290e3
LIQUID_HEAT_J_PER_KGK = 700.0
ASSUMED = Source(
    "practice", "assumed as for another nickel alloy: latent heat 290 kJ/kg, liquid 700 J/(kg K); no source"
)


@dataclass(frozen=True, slots=True)
class HeatCard:
    """The metal for heat. source : weakest ground among its tables. assumed : words about what the card lacks."""

    alloy: Alloy
    metal: HeatMetal
    source: Source
    assumed: tuple[str, ...]


def heat_card(alloy: Alloy) -> HeatCard:
    """Heat functions of a card.

    Raises
    ------
    CardError
        A card without conductivity, specific heat, solidus or liquidus.
    """
    card = alloy.card
    k, cp = card.table("conductivity"), card.table("specific_heat")
    density, solidus, liquidus = alloy.density_kg_per_m3(), card.figure("solidus_degC"), card.figure("liquidus_degC")
    sources = [*k.sources, *cp.sources, density.source, solidus.source, liquidus.source]
    assumed = []
    latent, latent_source = _or_assumed(card, "latent_heat_kJ_per_kg", LATENT_J_PER_KG / 1e3)
    liquid, liquid_source = _or_assumed(card, "liquid_specific_heat_J_per_kgK", LIQUID_HEAT_J_PER_KGK)
    if latent_source is ASSUMED or liquid_source is ASSUMED:
        assumed.append(ASSUMED.where)
    sources += [latent_source, liquid_source]
    metal = heat_metal(
        (np.array(k.column("temperature_degC")), np.array(k.column("conductivity_W_per_mK"))),
        (np.array(cp.column("temperature_degC")), np.array(cp.column("specific_heat_J_per_kgK"))),
        density.value,
        solidus.value,
        liquidus.value,
        1e3 * latent,
        liquid,
    )
    if k.rows[-1][0] < liquidus.value:
        assumed.append(
            f"conductivity carried on along its last two rows from {k.rows[-1][0]:.0f} to {liquidus.value:.0f} °C"
        )
    return HeatCard(alloy, metal, weakest(sources), tuple(assumed))


def _or_assumed(card: Card, name: str, value: float) -> tuple[float, Source]:
    if name in card:
        figure = card.figure(name)
        return figure.value, figure.source
    return value, ASSUMED
