"""The chain from flat strip to sized plain hoop, layer by layer. N, mm, MPa, per mm of width.

    bend to 1/Rb, no tension -> let go, no moment -> close to 1/Rh, no tension -> weld
    -> stretch: mid-surface by R/Rh at curvature 1/R -> off the tool: tension zero, moment stays locked in
    cut length = (2 pi Rh + weld shrinkage) / stretch of the closed strip;  tool radius = R - t/2 with the thinned t

Layers carry hoop and width stress (see `layers` for the ways across). The stretch is one of the whole turn: friction
on the tool and flats over gaps are in the closed forms of `sizing`. Source: derived here. Checks: B1, the worked case
and the ranked table of the sizing method in tests/reference/test_segmented_chain.py; equilibrium, work and volume in
tests/exact/test_chain_exact.py.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from hoopwright.errors import InputError, NotConverged, require_finite, require_positive
from hoopwright.kernels.layers import Across, Layers, Strip, bent, flat_strip, moved, released
from hoopwright.kernels.layers_loops import release_hoop
from hoopwright.kernels.metal import Metal


@dataclass(frozen=True, slots=True)
class StripRoute:
    """How a plain hoop is made.

    thickness_mm : of the strip. bend_radius_mm : loaded mid-surface radius in the rolls; None for a hoop without bend
    history (annealed after closing). weld_shrinkage_mm : loss of length at the weld. layers, steps : through the
    sheet, and of each move. across : what the strip does across in bending and, where sizing_across is None, in sizing.
    release_modulus_MPa : Young's modulus on release from the tool, where prior strain has lowered it.
    """

    thickness_mm: float
    bend_radius_mm: float | None
    weld_shrinkage_mm: float = 0.0
    layers: int | Layers = 41
    steps: int = 40
    across: Across = "uniform"
    sizing_across: Across | None = None
    release_modulus_MPa: float | None = None
    prior_plastic_strain: float = 0.0

    def __post_init__(self) -> None:
        require_positive("thickness", self.thickness_mm, "mm")
        if require_finite("weld shrinkage", self.weld_shrinkage_mm, "mm") < 0.0:
            raise InputError("weld shrinkage", self.weld_shrinkage_mm, "mm", "0 or more", "enter the loss of length")
        if self.bend_radius_mm is not None:
            require_positive("bend radius", self.bend_radius_mm, "mm")
        if self.release_modulus_MPa is not None:
            require_positive("Young's modulus on release", self.release_modulus_MPa, "MPa")


@dataclass(frozen=True, slots=True, eq=False)
class StripRing:
    """A plain hoop through the whole chain. Radii and diameters are of the mid-surface.

    in_rolls, sprung, closed, on_tool, off_tool : the strip in each state (in_rolls and sprung None without a bend).
    """

    in_rolls: Strip | None
    sprung: Strip | None
    closed: Strip
    on_tool: Strip
    off_tool: Strip
    closed_radius_mm: float
    loaded_radius_mm: float
    released_radius_mm: float
    cut_length_mm: float

    @property
    def natural_radius_mm(self) -> float:
        """Radius of the strip lying free after the rolls. [mm]"""
        return math.inf if self.sprung is None else self.sprung.radius_mm

    @property
    def bend_moment_N(self) -> float:
        """Moment in the rolls, per mm of width. [N]"""
        return 0.0 if self.in_rolls is None else self.in_rolls.moment_N

    @property
    def closing_moment_N(self) -> float:
        """Moment that holds the strip closed for welding, per mm of width. [N]"""
        return self.closed.moment_N

    @property
    def bend_plastic_strain(self) -> float:
        """Mean plastic strain through the sheet that bending has left."""
        return self.closed.mean_plastic_strain

    @property
    def stretch_log(self) -> float:
        """Mid-surface strain from the closed hoop to the tool, log."""
        return math.log(self.loaded_radius_mm / self.closed_radius_mm)

    @property
    def tool_radius_mm(self) -> float:
        """Radius of the tool under the inside face. [mm]"""
        return self.loaded_radius_mm - 0.5 * self.on_tool.thickness_now_mm

    @property
    def released_diameter_mm(self) -> float:
        """Diameter off the tool. [mm]"""
        return 2.0 * self.released_radius_mm

    @property
    def springback_diameter_mm(self) -> float:
        """Loss of diameter off the tool. [mm]"""
        return 2.0 * (self.loaded_radius_mm - self.released_radius_mm)

    @property
    def stress_MPa(self) -> float:
        """Mean hoop stress on the tool. [MPa]"""
        return self.on_tool.mean_stress_MPa

    @property
    def nominal_tension_N_per_mm(self) -> float:
        """Mean hoop stress times the strip's thickness before forming: 2 to 3 % above the pull. [N/mm]"""
        return self.on_tool.tension_N_per_mm

    @property
    def tension_N_per_mm(self) -> float:
        """Pull round the hoop on the tool per mm of the strip's width before forming. [N/mm]"""
        return self.on_tool.tension_N_per_mm / self.on_tool.stretch


