"""The walk sheet of one ring: A4, black and white, its walk operation by operation and what each needs.

Pure functions from `WalkContent` to drawings and to the bytes of a PDF; same content and date, same bytes.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import replace
from itertools import count

from hoopwright.errors import InputError
from hoopwright.kernels.profile import line
from hoopwright.papers.blocks import Block, beside, flowed, placed, space, stacked
from hoopwright.papers.cautions import RULE, belonging
from hoopwright.papers.drawing.items import Drawing, Item, Path, Placed
from hoopwright.papers.drawing.pdf import pdf
from hoopwright.papers.pictures.basis import basis_legend
from hoopwright.papers.pictures.strain_wash import wash_legend
from hoopwright.papers.prose import boxed, finding_block, heading, paragraph, runs
from hoopwright.papers.scales import scale_text
from hoopwright.papers.sheet_frame import INNER_LEFT, INNER_WIDTH, Title, framed, text_room, text_top
from hoopwright.papers.walk_content import WalkContent
from hoopwright.papers.walk_rows import section_scale, walk_row
from hoopwright.papers.walk_tools import blank_blocks, roll_blocks, segment_blocks

NOT_PROVEN = "not yet proven: reckoned by closed forms and the layered chain, no proof run made"
INVENTED = "demonstration, all data invented"


def walk_pdf(content: WalkContent, date: dt.date) -> bytes:
    """The walk sheet as a PDF (A4, as many pages as it needs)."""
    title = f"{content.title.number}: {content.title.purpose}"
    return pdf(walk_sheets(content), title, date)


def walk_sheets(content: WalkContent) -> tuple[Drawing, ...]:
    """The pages of the walk sheet, each a drawing with its origin at the paper's lower left corner.

    Raises
    ------
    InputError
        No operation to show.
    """
    if not content.rows:
        raise InputError("walk", "empty", "", "at least one operation", "plan the ring first")
    title = _title(content)
    pages = flowed(_blocks(content), text_room(title, True), text_room(title, False))
    sheets = []
    for number, page in enumerate(pages, start=1):
        top = text_top(title, number == 1)
        items: list[Item] = [*framed(title, number, len(pages))]
        items += [placed(block, INNER_LEFT, top - down) for down, block in page]
        words = f"{title.number}, {title.purpose}, sheet {number} of {len(pages)}"
        sheets.append(Drawing(tuple(items), words))
    return tuple(sheets)


def _title(content: WalkContent) -> Title:
    stops = content.stop_findings
    marks = content.title.marks if content.proven else (*content.title.marks, "not yet proven")
    held = stops[0].sentence if stops else ""
    return replace(content.title, marks=marks, held=held, more_stops=max(0, len(stops) - 1))


def _letters() -> Iterator[str]:
    """View letters in reading order; I and O are left out, they look like figures."""
    for number in count():
        yield "ABCDEFGHJKLMNPQRSTUVWXYZ"[number % 24] * (1 + number // 24)


def _blocks(content: WalkContent) -> list[Block]:
    letters = _letters()
    return [
        *_walk_blocks(content, letters),
        *_finding_blocks(content, letters),
        *blank_blocks(content, letters),
        *roll_blocks(content.rolls, letters),
        *segment_blocks(content, letters),
        *_caution_blocks(content, letters),
    ]


def _walk_blocks(content: WalkContent, letters: Iterator[str]) -> list[Block]:
    scale = section_scale(content.rows)
    peaks = [row.strained.peak_pct for row in content.rows if row.strained is not None]
    top = max([110.0, *peaks])
    blocks: list[Block] = []
    if content.answer:
        blocks += [paragraph(content.answer, INNER_WIDTH, 4.6, "sentences", 0.6)]
    if content.proof or not content.proven:
        said = content.proof or NOT_PROVEN[0].upper() + NOT_PROVEN[1:] + "."
        blocks.append(paragraph(said, INNER_WIDTH, 3.2, "italic", 1.2))
    blocks.append(heading(next(letters), f"The walk; sections {scale_text(scale)}, thickness too; sizes in mm"))
    for number, row in enumerate(content.rows, start=1):
        blocks.append(walk_row(row, number, scale, top, content.findings))
    rule = Block(1.0, (Path((line((0.0, 0.0), (INNER_WIDTH, 0.0)),), "hair"),))
    legend = stacked([rule, _wash_legend(content), space(2.0), _basis_legend()], 0.0, "legend")
    return [*blocks, legend, space(4.0)]


def _wash_legend(content: WalkContent) -> Block:
    return Block(15.0, (Placed(wash_legend(INNER_WIDTH, content.budget_words), (0.0, 0.0), 1.0),), "wash")


def _basis_legend() -> Block:
    words = "Gauges: end stops are limits, the bar holds 9 in 10 runs, tick reckoned, diamond measured."
    gauges = paragraph(words, INNER_WIDTH, 2.95, "figures")
    return stacked([Block(11.0, (Placed(basis_legend(INNER_WIDTH), (0.0, 0.0), 1.0),)), gauges])


def _finding_blocks(content: WalkContent, letters: Iterator[str]) -> list[Block]:
    if not content.findings:
        return [heading(next(letters), "Findings"), paragraph("Nothing is found against it.", INNER_WIDTH), space(4.0)]
    width = 0.5 * INNER_WIDTH - 3.0
    made = [finding_block(f, k, width) for k, f in enumerate(content.findings, start=1)]
    pairs = [made[k : k + 2] for k in range(0, len(made), 2)]
    rows = [beside([(0.0 if n == 0 else width + 6.0, b) for n, b in enumerate(pair)], "findings") for pair in pairs]
    return [heading(next(letters), "Findings, gravest first"), *rows, space(3.0)]


def _caution_blocks(content: WalkContent, letters: Iterator[str]) -> list[Block]:
    inner = INNER_WIDTH - 5.2
    texts = [
        runs(
            (
                (f"{c.number}", "figures-bold"),
                (c.head, "sentences-bold"),
                (c.text, "sentences"),
                (f"({c.standards})" if c.standards else "", "italic"),
            ),
            inner,
            3.1,
            0.5,
        )
        for c in belonging(row.kind for row in content.rows)
    ]
    rule = runs(((RULE, "figures-bold"),), inner, 3.0, 0.0)
    return [
        heading(next(letters), "Cautions that belong to this work"),
        boxed(stacked([*texts, rule]), INNER_WIDTH),
    ]
