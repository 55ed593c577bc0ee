"""The walk as rows: number and title, where the part stands, its section with the wash, what to set and to expect."""

from __future__ import annotations

from dataclasses import replace

from hoopwright.findings import Finding
from hoopwright.kernels.profile import line
from hoopwright.papers.blocks import Block, placed, stacked
from hoopwright.papers.drawing.expand import expand
from hoopwright.papers.drawing.items import Item, Mark, Path, Placed, Text
from hoopwright.papers.drawing.lettering import printable, text_width, wrapped
from hoopwright.papers.drawing.strokes import box_of
from hoopwright.papers.numbers import band_text, figure_digits, figure_text
from hoopwright.papers.pictures.basis import underlined
from hoopwright.papers.pictures.gauge import Gauge, gauge
from hoopwright.papers.pictures.icons import icon
from hoopwright.papers.pictures.strain_wash import cell_edges, section_wash, strain_line
from hoopwright.papers.sheet_frame import INNER_WIDTH
from hoopwright.papers.walk_content import Shown, WalkRow

TITLE_X, TITLE_WIDTH = 5.6, 28.0
ICON_X = 39.6
SECTION_X, SECTION_WIDTH = 46.5, 53.2
FIGURES_X = 111.0
FIGURES_WIDTH = INNER_WIDTH - FIGURES_X
NAME_WIDTH, VALUE_X = 30.0, 31.2
STRAIN_MM = 5.4
LOWEST_MM = 6.5
"""Icon and section stand beside the title of a tall row, not in the middle of its figures."""

SIZE = 2.95
STEP = 4.1


def walk_row(row: WalkRow, number: int, scale: float, top_pct: float, findings: tuple[Finding, ...]) -> Block:
    """One operation as a block.

    scale : of the sections on this sheet. top_pct : share of the limit that the strain lines reach at full height.
    """
    words, picture = _words(row, number, findings), _picture(row, scale, top_pct)
    figures = figures_block((*row.settings, *row.figures), row.left_out, as_before=row.as_before)
    tall = max(words.height_mm, picture.height_mm, figures.height_mm, 12.6)
    items: list[Item] = [Path((line((0.0, 0.0), (INNER_WIDTH, 0.0)),), "hair"), placed(words, 0.0, -2.0)]
    down = min(LOWEST_MM, 0.5 * (tall - max(picture.height_mm, 12.6)))
    middle = down + 0.5 * max(picture.height_mm, 12.6)
    items.append(Placed(icon(row.icon), (ICON_X, -2.0 - middle), 1.0))
    items.append(placed(picture, SECTION_X, -2.0 - middle + 0.5 * picture.height_mm))
    items.append(placed(figures, FIGURES_X, -2.0))
    return Block(tall + 3.6, tuple(items), f"operation {number}: {row.title}")


