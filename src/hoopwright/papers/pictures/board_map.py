"""The whole liner as the board of a job: section, ladders of its tools, gap of every lap, numbers of the findings.

mm on paper; the liner itself at its own scale. Ink shows how far a part has come; no colour key is needed.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from hoopwright.design.shapes import Liner
from hoopwright.findings import Level
from hoopwright.kernels.profile import Point, line
from hoopwright.kernels.profile_crossing import levels_at
from hoopwright.papers.drawing.items import (
    Drawing,
    Group,
    Hatch,
    Item,
    LinearDimension,
    Mark,
    Path,
    Placed,
    Text,
    polyline,
    rectangle,
)
from hoopwright.papers.drawing.lettering import text_width
from hoopwright.papers.drawing.pens import Face
from hoopwright.papers.numbers import written
from hoopwright.papers.pictures.gauge import Gauge, gauge
from hoopwright.papers.pictures.liner_map import liner_map
from hoopwright.papers.pictures.sheet_metal import Firmness

WIDTH_MM = 252.0
LEFT_MM = 44.0
RUNG_MM = 4.4
LADDER_STEP_MM = 8.0
STEPS = 7
NAME_MM, SMALL_MM = 3.66, 2.95
LAP_MM = 37.0
"""Room of one lap gauge, its name above it."""


@dataclass(frozen=True, slots=True)
class Ladder:
    """Life of one tool: how many of seven steps are done; a tool that was replaced is struck through."""

    name: str
    step: int
    word: str
    gone: bool
    href: str = ""


@dataclass(frozen=True, slots=True)
class LapShown:
    """A lap's radial gap [mm] against its limits; drawn_ : where the drawing tolerances let it fall."""

    name: str
    at: Point
    outer: bool
    low_mm: float
    high_mm: float
    nominal_mm: float
    drawn_low_mm: float
    drawn_high_mm: float
    measured_mm: float | None
    mark: tuple[int, Level] | None = None


@dataclass(frozen=True, slots=True)
class BoardShown:
    """What the board draws. ladders : by part, "" for tools of all rings. marks : of findings, by part."""

    liner: Liner
    firmness: Mapping[str, Firmness]
    ladders: Mapping[str, Sequence[Ladder]]
    laps: Sequence[LapShown]
    marks: Mapping[str, Sequence[tuple[int, Level]]]
    links: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class _Place:
    """Where the liner lies on the paper."""

    scale: float
    x: float
    y: float

    def at(self, p: Point) -> Point:
        return (self.x + self.scale * p[0], self.y + self.scale * p[1])


def board_map(shown: BoardShown) -> Drawing:
    """The board as one drawing."""
    liner = shown.liner
    place = _placed(liner)
    items: list[Item] = [
        Placed(liner_map(liner, shown.firmness, (), shown.links, False), (place.x, place.y), place.scale)
    ]
    items += _ring_columns(shown, place, "outer") + _ring_columns(shown, place, "inner")
    items += _left_column(shown, place)
    items += _names(shown, place)
    items += _laps(shown, place)
    items += _frame(liner, place)
    parts = len(liner.rings) + (liner.end_plate is not None)
    return Drawing(
        tuple(items),
        f"Section of {liner.id}, to scale, with its tools and laps",
        f"{parts} parts; ink shows how far each has come. Every part and tool is a link.",
    )


def _bounds(liner: Liner) -> tuple[float, float, float, float]:
    sections = [ring.section for ring in liner.rings]
    if liner.end_plate is not None:
        sections.append(liner.end_plate.section)
    boxes = [section.bounds for section in sections]
    return min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes)


def _placed(liner: Liner) -> _Place:
    z0, r0, z1, r1 = _bounds(liner)
    scale = min(1.34, (WIDTH_MM - LEFT_MM - 8.0) / max(z1 - z0, 1.0), 140.0 / max(r1 - r0, 1.0))
    return _Place(scale, LEFT_MM + 4.0 - scale * z0, -scale * r0)


