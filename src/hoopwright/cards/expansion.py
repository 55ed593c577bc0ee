"""Thermal growth from a card's expansion tables, with the table's own reference temperature taken out exactly.

A mean coefficient a(T) from a reference Tr means L(T)/L(Tr) = 1 + a(T) (T - Tr). Growth between any two temperatures
is the quotient of two such lengths; a mean from 20 degC is that growth over the interval. Between Tr (and the few
kelvin to room temperature below it) and the first row, a(T) is the straight line of the first two rows. An
instantaneous coefficient is integrated: ln L(T)/L(T0) = integral of alpha dT, straight between rows.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from hoopwright.cards.card import Card
from hoopwright.cards.tables import ROOM_LOW_DEGC, CardTable, extrapolated, weaker
from hoopwright.errors import CardError, RangeError
from hoopwright.findings import BASES, Source

PER_MICRO = 1e-6


@dataclass(frozen=True, slots=True)
class Growth:
    """Engineering growth strain L(to)/L(from) - 1, with its ground."""

    strain_eng: float
    source: Source
    note: str = ""


def growth(card: Card, to_degC: float, from_degC: float, extrapolate: bool = False) -> Growth:
    """Growth between two temperatures from the firmest table that reaches both.

    Parameters
    ----------
    card : Card
        Alloy or tool steel.
    to_degC, from_degC : float
        Temperatures. [degC]
    extrapolate : bool
        Carry the table that reaches furthest on past its end; the source then says so.

    Raises
    ------
    RangeError
        No table reaches both temperatures and `extrapolate` is not set.
    CardError
        The card has no expansion at all.
    """
    tables = [card.tables[name] for name in ("mean_expansion", "instantaneous_expansion") if name in card.tables]
    tables.sort(key=lambda table: max(BASES.index(source.basis) for source in table.sources))
    if not tables:
        return _single(card, to_degC, from_degC, extrapolate)
    for table in tables:
        if all(_low(table) <= t <= table.high for t in (to_degC, from_degC)):
            return _of_table(table, to_degC, from_degC)
    reach = "; ".join(f"{table.name} from {_low(table):g} to {table.high:g} degC" for table in tables)
    if not extrapolate:
        raise RangeError(
            f"Card {card.id}: expansion from {from_degC:g} to {to_degC:g} degC leaves its tables ({reach}). Do: stay "
            f"inside, enter rows there on a card of your own, or ask for extrapolation."
        )
    widest = max(tables, key=lambda table: table.high)
    found = _of_table(widest, to_degC, from_degC)
    note = f"extrapolated to {from_degC:g} to {to_degC:g} degC, outside {reach}"
    return Growth(found.strain_eng, extrapolated(found.source, note), note)


def _low(table: CardTable) -> float:
    """Lowest temperature a table reaches: room temperature, when its reference or first row is one."""
    start = table.rows[0][0] if table.reference_degC is None else min(table.reference_degC, table.rows[0][0])
    return min(start, ROOM_LOW_DEGC) if start <= 30.0 else start


def _of_table(table: CardTable, to_degC: float, from_degC: float) -> Growth:
    source = weaker(_source_at(table, to_degC), _source_at(table, from_degC))
    if table.reference_degC is None:
        strain = math.expm1(PER_MICRO * (_integral(table, to_degC) - _integral(table, from_degC)))
        return Growth(strain, source, "instantaneous coefficient integrated")
    strain = _length(table, to_degC) / _length(table, from_degC) - 1.0
    reference = table.reference_degC
    note = "" if reference == from_degC else f"mean from {reference:g} degC carried to {from_degC:g} degC"
    return Growth(strain, source, note)


def _source_at(table: CardTable, t: float) -> Source:
    """The weaker source of the rows on either side."""
    above = next((i for i, row in enumerate(table.rows) if row[0] >= t), len(table.rows) - 1)
    exact = table.rows[above][0] == t
    return table.sources[above] if exact or above == 0 else weaker(table.sources[above - 1], table.sources[above])


def _length(table: CardTable, t: float) -> float:
    """L(t)/L(reference) of a mean table."""
    reference = table.reference_degC
    assert reference is not None
    return 1.0 + PER_MICRO * _line(table, t) * (t - reference)


def _line(table: CardTable, t: float) -> float:
    """Coefficient straight between rows, the end rows' lines carried on."""
    rows = table.rows
    upper = next((i for i, row in enumerate(rows) if row[0] >= t), len(rows) - 1)
    upper = max(upper, 1)
    low, high = rows[upper - 1], rows[upper]
    return low[1] + (high[1] - low[1]) * (t - low[0]) / (high[0] - low[0])


def _integral(table: CardTable, t: float) -> float:
    """Integral of the straight-between-rows coefficient from the first row to t. [um/m]"""
    rows = table.rows
    total = 0.0
    for low, high in pairwise(rows):
        if t <= high[0] or high is rows[-1]:
            return total + 0.5 * (low[1] + _line(table, t)) * (t - low[0])
        total += 0.5 * (low[1] + high[1]) * (high[0] - low[0])
    return total


def _single(card: Card, to_degC: float, from_degC: float, extrapolate: bool) -> Growth:
    if "mean_expansion_um_per_mK" not in card:
        raise CardError(
            f"Card {card.id} has no expansion. Do: enter [table.mean_expansion] with its reference temperature on a "
            f"card of your own."
        )
    entry = card.entry("mean_expansion_um_per_mK")
    strain = PER_MICRO * entry.value * (to_degC - from_degC)
    low, high = entry.at.from_degC, entry.at.to_degC
    if low is None or high is None or (low - 5.0 <= min(to_degC, from_degC) and max(to_degC, from_degC) <= high):
        return Growth(strain, entry.source, "one mean coefficient for the whole range")
    if not extrapolate:
        raise RangeError(
            f"Card {card.id}: its one mean coefficient holds from {low:g} to {high:g} degC; it was asked from "
            f"{from_degC:g} to {to_degC:g} degC. Do: enter [table.mean_expansion], or ask for extrapolation."
        )
    note = f"one mean coefficient for {low:g} to {high:g} degC used from {from_degC:g} to {to_degC:g} degC"
    return Growth(strain, extrapolated(entry.source, note), note)
