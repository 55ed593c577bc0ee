"""Where the coupons lie on the sheet: weld and parent in turn, in the band kept back across its end, along the hoop."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import zip_longest
from typing import Final, Literal

from hoopwright.cards.limits import HouseLimits
from hoopwright.errors import InputError, require_positive
from hoopwright.kernels.strip_nest import SheetPlate
from hoopwright.plan.blank import COUPON_LENGTH_MM

COUPON_WIDTH_MM: Final = 20.0
"""Blank of a sheet coupon before it is machined: common practice, no source."""

Kind = Literal["weld", "parent"]


@dataclass(frozen=True, slots=True)
class CouponPlace:
    """One coupon: corner nearest the sheet's origin, x along its rolling direction, length along x. A weld coupon is
    cut across its middle, welded and tested as one."""

    name: str
    kind: Kind
    x_mm: float
    y_mm: float
    length_mm: float
    width_mm: float


def coupon_sheet(limits: HouseLimits) -> SheetPlate:
    """The stock sheet of the house card with a band kept back that is as long as a coupon."""
    gap = limits.cut_gap_mm.value
    return SheetPlate(
        limits.sheet_length_mm.value,
        limits.sheet_width_mm.value,
        limits.sheet_border_mm.value,
        gap,
        band_end_mm=COUPON_LENGTH_MM + gap,
    )


def coupon_places(
    sheet: SheetPlate,
    welds: int,
    parents: int,
    length_mm: float = COUPON_LENGTH_MM,
    width_mm: float = COUPON_WIDTH_MM,
) -> tuple[CouponPlace, ...]:
    """Weld and parent coupons in turn across the band at the end of the sheet.

    Raises
    ------
    InputError
        A band too short for a coupon along the hoop; more coupons than it holds, with how many it does.
    """
    length = require_positive("coupon length", length_mm, "mm")
    if sheet.band_end_mm < length + sheet.cut_gap_mm:
        must = f"{length + sheet.cut_gap_mm:g} or more, for coupons along the hoop"
        raise InputError("coupon band", sheet.band_end_mm, "mm", must, "keep a longer band at the end of the sheet")
    pitch = width_mm + sheet.cut_gap_mm
    room = int((sheet.width_mm - 2.0 * sheet.border_mm + sheet.cut_gap_mm) / pitch)
    if welds < 1 or parents < 1 or welds + parents > room:
        must = f"from 2 to {room}, weld and parent together, one of each or more"
        raise InputError("coupons", welds + parents, "", must, "take a second sheet of the same cast")
    x = sheet.length_mm - sheet.border_mm - length
    return tuple(
        CouponPlace(name, kind, x, sheet.border_mm + k * pitch, length, width_mm)
        for k, (name, kind) in enumerate(_in_turn(welds, parents))
    )


def _in_turn(welds: int, parents: int) -> Iterator[tuple[str, Kind]]:
    for k, (weld, parent) in enumerate(zip_longest(range(welds), range(parents)), start=1):
        if weld is not None:
            yield f"W{k}", "weld"
        if parent is not None:
            yield f"P{k}", "parent"
