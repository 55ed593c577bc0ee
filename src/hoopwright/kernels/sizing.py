"""Closed forms of segmented sizing: the public face. Each module states its equations, source and limits.

    sizing_springback   released and loaded radius, section springback, bend history, several hits with anneals
    sizing_round        what stretching leaves of out-of-roundness; half-pitch re-hits
    sizing_friction     strain along a segment's arc under friction
    sizing_weld         weld zone in series with the ring, necking limit
    sizing_limits       instability by loading

They plan to 0.001 mm on a mean diameter, 1 % on strain; lobes and flats are in `segment_hull` and in the hoop kernel.
"""

from __future__ import annotations

from hoopwright.kernels.sizing_friction import (
    ArcStrain,
    arc_strain,
    necking_strain,
    power_law_strain_ratio,
    strain_at_tension_share,
)
from hoopwright.kernels.sizing_limits import Loading, instability_hoop_strain
from hoopwright.kernels.sizing_round import full_yield_strain, half_pitch_decrement, residual_ratio
from hoopwright.kernels.sizing_springback import (
    Hit,
    bend_history,
    hits,
    hoop_stress,
    hoop_tangent,
    loaded_radius,
    loaded_radius_at_stretch,
    plane_strain_yield_strain,
    released_radius,
    section_springback,
)
from hoopwright.kernels.sizing_weld import scaled, weld_necking_limit, weld_strain

__all__ = [
    "ArcStrain",
    "Hit",
    "Loading",
    "arc_strain",
    "bend_history",
    "full_yield_strain",
    "half_pitch_decrement",
    "hits",
    "hoop_stress",
    "hoop_tangent",
    "instability_hoop_strain",
    "loaded_radius",
    "loaded_radius_at_stretch",
    "necking_strain",
    "plane_strain_yield_strain",
    "power_law_strain_ratio",
    "released_radius",
    "residual_ratio",
    "scaled",
    "section_springback",
    "strain_at_tension_share",
    "weld_necking_limit",
    "weld_strain",
]
