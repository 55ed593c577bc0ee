"""A table of readings: headings, a row of units, decimal commas, ranges, exchanged columns; every fault at once."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from hoopwright.errors import Fault, FileFaults
from hoopwright.measure.grid import Grid, Row, column_letter, read_grid, refused
from hoopwright.measure.kinds import UNITS, Column, Kind, kind

PLAIN = re.compile(r"^[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][+-]?[0-9]{1,3})?$")
COMMA = re.compile(r"^[+-]?[0-9]+,[0-9]+$")
GROUPED = re.compile(r"^[+-]?[0-9]{1,3}([ '’.,][0-9]{3})+([.,][0-9]+)?$")
HEADING_UNIT = re.compile(r"^(.*?)\s*[\[(]\s*([^\])]*)\s*[\])]$")
MOST_FAULTS = 50
Expected = Mapping[str, tuple[float, float]]


@dataclass(frozen=True, slots=True)
class Readings:
    """Rows of one file by column name: numbers in our units, words as written. lines : of each row in the file."""

    kind: str
    file: str
    lines: tuple[int, ...]
    numbers: Mapping[str, tuple[float, ...]]
    words: Mapping[str, tuple[str, ...]]
    notes: tuple[str, ...] = ()

    def __len__(self) -> int:
        return len(self.lines)


@dataclass(frozen=True, slots=True)
class _Place:
    column: Column
    index: int
    factor: float

    @property
    def key(self) -> str:
        return f"column {column_letter(self.index)} ({self.column.name})"


def read_readings_file(source: Path | bytes, what: str, name: str = "", expected: Expected | None = None) -> Readings:
    """Readings of one kind from a CSV, TSV or XLSX file.

    Parameters
    ----------
    what : kind of reading (`measure.kinds`).
    expected : column name to (low, high), narrower than the kind's own range, as the drawing has it.

    Raises
    ------
    FileFaults
        Every fault with line and column, and what to do; nothing is taken from a faulty file.
    """
    return _interpreted(read_grid(source, name), kind(what), expected or {})


def typed_readings(what: str, rows: Sequence[Mapping[str, Any]], expected: Expected | None = None) -> Readings:
    """The same checks for readings typed in, one mapping a row; its number stands as the line."""
    wanted = kind(what)
    if not rows:
        raise refused("typed readings", "empty", "filled in", "enter at least one row")
    heads = [c.name for c in wanted.columns if any(c.name in row for row in rows)]
    strange = sorted({key for row in rows for key in row} - {c.name for c in wanted.columns})
    if strange:
        known = ", ".join(c.name for c in wanted.columns)
        raise refused("typed readings", ", ".join(strange), f"among {known}", "correct the name", "key")
    body = [Row(n, tuple("" if row.get(h) is None else str(row[h]) for h in heads)) for n, row in enumerate(rows, 1)]
    return _interpreted(Grid("typed readings", (Row(0, tuple(heads)), *body), "sheet"), wanted, expected or {})


def _interpreted(grid: Grid, wanted: Kind, expected: Expected) -> Readings:
    head, body = grid.rows[0], list(grid.rows[1:])
    notes: list[str] = []
    units: Row | None = None
    if body and _is_units_row(body[0]):
        units = body.pop(0)
        notes.append(f"units from line {units.line}")
    places = _places(grid, head, units, wanted)
    faults = list(_shape_faults(grid, head, body, wanted))
    if faults:
        raise FileFaults(grid.name, faults[:MOST_FAULTS])
    numbers, words, comma = _values(grid, body, places, faults)
    if not faults:
        faults += _range_faults(body, places, numbers, expected)
    if not faults:
        faults += _order_faults(wanted, body, numbers)
    if faults:
        raise FileFaults(grid.name, faults[:MOST_FAULTS])
    if comma:
        notes.append("decimal commas")
    lines = tuple(row.line for row in body)
    return Readings(wanted.name, grid.name, lines, {k: tuple(v) for k, v in numbers.items()}, words, tuple(notes))


def _is_units_row(row: Row) -> bool:
    """No number in it, and at least one cell that is a unit in brackets or by itself."""
    known = {spelling for spellings in UNITS.values() for spelling in spellings}
    cells = [cell.strip("[]() ").lower() for cell in row.cells if cell]
    if any(PLAIN.match(c) or COMMA.match(c) for c in cells) or not cells:
        return False
    return any(cell in known for cell in cells) or (
        all(len(c) <= 4 and not c.isdigit() for c in cells) and any(cell.startswith(("[", "(")) for cell in row.cells)
    )


def _plain(heading: str) -> tuple[str, str]:
    """A heading without its bracketed unit, in small letters with underscores; and the unit."""
    match = HEADING_UNIT.match(heading)
    text, unit = (match.group(1), match.group(2)) if match else (heading, "")
    return re.sub(r"[\s\-]+", "_", text.strip().lower()), unit.strip()


def _places(grid: Grid, head: Row, units: Row | None, wanted: Kind) -> list[_Place]:
    if any(PLAIN.match(c) or COMMA.match(c) for c in head.cells if c):
        names = ", ".join(c.name for c in wanted.columns if c.needed)
        raise refused(
            grid.name, "numbers", f"headings ({names})", "put a row of headings on top", "first row", head.line
        )
    faults: list[Fault] = []
    places: list[_Place] = []
    for index, heading in enumerate(head.cells):
        text, in_head = _plain(heading)
        key = f"column {column_letter(index)} ({heading or 'no heading'})"
        column = _known(text, wanted)
        if column is None:
            names = ", ".join(c.name for c in wanted.columns)
            if heading or any(len(row.cells) > index and row.cells[index] for row in grid.rows[1:]):
                faults.append(Fault(key, heading or "empty", "", f"one of {names}", "rename or delete it", head.line))
            continue
        if any(p.column.name == column.name for p in places):
            faults.append(Fault(key, heading, "", "there once", "delete one of the two columns", head.line))
            continue
        under = units.cells[index].strip("[]() ") if units and index < len(units.cells) else ""
        factor, fault = _factor(column, in_head, under, key, head.line, units.line if units else head.line)
        faults += [fault] if fault else []
        places.append(_Place(column, index, factor))
    missing = [c.name for c in wanted.columns if c.needed and all(p.column.name != c.name for p in places)]
    for name in missing:
        faults.append(
            Fault(f"column {name}", "missing", "", "there", "add it, or check the heading's spelling", head.line)
        )
    if faults:
        raise FileFaults(grid.name, faults)
    return places


def _known(text: str, wanted: Kind) -> Column | None:
    for column in wanted.columns:
        bare = column.name.removesuffix(f"_{column.unit}") if column.unit else column.name
        if text in (column.name.lower(), bare.lower(), *column.also):
            return column
    return None


def _factor(
    column: Column, in_head: str, under: str, key: str, line: int, unit_line: int
) -> tuple[float, Fault | None]:
    if column.word:
        return 1.0, None
    for unit, at in ((in_head, line), (under, unit_line)):
        if unit and unit.lower() not in UNITS[column.unit]:
            accepted = ", ".join(sorted(UNITS[column.unit]))
            return 1.0, Fault(key + " unit", unit, "", f"one of {accepted}", "convert it, or correct the unit", at)
    if in_head and under and UNITS[column.unit][in_head.lower()] != UNITS[column.unit][under.lower()]:
        return 1.0, Fault(key + " unit", f"{in_head} above {under}", "", "one unit", "keep one of the two", unit_line)
    unit = in_head or under
    return (UNITS[column.unit][unit.lower()] if unit else 1.0), None


def _shape_faults(grid: Grid, head: Row, body: Sequence[Row], wanted: Kind) -> Iterator[Fault]:
    if len(body) < wanted.least_rows:
        must = f"at least {wanted.least_rows}"
        yield Fault("rows", str(len(body)), "", must, f"enter more readings ({wanted.text})", head.line)
    for row in body:
        extra = [c for c in row.cells[len(head.cells) :] if c]
        if not extra:
            continue
        if grid.separator == "," and len(row.cells) > len(head.cells):
            yield Fault(
                "row", f"{len(row.cells)} cells", "", f"{len(head.cells)}, as the headings",
                "decimal commas need semicolons or tabs between cells: export with ';'", row.line,
            )  # fmt: skip
        else:
            yield Fault(
                "row", f"{len(row.cells)} cells", "", f"{len(head.cells)}, as the headings", "delete the rest", row.line
            )


def _values(
    grid: Grid, body: Sequence[Row], places: Sequence[_Place], faults: list[Fault]
) -> tuple[dict[str, list[float]], dict[str, tuple[str, ...]], bool]:
    numbers: dict[str, list[float]] = {}
    words: dict[str, tuple[str, ...]] = {}
    marks: set[str] = set()
    for place in places:
        cells = [(row, row.cells[place.index] if place.index < len(row.cells) else "") for row in body]
        if place.column.word:
            faults += [_empty(place, row) for row, cell in cells if not cell and place.column.needed]
            faults += [
                Fault(place.key, f"{len(c)} letters", "", "at most 80", "shorten it", row.line)
                for row, c in cells if len(c) > 80
            ]  # fmt: skip
            words[place.column.name] = tuple(cell for _, cell in cells)
            continue
        column: list[float] = []
        for row, cell in cells:
            value, fault, mark = _number(cell, place, row)
            marks |= {mark} if mark else set()
            faults += [fault] if fault else []
            column.append(value * place.factor)
        numbers[place.column.name] = column
    if marks == {",", "."}:
        faults.append(Fault("numbers", "points and commas", "", "one decimal mark", "export again with one of them"))
    del grid
    return numbers, words, "," in marks


def _empty(place: _Place, row: Row) -> Fault:
    return Fault(place.key, "empty", "", "filled in", "enter the reading, or delete the row", row.line)


def _number(cell: str, place: _Place, row: Row) -> tuple[float, Fault | None, str]:
    text = cell.replace("−", "-")
    if not text:
        return math.nan, (_empty(place, row) if place.column.needed else None), ""
    if PLAIN.match(text):
        value = float(text)
        if math.isfinite(value):
            return value, None, "." if "." in text else ""
    if COMMA.match(text):
        return float(text.replace(",", ".")), None, ","
    if text.lower() in ("nan", "inf", "-inf", "+inf", "infinity", "#n/a", "na", "n/a", "null", "none", "-", "--"):
        return math.nan, Fault(place.key, cell, "", "a number", "measure it, or delete the row", row.line), ""
    if GROUPED.match(text):
        remedy = "write it without groups of thousands"
        return math.nan, Fault(place.key, cell, "", "a plain number", remedy, row.line), ""
    unit = re.match(r"^([+-]?[0-9.,]+)\s*([^\d\s].*)$", text)
    if unit:
        remedy = f"write {unit.group(1)} and put {unit.group(2)!r} into the heading"
        return math.nan, Fault(place.key, cell[:40], "", "a number without its unit", remedy, row.line), ""
    return math.nan, Fault(place.key, cell[:40], "", "a number", "correct the cell", row.line), ""


def _range_faults(
    body: Sequence[Row], places: Sequence[_Place], numbers: Mapping[str, list[float]], expected: Expected
) -> Iterator[Fault]:
    ranges = {p.column.name: expected.get(p.column.name, (p.column.low, p.column.high)) for p in places}
    plain = [p for p in places if not p.column.word]
    swapped = list(_exchanged(plain, numbers, ranges))
    if swapped:
        one, two = swapped[0]
        at = body[0].line
        remedy = f"exchange the headings of columns {column_letter(one.index)} and {column_letter(two.index)}"
        shown = f"from {min(numbers[one.column.name]):g} to {max(numbers[one.column.name]):g}"
        low, high = ranges[one.column.name]
        yield Fault(
            one.key, shown + f", which fits {two.column.name}", one.column.unit, f"{low:g} to {high:g}", remedy, at
        )
        return
    for place in plain:
        low, high = ranges[place.column.name]
        for row, value in zip(body, numbers[place.column.name], strict=True):
            if math.isfinite(value) and not low <= value <= high:
                hint = _unit_hint(value, low, high) if place.column.unit == "mm" else "measure it again"
                must = f"from {low:g} to {high:g}"
                yield Fault(place.key, f"{value:g}", place.column.unit, must, hint, row.line)


def _unit_hint(value: float, low: float, high: float) -> str:
    for factor, unit in ((25.4, "in"), (1e-3, "um"), (10.0, "cm"), (1000.0, "m"), (1 / 25.4, "mm instead of in")):
        if low <= value * factor <= high:
            return f"it fits as {unit}: name the unit in the heading or below it"
    return "measure it again, or correct the cell"


def _exchanged(
    places: Sequence[_Place], numbers: Mapping[str, list[float]], ranges: Mapping[str, tuple[float, float]]
) -> Iterator[tuple[_Place, _Place]]:
    """Pairs of columns of which one at least does not fit its own range, and both fit the other's."""

    def fits(values: Sequence[float], name: str) -> bool:
        low, high = ranges[name]
        return all(low <= v <= high for v in values if math.isfinite(v))

    for k, one in enumerate(places):
        for two in places[k + 1 :]:
            a, b = numbers[one.column.name], numbers[two.column.name]
            misfits = (not fits(a, one.column.name)) + (not fits(b, two.column.name))
            # of unlike units one misfit may be a wrong unit; of angles beside sizes, or of like units, one is enough
            alike = one.column.unit == two.column.unit or "deg" in (one.column.unit, two.column.unit)
            wrong = misfits >= (1 if alike else 2)
            if wrong and fits(a, two.column.name) and fits(b, one.column.name):
                yield (one, two) if not fits(a, one.column.name) else (two, one)


def _order_faults(wanted: Kind, body: Sequence[Row], numbers: Mapping[str, list[float]]) -> Iterator[Fault]:
    """Angles must run one way and not come twice: else angle and deviation are exchanged, or a row stands twice."""
    if wanted.name != "roundness":
        return
    angles, deviations = numbers["angle_deg"], numbers["deviation_mm"]
    span = max(angles) - min(angles)
    if span < 45.0 and max(deviations) - min(deviations) > span:
        yield Fault(
            "column angle_deg", f"over {span:g}", "deg", "round the ring", "exchange the headings", body[0].line
        )
        return
    seen: dict[float, int] = {}
    for row, angle in zip(body, angles, strict=True):
        turn = round(angle % 360.0, 6)
        if turn in seen:
            must = f"there once (line {seen[turn]} has it)"
            yield Fault("column angle_deg", f"{angle:g}", "deg", must, "delete one, or correct the angle", row.line)
        seen[turn] = row.line
