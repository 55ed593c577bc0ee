"""Why is this figure what it is: its formula, the same with numbers, its inputs and where each came from."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from hoopwright.errors import InputError
from hoopwright.findings import Figure, Input
from hoopwright.papers.numbers import written


@dataclass(frozen=True, slots=True)
class Explained:
    """The working of one figure. with_numbers : the formula, each symbol replaced by its input's value."""

    figure: Figure
    formula: str
    with_numbers: str
    inputs: tuple[Input, ...]


def find(figures: Iterable[Figure], identity: str) -> Figure:
    """The figure of this identity; else the value of this identity that a figure rests on.

    Raises
    ------
    InputError
        No such figure; the message names the nearest ones.
    """
    listed = list(figures)
    known: Mapping[str, Figure] = {figure.identity: figure for figure in listed}
    if identity in known:
        return known[identity]
    for figure in listed:
        for item in figure.inputs:
            if item.figure == identity and identity and not isinstance(item.value, str):
                return _taken(item, figure)
    near = difflib.get_close_matches(identity, known, n=4, cutoff=0.3)
    inside = [name for name in known if identity in name][:4]
    shown = ", ".join(dict.fromkeys([*inside, *near])) or "none that is like it"
    raise InputError("figure", identity, "", f"a figure of this plan; near it: {shown}", "take one of these")


def _taken(item: Input, figure: Figure) -> Figure:
    """A value that a figure rests on and that stands on no sheet of its own, such as a value of a card."""
    digits = len(f"{item.value:.5f}".rstrip("0").partition(".")[2])
    return Figure(
        item.figure, item.name, float(item.value), item.unit, item.source, digits, note=f"used in {figure.identity}"
    )


def number_text(item: Input) -> str:
    """The value of an input as it stands in a formula: as many decimals as the value has, at most five."""
    if isinstance(item.value, str):
        return item.value
    if item.value != 0.0 and abs(item.value) < 1e-3:
        return f"{item.value:.3g}"
    text = f"{item.value:.5f}".rstrip("0").rstrip(".")
    return written(float(text), len(text.partition(".")[2]))


def explain(figure: Figure) -> Explained:
    """The working of a figure; one that was taken as it is has no formula, and its source is its working.

    Examples
    --------
    >>> from hoopwright.findings import Input, Source
    >>> given = Source("given", "drawing")
    >>> inputs = (Input("r", "radius", 2.0, "mm", given), Input("t", "sheet", 0.5, "mm", given))
    >>> explain(Figure("a/b", "b", 1.5, "mm", given, 1, None, "r - t", inputs)).with_numbers
    '2 - 0.5'
    """
    values = {item.symbol: number_text(item) for item in figure.inputs}
    tokens = [values.get(token, token) for token in figure.formula.split(" ")]
    return Explained(figure, figure.formula, " ".join(tokens), figure.inputs)
