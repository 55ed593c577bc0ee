"""Trials and sections as CSV files: a head with the names of the columns, a row a weld."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from hoopwright.errors import Fault, FileFaults, InputError
from hoopwright.kernels.heat_absorbed import Section, Shot
from hoopwright.plan.seam.table_file import flag, numbers, table_rows
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


def read_trials(path: Path) -> tuple[WeldTrial, ...]:
    """Trials of a file; the column `burnt` (1 or 0) may be left out; a burnt weld has no readings.

    Raises
    ------
    FileFaults
        Every fault of the file, with its line.
    """
    rows = table_rows(path, TRIAL_COLUMNS, ("burnt",))
    faults: list[Fault] = []
    made = []
    for line, row in rows:
        burnt = flag(row, "burnt", line, faults)
        wanted = TRIAL_COLUMNS[:4] if burnt else TRIAL_COLUMNS
        cells = numbers(row, wanted, line, faults)
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
    for line, row in table_rows(path, SECTION_COLUMNS, ()):
        cells = numbers(row, SECTION_COLUMNS, line, faults)
        if len(cells) == len(SECTION_COLUMNS):
            power, speed, spot, face, root = cells
            try:
                made.append((Shot(power, speed, 0.5 * spot, thickness_mm), Section(face, root)))
            except InputError as error:
                faults.append(Fault(error.field, str(error.value), error.unit, error.must, error.remedy, line))
    if faults:
        raise FileFaults(str(path), faults)
    return tuple(made)
