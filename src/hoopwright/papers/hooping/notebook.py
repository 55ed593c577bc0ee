"""The pictures of a ring on its segments for a notebook: an object that shows itself."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.papers.drawing.svg import svg
from hoopwright.papers.hooping.girth_strain import girth_strain
from hoopwright.papers.hooping.ring import exaggeration, ring_on_segments
from hoopwright.papers.hooping.roundness import polar_roundness
from hoopwright.papers.hooping.view import HitView

RING_SCALE = 0.3


@dataclass(frozen=True, slots=True)
class RingPictures:
    """Views of every hit; as the last line of a notebook's cell it draws them."""

    views: tuple[HitView, ...]

    def _repr_html_(self) -> str:
        return "".join(f"<div>{''.join(_of(view))}</div>" for view in self.views)


def _of(view: HitView) -> list[str]:
    drawn = [svg(ring_on_segments(view, s, exaggeration(view, s)), RING_SCALE) for s in ("loaded", "free")]
    return [*drawn, svg(polar_roundness(view, ("loaded", "free"))), svg(girth_strain(view))]
