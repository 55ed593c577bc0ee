"""Do the washers float, seal and stay pressed?"""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from hoopwright.desk.hot_build import HotReport, headline, hot_plan, seal_files, written
from hoopwright.plan.hot.as_json import data_text, seal_data

FIRST = (
    "float/needed-steady",
    "float/needed-cycle",
    "float/overlap-inside",
    "float/overlap-outside",
    "leak/all-cold",
    "leak/all-hot",
    "leak/share",
    "by-hand/leak",
    "spring/stiffness",
    "by-hand/stiffness",
    "spring/load-hot",
    "spring/load-hot-worst",
    "spring/stress-worst",
)


def seal(
    path: Path, folder: Path | None, history: Path | None, date: dt.date, shop_folder: Path | None = None
) -> HotReport:
    """Float, clearance, leak and springs of a liner file.

    Raises
    ------
    FileFaults, InputError, CardError, RangeError
        See `hot_plan`.
    """
    plan = hot_plan(path, history, shop_folder)
    files = written(folder, seal_files(plan, date) if folder is not None else {})
    first = headline(plan.seal_figures, FIRST)
    return HotReport(plan.job.liner.id, plan.mark, first, plan.seal_findings, files, data_text(seal_data(plan)))
