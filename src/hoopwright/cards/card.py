"""A card as the program holds it: figures, tables, flow curves and notes, each with its source."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from hoopwright.cards.quantities import Quantity
from hoopwright.cards.tables import CardTable
from hoopwright.errors import CardError
from hoopwright.findings import Figure, Source


@dataclass(frozen=True, slots=True)
class At:
    """Where a figure holds. Temperatures in degC; None where the card does not bind the figure to one."""

    temperature_degC: float | None = None
    from_degC: float | None = None
    to_degC: float | None = None
    condition: str = ""

    def __str__(self) -> str:
        parts = []
        if self.temperature_degC is not None:
            parts.append(f"{self.temperature_degC:g} degC")
        if self.from_degC is not None and self.to_degC is not None:
            parts.append(f"{self.from_degC:g} to {self.to_degC:g} degC")
        if self.condition:
            parts.append(self.condition)
        return ", ".join(parts)


@dataclass(frozen=True, slots=True)
class CardFigure:
    """One number on a card. `u` is its standard uncertainty in the same unit, `low` and `high` its usual range."""

    value: float
    unit: str
    source: Source
    at: At = At()
    u: float | None = None
    low: float | None = None
    high: float | None = None
    note: str = ""

    @property
    def digits(self) -> int:
        """Decimals as the card writes the value."""
        return decimals(self.value)


@dataclass(frozen=True, slots=True)
class CardFlow:
    """A flow curve on a card: law and constants by name, or points (plastic strain log, true stress MPa)."""

    law: str
    constants: Mapping[str, float]
    points: tuple[tuple[float, float], ...]
    strain_max_log: float
    source: Source
    rms_MPa: float | None = None
    u: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    at: At = At()
    note: str = ""


@dataclass(frozen=True, slots=True)
class CardNote:
    """Something a person should know that is no number."""

    about: str
    text: str
    source: Source


@dataclass(frozen=True, slots=True)
class Card:
    """A whole card. `digest` changes when the file, or a card it is based on, changes."""

    kind: str
    id: str
    title: str
    family: str
    condition: str
    range_of_use: str
    entered_by: str
    checked_by: str
    based_on: str
    path: str
    digest: str
    figures: Mapping[str, CardFigure]
    tables: Mapping[str, CardTable]
    flows: Mapping[str, CardFlow]
    notes: tuple[CardNote, ...]
    vocabulary: Mapping[str, Quantity]

    def __contains__(self, name: str) -> bool:
        return name in self.figures

    def entry(self, name: str) -> CardFigure:
        """The figure as it stands on the card, with uncertainty and usual range.

        Raises
        ------
        CardError
            It is not on the card; the message lists what is.
        """
        if name not in self.figures:
            raise CardError(self._missing(f"no figure {name}", self.figures, f"enter [figure.{name}]"))
        return self.figures[name]

    def figure(self, name: str) -> Figure:
        """The figure as the rest of the program takes it. Raises CardError when it is not on the card."""
        entry = self.entry(name)
        unit = "" if entry.unit == "1" else entry.unit
        return Figure(
            f"{self.id}/{name}", self.meaning(name), entry.value, unit, entry.source, entry.digits, note=remark(entry)
        )

    def table(self, name: str) -> CardTable:
        """A table of the card. Raises CardError when it is not on the card."""
        if name not in self.tables:
            raise CardError(self._missing(f"no table {name}", self.tables, f"enter [table.{name}]"))
        return self.tables[name]

    def meaning(self, name: str) -> str:
        """The shop's words for a figure."""
        return self.vocabulary[name].meaning if name in self.vocabulary else name

    def _missing(self, what: str, there: Mapping[str, object], remedy: str) -> str:
        known = ", ".join(there) or "none"
        return f"Card {self.id} ({self.kind}) has {what}; there is: {known}. Do: {remedy} on a card of your own."


def decimals(value: float) -> int:
    """Decimals needed to print a number as it was entered.

    Examples
    --------
    >>> decimals(0.04), decimals(60.0), decimals(1e-05)
    (2, 0, 5)
    """
    text = f"{value:.12f}".rstrip("0")
    return len(text.partition(".")[2])


def remark(entry: CardFigure) -> str:
    """Condition, uncertainty, usual range and note of a figure in one line."""
    parts = [str(entry.at)] if str(entry.at) else []
    unit = "" if entry.unit == "1" else f" {entry.unit}"
    if entry.u is not None:
        parts.append(f"standard uncertainty {entry.u:g}{unit}")
    if entry.low is not None and entry.high is not None:
        parts.append(f"usual range {entry.low:g} to {entry.high:g}{unit}")
    if entry.note:
        parts.append(entry.note)
    return "; ".join(parts)
