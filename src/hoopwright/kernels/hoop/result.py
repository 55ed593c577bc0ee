"""What a sizing run returns. mm, N, MPa, rad; arrays are not to be written to. Angles are angles of the hoop."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.kernels.flow import Vector
from hoopwright.kernels.hoop.inputs import FibreState

Counts = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class RingState:
    """The whole hoop at one moment (symmetric parts mirrored out), on its reference axis.

    Parameters
    ----------
    mean_diameter_mm : girth over pi.
    peak_to_valley_mm : largest less smallest radius about the least-squares centre.
    order, amplitude_mm, phase_rad : waves of the radius, orders 2 and up, shape (m,) each; phase at a crest, within one
        wave.
    lobe_mm : wave of the order N of the segments, above 0 when its crests stand over the middles, below 0 over the
    slots. flat_mm : drop of the radius at each slot below the higher of its two shoulders, half a pitch to either
    side, (N,). angle_rad, radius_mm : nodes about the least-squares centre, rising angle, shape (n,).
    x_mm, y_mm : the same nodes in the frame of the machine, shape (n,).
    material_rad : where each node stood on the hoop before the first hit, shape (n,).
    strain_log : of the axis at each node, from the incoming hoop, shape (n,). thickness_mm : (n,).
    tension_N : section tension at each node, shape (n,). moment_Nmm : section moment, shape (n,).
    weld_strain_log : mean over the weld zone, None without one.
    """

    mean_diameter_mm: float
    peak_to_valley_mm: float
    order: Counts
    amplitude_mm: Vector
    phase_rad: Vector
    lobe_mm: float
    flat_mm: Vector
    angle_rad: Vector
    radius_mm: Vector
    x_mm: Vector
    y_mm: Vector
    material_rad: Vector
    strain_log: Vector
    thickness_mm: Vector
    tension_N: Vector
    moment_Nmm: Vector
    weld_strain_log: float | None

    def wave(self, order: int) -> float:
        """Amplitude of one order. [mm]"""
        return float(self.amplitude_mm[int(np.flatnonzero(self.order == order)[0])])

    @property
    def strain_peak_log(self) -> float:
        """Largest strain of the axis anywhere."""
        return float(self.strain_log.max())

    @property
    def strain_peak_at_rad(self) -> float:
        """Where the largest strain is."""
        return float(self.angle_rad[int(np.argmax(self.strain_log))])


@dataclass(frozen=True, slots=True, eq=False)
class SegmentLoad:
    """What the segments carry at the end of a hit, each array of shape (N,) but those of the nodes.

    angle_rad : where each segment stands. force_N : radial force on the hoop, outward. side_N : sideways force on the
    hoop by friction, counter-clockwise. pressure_MPa : mean over the arc; peak_MPa : largest at a node away from the
    edges. edge_N_per_mm : what bears on an edge (its rounding and two thicknesses before it), the larger of the two,
    per mm of bearing width; beside a wide slot the hoop lifts off before the edge, which then carries far more than
    the string's T g/(2 R). node_pressure_MPa, node_friction_MPa : at every node of the loaded `RingState`, friction
    on the hoop positive counter-clockwise. share_sliding : share of the loaded arc that slides.
    """

    angle_rad: Vector
    force_N: Vector
    side_N: Vector
    pressure_MPa: Vector
    peak_MPa: Vector
    edge_N_per_mm: Vector
    node_pressure_MPa: Vector
    node_friction_MPa: Vector
    share_sliding: float


@dataclass(frozen=True, slots=True, eq=False)
class LoadHistory:
    """The way from first touch to the end of the hit, k points.

    position_mm : radius of the segment middles, (k,). gap_tension_N : section tension over each slot, (k, N).
    segment_force_N : radial force on each segment, (k, N). mean_strain_log : of the girth, from the incoming hoop,
    (k,).
    """

    position_mm: Vector
    gap_tension_N: Vector
    segment_force_N: Vector
    mean_strain_log: Vector


@dataclass(frozen=True, slots=True)
class WorkBalance:
    """Work of one hit's loading [N mm]: what the segments put in, and where it is.

    tools : by the segments. plastic : spent in the fibres. stored : gain of elastic energy in the fibres. friction :
    spent and held between hoop and segments. contact : stored in the contact spring and given to the thinning of the
    sheet. guide : spent by the guide that holds rigid moves between steps. left : tools less all the others.
    """

    tools: float
    plastic: float
    stored: float
    friction: float
    contact: float
    guide: float

    @property
    def left(self) -> float:
        """What does not balance. [N mm]"""
        return self.tools - self.plastic - self.stored - self.friction - self.contact - self.guide


@dataclass(frozen=True, slots=True, eq=False)
class HitResult:
    """One hit: loaded, free, and the way there.

    slot_gap_mm : width of the slots at the end of the hit; slot_gap_at_touch_mm : at first touch (below 0 the segments
    would lie over each other: the slots are too narrow for this travel). stiffness of contact never enters the figures.
    """

    position_mm: float
    index_rad: float
    standing_offset_mm: float
    touch_position_mm: float
    slot_gap_mm: float
    slot_gap_at_touch_mm: float
    loaded: RingState
    free: RingState
    segments: SegmentLoad
    history: LoadHistory
    work: WorkBalance
    state_after: FibreState
    weld_state_after: FibreState | None

    @property
    def gap_tension_N(self) -> float:
        """Hoop tension over the slots at the end of the hit, mean of all slots. [N]"""
        return float(self.history.gap_tension_N[-1].mean())


@dataclass(frozen=True, slots=True, eq=False)
class HoopResult:
    """A whole sizing run.

    symmetry : part of the hoop that was worked on: "half pitch", "quarter", "half" or "full". nodes : of that part.
    converged, iterations, steps, message : of the solver. residual_N : largest nodal force out of balance, without the
    guide, at any loaded or free state that is returned; residual_share : the same over the hoop tension;
    residual_floor_N : what round-off alone may leave.
    """

    hits: tuple[HitResult, ...]
    incoming: RingState
    symmetry: str
    nodes: int
    converged: bool
    iterations: int
    steps: int
    message: str
    residual_N: float
    residual_share: float
    residual_floor_N: float

    @property
    def free(self) -> RingState:
        """The hoop as it comes off after the last hit."""
        return self.hits[-1].free

    @property
    def loaded(self) -> RingState:
        """The hoop on the segments at the end of the last hit."""
        return self.hits[-1].loaded
