"""Trials and sections as CSV files: a head with the names of the columns, a row a weld."""

from __future__ import annotations

import csv
from collections.abc import Sequence
from pathlib import Path
from typing import Final

from hoopwright.errors import Fault, FileFaults, InputError
from hoopwright.kernels.heat_absorbed import Section, Shot
from hoopwright.plan.seam.trial_entry import WeldTrial

TRIAL_COLUMNS: Final = (
    "power_W",
    "speed_mm_per_s",
    "focus_mm",
    "gap_mm",
    "root_mm",
    "face_mm",
    "underfill_mm",
    "pores_pct",
)
SECTION_COLUMNS: Final = ("power_W", "speed_mm_per_s", "spot_dia_mm", "face_mm", "root_mm")
MOST_ROWS: Final = 60
"""Beyond this a step of the planner is no longer quick, and a window is long found."""
REMEDY: Final = "write the names of the columns in the first row, a number in every cell"


def read_trials(path: Path) -> tuple[WeldTrial, ...]:
    """Trials of a file; the column `burnt` (1 or 0) may be left out; a burnt weld has no readings.

    Raises
    ------
    FileFaults
        Every fault of the file, with its line.
    """
    rows = _rows(path, TRIAL_COLUMNS, ("burnt",))
    faults: list[Fault] = []
    made = []
    for line, row in rows:
        burnt = row.get("burnt", "").strip().lower() in ("1", "yes", "true")
        wanted = TRIAL_COLUMNS[:4] if burnt else TRIAL_COLUMNS
        cells = _numbers(row, wanted, line, faults)
        if len(cells) == len(wanted):
            made.append(_trial(cells, burnt))
    if len(rows) > MOST_ROWS:
        faults.append(Fault("trials", str(len(rows)), "rows", f"at most {MOST_ROWS}", "leave out what was made first"))
    if faults:
        raise FileFaults(str(path), faults)
    return tuple(made)


def _trial(cells: list[float], burnt: bool) -> WeldTrial:
    power, speed, focus, gap = cells[:4]
    if burnt:
        return WeldTrial(power, speed, focus, gap, burnt=True)
    root, face, underfill, pores = cells[4:]
    return WeldTrial(power, speed, focus, gap, root, face, underfill, pores)


def read_sections(path: Path, thickness_mm: float) -> tuple[tuple[Shot, Section], ...]:
    """Sections of a file; root_mm is minus the missing depth where the weld is not through.

    Raises
    ------
    FileFaults
        Every fault of the file, with its line.
    """
    faults: list[Fault] = []
    made = []
    for line, row in _rows(path, SECTION_COLUMNS, ()):
        cells = _numbers(row, SECTION_COLUMNS, line, faults)
        if len(cells) == len(SECTION_COLUMNS):
            power, speed, spot, face, root = cells
            try:
                made.append((Shot(power, speed, 0.5 * spot, thickness_mm), Section(face, root)))
            except InputError as error:
                faults.append(Fault(error.field, str(error.value), error.unit, error.must, error.remedy, line))
    if faults:
        raise FileFaults(str(path), faults)
    return tuple(made)


def _rows(path: Path, columns: Sequence[str], more: Sequence[str]) -> list[tuple[int, dict[str, str]]]:
    try:
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as problem:
        raise InputError(
            "file", str(path), "", f"a readable text file ({type(problem).__name__})", "name another"
        ) from None
    reader = csv.DictReader(text.splitlines())
    head = [(name or "").strip() for name in reader.fieldnames or ()]
    missing = [c for c in columns if c not in head]
    strange = [c for c in head if c not in (*columns, *more)]
    if missing or strange:
        said = f"without {', '.join(missing)}" if missing else f"with {', '.join(strange)}"
        must = ", ".join((*columns, *(f"{m} (may be left out)" for m in more)))
        raise FileFaults(str(path), [Fault("head", said, "", must, REMEDY, 1)])
    return [
        (reader.line_num, {(k or "").strip(): v or "" for k, v in row.items() if isinstance(v, str | None)})
        for row in reader
        if any(isinstance(v, str) and v.strip() for v in row.values())
    ]


def _numbers(row: dict[str, str], columns: Sequence[str], line: int, faults: list[Fault]) -> list[float]:
    found = []
    for column in columns:
        try:
            number = float(row.get(column, ""))
        except ValueError:
            number = float("nan")
        if number - number != 0.0:
            faults.append(Fault(column, repr(row.get(column, "")), "", "a finite number", REMEDY, line))
        else:
            found.append(number)
    return found
