"""How does this liner grow, and do its joints stay open?"""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from hoopwright.desk.hot_build import HotReport, grow_files, headline, hot_plan, written
from hoopwright.plan.hot.as_json import data_text, grow_data
from hoopwright.plan.hot.cold import cold_from_hot

FIRST = (
    "growth/ports-axial",
    "growth/ports-radial",
    "growth/aft-lip-axial",
    "growth/chain-inner",
    "growth/chain-outer",
    "joints/aft-radial-gap/steady",
    "joints/aft-radial-gap/least",
    "joints/nozzle-slide/steady",
    "joints/port-shift/steady",
)


def grow(
    path: Path, folder: Path | None, history: Path | None, date: dt.date, shop_folder: Path | None = None
) -> HotReport:
    """Growth, joints through time, constraint stress and the stack at the aft groove of a liner file.

    Raises
    ------
    FileFaults, InputError, CardError, RangeError
        See `hot_plan`.
    """
    plan = hot_plan(path, history, shop_folder)
    files = written(folder, grow_files(plan, date) if folder is not None else {})
    first = headline(plan.grow_figures, FIRST)
    return HotReport(plan.job.liner.id, plan.mark, first, plan.grow_findings, files, data_text(grow_data(plan)))


def cold_lines(path: Path, shop_folder: Path | None = None) -> tuple[str, ...]:
    """Cold radii at the joints and ends if the sections of the file were the hot ones, a line a station."""
    plan = hot_plan(path, None, shop_folder)
    found = cold_from_hot(plan.job)
    lines = []
    for k, (part, meridian) in enumerate(zip(plan.job.parts, found.strands, strict=True)):
        marks = {"first edge": 0.0, "last edge": part.section.length}
        marks |= {
            f"weld {t.joint.id}": t.outer_s_mm if k == t.outer else t.inner_s_mm
            for t in plan.job.ties
            if k in (t.outer, t.inner)
        }
        for name, s in sorted(marks.items(), key=lambda item: item[1]):
            node = meridian.node_at(s)
            lines.append(f"{part.id}, {name}: cold z {meridian.z[node]:.3f}, cold r {meridian.r[node]:.3f} mm")
    lines.append(f"settled after {len(found.residual)} turns, residual {found.residual[-1]:.1e} mm")
    return tuple(lines)
