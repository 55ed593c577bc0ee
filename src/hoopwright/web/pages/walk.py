"""How is it made? A ring's walk, operation by operation, with the metal's state; and what if a lever is moved."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from markupsafe import Markup

from hoopwright.desk.page.whatif import Lever, WhatIf, what_if
from hoopwright.papers.cautions import RULE, Caution, belonging
from hoopwright.papers.drawing.items import Drawing, Placed
from hoopwright.papers.numbers import written
from hoopwright.papers.pictures.icons import icon
from hoopwright.papers.pictures.strain_wash import Strained, section_wash, strain_line
from hoopwright.papers.walk_content import Shown, WalkContent, WalkRow
from hoopwright.papers.walk_from_plan import walk_content
from hoopwright.web.drawing import screen
from hoopwright.web.shell import Page, page
from hoopwright.web.shown import (
    FigureShown,
    FindingShown,
    Key,
    figure_shown,
    findings_shown,
    mark_of,
    wash_swatch,
)
from hoopwright.web.state import Shop
from hoopwright.web.words import count_of

COLUMN_MM = 106.0
STRAIN_MM = 7.0
NO_DATE = dt.date(2000, 1, 1)
"""The walk's content wants a date for its title block; a page has none."""


@dataclass(frozen=True, slots=True)
class RowView:
    """One operation."""

    number: int
    title: str
    subtitle: str
    icon: Markup
    drawing: Markup
    figures: tuple[FigureShown, ...]
    marks: tuple[Markup, ...]
    rest: str
    href: str


@dataclass(frozen=True, slots=True)
class LeverView:
    """A slider."""

    name: str
    words: str
    unit: str
    value: str
    low: str
    high: str
    step: str
    digits: int
    moved: bool


@dataclass(frozen=True, slots=True)
class LiveView:
    """What follows the sliders: the finished section, and the figures to watch."""

    levers: tuple[LeverView, ...]
    drawing: Markup
    figures: tuple[FigureShown, ...]
    state: str
    action: str
    refused: str = ""


@dataclass(frozen=True, slots=True)
class WalkView:
    """The whole page."""

    ring: str
    live: LiveView
    rows: tuple[RowView, ...]
    keys: tuple[Key, ...]
    budget: str
    findings: tuple[FindingShown, ...]
    heading: str
    downloads: tuple[tuple[str, str], ...]
    proven: bool
    cautions: tuple[Caution, ...]
    rule: str = RULE


def walk_page(shop: Shop, ring: str, revision: str, moved: tuple[tuple[str, float], ...] = ()) -> tuple[Page, WalkView]:
    """The walk of a ring, levers moved or not."""
    found = what_if(shop.job, ring, revision, moved)
    name = shop.job.revision(revision).name
    content = walk_content(found.plan, NO_DATE)
    liner = shop.job.current().liner.id
    head = page(
        shop,
        "made",
        f"{ring}: how is it made?",
        f"How is {ring} made? Ring {_order(shop, ring)} of the {_side(shop, ring)} shell",
        content.answer,
        name,
        ring,
        more=("what if, not recorded",) if found.moved else (() if found.plan.proven else ("not yet proven",)),
    )
    scale = _scale(content)
    top = max([110.0, *(row.strained.peak_pct for row in content.rows if row.strained is not None)])
    at = (liner, name)
    return head, WalkView(
        ring,
        live_view(shop, ring, name, found),
        tuple(
            _row(row, number, scale, top, at, content, f"/{liner}@{name}/{ring}/made#{number}")
            for number, row in enumerate(content.rows, start=1)
        ),
        wash_keys(),
        content.budget_words,
        findings_shown(content.findings),
        count_of(content.findings, " on this ring"),
        tuple((words, f"/out/{ring}@{name}/{file}") for words, file in _first_files(ring)),
        found.plan.proven,
        belonging(step.kind for step in found.plan.walk),
    )


def _first_files(ring: str) -> tuple[tuple[str, str], ...]:
    return (
        ("blank, DXF", f"{ring}-blank.dxf"),
        ("inner roll, DXF", f"{ring}-roll-inner.dxf"),
        ("outer roll, DXF", f"{ring}-roll-outer.dxf"),
        ("segments, DXF", f"{ring}-segments.dxf"),
        ("walk sheet, PDF", f"{ring}-walk.pdf"),
    )


def _order(shop: Shop, ring: str) -> int:
    return shop.job.current().liner.ring(ring).order


