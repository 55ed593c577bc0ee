"""The build book: every part of a liner as built, laps, concessions, genealogy, and what is open."""

from __future__ import annotations

from hoopwright.papers.prose import heading
from hoopwright.papers.release.common import (
    concession_table,
    genealogy_table,
    number,
    paper,
    signature,
    words_table,
)
from hoopwright.papers.release.shapes import BuildBook


def build_book_pdf(book: BuildBook) -> bytes:
    """The book as PDF; a point that is open stands in its head on every page."""
    parts = [
        (p.place, p.serial, p.revision, p.state, p.cast or "–", p.weld_lot or "–", p.sizes or "–") for p in book.parts
    ]
    laps = [(name, number(gap, "mm"), word) for name, gap, word in book.laps]
    return paper(book.about, f"build book of {book.build}", book.open_points, book.signed, [
        heading("A", "Parts"),
        *words_table(
            (("place", 20.0), ("serial", 20.0), ("rev", 10.0), ("state", 20.0), ("cast", 18.0), ("weld lot", 18.0),
             ("sizes as last read, mm", 66.0)), parts, "parts",
        ),
        heading("B", "Laps, from the sizes as read"),
        *words_table((("joint", 30.0), ("radial gap", 40.0), ("", 102.0)), laps, "laps"),
        heading("C", "Concessions that touch it"),
        *concession_table(book.concessions),
        heading("D", "Genealogy"),
        *genealogy_table(book.genealogy),
        *signature("E", book.signed, book.open_points),
    ])  # fmt: skip
