"""A table on a card: straight between its rows, and no reading outside them unless asked for by name."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass

from hoopwright.errors import CardError, RangeError, require_finite
from hoopwright.findings import BASES, Basis, Source

ROOM_LOW_DEGC, ROOM_HIGH_DEGC = 15.0, 30.0
"""A first row between these is a room temperature row: it stands for every temperature from 15 degC up to it."""


@dataclass(frozen=True, slots=True)
class Reading:
    """A value read from a table, with the ground it stands on and how it was read."""

    value: float
    source: Source
    note: str = ""


@dataclass(frozen=True, slots=True)
class CardTable:
    """Rows of numbers, first column strictly rising; one source a row."""

    card: str
    name: str
    columns: tuple[str, ...]
    units: tuple[str, ...]
    rows: tuple[tuple[float, ...], ...]
    sources: tuple[Source, ...]
    condition: str = ""
    u: tuple[float, ...] | None = None
    reference_degC: float | None = None
    note: str = ""

    def column(self, name: str) -> tuple[float, ...]:
        """All values of a column, in the order of the rows. Raises CardError when there is no such column."""
        index = self._index(name)
        return tuple(row[index] for row in self.rows)

    @property
    def low(self) -> float:
        """Smallest argument that may be read, room temperature rows counted from 15 degC."""
        first = self.rows[0][0]
        is_room = self.columns[0] == "temperature_degC" and ROOM_LOW_DEGC <= first <= ROOM_HIGH_DEGC
        return ROOM_LOW_DEGC if is_room else first

    @property
    def high(self) -> float:
        """Largest argument that may be read."""
        return self.rows[-1][0]

    def covers(self, argument: float) -> bool:
        """Whether the table may be read here."""
        return self.low <= argument <= self.high

    def read(self, name: str, argument: float, extrapolate: bool = False) -> Reading:
        """Value of a column at an argument of the first column, straight between rows.

        Parameters
        ----------
        name : str
            Column.
        argument : float
            Value of the first column, in its unit.
        extrapolate : bool
            Carry the end rows' straight line on outside the table; the source then says so.

        Raises
        ------
        RangeError
            The argument lies outside the table and `extrapolate` is not set.
        CardError
            There is no such column.
        """
        index = self._index(name)
        require_finite(self.columns[0], argument, self.units[0])
        outside = not self.covers(argument)
        if outside and not extrapolate:
            raise RangeError(self._refusal(argument))
        if not outside and argument <= self.rows[0][0]:
            first = self.rows[0][0]
            note = "" if argument == first else f"the {first:g} degC row stands for room temperature"
            return Reading(self.rows[0][index], self.sources[0], note)
        upper = min(max(bisect_right([row[0] for row in self.rows], argument), 1), len(self.rows) - 1)
        return self._between(index, upper, argument, outside)

    def _between(self, index: int, upper: int, argument: float, outside: bool) -> Reading:
        low, high = self.rows[upper - 1], self.rows[upper]
        if argument == high[0]:
            return Reading(high[index], self.sources[upper])
        if argument == low[0]:
            return Reading(low[index], self.sources[upper - 1])
        value = low[index] + (high[index] - low[index]) * (argument - low[0]) / (high[0] - low[0])
        source = weaker(self.sources[upper - 1], self.sources[upper])
        unit = self.units[0]
        if not outside:
            return Reading(value, source, f"straight between the rows at {low[0]:g} and {high[0]:g} {unit}")
        note = f"extrapolated to {argument:g} {unit}, outside the table's {self.low:g} to {self.high:g} {unit}"
        return Reading(value, extrapolated(source, note), note)

    def _index(self, name: str) -> int:
        if name not in self.columns:
            known = ", ".join(self.columns)
            raise CardError(f"Card {self.card}: table {self.name} has no column {name}; there is: {known}.")
        return self.columns.index(name)

    def _refusal(self, argument: float) -> str:
        unit = self.units[0]
        return (
            f"Card {self.card}: table {self.name} reaches from {self.low:g} to {self.high:g} {unit}; it was asked at "
            f"{argument:g} {unit}. Do: stay inside, enter rows there on a card of your own, or ask for extrapolation."
        )


def weaker(first: Source, second: Source) -> Source:
    """The weaker of two sources."""
    return first if BASES.index(first.basis) >= BASES.index(second.basis) else second


def extrapolated(source: Source, note: str) -> Source:
    """The source of a value carried past its table: never firmer than derived."""
    basis: Basis = source.basis if BASES.index(source.basis) > BASES.index("derived") else "derived"
    return Source(basis, f"{note}; from: {source.where}", source.invented)
