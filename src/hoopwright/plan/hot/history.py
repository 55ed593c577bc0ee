"""Metal temperatures through time from a CSV: one row a time, one column a part, a place on a part, or a neighbour.

Columns: `time_s`; `HD-402_degC` or `HD-402@40.5_degC` (a part, or a part at z) for every ring and the end plate; and
`groove_degC`, `casing_degC`, `casing_mean_degC`, `washer_degC` where known. Straight between rows.
"""

from __future__ import annotations

import csv
import io
import math
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import Fault, FileFaults, InputError
from hoopwright.kernels.profile_crossing import levels_at
from hoopwright.plan.hot.job import HotJob, Place, place_on

Vector = NDArray[np.float64]

NEIGHBOURS = ("groove", "casing", "casing_mean", "washer")
MOST_FAULTS = 40
SWAP_K, OWN_K = 5.0, 20.0
"""Two columns whose hottest values each fit the other part within the first and miss their own by the second look
swapped: common practice, no source."""


@dataclass(frozen=True, slots=True, eq=False)
class History:
    """times : shape (n,), rising. [s] columns : name without unit to temperatures (n,). [degC]"""

    name: str
    times: Vector
    columns: dict[str, Vector]


def read_history(path: Path) -> History:
    """Read a file; see `history_from_text`."""
    try:
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as problem:
        fault = Fault(
            "history file", str(path), "", "a readable text file", f"check the path ({type(problem).__name__})"
        )
        raise FileFaults(str(path), [fault]) from None
    return history_from_text(text, str(path))


def history_from_text(text: str, name: str) -> History:
    """A history from CSV text.

    Raises
    ------
    FileFaults
        Every fault with its line: no time column, unknown units, gaps, cells that are no number, times that do not
        rise,
        temperatures that cannot be.
    """
    head = text.splitlines()[0] if text.strip() else ""
    delimiter = ";" if head.count(";") > head.count(",") else ","
    rows = [
        (n, row)
        for n, row in enumerate(csv.reader(io.StringIO(text), delimiter=delimiter), 1)
        if any(c.strip() for c in row)
    ]
    if len(rows) < 3:
        raise FileFaults(name, [Fault("rows", str(max(0, len(rows) - 1)), "", "two or more", "give the whole history")])
    titles = [cell.strip() for cell in rows[0][1]]
    faults = list(_title_faults(titles))
    if faults:
        raise FileFaults(name, faults)
    values = np.full((len(rows) - 1, len(titles)), np.nan)
    for k, (line, row) in enumerate(rows[1:]):
        if len(row) != len(titles):
            faults.append(Fault("row", f"{len(row)} cells", "", f"{len(titles)} cells", "fill every column", line))
            continue
        for c, cell in enumerate(row):
            number = _number(cell)
            if number is None:
                remedy = "measure it, or leave the row out" if not cell.strip() else "write a plain number"
                faults.append(
                    Fault(titles[c], cell.strip() or "empty", "", "a number: the history has a gap", remedy, line)
                )
            elif c and not -60.0 <= number <= 2000.0:
                faults.append(
                    Fault(titles[c], cell.strip(), "degC", "from -60 to 2000", "check the column's unit", line)
                )
            else:
                values[k, c] = number
    time = titles.index("time_s")
    faults += _time_faults(values[:, time], [line for line, _ in rows[1:]])
    if faults:
        raise FileFaults(name, faults[:MOST_FAULTS])
    columns = {t.removesuffix("_degC"): values[:, c].copy() for c, t in enumerate(titles) if c != time}
    return History(name, values[:, time].copy(), columns)


def _title_faults(titles: list[str]) -> list[Fault]:
    faults = []
    if "time_s" not in titles:
        faults.append(Fault("header", ", ".join(titles), "", "with a column time_s", "name the time column time_s", 1))
    for title in titles:
        if title != "time_s" and not title.endswith("_degC"):
            faults.append(Fault(title, "column", "", "named part_degC or part@z_degC", "put the unit into its name", 1))
        if titles.count(title) > 1:
            faults.append(Fault(title, "twice", "", "there once", "take one column out", 1))
    return faults


def _number(cell: str) -> float | None:
    try:
        number = float(cell)
    except ValueError:
        return None
    return number if math.isfinite(number) else None


