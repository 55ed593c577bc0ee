"""The board: the liner's own section as the page."""

from __future__ import annotations

import re
from dataclasses import dataclass

from markupsafe import Markup

from hoopwright.desk.page.board import LADDER, Board, Lap, ToolStand, board
from hoopwright.findings import Level
from hoopwright.papers.numbers import written
from hoopwright.papers.pictures.board_map import BoardShown, Ladder, LapShown, board_map
from hoopwright.web.drawing import screen
from hoopwright.web.shell import Page, page
from hoopwright.web.shown import FindingShown, Key, findings_shown, swatch
from hoopwright.web.state import Shop
from hoopwright.web.words import count_of

JOINT = re.compile(r"^(J\w+)\b")


@dataclass(frozen=True, slots=True)
class ToolRow:
    """A tool in the table."""

    name: str
    kind: str
    serves: str
    word: str
    hits: int
    href: str


@dataclass(frozen=True, slots=True)
class LapRow:
    """A lap in the table."""

    name: str
    low: str
    high: str
    measured: str


@dataclass(frozen=True, slots=True)
class BoardView:
    """What the template shows."""

    drawing: Markup
    keys: tuple[Key, ...]
    ladder: str
    laps: tuple[LapRow, ...]
    tools: tuple[ToolRow, ...]
    findings: tuple[FindingShown, ...]
    heading: str


def board_page(shop: Shop, revision: str) -> tuple[Page, BoardView]:
    """The board of a revision."""
    found = board(shop.job, revision)
    name = shop.job.revision(revision).name
    head = page(
        shop,
        "board",
        f"{found.liner.id}: where are we?",
        "Where are we, and what stops the next step?",
        found.answer,
        name,
        inset=False,
    )
    shown = _shown(found, name)
    keys = (
        Key(swatch("pencil"), "drawn only"),
        Key(swatch("outline"), "tools in the making or on trial"),
        Key(swatch("hatched"), "tools proven, parts in work"),
        Key(swatch("solid"), "a part has been measured within its drawing"),
    )
    view = BoardView(
        screen(board_map(shown)),
        keys,
        ", ".join(LADDER),
        tuple(_lap_row(lap) for lap in found.laps),
        tuple(_tool_row(stand) for stand in found.tools),
        findings_shown(found.findings),
        count_of(found.findings, ""),
    )
    return head, view


def _tool_row(stand: ToolStand) -> ToolRow:
    tool = stand.tool
    return ToolRow(tool.id, tool.kind, tool.serves, stand.word, tool.hits, f"/tool/{tool.id}@{tool.revision}")


def _lap_row(lap: Lap) -> LapRow:
    measured = "not yet" if lap.measured_mm is None else written(lap.measured_mm, 3)
    return LapRow(lap.joint, written(lap.low_mm, 2), written(lap.high_mm, 2), measured)


def _shown(found: Board, revision: str) -> BoardShown:
    liner = found.liner
    parts = {ring.id for ring in liner.rings}
    ladders: dict[str, list[Ladder]] = {}
    for stand in found.tools:
        tool = stand.tool
        part = "" if tool.serves in ("all rings", liner.id) else tool.serves
        shown = tool.id if tool.revision in ("A", "0") else f"{tool.id} {tool.revision}"
        word = stand.word.replace("turned, not hardened", "turned, soft").replace(", not fitted", "")
        ladders.setdefault(part, []).append(
            Ladder(
                shown,
                stand.step,
                word + (f", {tool.hits}" if tool.hits else ""),
                tool.state in ("superseded", "withdrawn"),
                f"/tool/{tool.id}@{tool.revision}",
            )
        )
    for own in ladders.values():
        own.sort(key=lambda ladder: ladder.gone)
    marks: dict[str, list[tuple[int, Level]]] = {}
    on_lap: dict[str, tuple[int, Level]] = {}
    for number, finding in enumerate(found.findings, start=1):
        joint = JOINT.match(finding.sentence)
        if joint:
            on_lap.setdefault(joint.group(1), (number, finding.level))
            continue
        part = finding.about.partition("/")[0]
        if part in ladders or part in parts:
            marks.setdefault(part, []).append((number, finding.level))
    laps = tuple(
        LapShown(
            lap.joint, (lap.weld_z_mm, lap.r_mm), lap.side == "outer", lap.low_mm, lap.high_mm, lap.nominal_mm,
            lap.drawn_low_mm, lap.drawn_high_mm, lap.measured_mm, on_lap.get(lap.joint),
        )
        for lap in found.laps
    )  # fmt: skip
    links = {ring.id: f"/{liner.id}@{revision}/{ring.id}/made" for ring in liner.rings}
    return BoardShown(liner, found.firmness, ladders, laps, marks, links)