def _ring_columns(shown: BoardShown, place: _Place, side: str) -> list[Item]:
    rings = sorted((r for r in shown.liner.rings if r.side == side), key=lambda r: r.order)
    _, r0, _, r1 = _bounds(shown.liner)
    up = side == "outer"
    pitch = min(50.0, (WIDTH_MM - LEFT_MM) / max(len(rings), 1))
    items: list[Item] = []
    most = max((len(shown.ladders.get(ring.id, ())) for ring in rings), default=0)
    for k, ring in enumerate(rings):
        x = LEFT_MM + pitch * k
        ladders = shown.ladders.get(ring.id, ())
        top = place.at((0.0, r1))[1] + 18.0 + LADDER_STEP_MM * most if up else place.at((0.0, r0))[1] - 24.0
        items += _stack(ladders, x, top)
        z = 0.5 * (ring.section.bounds[0] + ring.section.bounds[2])
        near = levels_at(ring.section, z) or [ring.section.bounds[3]]
        tip = place.at((z, max(near) if up else min(near)))
        foot = top - LADDER_STEP_MM * len(ladders) + 2.0 if up else top + 5.0
        knee = place.at((0.0, r1))[1] + 12.0 if up else top + 8.0
        if ladders:
            items.append(Path(polyline([(x, foot), (x, knee), tip]), "leading"))
    return items


def _stack(ladders: Sequence[Ladder], x: float, top: float) -> list[Item]:
    return [item for k, ladder in enumerate(ladders) for item in _ladder(ladder, x, top - LADDER_STEP_MM * k)]


def _ladder(ladder: Ladder, x: float, y: float) -> list[Item]:
    wide = text_width(ladder.name, 3.2, "figures-bold")
    name: list[Item] = [Text((x, y), ladder.name, 3.2, "figures-bold")]
    if ladder.gone:
        name.append(Path((line((x - 0.4, y + 1.1), (x + wide + 0.4, y + 1.1)),), "narrow"))
    name.append(Text((x + wide + 1.4, y), ladder.word, SMALL_MM, colour="ink2"))
    for k in range(STEPS):
        box = rectangle(x + RUNG_MM * k, y - 2.4, x + RUNG_MM * (k + 1) - 0.5, y - 1.2)
        done = k < ladder.step
        if ladder.gone:
            name += [Path(box, "fine", None, True), Hatch((box,), 45.0, 0.7)]
        else:
            name.append(Path(box, "fine", "ink" if done else None, True))
    words = f"{ladder.name} {ladder.word}, step {ladder.step} of {STEPS}"
    return [Group(tuple(name), words, ladder.href)]


def _left_column(shown: BoardShown, place: _Place) -> list[Item]:
    _, r0, _, r1 = _bounds(shown.liner)
    items: list[Item] = []
    rings = {ring.id for ring in shown.liner.rings}
    y = place.at((0.0, r1))[1] - 6.0
    for part, ladders in shown.ladders.items():
        if part in rings or part == "" or not ladders:
            continue
        name = _left_name(shown.liner, part)
        items.append(Text((0.0, y + 6.4), name, NAME_MM, "italic", colour="ink2"))
        items += _part_marks(shown, part, (text_width(name, NAME_MM, "italic") + 4.0, y + 7.6))
        items += _stack(ladders, 0.0, y)
        y -= LADDER_STEP_MM * len(ladders) + 16.0
    common = shown.ladders.get("", ())
    if common:
        top = place.at((0.0, r0))[1] - 24.0
        items.append(Text((0.0, top + 6.4), "for all rings", NAME_MM, "italic", colour="ink2"))
        items += _stack(common, 0.0, top)
    return items


def _left_name(liner: Liner, part: str) -> str:
    if liner.end_plate is not None and part == liner.end_plate.id:
        return "end plate"
    if liner.spring_plate is not None and part == liner.spring_plate.id:
        return "spring plates"
    return part


