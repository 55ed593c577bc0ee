"""The whole tool package: solids with their checks, sheets, DXF and tables of every tool; one tool; one paper."""

from __future__ import annotations

import dataclasses
import datetime as dt
import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from hoopwright.design.demo import demo_liner
from hoopwright.design.liner_reading import cards_folder, read_liner
from hoopwright.design.shapes import Liner
from hoopwright.desk.folders import checked_target, write_whole
from hoopwright.errors import HoopwrightError, InputError
from hoopwright.findings import Check, Finding, gravest_first
from hoopwright.plan.liner_plan import LinerPlan, plan_liner
from hoopwright.plan.liner_tools import LinerTools, tools_of_liner
from hoopwright.plan.ring_plan import plan_ring
from hoopwright.plan.ring_tools import RingTools, tool_room_shelf, tools_of
from hoopwright.plan.shelf import Shelf

Tell = Callable[[str], None]

DEMO_DATE = dt.date(2031, 3, 1)
"""Date on the papers of the demonstration, so that its files are the same bytes every day."""

PAPER_NAMES: tuple[str, ...] = (
    "definition",
    "blank-nest",
    "pass-card",
    "roll-pair",
    "heat-treat",
    "set-blank",
    "set-wire",
    "set-ground",
    "small-tools",
    "machine-card",
    "route-card",
    "tool-labels",
    "trim-holes",
    "inspection",
    "try-out",
    "sizing-record",
)
"""Papers of a ring by name, in the order of use (the makers are in papers.shop.register, which is heavy to import)."""


@dataclass(frozen=True, slots=True)
class Package:
    """What the tools add to a plan. files : path below the folder and content. refused : tool and reason."""

    files: dict[str, bytes]
    findings: tuple[Finding, ...]
    refused: tuple[tuple[str, str], ...]

    @property
    def stops(self) -> int:
        """Findings that stop a tool."""
        return sum(finding.level == "stop" for finding in self.findings)


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


def package_files(plan: LinerPlan, shop_folder: Path | None, date: dt.date, tell: Tell) -> Package:
    """Everything of every ring's tools; what cannot be built is named in `refused` and leaves no file.

    Raises
    ------
    InputError
        The CAD library is not installed.
    """
    from hoopwright.papers.dxf_tools import pin_dxf
    from hoopwright.papers.shop.tool_plan import tool_plan_pdf
    from hoopwright.tools.solids import require_library

    require_library()
    tools = tools_of_liner(plan, shop_folder)
    files: dict[str, bytes] = {}
    findings, refused = list(tools.findings), list(tools.refused)
    for ring in tools.rings:
        name = ring.plan.job.ring.id
        tell(f"{name}: solids and sheets")
        made, found, not_built = ring_package(ring, date)
        files |= {f"{name}/{file}": content for file, content in made.items()}
        findings += found
        refused += not_built
    if tools.pin is not None:
        tell(f"{plan.liner.id}: pin and tool plan")
        made, found = pin_package(tools, date)
        files |= {f"tools/{file}": content for file, content in made.items()}
        files[f"tools/{tools.pin.name}.dxf"] = pin_dxf(tools.pin)
        files[f"tools/{plan.liner.id}-tool-plan.pdf"] = tool_plan_pdf(tools, date)
        findings += found
    return Package(files, gravest_first(findings), tuple(refused))


def ring_package(
    tools: RingTools, date: dt.date
) -> tuple[dict[str, bytes], tuple[Finding, ...], list[tuple[str, str]]]:
    """Files, findings and refusals of one ring."""
    from hoopwright.papers.dxf_tools import tool_dxfs
    from hoopwright.papers.shop.kit import paper_pdf
    from hoopwright.papers.shop.register import PAPERS
    from hoopwright.papers.tables_xlsx import tables_xlsx
    from hoopwright.plan.ring_solids import KINDS

    ring = tools.plan.job.ring.id
    files = {f"papers/{ring}-{name}.pdf": paper_pdf(tools, make(tools), date) for name, make in PAPERS.items()}
    files[f"{ring}-tables.xlsx"] = tables_xlsx(tools, date)
    files |= {f"tools/{name}": content for name, content in tool_dxfs(tools).items()}
    findings: list[Finding] = []
    refused: list[tuple[str, str]] = []
    for kind in KINDS:
        try:
            made, _, found = solid_files(tools, kind, date)
        except HoopwrightError as refusal:
            refused.append((f"{ring}-{kind}", str(refusal)))
            continue
        files |= {f"tools/{name}": content for name, content in made.items()}
        findings += found
    return files, tuple(findings), refused


