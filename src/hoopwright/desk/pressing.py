"""The pressed end plate of a liner file: planned, and what leaves the desk for it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass

from hoopwright.design.shapes import Liner
from hoopwright.desk.solid_files import checks_json
from hoopwright.errors import HoopwrightError, InputError
from hoopwright.findings import Check, Finding
from hoopwright.plan.plate.as_json import plate_text
from hoopwright.plan.plate.plate_plan import PlatePlan, plan_plate
from hoopwright.plan.plate.plate_tools import PlateTools, checked_tool, plate_tools
from hoopwright.plan.shelf import Shelf
from hoopwright.plan.tool_making import tool_room_shelf


@dataclass(frozen=True, slots=True)
class Pressed:
    """What the end plate adds to a plan. files : path below the folder and content. summary : its line; empty without a
    plate. refused : what could not be planned or built, with the reason. findings : of plan and tools.
    """

    files: dict[str, bytes]
    summary: tuple[str, ...]
    refused: tuple[tuple[str, str], ...]
    findings: tuple[Finding, ...]

    @property
    def stops(self) -> int:
        """Findings that stop a tool or paper."""
        return sum(finding.level == "stop" for finding in self.findings)


NOTHING = Pressed({}, (), (), ())


def pressed_files(
    liner: Liner, shelf: Shelf, date: dt.date, full: bool = False, tell: Callable[[str], None] | None = None
) -> Pressed:
    """Plan and papers of the end plate, with `full` the solids of its tools too; a refusal leaves no file of it."""
    plate = liner.end_plate
    if plate is None:
        return NOTHING
    try:
        plan = plan_plate(liner, shelf, tell)
    except HoopwrightError as refusal:
        return Pressed({}, (), ((plate.id, str(refusal)),), ())
    tools = plate_tools(plan, tool_room_shelf(shelf.shop_folder))
    files = plate_papers(plan, tools, date)
    refused: list[tuple[str, str]] = []
    findings = [*plan.findings, *tools.findings]
    if full:
        for kind in tools.kinds:
            try:
                made, _, found = tool_bodies(tools, kind, date)
            except HoopwrightError as refusal:
                refused.append((f"{plate.id}-{kind}", str(refusal)))
                continue
            files |= {f"tools/{name}": content for name, content in made.items()}
            findings += found
    placed = {f"{plate.id}/{name}": content for name, content in files.items()}
    return Pressed(placed, (summary_line(plan),), tuple(refused), tuple(findings))


def plate_papers(plan: PlatePlan, tools: PlateTools, date: dt.date) -> dict[str, bytes]:
    """plate.json, pressing plan, blank, try-out, tool sheets and DXF."""
    from hoopwright.papers.press.files import plan_papers, tool_papers

    files = {"plate.json": plate_text(plan).encode()}
    for name, content in plan_papers(plan, date).items():
        files[name if name.endswith(".dxf") else f"papers/{name}"] = content
    for kind in tools.kinds:
        files |= {f"tools/{name}": content for name, content in tool_papers(tools, kind, date).items()}
    return files


def tool_bodies(
    tools: PlateTools, kind: str, date: dt.date
) -> tuple[dict[str, bytes], tuple[Check, ...], tuple[Finding, ...]]:
    """STEP, glb and STL of one press tool, shut, with its standing checks as JSON.

    Raises
    ------
    InputError
        No such tool; the CAD library is not installed.
    GeometryError
        The CAD library cannot build it.
    """
    from hoopwright.tools.solids import glb_bytes, step_bytes, stl_bytes

    checked = checked_tool(tools, kind)
    name, bodies = checked.tool, checked.bodies
    files = {
        f"{name}-shut.step": step_bytes(bodies, f"{name}-shut", date),
        f"{name}-shut.glb": glb_bytes(bodies),
        f"{name}-shut.stl": stl_bytes(bodies),
        f"{name}-checks.json": checks_json(name, tools.plan.mark, checked.checks),
    }
    return files, checked.checks, checked.findings


def press_tool(
    tool: str, liner: Liner, shelf: Shelf, date: dt.date
) -> tuple[str, dict[str, bytes], tuple[Check, ...], tuple[Finding, ...]]:
    """One press tool by number ("HD-420-D"): mark of its plan, files, checks, findings.

    Raises
    ------
    InputError
        No such tool.
    """
    from hoopwright.papers.press.files import tool_papers

    plate = liner.end_plate
    if plate is None or not is_press_tool(tool, liner):
        raise InputError("tool", tool, "", "a press tool of the end plate", "name one of its tools")
    tools = plate_tools(plan_plate(liner, shelf), tool_room_shelf(shelf.shop_folder))
    kind = tool.removeprefix(f"{plate.id}-")
    files, checks, findings = tool_bodies(tools, kind, date)
    return tools.plan.mark, files | tool_papers(tools, kind, date), checks, findings


def is_press_tool(tool: str, liner: Liner) -> bool:
    """Whether a tool's number is one of the end plate's."""
    return liner.end_plate is not None and tool.startswith(f"{liner.end_plate.id}-")


def summary_line(plan: PlatePlan) -> str:
    """The plate in one line: blank, pre-holes, press, and how many findings of each level."""
    outside, inside = plan.figure("blank/outside-dia").value, plan.figure("blank/inside-dia").value
    said = [f"blank Ø {outside:.2f} / {inside:.2f}"]
    needed = plan.figure("press-flanges/tonnage").value
    if plan.port is not None:
        hole, radius = plan.figure("port/pre-hole-dia").value, plan.figure("port/pre-hole-pitch-radius").value
        said.append(f"{plan.job.liner.ports} pre-holes Ø {hole:.3f} on R {radius:.2f}")
        needed = max(needed, plan.figure("press-pads/tonnage").value)
    said.append(f"press {needed:.0f} kN")
    count = {level: sum(f.level == level for f in plan.findings) for level in ("stop", "caution", "note")}
    levels = ", ".join(f"{n} {level}{'s' if n != 1 else ''}" for level, n in count.items() if n)
    return f"{plan.job.plate.id}: {', '.join(said)}; {levels or 'nothing found'}"
