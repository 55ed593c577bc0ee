"""A job folder with the demonstration in its records, made once and copied for each test. Expected sizes are plain
figures near those of a plan, so that no plan has to be made."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any

from hoopwright.desk.take_files import take

DEMO = Path(__file__).parents[2] / "examples" / "demo"
SIZES = {1: (39.85, 246.701, 247.402, 247.297, 247.996), 2: (40.70, 246.900, 247.600, 247.500, 248.199)}
"""Of each hit: stop, free land and lip, the same on the segments. [mm]"""


def plan_of(mark: str = "2c09 a168", shift: float = 0.0) -> dict[str, Any]:
    """A plan of HD-402 as `plan.json` has it, with the entries that the records take."""

    def figure(name: str, value: float, band: float | None = None) -> dict[str, Any]:
        shown: dict[str, Any] = {"identity": f"HD-402/{name}", "value": value}
        return shown | ({"band": {"low": value - band, "high": value + band}} if band else {})

    figures = [figure("stop/across-per-mm", 0.24557), figure("segments/count", 8.0)]
    for hit, (stop, land, lip, land_on, lip_on) in SIZES.items():
        figures += [
            figure(f"size/hit-{hit}/stop", stop),
            figure(f"size/hit-{hit}/free-land-dia", land + shift, 0.056),
            figure(f"size/hit-{hit}/free-lip-dia", lip + shift, 0.056),
            figure(f"size/hit-{hit}/loaded-land-dia", land_on + shift),
            figure(f"size/hit-{hit}/loaded-lip-dia", lip_on + shift),
        ]
    table = [
        {"stop_mm": stop, "free_mm": [land, lip], "loaded_mm": [land_on, lip_on]}
        for stop, land, lip, land_on, lip_on in ((40.0, 246.736, 247.436, 247.333, 248.032), SIZES[2])
    ]
    ring = {
        "ring": "HD-402", "mark": mark, "hits": 2, "figures": figures, "controls": ["land_id", "lip_od"],
        "stop_table": table,
    }  # fmt: skip
    return {"schema": "hoopwright-plan-1", "liner": "HD-400", "revision": "A", "rings": [ring]}


def make_job(folder: Path, plan: bool = True, readings: bool = True) -> Path:
    """Take liner, plan, register and readings of the demonstration into new records."""
    folder.mkdir(parents=True, exist_ok=True)
    take(folder, DEMO / "liner.toml", "MD")
    if plan:
        file = folder / "plan.json"
        file.write_text(json.dumps(plan_of()), encoding="utf-8")
        take(folder, file, "MD")
    take(folder, DEMO / "register.toml", "MD")
    if readings:
        take(folder, DEMO / "readings.toml", "MD")
    return folder


def copied(job: Path, folder: Path) -> Path:
    """A copy of a job that no store holds open."""
    shutil.copytree(job, folder)
    return folder
