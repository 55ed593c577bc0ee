"""Tables of a ring as a spreadsheet (XLSX): computed values, with the formula that gives the same beside them.

Text is written as text whatever it begins with, so that nothing in a name can run as a formula. Same input, same bytes.
"""

from __future__ import annotations

import datetime as dt
import importlib
import io
import re
import zipfile
from collections.abc import Sequence
from typing import Any

from hoopwright.errors import InputError
from hoopwright.papers.pictures.ring_drawing import control_name
from hoopwright.papers.pictures.roll_contours import corner_points
from hoopwright.plan.ring_tools import RingTools

EPOCH = (1980, 1, 1, 0, 0, 0)
Cell = str | float | int | None


class Formula(str):
    """A cell that is meant to be a formula."""


def library() -> Any:
    """The spreadsheet library, imported when it is needed."""
    try:
        return importlib.import_module("openpyxl")
    except ImportError:
        raise InputError(
            "spreadsheet library (openpyxl)",
            "not installed",
            "",
            "installed to write tables",
            "install hoopwright again",
        ) from None


def put(sheet: Any, row: int, column: int, value: Cell) -> None:
    """Write a cell; text stays text."""
    cell = sheet.cell(row=row, column=column)
    if isinstance(value, str) and not isinstance(value, Formula):
        cell.value = value
        cell.data_type = "s"
        cell.quotePrefix = value[:1] in "=+-@\t\r"
    else:
        cell.value = value if not isinstance(value, Formula) else str(value)


def written_sheet(book: Any, title: str, rows: Sequence[Sequence[Cell]]) -> None:
    """Rows as a sheet of a workbook, the first one its heading."""
    sheet = book.create_sheet(title)
    for r, row in enumerate(rows, start=1):
        for c, value in enumerate(row, start=1):
            put(sheet, r, c, value)
    widths = [
        max((len(f"{row[c]}") for row in rows if c < len(row) and row[c] is not None), default=8)
        for c in range(max(map(len, rows)))
    ]
    for c, width in enumerate(widths):
        sheet.column_dimensions[chr(65 + c % 26)].width = min(60, width + 2)
    sheet.freeze_panes = "A2"


def tables_xlsx(tools: RingTools, date: dt.date) -> bytes:
    """Stop table, figures, points of rolls and segments, holes, stock, route."""
    book = library().Workbook()
    book.remove(book.active)
    written_sheet(book, "stop table", stop_rows(tools))
    written_sheet(book, "figures", figure_rows(tools))
    written_sheet(book, "rolls", point_rows(tools))
    written_sheet(book, "segments", segment_rows(tools))
    written_sheet(book, "holes", hole_rows(tools))
    written_sheet(book, "stock", stock_rows(tools))
    written_sheet(book, "route", route_rows(tools))
    book.properties.creator = "hoopwright"
    book.properties.title = f"{tools.plan.job.ring.id}, inputs {tools.plan.mark}"
    book.properties.created = dt.datetime(date.year, date.month, date.day)
    raw = io.BytesIO()
    book.save(raw)
    return steady(raw.getvalue(), date)


def steady(data: bytes, date: dt.date) -> bytes:
    """The same file with all its time stamps set to the paper's date."""
    stamp = f"{date.isoformat()}T00:00:00Z".encode()
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            content = old.read(name)
            if name == "docProps/core.xml":
                content = re.sub(rb"(<dcterms:modified[^>]*>)[^<]*", rb"\g<1>" + stamp, content)
            info = zipfile.ZipInfo(name, EPOCH)
            info.compress_type = zipfile.ZIP_DEFLATED
            new.writestr(info, content)
    return out.getvalue()


