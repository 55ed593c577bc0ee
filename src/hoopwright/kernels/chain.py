"""From strip to sized hoop: the public face of the chain kernels.

    plain hoop       `strip_ring` (forward), `strip_ring_for` (tool and cut length for a wanted diameter)
    contoured hoop   `contour_hoop` or `hoop_at_stations`, `ring_stretched` (forward), `ring_tool` (inverse), `annealed`
    prior strain     `prior_strain_map`: what rolling and curl have left in each layer, in closed form

A contoured strip curled with its residual stress comes from `curl` and goes on by `curl.closed_hoop`.
"""

from __future__ import annotations

from hoopwright.kernels.chain_contour import (
    ContourHoop,
    Face,
    SizedContour,
    annealed,
    contour_hoop,
    hoop_at_stations,
    ring_stretched,
    ring_tool,
)
from hoopwright.kernels.chain_prior import prior_strain_map
from hoopwright.kernels.chain_strip import StripRing, StripRoute, strip_ring, strip_ring_at, strip_ring_for

__all__ = [
    "ContourHoop",
    "Face",
    "SizedContour",
    "StripRing",
    "StripRoute",
    "annealed",
    "contour_hoop",
    "hoop_at_stations",
    "prior_strain_map",
    "ring_stretched",
    "ring_tool",
    "strip_ring",
    "strip_ring_at",
    "strip_ring_for",
]