def _time_faults(times: Vector, lines: list[int]) -> list[Fault]:
    faults = []
    for k in range(1, times.size):
        if np.isfinite(times[k - 1]) and np.isfinite(times[k]) and times[k] <= times[k - 1]:
            remedy = "sort the rows; if this column holds temperatures, the columns are swapped"
            faults.append(Fault("time_s", f"{times[k]:g}", "s", f"after {times[k - 1]:g}", remedy, lines[k]))
    return faults


@dataclass(frozen=True, slots=True, eq=False)
class HotTimes:
    """A job whose places are those of a history. times : (n,); warm : temperature of each place, (m, n); neighbours :
    groove and casing through time, where known. said : where the temperatures come from."""

    job: HotJob
    times: Vector
    warm: Vector
    neighbours: dict[str, Vector]
    said: str


def with_history(job: HotJob, history: History) -> HotTimes:
    """The job with the places of a history; its steady state is the row that is hottest on the mean.

    Raises
    ------
    InputError
        A part without a column, a column of no part, or two columns that look swapped.
    RangeError
        A temperature outside the card's table.
    """
    parts = []
    warm: list[Vector] = []
    used: set[str] = set()
    own = [c for c in history.columns if c.partition("@")[0] in {p.id for p in job.parts}]
    steady = int(np.argmax(np.mean([history.columns[c] for c in own], axis=0))) if own else 0
    for part in job.parts:
        names = [c for c in history.columns if c.partition("@")[0] == part.id]
        if not names:
            raise InputError(
                f"history {history.name}",
                f"no column for {part.id}",
                "",
                "with one for every ring and the plate",
                f"add {part.id}_degC",
            )
        found = sorted((_place(history, part.id, part.section, c), c) for c in names)
        for _, column in found:
            part.strain.at(history.columns[column])
            warm.append(history.columns[column])
        used |= set(names)
        places = tuple(Place(s, float(history.columns[c][steady])) for s, c in found)
        parts.append(replace(part, places=places))
    strange = set(history.columns) - used - set(NEIGHBOURS)
    if strange:
        known = ", ".join([p.id for p in job.parts] + list(NEIGHBOURS))
        raise InputError(
            f"history {history.name}", ", ".join(sorted(strange)), "", f"columns of: {known}", "rename them"
        )
    _refuse_swapped(job, history)
    neighbours = {n: history.columns[n] for n in NEIGHBOURS if n in history.columns}
    said = f"temperatures through time from {Path(history.name).name}"
    return HotTimes(replace(job, parts=tuple(parts)), history.times, np.array(warm), neighbours, said)


def _place(history: History, part: str, section: object, column: str) -> float:
    from hoopwright.kernels.profile import Profile

    assert isinstance(section, Profile)
    _, _, at = column.partition("@")
    if not at:
        return 0.5 * section.length
    z = _number(at)
    levels = levels_at(section, z) if z is not None else []
    if z is None or not levels:
        raise InputError(f"history {history.name}", column, "", f"at a z on {part}", "correct the place in its name")
    return place_on(section, (z, levels[0]))[0]


def _refuse_swapped(job: HotJob, history: History) -> None:
    stated = {p.id: p.hottest_degC for p in job.parts if p.id in history.columns}
    stated |= {k: v for k, v in _neighbours_stated(job).items() if k in history.columns}
    top = {name: float(history.columns[name].max()) for name in stated}
    for a in stated:
        for b in stated:
            crossed = abs(top[a] - stated[b]) < SWAP_K and abs(top[b] - stated[a]) < SWAP_K
            if a < b and crossed and abs(stated[a] - stated[b]) > OWN_K:
                raise InputError(
                    f"history {history.name}",
                    f"{a} reaches {top[a]:g}, {b} reaches {top[b]:g}",
                    "degC",
                    f"near the stated {stated[a]:g} and {stated[b]:g}: the columns look swapped",
                    f"exchange {a}_degC and {b}_degC, or correct the stated temperatures",
                )


def _neighbours_stated(job: HotJob) -> dict[str, float]:
    liner = job.liner
    found: dict[str, float] = {}
    if liner.turbine_nozzle is not None:
        found["groove"] = liner.turbine_nozzle.outer_groove_degC
    if liner.nozzle is not None:
        found |= {"casing": liner.nozzle.casing_degC, "casing_mean": liner.nozzle.casing_mean_degC}
    return found
