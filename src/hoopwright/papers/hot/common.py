"""What the papers of the hot build share: pages from blocks, tables of figures, findings two abreast."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from hoopwright.findings import Figure, Finding
from hoopwright.papers.blocks import Block, beside, flowed, placed, space
from hoopwright.papers.drawing.items import Drawing, Item
from hoopwright.papers.drawing.pdf import pdf
from hoopwright.papers.numbers import band_text, figure_text
from hoopwright.papers.prose import Column, finding_block, heading, paragraph, table
from hoopwright.papers.sheet_frame import INNER_LEFT, INNER_WIDTH, Title, framed, text_room, text_top

if TYPE_CHECKING:
    # the shop's sheets share these blocks and have no need of the hot plan's solvers
    from hoopwright.plan.hot.hot_plan import HotPlan

INVENTED = "demonstration, all data invented"


def title_of(plan: HotPlan, number: str, purpose: str, findings: Sequence[Finding], date: dt.date) -> Title:
    """Head and foot of a sheet of this plan; a stop holds it back."""
    liner = plan.job.liner
    stops = [f for f in findings if f.level == "stop"]
    return Title(
        number,
        purpose,
        f"{liner.id} rev {liner.revision}",
        liner.revision,
        plan.mark,
        date.isoformat(),
        (INVENTED,) if liner.invented else (),
        stops[0].sentence if stops else "",
        max(0, len(stops) - 1),
    )


def sheets(title: Title, blocks: Sequence[Block]) -> tuple[Drawing, ...]:
    """Pages from blocks."""
    pages = flowed(blocks, text_room(title, True), text_room(title, False))
    made = []
    for number, page in enumerate(pages, start=1):
        top = text_top(title, number == 1)
        items: list[Item] = [*framed(title, number, len(pages))]
        items += [placed(block, INNER_LEFT, top - down) for down, block in page]
        made.append(Drawing(tuple(items), f"{title.number}, {title.purpose}, sheet {number} of {len(pages)}"))
    return tuple(made)


def sheet_pdf(title: Title, blocks: Sequence[Block], date: dt.date) -> bytes:
    """The sheet as PDF; same plan and date, same bytes."""
    return pdf(sheets(title, blocks), f"{title.number}: {title.purpose}", date)


def figure_table(figures: Iterable[Figure], title: str) -> list[Block]:
    """Figures with band and ground, one a row; a note stands under the name where there is one."""
    columns = (Column("figure", 104.0, "start"), Column("value", 24.0), Column("9 in 10", 26.0), Column("ground", 18.0))
    rows = [(shortened(f.name, 68), figure_text(f), band_text(f), f.source.basis) for f in figures]
    return [*table(columns, rows, title=title), space(3.0)]


def shortened(text: str, letters: int) -> str:
    """Text cut to a number of letters, with an ellipsis."""
    return text if len(text) <= letters else text[: letters - 1].rstrip() + "\u2026"


def finding_blocks(findings: Sequence[Finding], letter: str) -> list[Block]:
    """Findings two abreast, or one sentence where there are none."""
    if not findings:
        return [heading(letter, "Findings"), paragraph("Nothing is found against it.", INNER_WIDTH), space(3.0)]
    width = 0.5 * INNER_WIDTH - 3.0
    made = [finding_block(f, k, width) for k, f in enumerate(findings, start=1)]
    pairs = [made[k : k + 2] for k in range(0, len(made), 2)]
    rows = [beside([(0.0 if n == 0 else width + 6.0, b) for n, b in enumerate(pair)], "findings") for pair in pairs]
    return [heading(letter, "Findings, gravest first"), *rows, space(3.0)]


def without_stop(title: Title) -> Title:
    """The same head for a drawing that is worked from for trial: nothing holds it back."""
    return replace(title, held="", more_stops=0)
