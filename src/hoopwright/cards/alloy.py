"""An alloy, tool steel or gauge card as the rest of the program reads it: one method a figure, each with its source.

Every getter returns a `Figure`; `.value` is the number, in the unit the method's name ends in. Temperatures in degC.
A getter refuses to leave the range of its table (RangeError) unless `extrapolate=True`, and then the figure says so.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from hoopwright.cards.card import Card, decimals, remark
from hoopwright.cards.curves import CardCurve, first_loading, reyield
from hoopwright.cards.expansion import growth
from hoopwright.cards.library import find_card
from hoopwright.cards.strength import ROOM_DEGC, cold_strength, uniform_strain
from hoopwright.cards.tables import ROOM_HIGH_DEGC, ROOM_LOW_DEGC, CardTable, Reading, extrapolated
from hoopwright.errors import RangeError, require_finite
from hoopwright.findings import Figure


@dataclass(frozen=True, slots=True)
class Alloy:
    """Typed getters over a card of kind `alloy`, `tool_steel` or `gauge`."""

    card: Card

    @property
    def id(self) -> str:
        """UNS number, or the shop's own name of the card."""
        return self.card.id

    @property
    def digest(self) -> str:
        """Changes when the card changes."""
        return self.card.digest

    def young_modulus_MPa(self, temp_degC: float = ROOM_DEGC, extrapolate: bool = False) -> Figure:
        """Young's modulus."""
        return self._property("young_modulus", "young_modulus_GPa", temp_degC, extrapolate, "MPa", 1000.0)

    def poisson(self, temp_degC: float = ROOM_DEGC, extrapolate: bool = False) -> Figure:
        """Poisson's ratio."""
        return self._property("poisson", "poisson", temp_degC, extrapolate, "")

    def density_kg_per_m3(self) -> Figure:
        """Density at room temperature."""
        return self.card.figure("density_kg_per_m3")

    def conductivity_W_per_mK(self, temp_degC: float = ROOM_DEGC, extrapolate: bool = False) -> Figure:
        """Thermal conductivity."""
        return self._property("conductivity", "conductivity_W_per_mK", temp_degC, extrapolate, "W_per_mK")

    def specific_heat_J_per_kgK(self, temp_degC: float = ROOM_DEGC, extrapolate: bool = False) -> Figure:
        """Specific heat."""
        return self._property("specific_heat", "specific_heat_J_per_kgK", temp_degC, extrapolate, "J_per_kgK")

    def thermal_growth_eng(self, to_degC: float, from_degC: float = ROOM_DEGC, extrapolate: bool = False) -> Figure:
        """Growth L(to)/L(from) - 1, the table's own reference temperature taken out exactly."""
        found = growth(self.card, to_degC, from_degC, extrapolate)
        identity = f"{self.id}/growth/{from_degC:g}-to-{to_degC:g}-degC"
        return Figure(identity, "thermal growth", found.strain_eng, "eng", found.source, 6, note=found.note)

    def mean_expansion_per_K(self, temp_degC: float, from_degC: float = ROOM_DEGC, extrapolate: bool = False) -> Figure:
        """Mean coefficient over `from_degC` to `temp_degC` (growth over interval)."""
        if temp_degC == from_degC:
            raise RangeError(
                f"Card {self.id}: a mean expansion needs an interval; it was asked from {from_degC:g} to {temp_degC:g} "
                f"degC. Do: give two different temperatures."
            )
        found = growth(self.card, temp_degC, from_degC, extrapolate)
        identity = f"{self.id}/mean-expansion/{from_degC:g}-to-{temp_degC:g}-degC"
        value = found.strain_eng / (temp_degC - from_degC)
        return Figure(identity, "mean expansion", value, "per_K", found.source, 9, note=found.note)

    def yield_MPa(self, temp_degC: float = ROOM_DEGC, extrapolate: bool = False) -> Figure:
        """0.2 % proof stress of the sheet as formed from."""
        return self._strength("yield_strength_MPa", temp_degC, extrapolate)

    def tensile_MPa(self, temp_degC: float = ROOM_DEGC, extrapolate: bool = False) -> Figure:
        """Tensile strength of the sheet as formed from."""
        return self._strength("tensile_strength_MPa", temp_degC, extrapolate)

    def elongation_pct(self, temp_degC: float = ROOM_DEGC, extrapolate: bool = False) -> Figure:
        """Elongation after fracture of the sheet as formed from."""
        return self._strength("elongation_pct", temp_degC, extrapolate)

    def uniform_strain_log(self) -> Figure:
        """Uniform plastic strain at room temperature; estimated from the elongation where the card lacks it."""
        found = uniform_strain(self.card)
        return Figure(
            f"{self.id}/uniform_strain_log", "uniform strain", found.value, "log", found.source, 4, note=found.note
        )

    def flow_curve_first(self, law: str = "swift") -> CardCurve:
        """First-loading curve, from annealed sheet. Raises CardError where the card gives none."""
        return first_loading(self.card, law)

    def flow_curve_reyield(self) -> CardCurve:
        """Curve for metal strained before. Raises CardError where the card has none."""
        return reyield(self.card)

    @property
    def has_reyield(self) -> bool:
        """Whether the card carries a re-yield curve."""
        return "reyield" in self.card.flows

    def cold_work(self) -> CardTable:
        """Strength after cold reduction. Raises CardError where the card has none."""
        return self.card.table("cold_work")

    def figure(self, name: str) -> Figure:
        """Any other figure of the card ("solution_anneal_degC"). Raises CardError."""
        return self.card.figure(name)

    def _strength(self, name: str, temp_degC: float, extrapolate: bool) -> Figure:
        if ROOM_LOW_DEGC <= require_finite("temperature", temp_degC, "degC") <= ROOM_HIGH_DEGC:
            found = cold_strength(self.card, name)
        else:
            found = self.card.table("tensile_sheet").read(name, temp_degC, extrapolate)
        return self._figure(name, temp_degC, found, name.rpartition("_")[2])

    def _property(
        self, table: str, name: str, temp_degC: float, extrapolate: bool, unit: str, factor: float = 1.0
    ) -> Figure:
        at_room = ROOM_LOW_DEGC <= require_finite("temperature", temp_degC, "degC") <= ROOM_HIGH_DEGC
        if table in self.card.tables and not (name in self.card and at_room):
            found = self.card.tables[table].read(name, temp_degC, extrapolate)
        else:
            found = self._single(name, temp_degC, extrapolate)
        return self._figure(name, temp_degC, Reading(found.value * factor, found.source, found.note), unit)

    def _single(self, name: str, temp_degC: float, extrapolate: bool) -> Reading:
        """One figure of the card, where it holds: everywhere if the card binds it to no temperature."""
        entry = self.card.entry(name)
        at = entry.at
        low, high = at.from_degC, at.to_degC
        if at.temperature_degC is not None:
            low = high = at.temperature_degC
        if low is None or high is None:
            return Reading(entry.value, entry.source, remark(entry))
        if low <= ROOM_HIGH_DEGC:
            low, high = min(low, ROOM_LOW_DEGC), max(high, ROOM_HIGH_DEGC)
        if low <= temp_degC <= high:
            return Reading(entry.value, entry.source, remark(entry))
        if not extrapolate:
            raise RangeError(
                f"Card {self.id}: {name} is known from {low:g} to {high:g} degC; it was asked at {temp_degC:g} degC. "
                f"Do: enter a table on a card of your own, or ask for extrapolation."
            )
        note = f"value for {low:g} to {high:g} degC held on to {temp_degC:g} degC"
        return Reading(entry.value, extrapolated(entry.source, note), note)

    def _figure(self, name: str, temp_degC: float, found: Reading, unit: str) -> Figure:
        digits = min(decimals(round(found.value, 6)), 4)
        identity = f"{self.id}/{name}/{temp_degC:g}-degC"
        return Figure(identity, self.card.meaning(name), found.value, unit, found.source, digits, note=found.note)


def alloy(card_id: str, shop_folder: Path | None = None) -> Alloy:
    """The alloy on a card of kind `alloy`. Raises CardError and FileFaults."""
    return Alloy(find_card("alloy", card_id, shop_folder))


def tool_steel(card_id: str, shop_folder: Path | None = None) -> Alloy:
    """The steel on a card of kind `tool_steel`."""
    return Alloy(find_card("tool_steel", card_id, shop_folder))


def gauge(card_id: str = "GAUGE", shop_folder: Path | None = None) -> Card:
    """The card of measuring references."""
    return find_card("gauge", card_id, shop_folder)
