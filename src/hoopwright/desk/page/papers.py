"""What goes out: the sheets and files of a ring, which of them a stop holds back, and their bytes."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from hoopwright.design.demo import DEMO_FILES, demo_text
from hoopwright.desk.package import DEMO_DATE
from hoopwright.desk.page.job import Job
from hoopwright.errors import InputError
from hoopwright.plan.ring_tools import RingTools, tools_of
from hoopwright.plan.tool_making import tool_room_shelf

SHEETS, MACHINES, TABLES, SOLIDS = "sheets", "for machines", "tables", "solids"


@dataclass(frozen=True, slots=True)
class Outgoing:
    """One thing that goes out. held : sentence of the stop that holds it back, "" where none does."""

    name: str
    file: str
    purpose: str
    kind: str
    held: str = ""


@dataclass(frozen=True, slots=True)
class Sent:
    """A file as it goes out."""

    file: str
    content: bytes
    media: str


MEDIA = {
    "pdf": "application/pdf",
    "dxf": "image/vnd.dxf",
    "svg": "image/svg+xml",
    "json": "application/json",
    "csv": "text/csv; charset=utf-8",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    "glb": "model/gltf-binary",
    "step": "model/step",
    "stl": "model/stl",
}


def paper_date(job: Job) -> dt.date:
    """Date on papers: that of the demonstration as long as its liner is unchanged, else today."""
    return DEMO_DATE if job.current().text == demo_text(DEMO_FILES[0]) else dt.date.today()


def ring_tools(job: Job, ring: str, revision: str = "") -> RingTools:
    """All tools of a ring."""
    plan = job.plan(ring, revision)
    made: RingTools = job.remembered(
        ("tools", plan.mark, ring, id(plan)), lambda: tools_of(plan, tool_room_shelf(job.shop_folder))
    )
    return made


def outgoing(job: Job, ring: str, revision: str = "") -> tuple[Outgoing, ...]:
    """Everything that goes out for a ring."""
    from hoopwright.papers.shop.kit import title_of
    from hoopwright.papers.shop.register import PAPERS

    def listed() -> tuple[Outgoing, ...]:
        tools, date = ring_tools(job, ring, revision), paper_date(job)
        plan = tools.plan
        stop = next((f.sentence for f in plan.findings if f.level == "stop"), "")
        rows = [Outgoing("walk", f"{ring}-walk.pdf", "Walk through the shop, from sheet to ring", SHEETS, stop)]
        for name, make in PAPERS.items():
            paper = make(tools)
            held = title_of(tools, paper, date).held
            rows.append(Outgoing(name, f"{ring}-{name}.pdf", paper.purpose, SHEETS, held))
        rows += [Outgoing(name, name, purpose, MACHINES) for name, purpose in machine_files(tools).items()]
        rows.append(Outgoing("tables", f"{ring}-tables.xlsx", "all tables of the ring", TABLES))
        rows.append(Outgoing("plan", f"{ring}-plan.json", "every figure, for a program", TABLES))
        return tuple(rows)

    found: tuple[Outgoing, ...] = job.remembered(("outgoing", revision, ring, job.files_state()), listed)
    return found


def machine_files(tools: RingTools) -> dict[str, str]:
    """DXF files of a ring, each with what it is for."""
    ring = tools.plan.job.ring.id
    return {
        f"{ring}-blank.dxf": "outline of the blank, for the cutting machine",
        f"{ring}-roll-inner.dxf": "contour of the inner roll",
        f"{ring}-roll-outer.dxf": "contour of the outer roll",
        f"{ring}-segments.dxf": "profile of the segments",
        f"{ring}-S-wire.dxf": "path of the wire through the slots",
        f"{ring}-S-blank.dxf": "blank of the segment set, for the lathe",
        f"{ring}-R-inner-whole.dxf": "inner roll as turned, whole",
        f"{ring}-R-outer-whole.dxf": "outer roll as turned, whole",
        f"{tools.plug.name}.dxf": "sleeve of the trim plug, for the lathe",
        f"{tools.plug.name}-arbor.dxf": "arbor of the trim plug, for the lathe",
        f"{tools.weld.name}.dxf": "weld bars in the plane of the seam",
    }


def send(job: Job, ring: str, file: str, revision: str = "") -> Sent:
    """One file, by the name that `outgoing` gives it.

    Raises
    ------
    InputError
        No file of that name goes out for this ring.
    """
    known = {row.file: row for row in outgoing(job, ring, revision)}
    if file not in known:
        raise InputError("file", file, "", f"one of {', '.join(known)}", "take one of these")
    content: bytes = job.remembered(
        ("sent", revision, ring, file, job.files_state()), lambda: _made(job, ring, known[file], revision)
    )
    return Sent(file, content, MEDIA[file.rpartition(".")[2]])


def _made(job: Job, ring: str, row: Outgoing, revision: str) -> bytes:
    from hoopwright.papers.dxf_tools import tool_dxfs
    from hoopwright.papers.ring_files import ring_files
    from hoopwright.papers.shop.kit import paper_pdf
    from hoopwright.papers.shop.register import paper_of
    from hoopwright.papers.tables_xlsx import tables_xlsx

    tools, date = ring_tools(job, ring, revision), paper_date(job)
    if row.name == "tables":
        return tables_xlsx(tools, date)
    if row.name == "plan":
        return _plan_json(job, ring, revision)
    if row.kind == SHEETS and row.name != "walk":
        return paper_pdf(tools, paper_of(tools, row.name), date)
    made = {**tool_dxfs(tools)} if row.file != f"{ring}-walk.pdf" else {}
    if row.file in made:
        return made[row.file]
    return ring_files(tools.plan, date)[row.file]


def _plan_json(job: Job, ring: str, revision: str) -> bytes:
    import json
    from dataclasses import asdict

    from hoopwright.plan.as_json import ring_row, rounded

    return (
        json.dumps(rounded(asdict(ring_row(job.plan(ring, revision)))), ensure_ascii=False, indent=1) + "\n"
    ).encode()