def strip_ring_at(route: StripRoute, metal: Metal, closed_radius_mm: float, loaded_radius_mm: float) -> StripRing:
    """The chain with the closed and the loaded mid-surface radius given.

    Raises
    ------
    InputError
        A radius not above 0, or a hoop to be made smaller on the tool.
    NotConverged
        A state out of equilibrium (see `layers.moved`).
    """
    closed_radius, loaded_radius = _radii(closed_radius_mm, loaded_radius_mm)
    return _sized(route, metal, _rolled(route, metal), closed_radius, loaded_radius)


def strip_ring(route: StripRoute, metal: Metal, cut_length_mm: float, tool_radius_mm: float) -> StripRing:
    """Forward: what comes off a tool of a given radius from a strip of a given length.

    Raises
    ------
    InputError
        A strip too long for the tool, so that the hoop is not stretched; see also `strip_ring_at`.
    """
    length = require_positive("cut length", cut_length_mm, "mm")
    tool = require_positive("tool radius", tool_radius_mm, "mm")
    rolled = _rolled(route, metal)
    closed_radius = _closed_radius(route, metal, rolled, length)
    loaded = tool + 0.5 * route.thickness_mm
    for _ in range(20):
        _radii(closed_radius, loaded)
        ring = _sized(route, metal, rolled, closed_radius, loaded)
        miss = tool - ring.tool_radius_mm
        if abs(miss) <= 1e-8:
            return ring
        loaded += miss
    raise NotConverged(f"loaded radius still moves by {miss:.2g} mm", ring, "check the flow curve")


def strip_ring_for(
    route: StripRoute,
    metal: Metal,
    released_diameter_mm: float,
    *,
    stretch_log: float | None = None,
    cut_length_mm: float | None = None,
) -> StripRing:
    """Inverse: tool radius, and cut length where the stretch is given, for a wanted mid-surface diameter.

    Parameters
    ----------
    stretch_log, cut_length_mm : float
        Exactly one: log stretch from the closed hoop to the tool, or the strip's cut length.
    """
    wanted = 0.5 * require_positive("released diameter", released_diameter_mm, "mm")
    if (stretch_log is None) == (cut_length_mm is None):
        raise InputError("stretch and cut length", "both or neither", "", "exactly one of the two", "give one")
    rolled = _rolled(route, metal)
    if stretch_log is not None:
        stretch = require_finite("stretch", stretch_log)
        return _aimed(wanted, lambda loaded: _sized(route, metal, rolled, *_radii(loaded * math.exp(-stretch), loaded)))
    assert cut_length_mm is not None
    closed_radius = _closed_radius(route, metal, rolled, require_positive("cut length", cut_length_mm, "mm"))
    return _aimed(wanted, lambda loaded: _sized(route, metal, rolled, *_radii(closed_radius, loaded)))


def _radii(closed: float, loaded: float) -> tuple[float, float]:
    require_positive("closed radius", closed, "mm")
    require_positive("loaded radius", loaded, "mm")
    if loaded < closed:
        raise InputError("loaded radius", loaded, "mm", f"at least the closed radius {closed:.6g}", "shorten the strip")
    return float(closed), float(loaded)


