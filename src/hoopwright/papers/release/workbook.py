"""The same reports as spreadsheets: computed values; text stays text, so that nothing in a name can run."""

from __future__ import annotations

import datetime as dt
import io
from collections.abc import Mapping, Sequence

from hoopwright.papers.release.shapes import BuildBook, ConcessionLine, FirstArticle, Link
from hoopwright.papers.tables_xlsx import Cell, library, steady, written_sheet

Rows = Sequence[Sequence[Cell]]


def book_bytes(sheets: Mapping[str, Rows], title: str, date: dt.date) -> bytes:
    """A workbook of sheets; the same rows and date, the same bytes."""
    book = library().Workbook()
    book.remove(book.active)
    for name, rows in sheets.items():
        written_sheet(book, name, rows)
    book.properties.creator = "hoopwright"
    book.properties.title = title
    book.properties.created = dt.datetime(date.year, date.month, date.day)
    stream = io.BytesIO()
    book.save(stream)
    return steady(stream.getvalue(), date)


def _concessions(lines: Sequence[ConcessionLine]) -> Rows:
    head = ["number", "serial", "characteristic", "unit", "measured", "low", "high", "outside by", "effect",
            "disposition", "state", "asked by", "signed by", "office", "expires"]  # fmt: skip
    return [head, *(
        [c.number, c.serial, c.characteristic, c.unit, c.measured, c.low, c.high, c.beyond, c.effect, c.disposition,
         c.state, c.asked_by, c.signed_by, c.office, c.expires.isoformat() if c.expires else ""] for c in lines
    )]  # fmt: skip


def _genealogy(links: Sequence[Link]) -> Rows:
    rows: list[list[Cell]] = [[k.depth, k.what, k.id, k.words] for k in links]
    return [["depth", "what", "number", "known of it"], *rows]


def first_article_xlsx(report: FirstArticle) -> bytes:
    """The first-article report as a workbook."""
    who = report.signed
    head: Rows = [
        ["what", "value"], ["serial", report.serial], ["part", report.part], ["liner", report.about.liner],
        ["revision", report.about.revision], ["extent", report.extent], ["reason", report.reason],
        ["inputs", report.about.mark], ["rule", report.rule],
        ["released by", f"{who.name}, {who.office}, {who.day.isoformat()}" if who else "nobody: not released"],
        *(["lacking", text] for text in report.lacking),
    ]  # fmt: skip
    rows: Rows = [
        ["number", "characteristic", "low", "high", "unit", "method", "held", "gauge", "readings wanted", "readings",
         "result", "U", "verdict", "note"],
        *([r.number, r.name, r.low, r.high, r.unit, r.method, r.held, r.gauge, r.wanted, r.readings, r.result,
           r.expanded, r.verdict, r.note] for r in report.rows),
    ]  # fmt: skip
    said: Rows = [
        ["characteristic", "parts", "mean", "sd", "interval low", "interval high", "cpk", "cpk low", "cpk high",
         "says"],
        *([s.characteristic, s.parts, s.mean, s.sd, *(s.interval or (None, None)), s.cpk, s.cpk_low, s.cpk_high, s.says]
          for s in report.statements),
    ]  # fmt: skip
    sheets = {
        "report": head, "characteristics": rows, "statements": said,
        "tools": [["step", "tool", "revision", "settings", "by"], *report.tools],
        "concessions": _concessions(report.concessions), "genealogy": _genealogy(report.genealogy),
    }  # fmt: skip
    return book_bytes(sheets, f"{report.serial}, first article", report.about.date)


def build_book_xlsx(book: BuildBook) -> bytes:
    """The build book as a workbook."""
    parts: Rows = [
        ["place", "serial", "revision", "state", "cast", "weld lot", "sizes"],
        *([p.place, p.serial, p.revision, p.state, p.cast, p.weld_lot, p.sizes] for p in book.parts),
    ]
    laps: Rows = [["joint", "gap_mm", "word"], *([name, gap, word] for name, gap, word in book.laps)]
    sheets = {
        "parts": parts, "laps": laps, "concessions": _concessions(book.concessions),
        "genealogy": _genealogy(book.genealogy), "open": [["open points"], *([text] for text in book.open_points)],
    }  # fmt: skip
    return book_bytes(sheets, f"{book.build}, build book", book.about.date)
