"""What the papers of a release share: head, tables of words, the line that only a person fills."""

from __future__ import annotations

from collections.abc import Sequence

from hoopwright.kernels.profile import line
from hoopwright.papers.blocks import Block, space
from hoopwright.papers.cautions import RULE
from hoopwright.papers.drawing.items import Item, Path, Text
from hoopwright.papers.drawing.lettering import printable, text_width
from hoopwright.papers.hot.common import INVENTED, sheet_pdf
from hoopwright.papers.numbers import unit_sign, written
from hoopwright.papers.prose import Column, heading, paragraph, runs, said, table
from hoopwright.papers.release.shapes import About, ConcessionLine, Link, Signed
from hoopwright.papers.sheet_frame import INNER_WIDTH, Title

CELL_MM = 2.95
LINE_MM = 1.6 * CELL_MM
NOT_RELEASED = "not released: a computed pass is no release; only the organisation's signatory releases"


def titled(about: About, purpose: str, held: Sequence[str], signed: Signed | None, unsigned: str) -> Title:
    """Head and foot; what is lacking holds the paper back."""
    marks = (*((INVENTED,) if about.invented else ()), *(() if signed else (unsigned,)))
    first = said(held[0]) if held else ""
    return Title(
        about.number, purpose, f"{about.liner} rev {about.revision}", about.revision, about.mark,
        about.date.isoformat(), marks, first, max(0, len(held) - 1),
    )  # fmt: skip


def paper(
    about: About,
    purpose: str,
    held: Sequence[str],
    signed: Signed | None,
    blocks: Sequence[Block],
    unsigned: str = "not released",
) -> bytes:
    """A paper as PDF; the same records and date, the same bytes. unsigned : what its head says while nobody signed."""
    return sheet_pdf(titled(about, purpose, held, signed, unsigned), blocks, about.date)


def words_table(columns: Sequence[tuple[str, float]], rows: Sequence[Sequence[str]], title: str) -> list[Block]:
    """A table of words and numbers; what is too long for its column runs on below, in the same row."""
    if not rows:
        return [paragraph("None.", INNER_WIDTH), space(2.0)]
    head = table([Column(name, width, "start") for name, width in columns], [], CELL_MM, title=title)
    return [*head, *(_row(columns, row, title) for row in rows), space(3.0)]


def _row(columns: Sequence[tuple[str, float]], row: Sequence[str], title: str) -> Block:
    """One row, as many lines high as its longest cell needs, ruled below."""
    items: list[Item] = []
    x, most = 0.0, 1
    for cell, (_, width) in zip(row, columns, strict=True):
        lines = lines_of(cell, width)
        most = max(most, len(lines))
        for n, words in enumerate(lines):
            y = -(n + 1) * LINE_MM + 0.42 * CELL_MM
            items += [Text((x + 0.8, y), text, CELL_MM, face) for text, face in printable(words, "figures")[:1]]
        x += width
    height = most * LINE_MM
    items.append(Path((line((0.0, -height), (x, -height)),), "fine"))
    return Block(height, tuple(items), title)


def lines_of(text: str, width_mm: float) -> list[str]:
    """Text broken between words so that each line fits a column; a word that does not fit is cut."""
    room = width_mm - 2.0
    lines, now = [], ""
    for word in text.split() or [""]:
        tried = f"{now} {word}".strip()
        if now and text_width(tried, CELL_MM, "figures") > room:
            lines.append(now)
            now = word
        else:
            now = tried
        while text_width(now, CELL_MM, "figures") > room and len(now) > 1:
            fitting = [n for n in range(1, len(now)) if text_width(now[:n], CELL_MM, "figures") <= room]
            cut = max(fitting, default=1)
            lines.append(now[:cut])
            now = now[cut:]
    return [*lines, now]


def number(value: float | None, unit: str = "", digits: int = 3) -> str:
    """A number with its unit, a dash where there is none."""
    if value is None:
        return "–"
    sign = unit_sign(unit) if unit else ""
    return f"{written(value, digits)} {sign}".strip()


def limits(low: float | None, high: float | None, digits: int = 2) -> str:
    """Limits in words: "246.80 to 247.00", "at most 0.80", "at least 0.68", "none"."""
    if low is not None and high is not None:
        return f"{written(low, digits)} to {written(high, digits)}"
    if high is not None:
        return f"at most {written(high, digits)}"
    return f"at least {written(low, digits)}" if low is not None else "none"


def concession_table(lines: Sequence[ConcessionLine]) -> list[Block]:
    """Concessions, one a row."""
    columns = (
        ("number", 20.0), ("serial", 18.0), ("what", 24.0), ("measured", 20.0), ("limits", 28.0), ("state", 17.0),
        ("signed", 24.0), ("until", 21.0),
    )  # fmt: skip
    rows = [
        (c.number, c.serial, c.characteristic, number(c.measured), limits(c.low, c.high), c.state,
         c.signed_by or "nobody", c.expires.isoformat() if c.expires else "no day")
        for c in lines
    ]  # fmt: skip
    return words_table(columns, rows, "concessions")


def genealogy_table(links: Sequence[Link]) -> list[Block]:
    """A genealogy, each line standing in by its depth."""
    columns = (("what", 44.0), ("number", 50.0), ("known of it", 78.0))
    rows = [(f"{'· ' * link.depth}{link.what}", link.id, link.words) for link in links]
    return words_table(columns, rows, "genealogy")


def signature(letter: str, signed: Signed | None, lacking: Sequence[str]) -> list[Block]:
    """Who released; or that nobody did, what is lacking, and lines to sign on."""
    blocks = [heading(letter, "Release")]
    if signed is not None:
        pieces = (
            ("Released by", "sentences"), (f"{signed.name}, {signed.office},", "sentences-bold"),
            (f"{signed.day.isoformat()}.", "sentences"), (signed.statement, "sentences"),
        )  # fmt: skip
        blocks.append(runs(pieces, INNER_WIDTH, 3.4, 2.0))  # type: ignore[arg-type]
    else:
        blocks.append(paragraph(f"{NOT_RELEASED[0].upper()}{NOT_RELEASED[1:]}.", INNER_WIDTH, 3.4, "sentences-bold"))
        blocks += [paragraph(f"– {line}", INNER_WIDTH, 3.2) for line in lacking]
        blocks.append(paragraph("Name, office, day and signature: ______________________________", INNER_WIDTH, 3.6))
    blocks.append(paragraph(RULE, INNER_WIDTH, 3.0, "italic"))
    return blocks
