"""What a well-shaped card must still be to mean anything: known names, right units, sound numbers."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from difflib import get_close_matches

from hoopwright.cards.alloy_words import LAW_CONSTANTS
from hoopwright.cards.conversions import how_to_convert
from hoopwright.cards.quantities import Quantity
from hoopwright.cards.schema import CardShape, FigureShape, FlowShape, TableShape
from hoopwright.cards.words import WORDS, Words
from hoopwright.errors import Fault


def meaning_faults(card: CardShape) -> Iterator[Fault]:
    """Every fault of a well-shaped card on its own; lines are added by the reader."""
    words = WORDS[card.kind]
    for name, figure in card.figure.items():
        yield from _figure(f"figure.{name}", name, figure, words)
    for name, table in card.table.items():
        yield from _table(f"table.{name}", name, table, words)
    for use, flow in card.flow.items():
        yield from _flow(f"flow.{use}", flow, words, card.kind)
    if words.complete and not card.based_on:
        for name, wanted in words.figures.items():
            if name not in card.figure and not wanted.optional:
                yield Fault(
                    f"figure.{name}",
                    "missing",
                    "",
                    f"there, in {wanted.unit} ({wanted.meaning})",
                    f'enter it, or write based_on = "ID" to take it from another {card.kind} card',
                )


def _figure(key: str, name: str, figure: FigureShape, words: Words) -> Iterator[Fault]:
    wanted = words.figures.get(name)
    if wanted is None:
        yield _unknown(key, name, words.figures, "figure")
        return
    yield from _unit(f"{key}.unit", figure.unit, wanted.unit)
    if figure.unit == wanted.unit:
        yield from _bounds(f"{key}.value", figure.value, wanted)
    if figure.range is not None and not figure.range[0] <= figure.range[1]:
        shown = f"{figure.range[0]:g} to {figure.range[1]:g}"
        yield Fault(f"{key}.range", shown, figure.unit, "low end first", "exchange the two ends")
    elif figure.range is not None and not figure.range[0] <= figure.value <= figure.range[1]:
        must = f"inside its own range {figure.range[0]:g} to {figure.range[1]:g}"
        yield Fault(f"{key}.value", f"{figure.value:g}", figure.unit, must, "mend the value or its range")
    yield from _ground(key, figure.at.from_degC, figure.at.to_degC)


def _table(key: str, name: str, table: TableShape, words: Words) -> Iterator[Fault]:
    wanted = words.tables.get(name)
    if wanted is None:
        yield _unknown(key, name, words.tables, "table")
        return
    faults = list(_columns(key, table, wanted))
    yield from faults
    if not faults:
        yield from _rows(key, table, wanted)
    if name == "mean_expansion" and table.reference_degC is None:
        yield Fault(
            f"{key}.reference_degC",
            "missing",
            "degC",
            "the temperature from which the mean is taken",
            "enter it as the source prints it (often 20, 21, 25 or 26); never guess",
        )
    if name != "mean_expansion" and table.reference_degC is not None:
        yield Fault(
            f"{key}.reference_degC",
            f"{table.reference_degC:g}",
            "degC",
            "left out",
            "remove it; only mean_expansion has it",
        )


def _columns(key: str, table: TableShape, wanted: Mapping[str, Quantity]) -> Iterator[Fault]:
    first = next(iter(wanted))
    if table.columns[0] != first:
        yield Fault(f"{key}.columns", table.columns[0], "", f"{first} first", "put that column first")
    if len(set(table.columns)) != len(table.columns):
        yield Fault(f"{key}.columns", ", ".join(table.columns), "", "free of repeats", "remove the second one")
    if len(table.units) != len(table.columns):
        count = f"{len(table.units)} units"
        yield Fault(f"{key}.units", count, "", f"one a column, {len(table.columns)}", "enter the missing units")
        return
    for column, unit in zip(table.columns, table.units, strict=True):
        if column not in wanted:
            yield _unknown(f"{key}.columns", column, wanted, "column")
        else:
            yield from _unit(f"{key}.units", unit, wanted[column].unit)
    for name, values in (("u", table.u), ("row_basis", table.row_basis)):
        length = len(table.columns) if name == "u" else len(table.rows)
        if values is not None and len(values) != length:
            each = "column" if name == "u" else "row"
            yield Fault(f"{key}.{name}", f"{len(values)} entries", "", f"one a {each}, {length}", "enter the others")


def _rows(key: str, table: TableShape, wanted: Mapping[str, Quantity]) -> Iterator[Fault]:
    before: float | None = None
    for number, row in enumerate(table.rows, start=1):
        place = f"{key}.rows[{number}]"
        if len(row) != len(table.columns):
            must = f"one number a column, {len(table.columns)}"
            yield Fault(place, f"{len(row)} numbers", "", must, "enter the missing number or remove the extra one")
            continue
        for column, (name, value) in enumerate(zip(table.columns, row, strict=True), start=1):
            yield from _bounds(f"{place}[{column}]", value, wanted[name])
        if before is not None and row[0] <= before:
            yield Fault(
                f"{place}[1]", f"{row[0]:g}", table.units[0], f"above the row before, {before:g}", "sort the rows"
            )
        before = row[0]


def _flow(key: str, flow: FlowShape, words: Words, kind: str) -> Iterator[Fault]:
    if not words.flows:
        yield Fault(key, flow.law, "", f"left out of a card of kind {kind}", "remove it")
        return
    wanted = LAW_CONSTANTS[flow.law]
    for name in wanted:
        if name not in flow.constants:
            yield Fault(f"{key}.constants.{name}", "missing", "", f"there for the law {flow.law}", "enter it")
        elif flow.constants[name] <= 0.0 and not (flow.law == "ludwik" and name == "s0_MPa"):
            yield Fault(f"{key}.constants.{name}", f"{flow.constants[name]:g}", "", "above 0", "mend it")
    for name in flow.constants:
        if name not in wanted:
            yield _unknown(f"{key}.constants.{name}", name, dict.fromkeys(wanted), f"constant of the law {flow.law}")
    if (flow.law == "tabulated") != (len(flow.points) >= 2):
        must = "two or more pairs of plastic strain and true stress" if flow.law == "tabulated" else "left out"
        yield Fault(f"{key}.points", f"{len(flow.points)} points", "", must, "enter law and data that belong together")
    before = -1.0
    for number, (strain, stress) in enumerate(flow.points, start=1):
        if strain < 0.0 or strain <= before:
            yield Fault(f"{key}.points[{number}]", f"{strain:g}", "log", "0 or more and rising", "sort the points")
        if stress <= 0.0:
            yield Fault(f"{key}.points[{number}]", f"{stress:g}", "MPa", "above 0", "remove the point")
        before = strain


def _unit(key: str, given: str, wanted: str) -> Iterator[Fault]:
    if given != wanted:
        yield Fault(key, given, "", wanted, how_to_convert(wanted, given))


def _bounds(key: str, value: float, wanted: Quantity) -> Iterator[Fault]:
    if not wanted.low <= value <= wanted.high:
        remedy = "check the number and its unit against the source"
        yield Fault(key, f"{value:g}", wanted.unit, wanted.must, remedy)


def _ground(key: str, low: float | None, high: float | None) -> Iterator[Fault]:
    if (low is None) != (high is None):
        yield Fault(f"{key}.at", "half a range", "degC", "from_degC and to_degC together", "enter both or neither")
    elif low is not None and high is not None and low >= high:
        yield Fault(f"{key}.at", f"{low:g} to {high:g}", "degC", "low end first", "exchange the two ends")


def _unknown(key: str, name: str, known: Mapping[str, object], what: str) -> Fault:
    near = get_close_matches(name, known, n=3, cutoff=0.7)
    must = f"a {what} this kind of card knows"
    return Fault(key, name, "", must, f"write {' or '.join(near)}" if near else f"take one of: {', '.join(known)}")
