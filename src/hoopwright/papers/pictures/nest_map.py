"""Blanks laid on their sheet, with the band kept back for coupons. Units mm; x along the rolling direction."""

from __future__ import annotations

from collections.abc import Sequence

from hoopwright.kernels.sector_nest import SectorNest, placed_outline
from hoopwright.kernels.sector_shape import Sector
from hoopwright.kernels.strip_nest import SheetPlate, StripNest
from hoopwright.papers.drawing.items import Drawing, Item, LinearDimension, Path, polyline, rectangle
from hoopwright.plan.seam.coupon_places import CouponPlace


def nest_drawing(
    sheet: SheetPlate, nest: StripNest | SectorNest, sector: Sector | None, coupons: Sequence[CouponPlace]
) -> Drawing:
    """The sheet with every blank, and the coupons in the band at its far end."""
    items: list[Item] = [
        Path(rectangle(0.0, 0.0, sheet.length_mm, sheet.width_mm), "wide", None, True, "SHEET", "sheet"),
        LinearDimension((0.0, 0.0), (sheet.length_mm, 0.0), -8.0, 0),
        LinearDimension((sheet.length_mm, 0.0), (sheet.length_mm, sheet.width_mm), -8.0, 0),
    ]
    items += _strips(nest) if isinstance(nest, StripNest) else _sectors(nest, sector)
    for one in coupons:
        corners = (one.x_mm, one.y_mm, one.x_mm + one.length_mm, one.y_mm + one.width_mm)
        items.append(Path(rectangle(*corners), "dashed", None, True, "COUPON", f"coupon {one.name}"))
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
