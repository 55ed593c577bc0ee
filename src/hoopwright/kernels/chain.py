"""From strip to sized hoop: the public face of the chain kernels."""

from __future__ import annotations

from hoopwright.kernels.chain_contour import (
    ContourHoop,
    Face,
    SizedContour,
    annealed,
    contour_hoop,
    ring_stretched,
    ring_tool,
)

__all__ = ["ContourHoop", "Face", "SizedContour", "annealed", "contour_hoop", "ring_stretched", "ring_tool"]
