"""Where the tensile coupons lie: the end of the sheet with its band, weld and parent in turn. mm; x along rolling."""

from __future__ import annotations

from collections.abc import Sequence

from hoopwright.errors import InputError
from hoopwright.kernels.profile import line
from hoopwright.kernels.strip_nest import SheetPlate
from hoopwright.papers.drawing.items import Drawing, Item, Path, Text, rectangle
from hoopwright.plan.seam.coupon_places import CouponPlace

BEYOND_MM = 40.0
"""Sheet shown beside the coupons."""


def coupon_drawing(sheet: SheetPlate, places: Sequence[CouponPlace], scale: float) -> Drawing:
    """The end of the sheet from its origin side as far as the coupons reach; the rest is broken off.

    Raises
    ------
    InputError
        No coupon.
    """
    if not places:
        raise InputError("coupons", "none", "", "one place or more", "plan them on a sheet first")
    left = places[0].x_mm - BEYOND_MM
    top = min(max(p.y_mm + p.width_mm for p in places) + BEYOND_MM, sheet.width_mm)
    right = sheet.length_mm
    whole = top >= sheet.width_mm
    items: list[Item] = [
        Path((line((left, 0.0), (right, 0.0)), line((right, 0.0), (right, top))), "wide", title="sheet"),
        Path((line((left, 0.0), (left, top)),), "dashed"),
        Path((line((left, top), (right, top)),), "wide" if whole else "dashed"),
    ]
    for place in places:
        x, y = place.x_mm, place.y_mm
        outline = rectangle(x, y, x + place.length_mm, y + place.width_mm)
        items.append(Path(outline, "narrow", None, True, "COUPON", f"{place.kind} coupon {place.name}"))
        middle = x + 0.5 * place.length_mm
        if place.kind == "weld":
            items.append(Path((line((middle, y), (middle, y + place.width_mm)),), "wide"))
        label = (x + 0.14 * place.length_mm, y + 0.5 * place.width_mm)
        items.append(Text(label, place.name, 2.95, anchor="middle", shift=(0.0, -1.0)))
    words = "rolling direction, along the hoop"
    items.append(Text((left, top), words, 2.95, shift=(0.0, 1.6)))
    said = f"{sum(p.kind == 'weld' for p in places)} weld and {sum(p.kind == 'parent' for p in places)} parent coupons"
    return Drawing(tuple(items), said, "end of the sheet, dashed where it is broken off; the weld is the wide line")
