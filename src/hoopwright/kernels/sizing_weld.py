"""The closing weld in series with its ring: strain of a softer or stronger zone, the stretch at which it necks. MPa.

The zone's flow stress is a share r of the ring's at equal plastic strain; both carry one tension:

    r s(p) exp(-(p + r s(p)/E)) = stress exp(-eps)  of the parent

Limits: a short zone of equal thickness in uniaxial tension, no friction (in a gap add the arc strain of
`sizing_friction`), no strain concentration at a mismatch. Prior strain may differ (a weld has lost its cold work).
Source: derived; tests/reference/test_segmented_chain_closed.py, tests/published/ring_stretching.
"""

from __future__ import annotations

from dataclasses import replace

from hoopwright.errors import InputError, require_positive
from hoopwright.kernels.flow import TABULATED, VOCE, FlowCurve
from hoopwright.kernels.metal import Metal
from hoopwright.kernels.sizing_friction import hoop_tension, necking, rising_strain


def scaled(flow: FlowCurve, share: float) -> FlowCurve:
    """A flow curve with every stress times `share`."""
    require_positive("strength ratio", share)
    law = flow.law
    if law[0] == TABULATED:
        count = int(law[1])
        return replace(flow, law=(*law[: 2 + count], *(share * s for s in law[2 + count :])))
    if law[0] == VOCE:
        return replace(flow, law=(law[0], share * law[1], share * law[2], law[3]))
    if law[0] == 0.0:
        return replace(flow, law=(law[0], share * law[1], law[2], law[3]))
    return replace(flow, law=(law[0], share * law[1], share * law[2], law[3]))


def weld_strain(
    metal: Metal,
    parent_strain_log: float,
    strength_ratio: float,
    parent_prior_strain: float = 0.0,
    weld_prior_strain: float = 0.0,
) -> float:
    """Strain of the weld zone when the parent is at a strain.

    Raises
    ------
    InputError
        Ratio or strain not above 0; a tension the weld cannot carry, with the parent strain it can.
    """
    require_positive("parent strain", parent_strain_log)
    weld = replace(metal, flow=scaled(metal.flow, strength_ratio))
    law, constants = weld.law(), metal.vector()
    tension = hoop_tension(parent_strain_log, parent_prior_strain, metal.law(), constants)[0]
    neck = necking(weld_prior_strain, law, constants)
    if tension > hoop_tension(neck, weld_prior_strain, law, constants)[0]:
        most = weld_necking_limit(metal, strength_ratio, parent_prior_strain, weld_prior_strain)
        must = f"below {most:.4f}, where the weld necks"
        raise InputError("parent strain", parent_strain_log, "", must, "stretch less")
    return rising_strain(tension, neck, weld_prior_strain, law, constants)


def weld_necking_limit(
    metal: Metal, strength_ratio: float, parent_prior_strain: float = 0.0, weld_prior_strain: float = 0.0
) -> float:
    """Largest strain of the parent before the weld necks; the parent's own necking strain where that comes first."""
    weld = replace(metal, flow=scaled(metal.flow, strength_ratio))
    law, constants = metal.law(), metal.vector()
    weld_neck = necking(weld_prior_strain, weld.law(), constants)
    most = hoop_tension(weld_neck, weld_prior_strain, weld.law(), constants)[0]
    neck = necking(parent_prior_strain, law, constants)
    if most >= hoop_tension(neck, parent_prior_strain, law, constants)[0]:
        return neck
    return rising_strain(most, neck, parent_prior_strain, law, constants)