def _part_marks(shown: BoardShown, part: str, at: Point) -> list[Item]:
    return [
        Mark((at[0] + 7.0 * k, at[1]), number, level) for k, (number, level) in enumerate(shown.marks.get(part, ()))
    ]


def _names(shown: BoardShown, place: _Place) -> list[Item]:
    items: list[Item] = []
    for ring in shown.liner.rings:
        z = 0.5 * (ring.section.bounds[0] + ring.section.bounds[2])
        near = [r for k in range(-8, 9, 2) for r in levels_at(ring.section, z + k)] or [ring.section.bounds[3]]
        x, y = place.at((z, max(near) if ring.side == "outer" else min(near)))
        y += 3.2 if ring.side == "outer" else -6.0
        items.append(Text((x, y), ring.id, NAME_MM, "figures-bold", "middle", knockout=True))
        wide = 0.5 * text_width(ring.id, NAME_MM, "figures-bold")
        items += _part_marks(shown, ring.id, (x + wide + 3.6, y + 1.3))
    return items


def _laps(shown: BoardShown, place: _Place) -> list[Item]:
    items: list[Item] = []
    for outer in (True, False):
        own = sorted((lap for lap in shown.laps if lap.outer == outer), key=lambda lap: lap.at[0])
        last = LEFT_MM + 4.0
        for lap in own:
            tip = place.at(lap.at)
            x = max(last, tip[0] - 4.0)
            last = x + LAP_MM + 3.0
            items += _lap(lap, tip, x, outer, place)
    _, r0, _, r1 = _bounds(shown.liner)
    middle = place.at((0.0, 0.5 * (r0 + r1)))[1]
    said = ("Radial gap in each lap, mm. End stops: what the weld allows.",
            "Diamond: measured. Bar: where the drawing tolerances let it fall.")  # fmt: skip
    x = LEFT_MM + 56.0
    items += [
        Text((x, middle + 1.0 - 5.0 * k), words, NAME_MM, "italic", colour="ink2") for k, words in enumerate(said)
    ]
    return items


def _lap(lap: LapShown, tip: Point, x: float, outer: bool, place: _Place) -> list[Item]:
    y = tip[1] - 22.0 if outer else tip[1] + 14.0
    if outer:
        y = min(y, place.at((0.0, lap.at[1]))[1] - 20.0)
    measured = lap.measured_mm
    value = "not yet measured" if measured is None else written(measured, 3)
    wide = text_width(lap.name, NAME_MM, "figures-bold")
    shown = Gauge(
        lap.nominal_mm if measured is None else None,
        lap.low_mm,
        lap.high_mm,
        lap.drawn_low_mm if measured is None else None,
        lap.drawn_high_mm if measured is None else None,
        measured,
        2,
    )
    face: Face = "figures-bold" if measured is not None else "figures"
    size, colour = (NAME_MM, "lead") if measured is not None else (SMALL_MM, "ink2")
    return [
        Path((line(tip, (x + 2.0, y + 6.6 if outer else y - 6.4)),), "fine"),
        Text((x, y + 3.0), lap.name, NAME_MM, "figures-bold"),
        Text((x + wide + 1.8, y + 3.0), value, size, face, colour=colour),
        Placed(gauge(shown, 30.0, True), (x, y), 1.0),
        *([Mark((x - 4.0, y + 4.2), *lap.mark)] if lap.mark else []),
    ]


def _frame(liner: Liner, place: _Place) -> list[Item]:
    z0, r0, z1, _ = _bounds(liner)
    low = place.at((0.0, r0))[1] - 12.0
    a, b = place.at((z0, r0)), place.at((z1, r0))
    return [
        LinearDimension((a[0], low), (b[0], low), 0.0, 1, "x", value_mm=z1 - z0),
        Text((a[0] - 1.5, low - 1.0), "forward", NAME_MM, "italic", "end", colour="ink2"),
        Text((b[0] + 1.5, low - 1.0), "aft", NAME_MM, "italic", colour="ink2"),
    ]
