"""Making a `Figure` with its working: value, formula and inputs from one place, basis the weakest among the inputs."""

from __future__ import annotations

from hoopwright.findings import Band, Figure, Input, Source, weakest


def reckoned(
    identity: str,
    name: str,
    value: float,
    unit: str,
    formula: str,
    *inputs: Input,
    digits: int = 3,
    band: Band | None = None,
    note: str = "",
) -> Figure:
    """A figure worked out from `inputs`; every symbol of `formula` that is no constant is the symbol of an input."""
    source = weakest(i.source for i in inputs)
    return Figure(identity, name, float(value), unit, source, digits, band, formula, tuple(inputs), note)


def stated(
    identity: str, name: str, value: float, unit: str, source: Source, digits: int = 3, note: str = ""
) -> Figure:
    """A figure taken as it is from the drawing, a card or a gauge."""
    return Figure(identity, name, float(value), unit, source, digits, None, "", (), note)
