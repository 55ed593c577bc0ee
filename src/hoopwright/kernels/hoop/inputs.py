"""What a hoop, its weld, the segments under it and a hit are. mm, N, MPa, rad; angles counter-clockwise.

Each object refuses by itself what cannot be; what depends on two of them is refused by `refusals`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from hoopwright.errors import InputError, require_finite, require_positive, require_range
from hoopwright.kernels.flow import Vector
from hoopwright.kernels.metal import Metal, yield_radius

Numbers = tuple[float, ...]


def _finite_list(field: str, values: Sequence[float], unit: str, count: int | None = None) -> Numbers:
    """The list as floats; refused when empty, of another length than `count`, or not finite."""
    numbers = tuple(require_finite(f"{field}[{i}]", value, unit) for i, value in enumerate(values))
    if not numbers or (count is not None and len(numbers) != count):
        wanted = f"a list of {count}" if count is not None else "a list of at least 1"
        raise InputError(field, f"a list of {len(numbers)}", "", wanted, "give one value for each fibre")
    return numbers


@dataclass(frozen=True, slots=True)
class FibreState:
    """What earlier steps left in the fibres of a section; each list one value a fibre, in the order of the offsets.

    stress_MPa : residual stress round the hoop. plastic_strain : accumulated. back_stress_MPa : centre of the yield
    range.
    """

    stress_MPa: Numbers
    plastic_strain: Numbers
    back_stress_MPa: Numbers

    def __post_init__(self) -> None:
        count = len(self.stress_MPa)
        _finite_list("stress", self.stress_MPa, "MPa")
        _finite_list("back stress", self.back_stress_MPa, "MPa", count)
        for i, value in enumerate(_finite_list("plastic strain", self.plastic_strain, "", count)):
            if value < 0.0:
                raise InputError(f"plastic strain[{i}]", value, "", "0 or more", "enter the accumulated strain")

    def rows(self) -> Vector:
        """Stress, plastic strain and back stress, shape (3, k)."""
        return np.array([self.stress_MPa, self.plastic_strain, self.back_stress_MPa], dtype=np.float64)


def virgin(count: int) -> FibreState:
    """State of `count` fibres that nothing has been done to."""
    zeros = (0.0,) * count
    return FibreState(zeros, zeros, zeros)


def require_inside_yield(field: str, state: FibreState, metal: Metal) -> None:
    """Refuse a residual stress that its own metal could not hold (beyond one part in a million)."""
    law, packed = metal.law(), metal.vector()
    for i, (stress, plastic, back) in enumerate(state.rows().T):
        room = float(yield_radius(law, packed, plastic))
        if abs(stress - back) > room * (1.0 + 1e-6):
            raise InputError(
                f"{field}[{i}]", round(float(stress), 3), "MPa",
                f"within {room:.3f} MPa of the back stress {back:.3f} MPa",
                "take stress, plastic strain and back stress from one and the same state",
            )  # fmt: skip


@dataclass(frozen=True, slots=True)
class HoopSection:
    """Section of a hoop as fibres round the hoop, on a reference axis.

    Parameters
    ----------
    offsets_mm, areas_mm2 : radial offset of each fibre from the reference axis, outward positive, and its area, before
        sizing, (k,) each.
    metal : flow curve, stiffness and kinematic share.
    thickness_mm : sheet thickness, which is what thins.
    axis_height_mm : how far the reference axis lies outside the face to which the segments' radius is counted; on a
        contoured segment this may be the face at any one station.
    width_mm : axial width that bears on the segments; pressures are taken over it.
    state : what earlier steps left, None for an untouched metal.
    """

    offsets_mm: Numbers
    areas_mm2: Numbers
    metal: Metal
    thickness_mm: float
    axis_height_mm: float
    width_mm: float
    state: FibreState | None = None

    def __post_init__(self) -> None:
        offsets = _finite_list("fibre offset", self.offsets_mm, "mm")
        for i, area in enumerate(_finite_list("fibre area", self.areas_mm2, "mm2", len(offsets))):
            require_positive(f"fibre area[{i}]", area, "mm2")
        for name, value in (("thickness", self.thickness_mm), ("bearing width", self.width_mm)):
            require_positive(name, value, "mm")
        require_positive("height of the axis over the segments", self.axis_height_mm, "mm")
        if self.bending_mm4 <= 0.0:
            raise InputError("fibre offsets", offsets, "mm", "at least two different ones", "use two or more layers")
        if self.state is not None:
            _finite_list("residual stress", self.state.stress_MPa, "MPa", len(offsets))
            require_inside_yield("residual stress", self.state, self.metal)

    @property
    def area_mm2(self) -> float:
        """Area of the section. [mm2]"""
        return math.fsum(self.areas_mm2)

    @property
    def bending_mm4(self) -> float:
        """Second moment of the fibres about their own middle. [mm4]"""
        area, offset = np.array(self.areas_mm2), np.array(self.offsets_mm)
        middle = float(area @ offset / area.sum())
        return float(area @ (offset - middle) ** 2)

    def fibre_state(self) -> FibreState:
        """State of the fibres, untouched where none is given."""
        return self.state if self.state is not None else virgin(len(self.offsets_mm))


def flat_section(
    thickness_mm: float, width_mm: float, metal: Metal, layers: int = 5, state: FibreState | None = None
) -> HoopSection:
    """Plain strip: Gauss-Legendre layers through the thickness, axis in the middle.

    Three layers do without bend history; take 7 to 11 with it.

    Examples
    --------
    >>> from hoopwright.kernels.flow import swift
    >>> strip = flat_section(1.2, 40.0, Metal(swift(1400.0, 0.012, 0.35), 205000.0, 0.3), layers=3)
    >>> [round(y, 4) for y in strip.offsets_mm], round(strip.area_mm2, 6), round(strip.bending_mm4, 6)
    ([-0.4648, 0.0, 0.4648], 48.0, 5.76)
    """
    require_positive("thickness", thickness_mm, "mm")
    require_positive("bearing width", width_mm, "mm")
    if layers < 2:
        raise InputError("layers", layers, "", "2 or more", "use 5")
    points, weights = np.polynomial.legendre.leggauss(layers)
    offsets = tuple(float(p) * 0.5 * thickness_mm for p in points)
    areas = tuple(float(w) * 0.5 * thickness_mm * width_mm for w in weights)
    return HoopSection(offsets, areas, metal, thickness_mm, 0.5 * thickness_mm, width_mm, state)


@dataclass(frozen=True, slots=True)
class Weld:
    """The zone across the hoop whose metal differs: its width along the hoop, where it stands, its own law and
    state."""

    width_mm: float
    angle_rad: float
    metal: Metal
    state: FibreState | None = None

    def __post_init__(self) -> None:
        require_positive("weld width", self.width_mm, "mm")
        require_finite("weld angle", self.angle_rad, "rad")
        if self.state is not None:
            require_inside_yield("residual stress of the weld", self.state, self.metal)


@dataclass(frozen=True, slots=True)
class Harmonic:
    """One wave of a nearly round shape: amplitude cos(order (angle - phase)), phase at a crest."""

    order: int
    amplitude_mm: float
    phase_rad: float = 0.0

    def __post_init__(self) -> None:
        if isinstance(self.order, bool) or not isinstance(self.order, int) or not 2 <= self.order <= 60:
            raise InputError(
                "order of a shape wave", self.order, "", "a whole number from 2 to 60", "leave order 1 out"
            )
        require_finite("amplitude of a shape wave", self.amplitude_mm, "mm")
        require_finite("phase of a shape wave", self.phase_rad, "rad")


@dataclass(frozen=True, slots=True)
class InitialShape:
    """Hoop before sizing: the radius of a true circle of the same girth (reference axis), and how it departs from it.

    A local peak (outward, or a dent below 0) at peak_angle_rad falls off as peak_height_mm exp(-s/peak_reach_mm) with
    the distance s along the hoop; its crest is rounded over peak_blunt_mm to either side, as no sheet has a sharp kink.
    """

    radius_mm: float
    harmonics: tuple[Harmonic, ...] = ()
    peak_height_mm: float = 0.0
    peak_reach_mm: float = 8.0
    peak_blunt_mm: float = 1.0
    peak_angle_rad: float = 0.0

    def __post_init__(self) -> None:
        require_positive("radius of the hoop", self.radius_mm, "mm")
        require_finite("height of the local peak", self.peak_height_mm, "mm")
        require_positive("reach of the local peak", self.peak_reach_mm, "mm")
        require_positive("rounding of the local peak", self.peak_blunt_mm, "mm")
        require_finite("angle of the local peak", self.peak_angle_rad, "rad")
        total = abs(self.peak_height_mm) + sum(abs(h.amplitude_mm) for h in self.harmonics)
        if total > 0.08 * self.radius_mm:
            raise InputError(
                "departure from round", total, "mm", f"at most {0.08 * self.radius_mm:g} (0.08 of the radius)",
                "round the hoop up by hand first",
            )  # fmt: skip


@dataclass(frozen=True, slots=True)
class SegmentTool:
    """N rigid segments, turned as a set to one radius with parallel slots between them.

    count : N, at least 3. turned_radius_mm : radius of each arc. slot_mm : width of the slots in the position in which
    the set was turned. edge_radius_mm : rounding of each slot edge. friction : of Coulomb, hoop on segment.
    radial_errors_mm : how far each segment stands out beyond the common position, () for none.
    """

    count: int
    turned_radius_mm: float
    slot_mm: float
    edge_radius_mm: float
    friction: float
    radial_errors_mm: Numbers = ()

    def __post_init__(self) -> None:
        if isinstance(self.count, bool) or not isinstance(self.count, int) or not 3 <= self.count <= 720:
            raise InputError(
                "count of segments", self.count, "", "a whole number from 3 to 720",
                "use 6 or more; two halves cannot hold a hoop round",
            )  # fmt: skip
        require_positive("turned radius", self.turned_radius_mm, "mm")
        require_positive("slot width", self.slot_mm, "mm")
        require_positive("edge radius", self.edge_radius_mm, "mm")
        require_range("friction", self.friction, 0.0, 1.0)
        if self.radial_errors_mm:
            _finite_list("radial error", self.radial_errors_mm, "mm", self.count)
        self._refuse_wide_slot()

    def _refuse_wide_slot(self) -> None:
        pitch = math.sin(math.pi / self.count)
        widest = 2.0 * self.turned_radius_mm * math.sin(math.pi / (2.0 * self.count))
        if self.slot_mm >= widest:
            raise InputError(
                "slot width", self.slot_mm, "mm", f"less than the segment itself, {widest:.3f} mm here",
                "make the slots narrower or the segments fewer",
            )  # fmt: skip
        if 0.5 * self.slot_mm + self.edge_radius_mm >= (self.turned_radius_mm - self.edge_radius_mm) * pitch:
            raise InputError(
                "edge radius", self.edge_radius_mm, "mm", "small enough to leave an arc between the two edges",
                "make the edge radius smaller",
            )  # fmt: skip

    def errors(self) -> Vector:
        """Radial error of each segment, shape (N,). [mm]"""
        return np.array(self.radial_errors_mm if self.radial_errors_mm else (0.0,) * self.count)


@dataclass(frozen=True, slots=True)
class Hit:
    """One stretch and release.

    position_mm : radius at which the middles of the segments stand at the end of the hit; position less turned radius
    is the standing offset. index_rad : where segment 0 stands, as an angle of the hoop; half a pitch on puts slots
    where middles were. anneal_before : the hoop is made stress-free and soft before this hit.
    """

    position_mm: float
    index_rad: float = 0.0
    anneal_before: bool = False

    def __post_init__(self) -> None:
        require_positive("position of the segments", self.position_mm, "mm")
        require_finite("index angle", self.index_rad, "rad")


@dataclass(frozen=True, slots=True)
class Fineness:
    """How fine the hoop is cut up; 0 takes what suits the thickness, the radius and the symmetry found.

    edge_mm : longest edge at the slot edges and the weld. far_mm : longest edge elsewhere. growth : rise of edge length
    per mm away. steps : least number of steps in a hit. symmetry : False works on the full hoop whatever the input.
    """

    edge_mm: float = 0.0
    far_mm: float = 0.0
    growth: float = 0.3
    steps: int = 30
    symmetry: bool = True

    def __post_init__(self) -> None:
        require_range("edge length at the slots", self.edge_mm, 0.0, 1e3, "mm")
        require_range("edge length elsewhere", self.far_mm, 0.0, 1e3, "mm")
        require_range("growth of edge length", self.growth, 0.02, 2.0)
        if isinstance(self.steps, bool) or not isinstance(self.steps, int) or not 4 <= self.steps <= 5000:
            raise InputError("steps", self.steps, "", "a whole number from 4 to 5000", "use 30")
