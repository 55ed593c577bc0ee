"""A figure against its limits, in the height of a text line: limits as end stops, band as a bar, reckoned value as a
tick, measured value as a diamond. One-sided limits have one stop. Shapes differ, so it reads in black and white.
"""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.errors import InputError, require_finite, require_positive
from hoopwright.kernels.profile import line
from hoopwright.papers.drawing.items import Drawing, Item, Path, Text, polyline, rectangle
from hoopwright.papers.numbers import from_to, written

STOP_MM, BAR_MM, TICK_MM, DIAMOND_MM = 1.5, 0.9, 1.7, 1.35


@dataclass(frozen=True, slots=True)
class Gauge:
    """What the gauge shows, all in one unit; None where there is none.

    low, high : limits. reckoned, measured : values. band_low, band_high : where 9 of 10 runs fall.
    """

    reckoned: float | None
    low: float | None = None
    high: float | None = None
    band_low: float | None = None
    band_high: float | None = None
    measured: float | None = None
    digits: int = 2

    def values(self) -> list[float]:
        """All that is to be shown, refused when not finite or nothing."""
        given = (self.reckoned, self.low, self.high, self.band_low, self.band_high, self.measured)
        found = [require_finite("gauge value", v) for v in given if v is not None]
        if not found:
            raise InputError("gauge", "empty", "", "at least one value", "leave the gauge out")
        return found


def gauge(wanted: Gauge, width_mm: float = 22.0, labels: bool = False) -> Drawing:
    """The gauge, mm on paper: axis along y = 0 from x = 0; `labels` writes the limits under their stops."""
    require_positive("gauge width", width_mm, "mm")
    values = wanted.values()
    least, most = min(values), max(values)
    span = (most - least) or max(abs(most), 1.0) * 0.02
    pad = 0.14 * span
    least, most = least - pad, most + pad

    def x(value: float) -> float:
        return width_mm * (value - least) / (most - least)

    items: list[Item] = [Path((line((0.0, 0.0), (width_mm, 0.0)),), "hair")]
    if wanted.low is not None and wanted.high is not None:
        items.append(Path((line((x(wanted.low), 0.0), (x(wanted.high), 0.0)),), "wide"))
    if wanted.band_low is not None and wanted.band_high is not None:
        a, b = x(wanted.band_low), x(wanted.band_high)
        if b - a < 0.6:
            a, b = 0.5 * (a + b) - 0.3, 0.5 * (a + b) + 0.3
        items.append(Path(rectangle(a, -BAR_MM, b, BAR_MM), None, "band", True))
    for limit in (wanted.low, wanted.high):
        if limit is not None:
            items.append(Path((line((x(limit), -STOP_MM), (x(limit), STOP_MM)),), "wide"))
            if labels:
                items.append(Text((x(limit), -STOP_MM - 3.0), written(limit, wanted.digits), 2.95, anchor="middle"))
    if wanted.reckoned is not None:
        items.append(Path((line((x(wanted.reckoned), -TICK_MM), (x(wanted.reckoned), TICK_MM)),), "reckoned-tick"))
    if wanted.measured is not None:
        m, d = x(wanted.measured), DIAMOND_MM
        diamond = polyline([(m, d), (m + 0.85 * d, 0.0), (m, -d), (m - 0.85 * d, 0.0)], closed=True)
        items.append(Path(diamond, None, "lead", True))
    return Drawing(tuple(items), gauge_words(wanted))


def gauge_words(wanted: Gauge) -> str:
    """What the gauge says, in words."""
    d = wanted.digits
    parts = []
    if wanted.low is not None and wanted.high is not None:
        parts.append(f"limits {from_to(wanted.low, wanted.high, d)}")
    elif wanted.high is not None:
        parts.append(f"at most {written(wanted.high, d)}")
    elif wanted.low is not None:
        parts.append(f"at least {written(wanted.low, d)}")
    if wanted.band_low is not None and wanted.band_high is not None:
        parts.append(f"9 in 10 runs {from_to(wanted.band_low, wanted.band_high, d)}")
    if wanted.reckoned is not None:
        parts.append(f"reckoned {written(wanted.reckoned, d)}")
    if wanted.measured is not None:
        parts.append(f"measured {written(wanted.measured, d)}")
    return ", ".join(parts)
