"""What the papers of the weld cell share: head, cautions, lists of words, a line to sign on."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.findings import Finding
from hoopwright.papers.blocks import Block, space, stacked
from hoopwright.papers.cautions import RULE, belonging
from hoopwright.papers.hot.common import INVENTED, sheet_pdf
from hoopwright.papers.prose import Column, boxed, heading, runs, table
from hoopwright.papers.sheet_frame import INNER_WIDTH, Title

AIR_MM = 5.0
KINDS = ("weld", "inspect", "grind")
ON_EVERY_PAGE = "laser of class 4, poisonous fume: cautions W"


@dataclass(frozen=True, slots=True)
class WeldTitle:
    """Head and foot of a weld paper. drawn_from : liner or lot with its revision; mark : digest of the inputs."""

    number: str
    drawn_from: str
    revision: str
    mark: str
    date: dt.date
    invented: bool = False


def titled(about: WeldTitle, purpose: str, findings: Sequence[Finding]) -> Title:
    """Title of a sheet; a stop holds it back."""
    stops = [f for f in findings if f.level == "stop"]
    return Title(
        about.number,
        purpose,
        about.drawn_from,
        about.revision,
        about.mark,
        about.date.isoformat(),
        (ON_EVERY_PAGE, INVENTED) if about.invented else (ON_EVERY_PAGE,),
        stops[0].sentence if stops else "",
        max(0, len(stops) - 1),
    )


def weld_pdf(about: WeldTitle, purpose: str, findings: Sequence[Finding], blocks: Sequence[Block]) -> bytes:
    """A weld paper as PDF, cautions at its end."""
    title = titled(about, purpose, findings)
    return sheet_pdf(title, [*blocks, *caution_blocks()], about.date)


def caution_blocks() -> list[Block]:
    """Cautions of welding: beam, fume and dust, shielding gas, residues, inspection, release."""
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
        for c in belonging(KINDS)
        if c.topic != "lifting"
    ]
    rule = runs(((RULE, "figures-bold"),), inner, 3.0, 0.0)
    return [heading("W", "Cautions that belong to this work"), boxed(stacked([*texts, rule]), INNER_WIDTH)]


def words(lines: Sequence[str], numbered: bool = True) -> list[Block]:
    """Sentences under each other."""
    made = [
        runs(((f"{k}." if numbered else "–", "figures-bold"), (text, "sentences")), INNER_WIDTH, 3.2, 0.8)
        for k, text in enumerate(lines, start=1)
    ]
    return [*made, space(2.5)]


def form(
    columns: Sequence[tuple[str, float]], rows: Sequence[Sequence[str]], title: str, empty: int = 0
) -> list[Block]:
    """A table with `empty` rows to write in; numbers stand to the right, words to the left."""
    worded = [k == 0 or any(_is_words(row[k]) for row in rows) for k in range(len(columns))]
    made: list[Column] = []
    cells: list[list[str]] = [[] for _ in rows]
    for k, (head, width) in enumerate(columns):
        # words right after a number would stick to it
        apart = AIR_MM if k and worded[k] and not worded[k - 1] else 0.0
        if apart:
            made.append(Column("", apart, "start"))
        made.append(Column(head, width - apart, "start" if worded[k] else "end"))
        for new, row in zip(cells, rows, strict=True):
            new += ["", row[k]] if apart else [row[k]]
    blank = [[""] * len(made)] * empty
    return [*table(made, [*cells, *blank], 3.2, title=title), space(3.0)]


def _is_words(cell: str) -> bool:
    return len(cell) > 4 and sum(letter.isalpha() for letter in cell) > len(cell) // 2
