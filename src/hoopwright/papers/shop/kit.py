"""What the shop's sheets share: a paper from blocks, rows to write on, tables of figures, findings that hold it
back.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import count

from hoopwright.findings import Figure, Finding, gravest_first
from hoopwright.kernels.profile import Profile, line
from hoopwright.papers.blocks import Block, beside, space, stacked
from hoopwright.papers.cautions import RULE, belonging
from hoopwright.papers.drawing.items import Drawing, Item, Path, Text
from hoopwright.papers.drawing.lettering import printable
from hoopwright.papers.drawing.pdf import pdf
from hoopwright.papers.hot.common import finding_blocks, sheets
from hoopwright.papers.numbers import band_text, figure_text, written
from hoopwright.papers.pictures.roll_contours import corner_points
from hoopwright.papers.prose import Column, boxed, heading, paragraph, runs, table
from hoopwright.papers.sheet_frame import INNER_WIDTH, Title
from hoopwright.papers.walk_sheet import INVENTED
from hoopwright.plan.ring_tools import RingTools

Letters = Iterator[str]
WRITE_MM = 7.2
"""Height of a row that a gloved hand writes in."""


@dataclass(frozen=True, slots=True, eq=False)
class Paper:
    """A sheet to be set. name : of its file ("pass-card"). number, purpose : in its head. blocks : what it says.

    subjects : chapters of the plan whose findings belong on it. kinds : operations whose cautions do. revision : "" for
    the liner's.
    """

    name: str
    number: str
    purpose: str
    blocks: tuple[Block, ...]
    subjects: tuple[str, ...]
    kinds: tuple[str, ...]
    extra: tuple[Finding, ...] = ()


def view_letters() -> Letters:
    """View letters in reading order; I and O are left out."""
    for number in count():
        yield "ABCDEFGHJKLMNPQRSTUVWXYZ"[number % 24] * (1 + number // 24)


def findings_on(tools: RingTools, paper: Paper) -> tuple[Finding, ...]:
    """Findings of the plan that belong on a paper, gravest first."""
    own = [f for f in tools.plan.findings if _subject(f) in paper.subjects]
    return gravest_first([*own, *paper.extra])


def _subject(finding: Finding) -> str:
    return finding.about.partition("/")[2].partition("/")[0]


def title_of(tools: RingTools, paper: Paper, date: dt.date) -> Title:
    """Head and foot; a stop among the paper's findings holds it back."""
    job = tools.plan.job
    stops = [f for f in findings_on(tools, paper) if f.level == "stop"]
    marks = [INVENTED] if job.liner.invented else []
    return Title(
        paper.number,
        paper.purpose,
        f"{job.liner.id} {job.liner.revision}",
        job.liner.revision,
        tools.plan.mark,
        date.isoformat(),
        tuple(marks if tools.plan.proven else [*marks, "not yet proven"]),
        stops[0].sentence if stops else "",
        max(0, len(stops) - 1),
    )


def pages(tools: RingTools, paper: Paper, date: dt.date) -> tuple[Drawing, ...]:
    """The pages of a paper."""
    found = [f for f in findings_on(tools, paper) if f.level != "note"]
    closing = finding_blocks(found, "!") if found else []
    closing = [heading("", "Findings that belong to this work"), *closing[1:]] if found else []
    return sheets(title_of(tools, paper, date), [*paper.blocks, *closing, *caution_blocks(paper.kinds)])


def paper_pdf(tools: RingTools, paper: Paper, date: dt.date) -> bytes:
    """The paper as PDF; same plan and date, same bytes."""
    return pdf(pages(tools, paper, date), f"{paper.number}: {paper.purpose}", date)


def caution_blocks(kinds: Sequence[str]) -> list[Block]:
    """The cautions of these operations, framed."""
    inner = INNER_WIDTH - 5.2
    texts = [
        runs(((f"{c.number}", "figures-bold"), (c.head, "sentences-bold"), (c.text, "sentences")), inner, 3.1, 0.5)
        for c in belonging(kinds)
    ]
    rule = runs(((RULE, "figures-bold"),), inner, 3.0, 0.0)
    return [space(2.0), boxed(stacked([*texts, rule]), INNER_WIDTH)]


def _band_words(figure: Figure) -> str:
    """The band; a figure that no spread moves, or none that a printed digit would show, says so."""
    band = figure.band
    if band is None:
        return ""
    return "as planned" if band.low == band.high else band_text(figure) or "last digit"


def banded(tools: RingTools, figure: Figure) -> Figure:
    """The figure with the band the whole plan holds for it; its chapter holds it before bands are reckoned."""
    band = next((f.band for f in tools.plan.figures if f.identity == figure.identity), figure.band)
    return replace(figure, band=band)