def _side(shop: Shop, ring: str) -> str:
    return shop.job.current().liner.ring(ring).side


def live_view(shop: Shop, ring: str, revision: str, found: WhatIf, refused: str = "") -> LiveView:
    """The block that follows the sliders."""
    moved = dict(found.moved)
    liner = shop.job.current().liner.id
    content = walk_content(found.plan, NO_DATE)
    last = next((row for row in reversed(content.rows) if row.kind == "size"), content.rows[-1])
    scale = _scale(content, 128.0)
    return LiveView(
        tuple(_lever(lever, moved.get(lever.name)) for lever in found.levers),
        picture(last, scale, max(110.0, last.strained.peak_pct if last.strained else 0.0), 10.0),
        tuple(figure_shown(f.figure, (liner, revision), f.low, f.high, key=f.key) for f in found.figures),
        _state(found),
        f"/{liner}@{revision}/{ring}/made",
        refused,
    )


def _state(found: WhatIf) -> str:
    if not found.moved:
        return "As recorded. Move a slider: the dotted estimate comes at once, the full run in its place."
    names = {lever.name: lever for lever in found.levers}
    said = [
        f"{names[n].words} {written(v, names[n].digits)}{' ' + names[n].unit if names[n].unit else ''}"
        for n, v in found.moved
    ]
    return f"What if {', '.join(said)}. Not recorded."


def _lever(lever: Lever, moved: float | None) -> LeverView:
    value = lever.value if moved is None else moved
    return LeverView(
        lever.name,
        lever.words,
        lever.unit,
        f"{value:.{lever.digits}f}",
        f"{lever.low:g}",
        f"{lever.high:g}",
        f"{lever.step:g}",
        lever.digits,
        moved is not None,
    )


def _scale(content: WalkContent, width_mm: float = COLUMN_MM) -> float:
    """One scale for all sections: the widest fills its column, at most 2 : 1."""
    widths = [
        float(row.strained.piece.z_mm.max() - row.strained.piece.z_mm.min()) for row in content.rows if row.strained
    ]
    widest = max(widths, default=1.0) + 2.0
    return max(0.05, int(20.0 * min(2.4, width_mm / widest)) / 20.0)


def picture(row: WalkRow, scale: float, top_pct: float, strain_mm: float = STRAIN_MM) -> Markup:
    """Section of the metal after this step with the wash, and the share of the limit under it."""
    if row.strained is None:
        return Markup("")
    return screen(washed(row.strained, row.title, scale, top_pct, strain_mm), 1.0)


def washed(strained: Strained, title: str, scale: float, top_pct: float, strain_mm: float) -> Drawing:
    """Section and strain line as one drawing, mm on paper."""
    lowest = float((strained.piece.r_mm - strained.piece.thickness_mm).min())
    line = strain_line(strained, scale, strain_mm, top_pct)
    section = section_wash(strained, title)
    placed = (Placed(section, (0.0, -scale * lowest + strain_mm + 2.0), scale), Placed(line, (0.0, 0.0), 1.0))
    return Drawing(placed, section.title)


def _row(
    row: WalkRow, number: int, scale: float, top: float, at: tuple[str, str], content: WalkContent, href: str
) -> RowView:
    said = [f"{row.as_before} as before"] if row.as_before else []
    said += [f"{row.left_out} more on the papers"] if row.left_out else []
    return RowView(
        number,
        row.title,
        row.subtitle,
        screen(icon(row.icon), 1.0, (-6.2, -6.2, 6.2, 6.2)),
        picture(row, scale, top),
        tuple(_figure(shown, at) for shown in (*row.settings, *row.figures)),
        tuple(mark_of(n, content.findings[n - 1].level) for n in row.findings),
        ", ".join(said),
        href,
    )


def _figure(shown: Shown, at: tuple[str, str]) -> FigureShown:
    return figure_shown(shown.figure, at, shown.low, shown.high, shown.measured)


def wash_keys() -> tuple[Key, ...]:
    """Legend of the wash."""
    words = ("under 10", "10 to 25", "25 to 50", "50 to 75", "75 to 90", "over 90 %")
    steps = [Key(wash_swatch(k), said) for k, said in enumerate(words)]
    return (
        *steps,
        Key(wash_swatch(5, "near"), "the band reaches the limit"),
        Key(wash_swatch(5, "over"), "limit passed"),
    )
