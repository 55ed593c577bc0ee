"""Pin pull against pin travel through all hits, with what the press gives."""

from __future__ import annotations

from hoopwright.papers.drawing.items import Drawing
from hoopwright.papers.pictures.curves import Axes, Curve, curves
from hoopwright.process.hooping.measures import pull_curve
from hoopwright.process.hooping.operation import Hooped, SizeOnSegments

PENS = ("reckoned", "dashed", "wide")


def pull_picture(run: Hooped, operation: SizeOnSegments) -> Drawing:
    """Pull of each hit over the travel of the pin, 0 at the stop of that hit; mm on paper."""
    shown = []
    for hit in run.hits:
        curve = pull_curve(run, hit.number, operation)
        points = tuple((-float(x), float(y)) for x, y in zip(curve.before_full_mm, curve.pull_kN, strict=True))
        shown.append(Curve(f"hit {hit.number}", points, PENS[(hit.number - 1) % len(PENS)]))
    axes = Axes(110.0, 52.0, "pin travel before its stop, mm", "pin pull going in, kN")
    return curves(axes, shown, f"{run.incoming.part}: pin pull against travel, friction of pin and base in it")
