"""What the papers of the pressed plate share: head, findings that belong on them, cautions of the press."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence

from hoopwright.findings import Figure, Finding, gravest_first
from hoopwright.papers.blocks import Block, space
from hoopwright.papers.drawing.items import Drawing
from hoopwright.papers.hot.common import INVENTED, finding_blocks, sheets, shortened
from hoopwright.papers.numbers import figure_text
from hoopwright.papers.prose import Column, heading, table
from hoopwright.papers.sheet_frame import Title
from hoopwright.papers.shop.kit import caution_blocks
from hoopwright.plan.plate.plate_plan import PlatePlan

NOT_PROVEN = "confirm at the try-out"


def title_of(plan: PlatePlan, number: str, purpose: str, findings: Sequence[Finding], date: dt.date) -> Title:
    """Head and foot; a stop among the findings holds the sheet back."""
    liner = plan.job.liner
    stops = [f for f in findings if f.level == "stop"]
    marks = ((INVENTED,) if liner.invented else ()) + (NOT_PROVEN,)
    return Title(
        number,
        purpose,
        f"{liner.id} {liner.revision}",
        liner.revision,
        plan.mark,
        date.isoformat(),
        marks,
        stops[0].sentence if stops else "",
        max(0, len(stops) - 1),
    )


def belonging(plan: PlatePlan, chapters: Sequence[str]) -> tuple[Finding, ...]:
    """Findings about the chapters of a sheet, gravest first; no chapter named is all."""
    mine = [f for f in plan.findings if not chapters or f.about.partition("/")[2].partition("/")[0] in chapters]
    return gravest_first(mine)


def of_chapters(plan: PlatePlan, chapters: Sequence[str]) -> list[Figure]:
    """Figures of some chapters, in the order of the plan."""
    return [f for f in plan.figures if f.identity.partition("/")[2].partition("/")[0] in chapters]


def pages(
    plan: PlatePlan,
    number: str,
    purpose: str,
    blocks: Sequence[Block],
    chapters: Sequence[str],
    kinds: Sequence[str],
    date: dt.date,
) -> tuple[Drawing, ...]:
    """Pages of a sheet with its findings and cautions at the end."""
    found = belonging(plan, chapters)
    shown = [f for f in found if f.level != "note"] if chapters else list(found)
    closing = finding_blocks(shown, "!") if shown else []
    closing = [heading("", "Findings that belong to this work"), *closing[1:]] if shown else []
    return sheets(title_of(plan, number, purpose, found, date), [*blocks, *closing, *caution_blocks(kinds)])


def press_table(figures: Iterable[Figure], title: str) -> list[Block]:
    """Figures one a row with their ground; a plate's figures have no bands."""
    columns = (Column("figure", 122.0, "start"), Column("value", 28.0), Column("ground", 22.0))
    rows = [(shortened(f.name, 78), figure_text(f), f.source.basis) for f in figures]
    return [*table(columns, rows, title=title), space(3.0)]
