"""The hot build of a liner file: read, plan, and what leaves the desk for growth and for seals."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from pathlib import Path

from hoopwright.design.liner_reading import cards_folder, read_liner
from hoopwright.design.shapes import Liner
from hoopwright.desk.folders import checked_target, write_whole
from hoopwright.errors import InputError
from hoopwright.findings import Figure, Finding
from hoopwright.plan.hot.as_json import data_text, grow_data, seal_data
from hoopwright.plan.hot.history import History, read_history
from hoopwright.plan.hot.hot_plan import HotPlan, plan_hot


@dataclass(frozen=True, slots=True)
class HotReport:
    """What a command shows. headline : the figures to look at first; files : written, empty where no folder was
    named."""

    liner: str
    mark: str
    headline: tuple[Figure, ...]
    findings: tuple[Finding, ...]
    files: tuple[Path, ...]
    text: str

    @property
    def stops(self) -> int:
        """How many findings say stop."""
        return sum(finding.level == "stop" for finding in self.findings)


def hot_plan(path: Path, history: Path | None = None, shop_folder: Path | None = None) -> HotPlan:
    """The hot build of a liner file; its own history file is read where no other is named.

    Raises
    ------
    FileFaults, InputError, CardError, RangeError
        See `read_liner`, `read_history` and `plan_hot`.
    """
    liner = read_liner(path, shop_folder)
    folder = shop_folder or cards_folder(path)
    return plan_hot(liner, folder, history_of(liner, path, history))


def history_of(liner: Liner, path: Path, history: Path | None) -> History | None:
    """The history named on the command line, else the one the liner file names, beside or below it."""
    if history is not None:
        return read_history(history)
    name = None if liner.thermal is None else liner.thermal.history_file
    if not name:
        return None
    inside = Path(name)
    if inside.is_absolute() or ".." in inside.parts:
        raise InputError("thermal.history_file", name, "", "beside or below the liner file", "move the file there")
    return read_history(path.parent / inside)


def headline(figures: tuple[Figure, ...], ends: tuple[str, ...]) -> tuple[Figure, ...]:
    """Figures whose identities end so, in this order."""
    return tuple(f for end in ends for f in figures if f.identity.endswith(end))


def written(folder: Path | None, files: dict[str, bytes]) -> tuple[Path, ...]:
    """Write into a folder, whole or not at all; nothing where none is named."""
    if folder is None:
        return ()
    checked_target(folder)
    return write_whole(folder, files)


def grow_files(plan: HotPlan, date: dt.date) -> dict[str, bytes]:
    """Growth sheet as PDF and JSON, and its pictures as SVG."""
    from hoopwright.papers.drawing.svg import svg
    from hoopwright.papers.hot.growth_sheet import gap_picture, growth_pdf, overlay_of

    files = {
        "growth.json": data_text(grow_data(plan)).encode(),
        "growth-sheet.pdf": growth_pdf(plan, date),
        "cold-hot.svg": svg(overlay_of(plan), 2.0).encode(),
    }
    for gap in plan.joints.gaps:
        files[f"gap-{gap.key}.svg"] = svg(gap_picture(plan, gap), 1.0).encode()
    return files


def seal_files(plan: HotPlan, date: dt.date) -> dict[str, bytes]:
    """Seal sheet, washer drawing and spring load sheet as PDF, and the figures as JSON."""
    from hoopwright.papers.hot.seal_sheet import seal_pdf
    from hoopwright.papers.hot.spring_sheet import spring_pdf
    from hoopwright.papers.hot.washer_drawing import washer_pdf

    liner = plan.job.liner
    files = {"seal.json": data_text(seal_data(plan)).encode(), "seal-sheet.pdf": seal_pdf(plan, date)}
    if liner.washer is not None:
        files[f"{liner.washer.id}-washer.pdf"] = washer_pdf(plan, date)
    if liner.spring_plate is not None:
        files[f"{liner.spring_plate.id}-spring-load.pdf"] = spring_pdf(plan, date)
    return files


def hot_files(liner: Liner, shop_folder: Path | None, date: dt.date) -> tuple[dict[str, bytes], HotPlan]:
    """Everything of the hot build, for a plan of the whole liner."""
    plan = plan_hot(liner, shop_folder)
    files = {f"hot/{name}": content for name, content in {**grow_files(plan, date), **seal_files(plan, date)}.items()}
    return files, plan