def stop_rows(tools: RingTools) -> list[list[Cell]]:
    """The stop table, each loaded size computed and as a formula of its stop."""
    plan = tools.plan
    names = [control_name(c) for c in plan.job.ring.controls]
    per_mm = plan.figure("stop/girth-per-mm").value
    full = plan.settings.stops[-1].stop_mm
    rows: list[list[Cell]] = [["girth diameter for 1 mm of pin", per_mm, "full stop", full]]
    head: list[Cell] = ["pin stop [mm]", "shim [mm]", "shim, formula"]
    for name in names:
        head += [f"{name}, loaded [mm]", f"{name}, loaded, formula", f"{name}, free [mm]"]
    rows.append(head)
    middle = next(k for k, row in enumerate(plan.sizing.table) if abs(row.shim_mm) < 1e-9)
    for k, row in enumerate(plan.sizing.table):
        at = k + 3
        cells: list[Cell] = [row.stop_mm, row.shim_mm, Formula(f"=A{at}-$D$1")]
        for n, (loaded, free) in enumerate(zip(row.loaded_mm, row.free_mm, strict=True)):
            column = chr(ord("D") + 3 * n)
            cells += [loaded, Formula(f"=${column}${middle + 3}+$B$1*B{at}"), free]
        rows.append(cells)
    return rows


def figure_rows(tools: RingTools) -> list[list[Cell]]:
    """Every figure of the plan with its working in words."""
    rows: list[list[Cell]] = [["identity", "name", "value", "unit", "low", "high", "ground", "formula in words"]]
    for f in tools.plan.figures:
        low, high = (f.band.low, f.band.high) if f.band is not None else (None, None)
        rows.append([f.identity, f.name, f.value, f.unit, low, high, f.source.basis, f.formula])
    return rows


def point_rows(tools: RingTools) -> list[list[Cell]]:
    """Points of both roll contours, with diameters as formulas."""
    pair = tools.plan.passes.rolls
    rows: list[list[Cell]] = [
        [
            "point",
            "inner x",
            "inner R",
            "then arc",
            "inner Ø, formula",
            "outer x",
            "outer R",
            "then arc",
            "outer Ø, formula",
        ]
    ]
    for k, (a, b) in enumerate(zip(corner_points(pair.inner), corner_points(pair.outer), strict=True), start=1):
        rows.append([k, *a, Formula(f"=2*C{k + 1}"), *b, Formula(f"=2*G{k + 1}")])
    return rows


def segment_rows(tools: RingTools) -> list[list[Cell]]:
    """Points of the segment profile, as ground."""
    rows: list[list[Cell]] = [["point", "z", "R", "then arc", "Ø, formula"]]
    for k, point in enumerate(corner_points(tools.plan.sizing.surface.profile), start=1):
        rows.append([k, *point, Formula(f"=2*C{k + 1}")])
    return rows


def hole_rows(tools: RingTools) -> list[list[Cell]]:
    """Hole table, area of each as a formula."""
    rows: list[list[Cell]] = [
        ["hole", "no.", "Ø [mm]", "z [mm]", "from seam [deg]", "on the liner [deg]", "area [mm2], formula"]
    ]
    for k, r in enumerate(tools.plan.holes.rows, start=2):
        rows.append(
            [r.pattern, r.number, r.diameter_mm, r.z_mm, r.from_seam_deg, r.theta_deg, Formula(f"=PI()*C{k}^2/4")]
        )
    return rows


def stock_rows(tools: RingTools) -> list[list[Cell]]:
    """Radii through the stages; what is left to grind as formulas."""
    rows: list[list[Cell]] = [
        [
            "tool",
            "radius of",
            "roughed",
            "turned",
            "hardened, least",
            "hardened, most",
            "ground",
            "left, least, formula",
            "left, most, formula",
        ]
    ]
    for made in tools.made:
        for s in made.stock.stages if made.stock else ():
            at = len(rows) + 1
            rows.append(
                [
                    made.id,
                    s.name,
                    s.roughed_mm,
                    s.turned_mm,
                    s.hardened_low_mm,
                    s.hardened_high_mm,
                    s.ground_mm,
                    Formula(f"=E{at}-G{at}"),
                    Formula(f"=F{at}-G{at}"),
                ]
            )
    return rows


def route_rows(tools: RingTools) -> list[list[Cell]]:
    """Operations with hours, cost as a formula."""
    rate = tools.shelf.room.rate_per_h.value
    rows: list[list[Cell]] = [["tool", "operation", "at", "work", "hours", "rate", "cost", "cost, formula"]]
    for made in tools.made:
        for w in made.works:
            at = len(rows) + 1
            rows.append([made.id, w.number, w.machine, w.text, w.hours, rate, w.hours * rate, Formula(f"=E{at}*F{at}")])
    return rows
