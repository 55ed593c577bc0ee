"""Curl of a contoured strip: loaded curl, moment, natural radius, residual stress, and the setting for a wanted radius.

The section keeps its shape (it is held in contoured rolls); every layer at every station is a fibre along the strip. A
plane section that turns about an axis stretches a fibre at height y, height counted outward from a chosen level, by

    B = b + k y;   N = sum of stress A / B = 0;   M = sum of stress A y / B

with A the flat area (volume is kept, so A/B is the curled one). The fibre with B = 1 keeps the strip's length: it is
the neutral fibre, at radius 1/k. The level y = 0 stands at radius b/k. Release: N = 0 and M = 0, both free.

Across a fibre is free ("uniaxial fibres"). A shell kernel with two stresses gives 4 to 5 % more moment on a hat
section of 0.8 mm; `width_held` is the upper bound. Limits: a section let curl freely keeps its contour only for
R > sqrt3 c^2/t (flange of length c); below that it must be held in the rolls, as assumed here. An off-centre section
also wants to camber (curl conically), which the rolls are taken to prevent.

Source: derived here. Checks: tests/reference/test_segmented_chain_hat.py (shell runs of the method paper),
tests/exact/test_curl_exact.py.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from hoopwright.errors import InputError, NotConverged, require_finite, require_positive
from hoopwright.kernels.arrays import finite_vector
from hoopwright.kernels.chain_contour import ContourHoop, normal_row, positive_row, prior_points
from hoopwright.kernels.curl_loops import Array, curl_settle
from hoopwright.kernels.flow import Vector
from hoopwright.kernels.layers import Layers, midpoint_layers
from hoopwright.kernels.metal import Metal

Level = Literal["neutral", "axis"]


@dataclass(frozen=True, slots=True, eq=False)
class ContourStrip:
    """A contoured strip, straight or curled: n stations by m layers. Arrays are not to be written to.

    height_mm : of the mid-line, outward, from the axis level, shape (n,). normal_radial : outward part of the unit
    normal, shape (n,). width_mm, thickness_mm : as they are now, shape (n,). flat_area_mm2, flat_thickness_mm : before
    any curl, shape (n,). points : state of every layer (see `metal`), shape (n, m, 5). stretch, curl_per_mm : the pose.
    moment_Nmm : bending moment of the whole section.
    """

    height_mm: Vector
    normal_radial: Vector
    width_mm: Vector
    thickness_mm: Vector
    flat_area_mm2: Vector
    flat_thickness_mm: Vector
    points: Array
    layers: Layers
    stretch: float = 1.0
    curl_per_mm: float = 0.0
    moment_Nmm: float = 0.0

    @property
    def neutral_radius_mm(self) -> float:
        """Radius of the fibre that has kept its length; infinite where straight. [mm]"""
        return 1.0 / self.curl_per_mm if self.curl_per_mm else math.inf

    @property
    def axis_radius_mm(self) -> float:
        """Radius of the level of height 0; infinite where straight. [mm]"""
        return self.stretch / self.curl_per_mm if self.curl_per_mm else math.inf

    @property
    def neutral_height_mm(self) -> float:
        """Height of the fibre that has kept its length. [mm]"""
        if not self.curl_per_mm:
            raise InputError("curl", self.curl_per_mm, "1/mm", "not 0", "curl the strip first")
        return (1.0 - self.stretch) / self.curl_per_mm

    @property
    def fibre_height_mm(self) -> Vector:
        """Height of every layer as in the flat sheet, shape (n, m). [mm]"""
        return self.height_mm[:, None] + np.outer(self.normal_radial * self.flat_thickness_mm, self.layers.place)

    @property
    def fibre_strain_log(self) -> Array:
        """Log strain of every layer along the strip, shape (n, m)."""
        return np.log(self.stretch + self.curl_per_mm * self.fibre_height_mm)


def contour_strip(
    height_mm: Vector,
    normal_radial: Vector,
    width_mm: Vector,
    thickness_mm: Vector | float,
    layers: int | Layers = 12,
    prior_plastic_strain: Array | Vector | float = 0.0,
) -> ContourStrip:
    """A straight contoured strip, free of stress, with prior plastic strain (from rolling the contour).

    Parameters
    ----------
    height_mm : array, shape (n,)
        Height of each station's mid-line above the axis level, outward positive; any level will do.
    normal_radial, width_mm, thickness_mm, layers, prior_plastic_strain
        As for `chain.contour_hoop`.

    Raises
    ------
    InputError
        Shapes that do not belong together; widths, thicknesses or normals not above 0; prior strain below 0.
    """
    stack = midpoint_layers(layers) if isinstance(layers, int) else layers
    height = np.ascontiguousarray(finite_vector("station height", height_mm, "mm"))
    n = height.size
    width = positive_row("station width", width_mm, "mm", n)
    thickness = positive_row("station thickness", np.full(n, thickness_mm, dtype=np.float64), "mm", n)
    normal = normal_row(normal_radial, n)
    points = prior_points(prior_plastic_strain, n, stack.place.size)
    return ContourStrip(height, normal, width, thickness, width * thickness, thickness, points, stack)


def curled(
    strip: ContourStrip,
    metal: Metal,
    neutral_radius_mm: float,
    width_held: bool = False,
    neutral_height_mm: float | None = None,
) -> ContourStrip:
    """Curl in the rolls so that the neutral fibre has a given radius; no force along the strip.

    neutral_height_mm : a first guess of that fibre's height, from a curl near this one; it moves no result.

    Raises
    ------
    InputError
        Radius not above 0, or so small that a fibre passes the centre.
    NotConverged
        No neutral fibre found.
    """
    radius = require_positive("curl radius", neutral_radius_mm, "mm")
    if radius + float(strip.fibre_height_mm.min() - strip.height_mm.mean()) <= 0.0:
        raise InputError("curl radius", radius, "mm", "above the depth of the section", "curl to a larger radius")
    return _settled(strip, metal, 1.0 / radius, False, width_held, neutral_height_mm)


def let_go(strip: ContourStrip, metal: Metal, width_held: bool = False) -> ContourStrip:
    """Take force and moment off: the strip at its natural radius, with its residual stress."""
    return _settled(strip, metal, strip.curl_per_mm, True, width_held)


def curl_for(
    strip: ContourStrip,
    metal: Metal,
    natural_radius_mm: float,
    level: Level = "neutral",
    width_held: bool = False,
) -> tuple[ContourStrip, ContourStrip]:
    """Loaded and released strip for a wanted natural radius: the inverse of `curled` and `let_go`.

    Parameters
    ----------
    natural_radius_mm : float
        Wanted after release.
    level : {"neutral", "axis"}
        Whether it is the radius of the neutral fibre, whose length is the strip's, or of the level of height 0.

    Raises
    ------
    NotConverged
        No setting found within 1e-6 mm of natural radius.
    """
    wanted = require_positive("natural radius", natural_radius_mm, "mm")
    curl, before = 1.15 / wanted, (math.nan, math.nan)
    loaded = curled(strip, metal, 1.0 / curl, width_held)
    for _ in range(40):
        free = let_go(loaded, metal, width_held)
        radius = free.neutral_radius_mm if level == "neutral" else free.axis_radius_mm
        if abs(radius - wanted) <= 1e-6:
            return loaded, free
        # In curvature the relation is nearly straight once most fibres yield.
        here = (curl, 1.0 / radius)
        slope = 1.0 if math.isnan(before[0]) else (here[1] - before[1]) / (here[0] - before[0])
        curl += (1.0 / wanted - here[1]) / min(max(slope, 0.05), 2.0)
        before = here
        loaded = curled(strip, metal, 1.0 / curl, width_held, loaded.neutral_height_mm)
    raise NotConverged(f"natural radius {radius:.6g} mm for {wanted:.6g} mm", loaded, "check the flow curve")


def closed_hoop(strip: ContourStrip, metal: Metal, length_mm: float, width_held: bool = False) -> ContourHoop:
    """The hoop made by closing a sprung strip: its neutral fibre runs once round.

    Parameters
    ----------
    length_mm : float
        Length of the strip between the weld's edges, weld shrinkage taken off.

    Returns
    -------
    ContourHoop
        With the stress and plastic strain of curl and closing in its layers.
    """
    length = require_positive("strip length", length_mm, "mm")
    shut = _settled(strip, metal, 2.0 * math.pi / length, False, width_held)
    return ContourHoop(
        shut.axis_radius_mm + shut.height_mm,
        shut.normal_radial,
        shut.width_mm,
        shut.thickness_mm,
        shut.points,
        shut.layers,
    )


def _neutral_guess(strip: ContourStrip) -> float:
    """Height of the fibre that has kept its length; of a straight strip the centroid's, as an elastic one would."""
    if strip.curl_per_mm:
        return strip.neutral_height_mm
    return float(np.average(strip.height_mm, weights=strip.flat_area_mm2))


def _settled(
    strip: ContourStrip, metal: Metal, curl: float, moment_free: bool, held: bool, neutral_mm: float | None = None
) -> ContourStrip:
    require_finite("curl", curl, "1/mm")
    points, changes, pose, out, misfit = curl_settle(
        strip.fibre_height_mm,
        np.outer(strip.flat_area_mm2, strip.layers.share),
        strip.points,
        np.array([strip.stretch, strip.curl_per_mm]),
        curl,
        _neutral_guess(strip) if neutral_mm is None else neutral_mm,
        moment_free,
        held,
        16,
        metal.law(),
        metal.vector(),
    )
    if not misfit <= 1e-8:
        missed = f"misses balance by {misfit:.2g} of yield" if np.isfinite(misfit) else "finds no balance"
        remedy = "curl less at a time; where the section is deep against its radius, split the ring or press it"
        raise NotConverged(f"The curled section {missed}.", strip, remedy)
    return replace(
        strip,
        width_mm=strip.width_mm * np.exp(changes[1]),
        thickness_mm=strip.thickness_mm * np.exp(changes[0]),
        points=points,
        stretch=float(pose[0]),
        curl_per_mm=float(pose[1]),
        moment_Nmm=float(out[1]),
    )
