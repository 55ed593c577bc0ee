"""What goes out? Sheets and files of a ring, each with its revision and inputs, and which of them a stop holds."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from hoopwright.desk.page.papers import MACHINES, SHEETS, SOLIDS, TABLES, Outgoing, outgoing
from hoopwright.web.shell import Page, page
from hoopwright.web.state import Shop
from hoopwright.web.words import sentence


@dataclass(frozen=True, slots=True)
class OutRow:
    """One thing that goes out."""

    purpose: str
    file: str
    href: str
    held: Markup


@dataclass(frozen=True, slots=True)
class PapersView:
    """Lists by kind."""

    ring: str
    groups: tuple[tuple[str, tuple[OutRow, ...]], ...]
    mark: str
    others: tuple[tuple[str, str], ...]


def papers_page(shop: Shop, ring: str, revision: str) -> tuple[Page, PapersView]:
    """Everything that goes out for a ring."""
    rows = outgoing(shop.job, ring, revision)
    name = shop.job.revision(revision).name
    held = [row for row in rows if row.held]
    sheets = [row for row in rows if row.kind == SHEETS]
    if held:
        answer = (
            f"{len(held)} of {len(sheets)} sheets of {ring} are held by a stop; they print with it in their head "
            "and no lines to sign on."
        )
    else:
        files = len(rows) - len(sheets)
        answer = f"{len(sheets)} sheets and {files} files of {ring} are current; no stop holds any of them."
    head = page(shop, "papers", f"{ring}: what goes out?", f"What goes out for {ring}?", answer, name, ring, wide=True)
    at = f"/out/{ring}@{name}/"
    groups = (
        ("Sheets, A4", tuple(_row(row, at) for row in sheets)),
        ("For the machines, DXF in mm", tuple(_row(row, at) for row in rows if row.kind == MACHINES)),
        ("Tables", tuple(_row(row, at) for row in rows if row.kind in (TABLES, SOLIDS))),
    )
    liner = shop.job.current().liner
    others = tuple((r.id, f"/{liner.id}@{name}/{r.id}/papers") for r in liner.rings if r.id != ring)
    return head, PapersView(ring, groups, shop.job.plan(ring, revision).mark, others)


def _row(row: Outgoing, at: str) -> OutRow:
    return OutRow(row.purpose[0].upper() + row.purpose[1:], row.file, at + row.file, sentence(row.held))