def _words(row: WalkRow, number: int, findings: tuple[Finding, ...]) -> Block:
    items: list[Item] = [Text((0.0, -3.4), str(number), 3.2)]
    down = -3.4
    title, face = printable(row.title, "figures-bold")[0]
    for text in wrapped(title, 3.2, TITLE_WIDTH, face):
        items.append(Text((TITLE_X, down), text, 3.2, face))
        down -= 4.2
    sub, face = printable(row.subtitle, "figures")[0]
    for text in wrapped(sub, SIZE, TITLE_WIDTH, face) if sub else ():
        items.append(Text((TITLE_X, down), text, SIZE, face))
        down -= 3.9
    if row.findings:
        for k, about in enumerate(row.findings):
            items.append(
                Mark((TITLE_X + 3.2 + 7.0 * (k % 3), down - 0.6 - 7.0 * (k // 3)), about, findings[about - 1].level)
            )
        down -= 7.0 * ((len(row.findings) + 2) // 3)
    return Block(-down, tuple(items))


def _picture(row: WalkRow, scale: float, top_pct: float) -> Block:
    """Section with its wash, and the strain line under it, centred in their column."""
    if row.strained is None:
        return Block(0.0, ())
    section = section_wash(row.strained, row.title)
    x0, y0, x1, y1 = box_of(expand(section, scale))
    shift = 0.5 * (SECTION_WIDTH - (x1 - x0)) - x0
    strain = strain_line(row.strained, scale, STRAIN_MM, top_pct)
    down = y1 - y0
    items: tuple[Item, ...] = (
        Placed(section, (shift, -y1), scale),
        Placed(strain, (shift, -down - 2.2 - STRAIN_MM), 1.0),
    )
    return Block(down + 2.2 + STRAIN_MM + 0.4, items, "section and strain")


def section_scale(rows: tuple[WalkRow, ...]) -> float:
    """One scale for all sections of a sheet: the widest fills its column, rounded down to 0.05, at most 2 : 1."""
    widths = [0.0]
    for row in rows:
        if row.strained is not None:
            xs = [x for face in cell_edges(row.strained.piece) for x, _ in face]
            widths.append(max(xs) - min(xs))
    widest = max(widths)
    if widest <= 0.0:
        return 1.0
    fit = min(2.0, SECTION_WIDTH / widest)
    return max(0.05, int(fit * 20.0) / 20.0)


def figures_block(
    shown: tuple[Shown, ...], left_out: int = 0, width_mm: float = FIGURES_WIDTH, as_before: int = 0
) -> Block:
    """Figures under each other: name, value with the underline of its basis, gauge or band."""
    blocks = [figure_line(one, width_mm) for one in shown]
    said = [f"{as_before} as before"] if as_before else []
    said += [f"{left_out} more in plan.json"] if left_out else []
    if said:
        words = ("and " if shown else "") + ", ".join(said)
        blocks.append(Block(STEP, (Text((0.0, -3.2), words, SIZE, "italic"),)))
    return stacked(blocks, 0.5, "figures")


def figure_line(shown: Shown, width_mm: float = FIGURES_WIDTH) -> Block:
    """One figure: its name, its value, and beside it the gauge where it has limits, else its band."""
    figure = shown.figure
    name, face = printable(figure.name, "figures")[0]
    lines = wrapped(name, SIZE, NAME_WIDTH, face)
    items: list[Item] = [Text((0.0, -3.2 - 3.7 * k), text, SIZE, face) for k, text in enumerate(lines)]
    value = figure_text(replace(figure, unit="") if figure.unit == "mm" else figure)
    items += underlined((VALUE_X, -3.2), value, 3.2, figure.source.basis)
    x = VALUE_X + max(14.0, text_width(value, 3.2, "figures-bold") + 1.8)
    room = width_mm - x
    if (shown.low is not None or shown.high is not None) and room >= 9.0:
        items.append(Placed(gauge(_gauge(shown), min(room, 16.0)), (x, -2.2), 1.0))
        extra = 0.0
    else:
        extra = _band(items, band_text(figure), x, room, len(lines))
    return Block(max(STEP + 0.5, 3.7 * len(lines) + 1.0, extra), tuple(items), figure.name)


def _band(items: list[Item], band: str, x: float, room: float, lines: int) -> float:
    """Band in italics beside the value, or under it where there is no room; what height it needs."""
    if not band:
        return 0.0
    if text_width(band, SIZE, "italic") <= room:
        items.append(Text((x, -3.2), band, SIZE, "italic", colour="blue"))
        return 0.0
    items.append(Text((VALUE_X, -7.6), band, SIZE, "italic", colour="blue"))
    return 9.0


def _gauge(shown: Shown) -> Gauge:
    figure, band = shown.figure, shown.figure.band
    return Gauge(
        figure.value,
        shown.low,
        shown.high,
        band.low if band else None,
        band.high if band else None,
        shown.measured,
        figure_digits(figure),
    )
