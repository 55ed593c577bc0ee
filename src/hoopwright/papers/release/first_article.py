"""The first-article report: every characteristic with its reading, its doubt and its verdict; what the parts say."""

from __future__ import annotations

from hoopwright.papers.blocks import Block
from hoopwright.papers.hot.common import finding_blocks
from hoopwright.papers.prose import heading, paragraph
from hoopwright.papers.release.common import (
    concession_table,
    genealogy_table,
    limits,
    number,
    paper,
    signature,
    words_table,
)
from hoopwright.papers.release.shapes import FirstArticle, Row, Statement
from hoopwright.papers.sheet_frame import INNER_WIDTH


def first_article_pdf(report: FirstArticle) -> bytes:
    """The report as PDF."""
    purpose = f"first-article report, {report.extent}"
    return paper(report.about, purpose, report.lacking, report.signed, blocks_of(report))


def blocks_of(report: FirstArticle) -> list[Block]:
    """Everything on the report, in reading order."""
    return [
        heading("A", f"{report.part}, serial {report.serial}: {report.extent} report"),
        paragraph(f"Reason: {report.reason}. Rule: {report.rule}.", INNER_WIDTH, 3.2, after_mm=2.0),
        *_rows(report.rows),
        heading("B", "What the parts made so far say"),
        *_statements(report.statements),
        heading("C", "Tools and settings used"),
        *words_table(
            (("step", 34.0), ("tool", 30.0), ("revision", 18.0), ("settings", 60.0), ("by", 30.0)),
            report.tools, "tools",
        ),
        heading("D", "Concessions"),
        *concession_table(report.concessions),
        heading("E", "Genealogy"),
        *genealogy_table(report.genealogy),
        *finding_blocks(report.findings, "F"),
        *signature("G", report.signed, report.lacking),
    ]  # fmt: skip


def _rows(rows: tuple[Row, ...]) -> list[Block]:
    columns = (
        ("no", 8.0), ("characteristic", 42.0), ("limits, mm", 32.0), ("held", 20.0), ("read", 13.0), ("result", 18.0),
        ("U", 14.0), ("verdict", 25.0),
    )  # fmt: skip
    cells = [
        (str(r.number), r.name, limits(r.low, r.high), r.held, f"{r.readings}/{r.wanted}", number(r.result),
         number(r.expanded), r.verdict + (f" ({r.note})" if r.note else ""))
        for r in rows
    ]  # fmt: skip
    return words_table(columns, cells, "characteristics")


def _statements(statements: tuple[Statement, ...]) -> list[Block]:
    blocks: list[Block] = []
    columns = (
        ("characteristic", 30.0), ("parts", 12.0), ("mean", 20.0), ("sd", 16.0), ("95 % of parts in", 40.0),
        ("capability, 95 % limits", 54.0),
    )  # fmt: skip
    rows = []
    for s in statements:
        interval = f"{number(s.interval[0])} to {number(s.interval[1])}" if s.interval else "not known"
        cpk = f"{s.cpk:.2f} ({s.cpk_low:.2f} to {s.cpk_high:.2f})" if s.cpk is not None else "not stated"
        rows.append((s.characteristic, str(s.parts), number(s.mean), number(s.sd, digits=4), interval, cpk))
    blocks += words_table(columns, rows, "statements")
    blocks += [paragraph(f"{s.characteristic}: {s.says}", INNER_WIDTH, 3.0, "italic") for s in statements]
    return blocks