def solid_files(
    tools: RingTools, kind: str, date: dt.date
) -> tuple[dict[str, bytes], tuple[Check, ...], tuple[Finding, ...]]:
    """STEP, glb and STL of one tool with its standing checks as JSON."""
    from hoopwright.plan.ring_solids import solids_of
    from hoopwright.tools.solids import glb_bytes, step_bytes, stl_bytes

    made = solids_of(tools, kind)
    files: dict[str, bytes] = {}
    for stem, bodies in made.files:
        files[f"{stem}.step"] = step_bytes(bodies, stem, date)
        if not stem.endswith("-as-ground"):
            # nobody prints or looks at the set between its spacers: STEP alone is for the grinder's programme
            files[f"{stem}.glb"] = glb_bytes(bodies)
            files[f"{stem}.stl"] = stl_bytes(bodies)
    files[f"{made.tool}-checks.json"] = checks_json(made.tool, tools.plan.mark, made.checks)
    return files, made.checks, made.findings


def pin_package(tools: LinerTools, date: dt.date) -> tuple[dict[str, bytes], tuple[Finding, ...]]:
    """Files and findings of the one pin."""
    from hoopwright.tools.solids import glb_bytes, step_bytes, stl_bytes
    from hoopwright.tools.standing_checks import check_pin

    assert tools.pin is not None
    name = tools.pin.name
    checked = check_pin(name, tools.pin, tools.shelf.room)
    files = {
        f"{name}.step": step_bytes(checked.bodies, name, date),
        f"{name}.glb": glb_bytes(checked.bodies),
        f"{name}.stl": stl_bytes(checked.bodies),
        f"{name}-checks.json": checks_json(name, tools.plan.mark, checked.checks),
    }
    return files, checked.findings


def checks_json(tool: str, mark: str, checks: tuple[Check, ...]) -> bytes:
    """Standing checks as JSON."""
    rows = [{**dataclasses.asdict(check), "ok": check.ok} for check in checks]
    return (json.dumps({"tool": tool, "inputs": mark, "checks": rows}, indent=1, ensure_ascii=False) + "\n").encode()


def _liner(path: Path | None, shop_folder: Path | None) -> tuple[Liner, Shelf]:
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
) -> ToolReport:
    """Build one tool of a liner file (the demonstration's where none is named) and write its files.

    Parameters
    ----------
    tool : ring and kind ("HD-402-S"), or the liner's pin ("HD-400-P").

    Raises
    ------
    InputError
        No such tool; no CAD library; a folder that holds other things. Nothing is written then.
    GeometryError
        The CAD library cannot build it; the message names part, operation and remedy.
    """
    if folder is not None:
        checked_target(folder)
    liner, shelf = _liner(path, shop_folder)
    day = _date(path, date)
    if tool == f"{liner.id}-P":
        tools = tools_of_liner(plan_liner(liner, shelf), shelf.shop_folder)
        if tools.pin is None:
            raise InputError("tool", tool, "", "of a ring that can be planned", "mend the rings first")
        from hoopwright.papers.dxf_tools import pin_dxf
        from hoopwright.tools.standing_checks import check_pin

        checks = check_pin(tool, tools.pin, tools.shelf.room).checks
        files, found = pin_package(tools, day)
        files[f"{tool}.dxf"] = pin_dxf(tools.pin)
        return ToolReport(tool, tools.plan.mark, checks, found, _put(folder, files))
    ring, kind = _ring_and_kind(tool, liner)
    made = tools_of(plan_ring(liner, ring, shelf), tool_room_shelf(shelf.shop_folder))
    files, checks, found = solid_files(made, kind, day)
    files |= _dxf_of(made, kind) | _papers_of(made, kind, day)
    return ToolReport(tool, made.plan.mark, checks, found, _put(folder, files))


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
    from hoopwright.plan.ring_solids import KINDS

    ring, _, kind = tool.rpartition("-")
    rings = [r.id for r in liner.rings]
    if ring not in rings or kind not in KINDS:
        known = f"a ring ({', '.join(rings)}) with -{', -'.join(KINDS)}, or {liner.id}-P"
        raise InputError("tool", tool, "", known, f"name one of these, such as {rings[0]}-S")
    return ring, kind


def make_paper(
    name: str,
    ring: str,
    path: Path | None = None,
    folder: Path | None = None,
    date: dt.date | None = None,
    shop_folder: Path | None = None,
) -> PaperReport:
    """Write one paper of one ring; no CAD library is needed.

    Raises
    ------
    InputError
        No such paper or ring.
    """
    from hoopwright.papers.shop.kit import paper_pdf, title_of
    from hoopwright.papers.shop.register import PAPERS, paper_of

    if name not in PAPERS:
        raise InputError("paper", name, "", f"one of {', '.join(PAPERS)}", "name one of these")
    if folder is not None:
        checked_target(folder)
    liner, shelf = _liner(path, shop_folder)
    tools = tools_of(plan_ring(liner, ring, shelf), tool_room_shelf(shelf.shop_folder))
    paper, day = paper_of(tools, name), _date(path, date)
    content = paper_pdf(tools, paper, day)
    held = title_of(tools, paper, day).held
    return PaperReport(name, ring, tools.plan.mark, held, _put(folder, {f"{ring}-{name}.pdf": content}))


def _put(folder: Path | None, files: dict[str, bytes]) -> tuple[Path, ...]:
    return () if folder is None else write_whole(folder, files)
