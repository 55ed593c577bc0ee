"""The pages after the walk: blank, rolls, segment set with its tables, each as blocks under a lettered heading."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from hoopwright.papers.blocks import Block, beside, kept, picture, space, stacked
from hoopwright.papers.drawing.items import Drawing
from hoopwright.papers.numbers import written
from hoopwright.papers.pictures.blanks import APEX_SHOWN_RAD, SectorBlank, blank_drawing
from hoopwright.papers.pictures.roll_contours import corner_points, pair_drawing
from hoopwright.papers.pictures.segments import SegmentView, polar_drawing, profile_drawing
from hoopwright.papers.prose import Column, heading, paragraph, table
from hoopwright.papers.scales import SCALES, paper_box, scale_text
from hoopwright.papers.sheet_frame import INNER_WIDTH
from hoopwright.papers.walk_content import RollsShown, StopTableShown, WalkContent
from hoopwright.papers.walk_rows import figures_block

Letters = Iterator[str]


def fitted(
    make: Callable[[float], Drawing], width_mm: float, height_mm: float, most: float = SCALES[0]
) -> tuple[Block, float]:
    """A drawing that lays its labels out by scale, at the largest scale at which it fits the space with them."""
    for scale in (s for s in SCALES if s <= most):
        drawing = make(scale)
        x0, y0, x1, y1 = paper_box(drawing, scale)
        if x1 - x0 <= width_mm and y1 - y0 <= height_mm:
            return picture(drawing, (x0, y0, x1, y1), scale), scale
    drawing = make(SCALES[-1])
    return picture(drawing, paper_box(drawing, SCALES[-1]), SCALES[-1]), SCALES[-1]


def blank_blocks(content: WalkContent, letters: Letters) -> list[Block]:
    """The blank, to scale, with its figures beside or under it."""
    if content.blank is None:
        return []
    blank = content.blank
    kind = "sector" if isinstance(blank, SectorBlank) else "strip"
    drawn, scale = fitted(lambda s: blank_drawing(blank, s), INNER_WIDTH, 84.0, 1.0)
    dashes = "Dashed: ends cut after rolling, edges trimmed after sizing."
    if isinstance(blank, SectorBlank):
        dashes += " Sector between the weld ends; the ends stand parallel to them."
        if blank.sector.angle_rad < APEX_SHOWN_RAD:
            dashes += " Its apex is not shown."
    note = paragraph(dashes, INNER_WIDTH, 3.0, "italic")
    parts = [drawn, note]
    if content.blank_figures:
        parts.append(two_columns([figures_block((shown,), 0, 78.0) for shown in content.blank_figures]))
    return [heading(next(letters), f"Blank, {kind}, {scale_text(scale)}"), stacked(parts, 1.5, "blank"), space(4.0)]


def two_columns(blocks: list[Block]) -> Block:
    """Blocks in two columns of about equal height."""
    half = 0.5 * sum(b.height_mm for b in blocks)
    left: list[Block] = []
    rest = list(blocks)
    while rest and sum(b.height_mm for b in left) < half - 1e-9:
        left.append(rest.pop(0))
    return beside([(0.0, stacked(left)), (0.5 * INNER_WIDTH + 3.0, stacked(rest))], "figures")


def roll_blocks(rolls: RollsShown | None, letters: Letters) -> list[Block]:
    """Both contours closed on the sheet, with the points of each roll as a table."""
    if rolls is None:
        return []
    drawn, scale = fitted(lambda s: pair_drawing(rolls.pair, s), INNER_WIDTH, 80.0, 2.0)
    letter = next(letters)
    head = heading(letter, f"Rolls {rolls.name}, {scale_text(scale)}")
    cant, cone = rolls.pair.cant_deg, rolls.pair.cone_deg
    words = [
        "Inner roll below, outer roll above, closed on the sheet. Radii from each roll's own axis, x from its middle.",
        f"Section canted {written(cant, 2)}°." if abs(cant) > 1e-6 else "",
        _tilt_words(cone),
        rolls.words,
    ]
    text = paragraph(" ".join(w for w in words if w), INNER_WIDTH, 3.2)
    columns = [Column("point", 14.0, "start")]
    for name in ("inner roll", "outer roll"):
        columns += [Column(f"{name}, x", 26.0), Column("R", 24.0), Column("then arc", 24.0)]
    points = table(columns, _point_rows(rolls), title="points of the rolls")
    said = kept(paragraph(f"Points of both contours of view {letter}.", INNER_WIDTH, 3.2, "italic", 0.6))
    return [head, stacked([drawn, text], 1.5, "roll contours"), space(1.5), said, *points, space(4.0)]


def _tilt_words(cone_deg: float) -> str:
    if cone_deg == 0.0:
        return ""
    thinner = "aft" if cone_deg > 0.0 else "forward"
    tilted = f"Roll axes tilted {written(abs(cone_deg), 2)}° each, both rolls thinner towards {thinner}"
    return f"{tilted}; the table is in the frame of each axis."


def _point_rows(rolls: RollsShown) -> list[tuple[str, ...]]:
    inner, outer = corner_points(rolls.pair.inner), corner_points(rolls.pair.outer)
    return [
        (str(k), written(a[0], 3), written(a[1], 3), _arc(a[2]), written(b[0], 3), written(b[1], 3), _arc(b[2]))
        for k, (a, b) in enumerate(zip(inner, outer, strict=True), start=1)
    ]


def _arc(bend: float) -> str:
    """Radius of the arc that follows a point, and whether it stands out or is hollow."""
    return "" if bend == 0.0 else f"{written(abs(bend), 3)} {'out' if bend > 0.0 else 'hollow'}"


def segment_blocks(content: WalkContent, letters: Letters) -> list[Block]:
    """Profile, the set from above, control radii, stop table, loads of the press."""
    if content.segments is None:
        return []
    view = content.segments
    profile, scale = fitted(lambda s: profile_drawing(view, s), 108.0, 78.0, 2.0)
    above, small = fitted(lambda _: polar_drawing(view, content.seam_deg), 62.0, 78.0, 1.0)
    sketched = ", bore sketched" if view.bore_mm is None else ""
    left = stacked([heading(next(letters), f"Segments, loaded position, {scale_text(scale)}"), profile])
    right = stacked([heading(next(letters), f"From above, {scale_text(small)}{sketched}"), above])
    blocks = [beside([(0.0, left), (INNER_WIDTH - 60.0, right)], "segment set"), space(3.0)]
    blocks += control_blocks(view, letters)
    blocks += stop_blocks(content.stops, letters)
    if content.press:
        blocks += [
            heading(next(letters), "At the press"),
            two_columns([figures_block((shown,), 0, 78.0) for shown in content.press]),
            space(4.0),
        ]
    return blocks


def control_blocks(view: SegmentView, letters: Letters) -> list[Block]:
    """Control radii of ring and segments."""
    if not view.controls:
        return []
    columns = (
        Column("place", 40.0, "start"),
        Column("z", 16.0),
        Column("ring, free", 26.0),
        Column("loaded", 26.0),
        Column("segment", 26.0),
    )
    rows = [
        (c.name, written(c.z_mm, 1), written(c.ring_free_mm, 3), written(c.ring_loaded_mm, 3), written(c.segment_mm, 3))
        for c in view.controls
    ]
    note = "Ring figures are of the middle of the sheet. Segment figures are of the surface that meets its inside face."
    return [
        heading(next(letters), "Control radii at 20 °C"),
        *table(columns, rows, title="control radii"),
        space(1.5),
        paragraph(note, INNER_WIDTH, 3.0, "italic"),
        space(4.0),
    ]


def stop_blocks(stops: StopTableShown | None, letters: Letters) -> list[Block]:
    """The stop table: read like a tide table; the heavy rule spans the settings that end within tolerance."""
    if stops is None or not stops.lines:
        return []
    wide = min(26.0, (INNER_WIDTH - 72.0) / max(1, 2 * len(stops.sizes)))
    columns = [Column("pin stop", 20.0), Column("shim", 18.0)]
    for name in stops.sizes:
        columns += [Column(f"{name}, loaded", wide), Column("free", wide)]
    columns.append(Column("", INNER_WIDTH - sum(c.width_mm for c in columns), "start", "italic"))
    rows = [
        (
            written(one.stop_mm, 2),
            written(one.shim_mm, 2, sign=True),
            *(text for a, b in zip(one.loaded_mm, one.free_mm, strict=True) for text in (written(a, 2), written(b, 2))),
            one.note,
        )
        for one in stops.lines
    ]
    words = (
        "Diameters by girth tape. Heavy rule: every free size ends within the drawing's tolerance. A ring cannot be "
        "shrunk: come from below."
    )
    return [
        heading(next(letters), "Stop table"),
        *table(columns, rows, 2.95, stops.chosen, stops.inside, "stop table"),
        space(1.5),
        paragraph(words, INNER_WIDTH, 3.0, "italic"),
        space(4.0),
    ]
