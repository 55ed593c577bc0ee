"""A welded hoop of contoured section through sizing: incoming, on the tool, released; and the tool for a wanted size.

Wrappers round the compiled loops of `chain_contour_loops`, where equations and limits stand. N, mm, MPa.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from hoopwright.errors import InputError, NotConverged, require_finite, require_positive
from hoopwright.kernels.arrays import positive_vector
from hoopwright.kernels.chain_contour_loops import Array, load_section, release_section
from hoopwright.kernels.flow import Vector
from hoopwright.kernels.layers import Layers, midpoint_layers, require_no_width_stress
from hoopwright.kernels.metal import HOOP, PLASTIC, STATE_SIZE, Metal
from hoopwright.kernels.profile import Stations

Face = Literal["inside", "mid", "outside"]

HELD_STEPS = 8
"""Parts a stretch with held width is taken in: 8 leave about 0.0005 mm on a released diameter of 280 at 2 %."""


@dataclass(frozen=True, slots=True, eq=False)
class ContourHoop:
    """A hoop as a row of n stations along its section, each with m layers. Arrays are not to be written to.

    radius_mm : mid-line radius, shape (n,).
    normal_radial : radial part of the outward unit normal of the mid-line, above 0 to 1, shape (n,).
    width_mm : share of the mid-line's length that a station stands for, shape (n,).
    thickness_mm : shape (n,). points : state of every layer (see `metal`), shape (n, m, 5). layers : the stack.
    """

    radius_mm: Vector
    normal_radial: Vector
    width_mm: Vector
    thickness_mm: Vector
    points: Array
    layers: Layers

    @property
    def area_mm2(self) -> float:
        """Area of the section. [mm2]"""
        return float(self.width_mm @ self.thickness_mm)

    @property
    def mean_stress_MPa(self) -> Vector:
        """Mean hoop stress of each station, shape (n,). [MPa]"""
        return self.points[:, :, HOOP] @ self.layers.share

    @property
    def mean_plastic_strain(self) -> Vector:
        """Mean accumulated plastic strain of each station, shape (n,)."""
        return self.points[:, :, PLASTIC] @ self.layers.share

    def radius_at(self, face: Face) -> Vector:
        """Radius of the inside face, the mid-line or the outside face at each station, shape (n,). [mm]"""
        sense = {"inside": -0.5, "mid": 0.0, "outside": 0.5}[face]
        return self.radius_mm + sense * self.normal_radial * self.thickness_mm


@dataclass(frozen=True, slots=True, eq=False)
class SizedContour:
    """A contoured hoop through one stretch.

    tool_face_radius_mm : radius of the tool under each station, shape (n,). hoop_strain_log : mid-line, from the
    incoming hoop to the tool, shape (n,). hoop_tension_N : section tension on the tool. springback_mm : inward move on
    release, on radius. left_over_N : hoop tension the release left (numerical).
    """

    incoming: ContourHoop
    loaded: ContourHoop
    released: ContourHoop
    tool_face_radius_mm: Vector
    hoop_strain_log: Vector
    hoop_tension_N: float
    springback_mm: float
    left_over_N: float


def contour_hoop(
    radius_mm: Vector,
    normal_radial: Vector,
    width_mm: Vector,
    thickness_mm: Vector | float,
    layers: int | Layers = 21,
    prior_plastic_strain: Array | Vector | float = 0.0,
) -> ContourHoop:
    """A stress-free hoop with a given map of prior plastic strain.

    Parameters
    ----------
    radius_mm, normal_radial, width_mm : array, shape (n,)
        Mid-line radius, radial part of the outward unit normal, length along the section of each station.
    thickness_mm : float or array, shape (n,)
    layers : int or Layers
        Count of equal layers, or a stack of one's own.
    prior_plastic_strain : float or array, shape (n,) or (n, m)
        Accumulated plastic strain before sizing, one for all, by station, or by station and layer (inside face first).

    Raises
    ------
    InputError
        Shapes that do not belong together; a radius, width or thickness not above 0; a normal outside (0, 1]; a
        prior strain below 0; anything not finite.
    """
    stack = midpoint_layers(layers) if isinstance(layers, int) else layers
    radius = positive_row("station radius", radius_mm, "mm")
    n, m = radius.size, stack.place.size
    width = positive_row("station width", width_mm, "mm", n)
    thickness = positive_row("station thickness", np.full(n, thickness_mm, dtype=np.float64), "mm", n)
    normal = normal_row(normal_radial, n)
    if np.any(radius - 0.5 * normal * thickness <= 0.0):
        raise InputError("station radius", float(radius.min()), "mm", "above half the thickness", "enter the radius")
    points = prior_points(prior_plastic_strain, n, m)
    return ContourHoop(radius, normal, width, thickness, points, stack)


def hoop_at_stations(
    stations: Stations,
    thickness_mm: Vector | float,
    radius_shift_mm: float = 0.0,
    layers: int | Layers = 21,
    prior_plastic_strain: Array | Vector | float = 0.0,
) -> ContourHoop:
    """A hoop on the stations of a profile drawn with x along the axis and y = radius, moved outward by a shift.

    Raises
    ------
    InputError
        A contour that turns past the radial direction, where a rigid stretch has no meaning; see also `contour_hoop`.
    """
    shift = require_finite("radius shift", radius_shift_mm, "mm")
    normal = np.abs(np.cos(stations.angle))
    return contour_hoop(stations.y + shift, normal, stations.weight, thickness_mm, layers, prior_plastic_strain)


def ring_stretched(
    incoming: ContourHoop,
    tool_face_radius_mm: Vector,
    metal: Metal,
    width_held: bool = False,
    release_modulus_MPa: float | None = None,
) -> SizedContour:
    """Stretch a contoured hoop onto a rigid contour and let it off.

    Parameters
    ----------
    incoming : ContourHoop
    tool_face_radius_mm : array, shape (n,)
        Radius of the tool where the inside face of each station lies.
    metal : Metal
    width_held : bool
        Whether friction holds the section's length (else each fibre is free across).
    release_modulus_MPa : float, optional
        Young's modulus on release where prior strain has lowered it; the metal's own where not given.

    Returns
    -------
    SizedContour

    Raises
    ------
    InputError
        A tool radius not finite, not above 0, or of another shape than the stations; a hoop that is stretched nowhere.
    NotConverged
        The release left more than a millionth of the tension.
    """
    target = positive_row("tool face radius", tool_face_radius_mm, "mm", incoming.radius_mm.size)
    return _sized(incoming, target, True, metal, width_held, release_modulus_MPa)


def ring_tool(
    incoming: ContourHoop,
    wanted_radius_mm: Vector,
    metal: Metal,
    face: Face = "mid",
    width_held: bool = False,
    release_modulus_MPa: float | None = None,
) -> SizedContour:
    """The stretch after which every station stands at its wanted radius: the inverse of `ring_stretched`.

    Parameters
    ----------
    wanted_radius_mm : array, shape (n,)
        Released radius wanted at each station.
    face : {"inside", "mid", "outside"}
        Where it is wanted.

    Returns
    -------
    SizedContour
        With the tool's own radii in `tool_face_radius_mm`.

    Raises
    ------
    InputError
        A wanted radius not finite, not above 0, or of another shape than the stations.
    NotConverged
        Springback does not settle within 1e-7 mm.
    """
    wanted = positive_row("wanted radius", wanted_radius_mm, "mm", incoming.radius_mm.size)
    sense = {"inside": 0.5, "mid": 0.0, "outside": -0.5}[face]
    lift = sense * incoming.normal_radial * incoming.thickness_mm
    for _ in range(25):
        sized = _sized(incoming, wanted + lift, False, metal, width_held, release_modulus_MPa)
        needed = sized.springback_mm + sense * incoming.normal_radial * sized.released.thickness_mm
        miss = float(np.max(np.abs(needed - lift)))
        if miss <= 1e-7:
            return sized
        lift = needed
    raise NotConverged(f"springback of the contoured hoop moves by {miss:.2g} mm a turn", sized, "check the flow curve")


def annealed(hoop: ContourHoop) -> ContourHoop:
    """The hoop after a full anneal: no stress, no back stress, no plastic strain; its size stays."""
    return replace(hoop, points=np.zeros_like(hoop.points))


def _sized(
    incoming: ContourHoop, target: Vector, on_face: bool, metal: Metal, held: bool, release_modulus: float | None
) -> SizedContour:
    if release_modulus is not None:
        require_positive("Young's modulus on release", release_modulus, "MPa")
    if not held:
        require_no_width_stress(incoming.points, metal)
    if not np.any(target > incoming.radius_at("inside" if on_face else "mid")):
        field = "tool face radius" if on_face else "wanted radius"
        must = "above the incoming hoop's somewhere"
        raise InputError(field, float(target.max()), "mm", must, "shorten the strip, or open the tool")
    law, constants = metal.law(), metal.vector()
    section = np.stack([incoming.radius_mm, incoming.normal_radial, incoming.width_mm, incoming.thickness_mm])
    stack = incoming.layers.packed()
    on_tool, points, tension = load_section(
        section, incoming.points, stack, target, on_face, held, HELD_STEPS, law, constants
    )
    softer = constants if release_modulus is None else replace(metal, youngs_modulus_MPa=release_modulus).vector()
    off, points_off, move, left = release_section(on_tool, points, stack, held, law, softer)
    if abs(left) > 1e-6 * abs(tension) + 1e-9:
        raise NotConverged(f"the released hoop keeps {left:.3g} N of {tension:.3g} N", None, "check the flow curve")
    loaded, released = _hoop(on_tool, points, incoming.layers), _hoop(off, points_off, incoming.layers)
    return SizedContour(
        incoming,
        loaded,
        released,
        loaded.radius_at("inside"),
        np.log(loaded.radius_mm / incoming.radius_mm),
        float(tension),
        float(move),
        float(left),
    )


def _hoop(section: Array, points: Array, layers: Layers) -> ContourHoop:
    return ContourHoop(section[0], section[1], section[2], section[3], points, layers)


def prior_points(prior_plastic_strain: Array | Vector | float, stations: int, count: int) -> Array:
    """Stress-free states of shape (stations, count, 5) that carry a map of prior plastic strain."""
    prior = np.asarray(prior_plastic_strain, dtype=np.float64)
    n, m = stations, count
    if prior.shape not in ((), (n,), (n, m)):
        raise InputError("prior plastic strain", prior.shape, "", f"one value, ({n},) or ({n}, {m})", "match stations")
    if not np.all(np.isfinite(prior)) or np.any(prior < 0.0):
        raise InputError("prior plastic strain", "not all", "", "finite and 0 or more", "correct the map")
    points = np.zeros((n, m, STATE_SIZE))
    points[:, :, PLASTIC] = prior[:, None] if prior.ndim == 1 else prior
    return points


def normal_row(normal_radial: ArrayLike, size: int) -> Vector:
    """Radial parts of unit normals, above 0 and at most 1, one a station."""
    normal = positive_row("radial part of the normal", normal_radial, "", size)
    if np.any(normal > 1.0 + 1e-12):
        raise InputError("radial part of the normal", float(normal.max()), "", "at most 1", "give a unit normal")
    return normal


def positive_row(field: str, values: ArrayLike, unit: str, size: int | None = None) -> Vector:
    """A row of values above 0, one a station, contiguous; refuses anything else."""
    array = np.ascontiguousarray(positive_vector(field, values, unit))
    if size is not None and array.size != size:
        raise InputError(field, f"{array.size} long", "", f"{size} long", "give one value a station")
    return array
