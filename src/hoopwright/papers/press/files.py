"""Every paper and DXF of a pressed end plate by file name."""

from __future__ import annotations

import datetime as dt
from typing import Final

from hoopwright.papers.blocks import Block
from hoopwright.papers.drawing.dxf import Layer, dxf
from hoopwright.papers.drawing.pdf import pdf
from hoopwright.papers.dxf_blank import SHEET_MM
from hoopwright.papers.dxf_tools import turned_dxf
from hoopwright.papers.press.common import pages
from hoopwright.papers.press.pictures import blank_drawing
from hoopwright.papers.press.plan_sheets import blank_blocks, plan_blocks, try_out_blocks
from hoopwright.papers.press.tool_sheets import flange_blocks, pad_blocks
from hoopwright.papers.scales import fitting
from hoopwright.plan.plate.plate_plan import PlatePlan
from hoopwright.plan.plate.plate_tools import PlateTools

BLANK_LAYERS: Final = (
    Layer("CUT", "outlines to cut, closed", "wide"),
    Layer("MARK", "centre lines and rolling direction", "narrow"),
)


def plan_papers(plan: PlatePlan, date: dt.date) -> dict[str, bytes]:
    """Pressing plan, blank and try-out record, and the blank's DXF."""
    name = plan.job.plate.id
    pressing = ("press-pads", "press-flanges")
    rows: tuple[tuple[str, str, list[Block], tuple[str, ...], tuple[str, ...]], ...] = (
        ("pressing-plan", "Pressing plan", plan_blocks(plan), (), ("cut", "press", "trim")),
        ("press-blank", "Blank of the end plate", blank_blocks(plan), ("blank",), ("cut",)),
        ("press-try-out", "Try-out of the press tools", try_out_blocks(plan), pressing, ("press",)),
    )
    files = {
        f"{name}-{key}.pdf": pdf(pages(plan, name, purpose, blocks, chapters, kinds, date), f"{name}: {purpose}", date)
        for key, purpose, blocks, chapters, kinds in rows
    }
    wide = 2.0 * plan.flanges.setting.blank_outer
    scale = fitting(wide, wide, *SHEET_MM)
    files[f"{name}-blank.dxf"] = dxf(blank_drawing(plan, scale, True), BLANK_LAYERS, scale)
    return files


def tool_papers(tools: PlateTools, kind: str, date: dt.date) -> dict[str, bytes]:
    """Sheet and DXF of one press tool."""
    plan = tools.plan
    name = f"{plan.job.plate.id}-{kind}"
    if kind == "D":
        blocks, chapters, purpose = pad_blocks(tools), ("port", "press-pads"), "Press tool: pads and lips"
        pads = tools.pads
        assert pads is not None
        sections = {
            "die-cavity": pads.cavity(pads.face_z),
            "pad-punch": pads.punch_section(),
            "plunger": pads.plunger_section(),
            "holder-hole": pads.holder_hole(0.5 * pads.thickness_mm),
        }
    else:
        blocks, chapters, purpose = flange_blocks(tools), ("flanges", "press-flanges"), "Press tool: flanges"
        sections = {key.replace(" ", "-"): section for key, section in tools.flanges.sections().items()}
    drawn = pages(plan, name, purpose, blocks, chapters, ("press",), date)
    files = {f"{name}.pdf": pdf(drawn, f"{name}: {purpose}", date)}
    files |= {f"{name}-{key}.dxf": turned_dxf(f"{name} {key}", section) for key, section in sections.items()}
    return files
