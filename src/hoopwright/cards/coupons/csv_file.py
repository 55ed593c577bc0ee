"""A tensile test file read: delimiter, decimal sign, header, units row; every fault with its line and column."""

from __future__ import annotations

import csv
import io
import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from hoopwright.cards.coupons.columns import NAMES, Header, header
from hoopwright.errors import Fault, FileFaults

Vector = NDArray[np.float64]

MOST_FAULTS = 40
_NUMBER = re.compile(r"^[+-]?(\d+([.,]\d*)?|[.,]\d+)([eE][+-]?\d+)?$")
_GROUPED = re.compile(r"^[+-]?\d{1,3}([.,' ]\d{3})+[.,]\d+$")


@dataclass(frozen=True, slots=True)
class Readings:
    """Columns of one test in N, mm, MPa and plain strain, shape (n,) each; `lines` is the file's line of each row."""

    path: str
    columns: dict[str, Vector]
    headers: dict[str, Header]
    lines: tuple[int, ...]
    ignored: tuple[str, ...]


def read_readings(path: Path) -> Readings:
    """The columns of a test file.

    Raises
    ------
    FileFaults
        Every fault of the file with line, column, value and remedy.
    """
    return readings_from_text(_text(path), str(path))


def readings_from_text(text: str, name: str) -> Readings:
    """The columns in the text of a test file; `name` stands in its faults. Raises FileFaults like it."""
    rows = _rows(text)
    place = next((i for i, (_, cells) in enumerate(rows[:80]) if _known(cells) >= 2), None)
    if place is None:
        known = "; ".join(names[0] for names in NAMES.values())
        fault = Fault("header", "not found", "", f"a row with two or more of: {known}", "name the columns with units")
        raise FileFaults(name, [fault])
    line, cells = rows[place]
    has_units_row = place + 1 < len(rows) and not any(_NUMBER.match(cell.strip()) for cell in rows[place + 1][1])
    unit_cells = rows[place + 1][1] if has_units_row else [""] * len(cells)
    padded = [*unit_cells, *[""] * len(cells)][: len(cells)]
    headers = [header(cell, unit) for cell, unit in zip(cells, padded, strict=True)]
    faults = _header_faults(headers, line)
    if faults:
        raise FileFaults(name, faults)
    body = [(n, row) for n, row in rows[place + 1 + has_units_row :] if any(cell.strip() for cell in row)]
    return _columns(name, headers, body)


def _text(path: Path) -> str:
    content = path.read_bytes()
    encoding = "utf-16" if content[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig"
    try:
        return content.decode(encoding)
    except UnicodeDecodeError as problem:
        line = content.count(b"\n", 0, problem.start) + 1
        fault = Fault("text", f"byte {content[problem.start]:#04x}", "", "UTF-8", "save the file as CSV UTF-8", line)
        raise FileFaults(str(path), [fault]) from None


def _rows(text: str) -> list[tuple[int, list[str]]]:
    """Rows with their line, split at the delimiter of the first line that names two columns."""
    delimiter = next((sign for line in text.splitlines()[:80] for sign in ";\t," if _known(line.split(sign)) >= 2), ",")
    reader = csv.reader(io.StringIO(text), delimiter=delimiter)
    return [(reader.line_num, row) for row in reader]


def _known(cells: Sequence[str]) -> int:
    return sum(bool(header(cell.strip().strip('"')).what) for cell in cells)


def _header_faults(headers: Sequence[Header], line: int) -> list[Fault]:
    faults = []
    seen: dict[str, str] = {}
    for found in headers:
        if not found.what:
            continue
        if found.what in seen:
            must = f"the only {found.what.replace('_', ' ')}; {seen[found.what]} is one too"
            faults.append(Fault(f"column {found.text}", "doubled", "", must, "remove or rename one of the two", line))
        seen.setdefault(found.what, found.text)
        if found.factor is None:
            shown = found.unit or "without a unit"
            remedy = f"write it as {found.text.split('[')[0].strip()} [{found.units.partition(',')[0]}]"
            faults.append(Fault(f"column {found.text}", shown, "", f"in one of: {found.units}", remedy, line))
    pairs = ({"force", "extension"}, {"stress", "strain"}, {"true_stress", "plastic_strain"})
    if not any(pair <= set(seen) for pair in pairs):
        must = "force and extension, or stress and strain, or true stress and plastic strain"
        shown = ", ".join(found.text for found in headers if found.what)
        faults.append(Fault("header", shown, "", must, "add or rename the missing column", line))
    return faults


def _columns(name: str, headers: Sequence[Header], body: Sequence[tuple[int, list[str]]]) -> Readings:
    wanted = [(place, found) for place, found in enumerate(headers) if found.what]
    values: dict[str, list[float]] = {found.what: [] for _, found in wanted}
    faults: list[Fault] = []
    signs: set[str] = set()
    for line, row in body:
        if len(row) != len(headers) and not (len(row) > len(headers) and not any(row[len(headers) :])):
            remedy = "mend the row; a file with decimal commas must be separated by semicolons or tabs"
            faults.append(Fault("row", f"{len(row)} values", "", f"{len(headers)} values", remedy, line))
            continue
        for place, found in wanted:
            number, fault = _number(row[place], found, line, signs)
            if fault is not None:
                faults.append(fault)
            elif found.factor is not None:
                values[found.what].append(number * found.factor)
    if len(body) < 5:
        faults.append(Fault("rows", f"{len(body)}", "", "5 or more", "export the whole test"))
    if faults:
        rest = len(faults) - MOST_FAULTS
        shown = faults[:MOST_FAULTS]
        if rest > 0:
            shown.append(Fault("rows", f"{rest} more faults", "", "free of faults", "mend the ones above first"))
        raise FileFaults(name, shown)
    return Readings(
        name,
        {what: np.array(column, dtype=np.float64) for what, column in values.items()},
        {found.what: found for _, found in wanted},
        tuple(line for line, _ in body),
        tuple(found.text for found in headers if not found.what and found.text),
    )


def _number(cell: str, found: Header, line: int, signs: set[str]) -> tuple[float, Fault | None]:
    text = cell.strip()
    key = f"column {found.text}"
    if _GROUPED.match(text):
        return math.nan, Fault(key, text, found.unit, "without thousands separators", "export plain numbers", line)
    if not _NUMBER.match(text):
        shown = text or "empty"
        return math.nan, Fault(key, shown, found.unit, "a number", "fill in the reading or remove the row", line)
    signs |= {sign for sign in ".," if sign in text}
    if len(signs) > 1:
        signs.discard("," if "," in text else ".")
        remedy = "use one decimal sign in the whole file"
        return math.nan, Fault(key, text, found.unit, "written with the decimal sign of the rows before", remedy, line)
    return float(text.replace(",", ".")), None
