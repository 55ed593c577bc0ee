"""One tool, one paper: planned, built and written as quickly as can be.

Rooms that are slow to bring in are brought in where they are used, so that the second process starts before them.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from hoopwright.desk.folders import checked_target, write_whole
from hoopwright.desk.other_core import OtherCore
from hoopwright.desk.paper_names import DEMO_DATE, PAPER_NAMES
from hoopwright.errors import InputError
from hoopwright.findings import Check, Finding
from hoopwright.tools.solids import require_library

if TYPE_CHECKING:
    from hoopwright.design.shapes import Liner
    from hoopwright.plan.ring_tools import RingTools
    from hoopwright.plan.shelf import Shelf


@dataclass(frozen=True, slots=True)
class ToolReport:
    """One tool. checks : standing checks of its bodies. files : written; empty where no folder was named."""

    tool: str
    mark: str
    checks: tuple[Check, ...]
    findings: tuple[Finding, ...]
    files: tuple[Path, ...]

    @property
    def passed(self) -> bool:
        """Whether every standing check holds."""
        return all(check.ok for check in self.checks)


@dataclass(frozen=True, slots=True)
class PaperReport:
    """One paper of a ring. held : sentence of the stop that holds it back, "" where none does."""

    paper: str
    ring: str
    mark: str
    held: str
    files: tuple[Path, ...]


def _liner(path: Path | None, shop_folder: Path | None) -> tuple[Liner, Shelf]:
    from hoopwright.design.demo import demo_liner
    from hoopwright.design.liner_reading import cards_folder, read_liner
    from hoopwright.plan.shelf import Shelf

    if path is None:
        return demo_liner(), Shelf(shop_folder)
    return read_liner(path, shop_folder), Shelf(shop_folder or cards_folder(path))


def _date(path: Path | None, date: dt.date | None) -> dt.date:
    return date or (DEMO_DATE if path is None else dt.date.today())


def make_tool(
    tool: str,
    path: Path | None = None,
    folder: Path | None = None,
    date: dt.date | None = None,
    shop_folder: Path | None = None,
    both_cores: bool = False,
) -> ToolReport:
    """Build one tool of a liner file (the demonstration's where none is named) and write its files.

    Parameters
    ----------
    tool : ring and kind ("HD-402-S"), the liner's pin ("HD-400-P"), a press tool of its plate ("HD-420-D").
    both_cores : get ready to build the bodies in a second process while the ring is planned; only where nothing else
    runs in this one.

    Raises
    ------
    InputError
        No such tool; no CAD library; a folder that holds other things. Nothing is written then.
    GeometryError
        The CAD library cannot build it; the message names part, operation and remedy.
    """
    if folder is not None:
        checked_target(folder)
    with OtherCore(_bring_in_solids, both_cores) as other:
        liner, shelf = _liner(path, shop_folder)
        day = _date(path, date)
        if tool == f"{liner.id}-P":
            return _make_pin(other, tool, liner, shelf, folder, day)
        if liner.end_plate is not None and tool.startswith(f"{liner.end_plate.id}-"):
            return _make_press_tool(tool, liner, shelf, folder, day)
        ring, kind = _ring_and_kind(tool, liner)
        from hoopwright.desk.solid_files import solid_files
        from hoopwright.plan.ring_plan import plan_ring
        from hoopwright.plan.ring_tools import tools_of
        from hoopwright.plan.tool_making import tool_room_shelf

        made = tools_of(plan_ring(liner, ring, shelf), tool_room_shelf(shelf.shop_folder))
        solids = other.ask(solid_files, made.forms, kind, day)
        beside = _dxf_of(made, kind) | _papers_of(made, kind, day)
        files, checks, found = solids.result()
    return ToolReport(tool, made.plan.mark, checks, found, _put(folder, files | beside))


def _bring_in_solids() -> None:
    """What the building of bodies needs."""
    import_module("hoopwright.desk.solid_files")
    require_library()


def _make_pin(other: OtherCore, tool: str, liner: Liner, shelf: Shelf, folder: Path | None, day: dt.date) -> ToolReport:
    """The pin that serves every set: all rings are planned for it, no machine is scheduled."""
    from hoopwright.desk.solid_files import pin_solid_files
    from hoopwright.plan.liner_plan import plan_liner
    from hoopwright.plan.liner_tools import tools_of_liner

    tools = tools_of_liner(plan_liner(liner, shelf), shelf.shop_folder, scheduled=False)
    if tools.pin is None:
        raise InputError("tool", tool, "", "of a ring that can be planned", "mend the rings first")
    asked = other.ask(pin_solid_files, tools.pin, tools.shelf.room, tools.plan.mark, day)
    from hoopwright.papers.dxf_tools import pin_dxf

    beside = {f"{tool}.dxf": pin_dxf(tools.pin)}
    files, checks, found = asked.result()
    return ToolReport(tool, tools.plan.mark, checks, found, _put(folder, files | beside))


def _make_press_tool(tool: str, liner: Liner, shelf: Shelf, folder: Path | None, day: dt.date) -> ToolReport:
    """A press tool of the end plate: the plate is planned for it, no ring is."""
    from hoopwright.desk.pressing import press_tool

    mark, files, checks, found = press_tool(tool, liner, shelf, day)
    return ToolReport(tool, mark, checks, found, _put(folder, files))


OF_KIND: dict[str, tuple[str, ...]] = {
    "R": ("roll-pair", "pass-card"),
    "S": ("set-blank", "set-wire", "set-ground", "machine-card"),
    "B": ("small-tools",),
    "T": ("small-tools", "trim-holes"),
    "W": ("small-tools",),
}
"""Papers that go with a tool."""


def _papers_of(tools: RingTools, kind: str, date: dt.date) -> dict[str, bytes]:
    from hoopwright.papers.shop.kit import paper_pdf
    from hoopwright.papers.shop.register import paper_of

    ring = tools.plan.job.ring.id
    return {f"{ring}-{name}.pdf": paper_pdf(tools, paper_of(tools, name), date) for name in OF_KIND[kind]}


def _dxf_of(tools: RingTools, kind: str) -> dict[str, bytes]:
    from hoopwright.papers.dxf_tools import tool_dxfs

    start = f"{tools.plan.job.ring.id}-{kind}"
    return {name: content for name, content in tool_dxfs(tools).items() if name.startswith(start)}


def _ring_and_kind(tool: str, liner: Liner) -> tuple[str, str]:
    ring, _, kind = tool.rpartition("-")
    rings = [r.id for r in liner.rings]
    if ring not in rings or kind not in OF_KIND:
        known = f"a ring ({', '.join(rings)}) with -{', -'.join(OF_KIND)}, or {liner.id}-P"
        if liner.end_plate is not None:
            known += f", or the end plate's {liner.end_plate.id}-D or -F"
        raise InputError("tool", tool, "", known, f"name one of these, such as {rings[0]}-S")
    return ring, kind


def make_paper(
    name: str,
    ring: str,
    path: Path | None = None,
    folder: Path | None = None,
    date: dt.date | None = None,
    shop_folder: Path | None = None,
    kept_in: str | Path | None = None,
    by: str | None = None,
) -> PaperReport:
    """Write one paper of one ring; no CAD library is needed.

    Parameters
    ----------
    kept_in : where the records are; a paper of a superseded revision, or for a press whose set is refused, then says
        so in its head, and what is given out is kept. by : who gives it out.

    Raises
    ------
    InputError
        No such paper or ring.
    """
    from hoopwright.papers.shop.kit import paper_pdf, title_of
    from hoopwright.papers.shop.register import paper_of
    from hoopwright.plan.ring_plan import plan_ring
    from hoopwright.plan.ring_tools import tools_of
    from hoopwright.plan.tool_making import tool_room_shelf

    if name not in PAPER_NAMES:
        raise InputError("paper", name, "", f"one of {', '.join(PAPER_NAMES)}", "name one of these")
    if folder is not None:
        checked_target(folder)
    liner, shelf = _liner(path, shop_folder)
    tools = tools_of(plan_ring(liner, ring, shelf), tool_room_shelf(shelf.shop_folder))
    paper, day = paper_of(tools, name), _date(path, date)
    if kept_in is not None:
        from hoopwright.desk.paper_gate import standing_of

        paper = dataclasses.replace(paper, extra=(*paper.extra, *standing_of(kept_in, liner, ring, name)))
    content = paper_pdf(tools, paper, day)
    held = title_of(tools, paper, day).held
    if kept_in is not None and folder is not None:
        from hoopwright.desk.paper_gate import give_out

        give_out(kept_in, liner, ring, name, tools.plan.mark, content, by)
    return PaperReport(name, ring, tools.plan.mark, held, _put(folder, {f"{ring}-{name}.pdf": content}))


def _put(folder: Path | None, files: dict[str, bytes]) -> tuple[Path, ...]:
    return () if folder is None else write_whole(folder, files)
