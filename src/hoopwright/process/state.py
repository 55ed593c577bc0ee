"""A workpiece as the kernels take it, and back."""

from __future__ import annotations

from typing import Any

import numpy as np

from hoopwright.kernels.chain_contour import ContourHoop
from hoopwright.kernels.curl import ContourStrip
from hoopwright.kernels.layers import Layers, midpoint_layers
from hoopwright.kernels.metal import BACK_HOOP, HOOP, PLASTIC, SECTION, STATE_SIZE
from hoopwright.process.workpiece import Array, Workpiece


def layers_of(workpiece: Workpiece) -> Layers:
    """The stack of a workpiece: equal layers, each judged at its middle."""
    return midpoint_layers(workpiece.layer.size)


def points_of(workpiece: Workpiece) -> Array:
    """State of every layer, shape (n, m, 5)."""
    points = np.zeros((*workpiece.plastic_strain.shape, STATE_SIZE))
    points[:, :, HOOP] = workpiece.stress_hoop_MPa
    points[:, :, SECTION] = workpiece.stress_section_MPa
    points[:, :, PLASTIC] = workpiece.plastic_strain
    points[:, :, BACK_HOOP] = workpiece.back_stress_MPa
    return points


def strip_of(workpiece: Workpiece) -> ContourStrip:
    """A rolled strip, straight, heights as the workpiece has them."""
    width, thickness = workpiece.weight_mm, workpiece.thickness_mm
    return ContourStrip(
        height_mm=workpiece.r_mm,
        normal_radial=np.cos(workpiece.angle_rad),
        width_mm=width,
        thickness_mm=thickness,
        flat_area_mm2=width * thickness,
        flat_thickness_mm=thickness,
        points=points_of(workpiece),
        layers=layers_of(workpiece),
    )


def hoop_of(workpiece: Workpiece) -> ContourHoop:
    """A closed hoop."""
    return ContourHoop(
        workpiece.r_mm,
        np.cos(workpiece.angle_rad),
        workpiece.weight_mm,
        workpiece.thickness_mm,
        points_of(workpiece),
        layers_of(workpiece),
    )


def metal_rows(points: Array) -> dict[str, Any]:
    """The layers' state as fields of a workpiece."""
    return {
        "plastic_strain": points[:, :, PLASTIC],
        "back_stress_MPa": points[:, :, BACK_HOOP],
        "stress_hoop_MPa": points[:, :, HOOP],
        "stress_section_MPa": points[:, :, SECTION],
    }


def hoop_rows(hoop: ContourHoop) -> dict[str, Any]:
    """A hoop's size and state as fields of a workpiece."""
    return {
        "r_mm": hoop.radius_mm,
        "weight_mm": hoop.width_mm,
        "thickness_mm": hoop.thickness_mm,
        **metal_rows(hoop.points),
    }
