"""The concession form: what, how much, its effect, what is asked, and the lines that only the authority fills."""

from __future__ import annotations

from collections.abc import Sequence

from hoopwright.papers.blocks import Block, space
from hoopwright.papers.prose import boxed, heading, paragraph, runs
from hoopwright.papers.release.common import genealogy_table, limits, number, paper, words_table
from hoopwright.papers.release.shapes import About, ConcessionLine, Link, Signed
from hoopwright.papers.sheet_frame import INNER_WIDTH


def concession_pdf(about: About, line: ConcessionLine, part: str, chain: Sequence[str], links: Sequence[Link]) -> bytes:
    """The form as PDF. chain : what else the deviation touches, in words."""
    signed = Signed(line.signed_by, line.office, about.date, line.disposition) if line.state == "granted" else None
    held = [] if line.state == "granted" else [f"Concession {line.number} is {line.state}."]
    return paper(about, "concession", held, signed, [
        heading("A", f"Deviation of {part}, serial {line.serial}"),
        *words_table(
            (("characteristic", 40.0), ("limits", 40.0), ("measured", 30.0), ("outside by", 30.0), ("asked by", 32.0)),
            [(line.characteristic, f"{limits(line.low, line.high)} {line.unit}", number(line.measured, line.unit),
              number(line.beyond, line.unit), line.asked_by)], "deviation",
        ),
        heading("B", "Effect, as seen by who asks"),
        paragraph(line.effect, INNER_WIDTH, 3.4, after_mm=2.0),
        *[paragraph(f"– {text}", INNER_WIDTH, 3.2) for text in chain],
        space(2.0),
        heading("C", "Asked for"),
        paragraph(f"{line.disposition}. {line.reason}".strip(), INNER_WIDTH, 3.4, after_mm=3.0),
        heading("D", "Genealogy of the serial"),
        *genealogy_table(links),
        heading("E", "Decision of the authority"),
        _decision(line),
    ], "not granted")  # fmt: skip


def _decision(line: ConcessionLine) -> Block:
    until = line.expires.isoformat() if line.expires else "______________"
    if line.state in ("granted", "refused"):
        text = f"{line.state}, by {line.signed_by}, {line.office}; valid until {until}."
        return boxed(runs(((text, "sentences-bold"),), INNER_WIDTH - 6.0, 3.6, 0.0), INNER_WIDTH)
    text = (
        "granted ____ refused ____ limits on use ______________________________ valid until ______________ "
        "name, office, signature ________________________________________"
    )
    return boxed(runs(((text, "sentences"),), INNER_WIDTH - 6.0, 3.6, 0.0), INNER_WIDTH)