def _aimed(wanted: float, run: Callable[[float], StripRing]) -> StripRing:
    """Secant on the loaded radius until the released one is as wanted within 1e-8 mm."""
    loaded, slope = wanted * 1.002, 1.0
    before: StripRing | None = None
    for _ in range(30):
        ring = run(loaded)
        miss = ring.released_radius_mm - wanted
        if abs(miss) <= 1e-8:
            return ring
        if before is not None and ring.loaded_radius_mm != before.loaded_radius_mm:
            rise = ring.released_radius_mm - before.released_radius_mm
            slope = max(rise / (ring.loaded_radius_mm - before.loaded_radius_mm), 0.05)
        before = ring
        loaded -= miss / slope
    raise NotConverged(f"released radius misses by {miss:.2g} mm", ring, "check that the stretch passes yield")


Rolled = tuple[Strip | None, Strip | None, Strip]


def _rolled(route: StripRoute, metal: Metal) -> Rolled:
    """Strip in the rolls, sprung, and the one to be closed."""
    flat = flat_strip(route.thickness_mm, route.layers, route.prior_plastic_strain)
    if route.bend_radius_mm is None:
        return None, None, flat
    in_rolls = bent(flat, metal, route.bend_radius_mm, across=route.across, steps=route.steps)
    sprung = released(in_rolls, metal, across=route.across)
    return in_rolls, sprung, sprung


def _closed(route: StripRoute, metal: Metal, rolled: Rolled, radius: float) -> Strip:
    if rolled[1] is None:
        return replace(rolled[2], curvature_per_mm=1.0 / radius)
    return moved(rolled[2], metal, tension_N_per_mm=0.0, curvature_per_mm=1.0 / radius, across=route.across, steps=4)


def _closed_radius(route: StripRoute, metal: Metal, rolled: Rolled, cut_length: float) -> float:
    """Radius a strip of a given length closes to; the stretch of closing hardly moves with it."""
    radius = (cut_length - route.weld_shrinkage_mm) / (2.0 * math.pi)
    for _ in range(3):
        strip = _closed(route, metal, rolled, require_positive("closed radius", radius, "mm"))
        radius = (cut_length * strip.stretch - route.weld_shrinkage_mm) / (2.0 * math.pi)
    return radius


def _sized(route: StripRoute, metal: Metal, rolled: Rolled, closed_radius: float, loaded_radius: float) -> StripRing:
    across = route.sizing_across or route.across
    closed = _closed(route, metal, rolled, closed_radius)
    on_tool = moved(
        closed,
        metal,
        stretch_log=closed.stretch_log + math.log(loaded_radius / closed_radius),
        curvature_per_mm=1.0 / loaded_radius,
        across=across,
        steps=route.steps,
    )
    modulus = route.release_modulus_MPa
    softer = metal if modulus is None else replace(metal, youngs_modulus_MPa=modulus)
    off_tool, radius = _off_tool(on_tool, softer, loaded_radius, across)
    length = (2.0 * math.pi * closed_radius + route.weld_shrinkage_mm) / closed.stretch
    return StripRing(rolled[0], rolled[1], closed, on_tool, off_tool, closed_radius, loaded_radius, radius, length)


def _off_tool(strip: Strip, metal: Metal, radius: float, across: Across) -> tuple[Strip, float]:
    """Strip after release and its radius; off the tool nothing holds the width any more."""
    points, thins, pose, loads, smaller = release_hoop(
        strip.points,
        strip.thins_log,
        strip.offsets(),
        strip.weights(),
        strip.pose(),
        radius,
        across == "free",
        across == "free",
        np.array([strip.tension_N_per_mm, strip.moment_N, strip.width_force_N_per_mm]),
        metal.law(),
        metal.vector(),
    )
    if not abs(loads[0]) <= 1e-8 * (abs(strip.tension_N_per_mm) + 1.0):
        raise NotConverged(f"the released hoop keeps {loads[0]:.3g} N/mm", strip, "check the flow curve")
    after = Strip(
        strip.thickness_mm,
        strip.layers,
        points,
        thins,
        float(pose[0]),
        float(pose[1]),
        float(pose[2]),
        float(loads[0]),
        float(loads[1]),
        float(loads[2]),
    )
    return after, float(smaller)