def figures_table(tools: RingTools, figures: Sequence[Figure], title: str, ground: bool = True) -> list[Block]:
    """Figures one a row: name, value, band as the whole plan holds it, and ground."""
    columns = [Column("", 98.0, "start"), Column("value", 28.0), Column("9 in 10", 28.0)]
    if ground:
        columns.append(Column("ground", 18.0))
    rows = []
    for f in (banded(tools, figure) for figure in figures):
        name = f.name if len(f.name) <= 62 else f.name[:61].rstrip() + "\u2026"
        rows.append((name, figure_text(f), _band_words(f), *((f.source.basis,) if ground else ())))
    return [*table(columns, rows, title=title), space(3.0)]


def writing_table(
    heads: Sequence[tuple[str, float]], rows: Sequence[Sequence[str]], title: str = "to be filled in"
) -> list[Block]:
    """A ruled table to write in: cells that are not "" are printed, the others left free."""
    width = sum(w for _, w in heads)
    blocks = [_row(heads, [h for h, _ in heads], 6.0, True)]
    blocks += [_row(heads, cells, WRITE_MM, False) for cells in rows]
    edge = [
        Block(b.height_mm, (*b.items, *_uprights(heads, b.height_mm, width)), title, k + 1 < len(blocks) <= 17)
        for k, b in enumerate(blocks)
    ]
    return [*edge, space(3.0)]


def _row(heads: Sequence[tuple[str, float]], cells: Sequence[str], height: float, head: bool) -> Block:
    items: list[Item] = []
    x = 0.0
    for (_, width), cell in zip(heads, cells, strict=True):
        for text, face in printable(cell, "figures-bold" if head else "figures")[:1]:
            items.append(Text((x + 1.0, -height + 2.1), text, 2.95, face))
        x += width
    items.append(Path((line((0.0, -height), (x, -height)),), "wide" if head else "fine"))
    return Block(height, tuple(items))


def _uprights(heads: Sequence[tuple[str, float]], height: float, width: float) -> list[Item]:
    items: list[Item] = []
    x = 0.0
    for _, w in heads[:-1]:
        x += w
        items.append(Path((line((x, 0.0), (x, -height)),), "fine"))
    return items


def entries(labels: Sequence[str], width_mm: float = INNER_WIDTH, columns: int = 3) -> Block:
    """Lines to write on, each with what goes there."""
    each = width_mm / columns
    items: list[Item] = []
    for k, label in enumerate(labels):
        x, y = each * (k % columns), -9.5 * (k // columns) - 7.0
        words, face = printable(label, "figures")[0]
        items.append(Text((x, y), words, 2.95, face))
        items.append(Path((line((x, y - 1.6), (x + each - 4.0, y - 1.6)),), "narrow"))
    return Block(9.5 * -(-len(labels) // columns) + 1.5, tuple(items), "entries")


def numbered_steps(steps: Sequence[str], width_mm: float = INNER_WIDTH) -> list[Block]:
    """Steps under each other, each with its number."""
    made = []
    for number, text in enumerate(steps, start=1):
        body = paragraph(text, width_mm - 8.0, 3.2, "figures", 0.6)
        made.append(
            beside([(0.0, Block(4.4, (Text((0.0, -3.4), str(number), 3.2, "figures-bold"),))), (8.0, body)], "step")
        )
    return [*made, space(3.0)]


def big_figures(pairs: Sequence[tuple[str, str]], width_mm: float = INNER_WIDTH, columns: int = 4) -> Block:
    """Figures in large print, each under its name."""
    each = width_mm / columns
    items: list[Item] = []
    for k, (name, value) in enumerate(pairs):
        x, y = each * (k % columns), -14.0 * (k // columns)
        words, face = printable(name, "figures")[0]
        items.append(Text((x, y - 3.4), words, 2.95, face))
        shown, face = printable(value, "figures-bold")[0]
        items.append(Text((x, y - 9.0), shown, 4.6, face))
    return Block(14.0 * -(-len(pairs) // columns), tuple(items), "figures")


def mm(value: float, digits: int) -> str:
    """A length in mm, without the unit."""
    return written(value, digits)


def section_points(section: Profile) -> list[Block]:
    """Where every segment of a closed section begins, in two columns abreast: place, radius, arc that follows."""
    rows = [(k, x, r, bend) for k, (x, r, bend) in enumerate(corner_points(section)[:-1], start=1)]
    half = -(-len(rows) // 2)
    columns = [Column("point", 13.0, "start"), Column("x", 22.0), Column("R", 22.0), Column("then arc", 26.0)]

    def cells(row: tuple[int, float, float, float]) -> tuple[str, ...]:
        number, x, r, bend = row
        arc = "" if bend == 0.0 else f"{written(abs(bend), 3)} {'out' if bend > 0.0 else 'hollow'}"
        return str(number), written(x, 3), written(r, 3), arc

    pairs = [
        (*cells(rows[k]), "", *(cells(rows[half + k]) if half + k < len(rows) else ("",) * 4)) for k in range(half)
    ]
    return [*table([*columns, Column("", 5.0), *columns], pairs, title="points"), space(3.0)]
