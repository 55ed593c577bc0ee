"""Blanks laid on their sheet, with the band kept back for coupons. Units mm; x along the rolling direction."""

from __future__ import annotations

from hoopwright.kernels.sector_nest import SectorNest, placed_outline
from hoopwright.kernels.sector_shape import Sector
from hoopwright.kernels.strip_nest import SheetPlate, StripNest
from hoopwright.papers.drawing.items import Drawing, Item, LinearDimension, Path, Text, polyline, rectangle

TENSILE, WELD = (200.0, 20.0), (100.0, 50.0)
"""Coupons: tensile across and along, weld pairs (common practice, no source). Length and width. [mm]"""


def nest_drawing(sheet: SheetPlate, nest: StripNest | SectorNest, sector: Sector | None, scale: float) -> Drawing:
    """The sheet with every blank, its numbers, and the coupons in the band at its far end."""
    items: list[Item] = [
        Path(rectangle(0.0, 0.0, sheet.length_mm, sheet.width_mm), "wide", None, True, "SHEET", "sheet"),
        LinearDimension((0.0, 0.0), (sheet.length_mm, 0.0), -8.0, 0),
        LinearDimension((sheet.length_mm, 0.0), (sheet.length_mm, sheet.width_mm), -8.0, 0),
    ]
    items += _strips(nest) if isinstance(nest, StripNest) else _sectors(nest, sector)
    if sheet.band_end_mm > 0.0:
        items += _band(sheet, scale)
    return Drawing(tuple(items), "nest", f"{nest.count} blanks on a sheet, coupons at the far end")


def _strips(nest: StripNest) -> list[Item]:
    w, h = nest.size_mm
    return [Path(rectangle(x, y, x + w, y + h), "narrow", None, True, "CUT") for x, y in nest.corner_mm.tolist()]


def _sectors(nest: SectorNest, sector: Sector | None) -> list[Item]:
    if sector is None:
        return []
    outlines = [placed_outline(nest, sector, k, 0.3).tolist() for k in range(nest.count)]
    return [
        Path(polyline([(p[0], p[1]) for p in points], closed=True), "narrow", None, True, "CUT") for points in outlines
    ]


def coupon_places(sheet: SheetPlate) -> tuple[tuple[str, float, float, float, float], ...]:
    """Coupons in the band: name and corners. Tensile across the rolling direction, then weld pairs, from below."""
    x = sheet.length_mm - sheet.border_mm - sheet.band_end_mm + sheet.cut_gap_mm
    room, y = sheet.band_end_mm - sheet.cut_gap_mm, sheet.border_mm
    found: list[tuple[str, float, float, float, float]] = []
    for number in range(1, 4):
        if y + TENSILE[0] <= sheet.width_mm - sheet.border_mm and TENSILE[1] <= room:
            found.append((f"T{number}", x, y, x + TENSILE[1], y + TENSILE[0]))
        if number <= 2 and 2.0 * TENSILE[1] + sheet.cut_gap_mm <= room:
            left = x + TENSILE[1] + sheet.cut_gap_mm
            found.append((f"R{number}", left, y, left + TENSILE[1], y + TENSILE[0]))
        y += TENSILE[0] + sheet.cut_gap_mm
    number = 1
    while y + WELD[0] <= sheet.width_mm - sheet.border_mm and number <= 5 and WELD[1] <= room:
        found.append((f"W{number}", x, y, x + WELD[1], y + WELD[0]))
        y += WELD[0] + sheet.cut_gap_mm
        number += 1
    return tuple(found)


def _band(sheet: SheetPlate, scale: float) -> list[Item]:
    items: list[Item] = []
    for name, x0, y0, x1, y1 in coupon_places(sheet):
        items.append(Path(rectangle(x0, y0, x1, y1), "dashed", None, True, "COUPON", f"coupon {name}"))
        middle = (0.5 * (x0 + x1), 0.5 * (y0 + y1))
        if (x1 - x0) * scale >= 6.0:
            items.append(Text(middle, name, 2.95, anchor="middle", shift=(0.0, -1.0)))
    return items
