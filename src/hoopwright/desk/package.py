"""The whole tool package of a liner: solids with their checks, sheets, DXF and tables of every tool."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from hoopwright.desk.paper_names import DEMO_DATE, PAPER_NAMES
from hoopwright.desk.solid_files import pin_solid_files, solid_files
from hoopwright.errors import HoopwrightError
from hoopwright.findings import Finding, gravest_first
from hoopwright.plan.liner_plan import LinerPlan
from hoopwright.plan.liner_tools import LinerTools, tools_of_liner
from hoopwright.plan.ring_tools import RingTools

__all__ = ["DEMO_DATE", "PAPER_NAMES", "Package", "package_files", "pin_package", "ring_package"]

Tell = Callable[[str], None]


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


def package_files(plan: LinerPlan, shop_folder: Path | None, date: dt.date, tell: Tell) -> Package:
    """Everything of every ring's tools; what cannot be built is named in `refused` and leaves no file.

    Raises
    ------
    InputError
        The CAD library is not installed.
    """
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
    from hoopwright.tools.tool_solids import KINDS

    ring = tools.plan.job.ring.id
    files = {f"papers/{ring}-{name}.pdf": paper_pdf(tools, make(tools), date) for name, make in PAPERS.items()}
    files[f"{ring}-tables.xlsx"] = tables_xlsx(tools, date)
    files |= {f"tools/{name}": content for name, content in tool_dxfs(tools).items()}
    findings: list[Finding] = []
    refused: list[tuple[str, str]] = []
    forms = tools.forms
    for kind in KINDS:
        try:
            made, _, found = solid_files(forms, kind, date)
        except HoopwrightError as refusal:
            refused.append((f"{ring}-{kind}", str(refusal)))
            continue
        files |= {f"tools/{name}": content for name, content in made.items()}
        findings += found
    return files, tuple(findings), refused


def pin_package(tools: LinerTools, date: dt.date) -> tuple[dict[str, bytes], tuple[Finding, ...]]:
    """Files and findings of the one pin."""
    from hoopwright.papers.dxf_tools import pin_dxf

    if tools.pin is None:
        return {}, ()
    files, _, found = pin_solid_files(tools.pin, tools.shelf.room, tools.plan.mark, date)
    return files | {f"{tools.pin.name}.dxf": pin_dxf(tools.pin)}, found
