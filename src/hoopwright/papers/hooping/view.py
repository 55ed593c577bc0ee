"""What the pictures need of one hit, in the frame of the segments: segment 1 at the top, angles clockwise."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hoopwright.kernels.hoop import RingState
from hoopwright.process.hooping.measures import round_of
from hoopwright.process.hooping.operation import Hooped, SizeOnSegments
from hoopwright.process.shop import ShopCard
from hoopwright.process.workpiece import Array


@dataclass(frozen=True, slots=True, eq=False)
class Trace:
    """A closed line once round: clock angle [rad], rising from 0 to below one turn, and radius [mm], (k,) each."""

    clock_rad: Array
    radius_mm: Array

    @property
    def mean_mm(self) -> float:
        """Mean radius by angle."""
        turn = np.append(self.clock_rad, self.clock_rad[0] + 2.0 * np.pi)
        ring = np.append(self.radius_mm, self.radius_mm[0])
        return float(np.sum(0.5 * np.diff(turn) * (ring[1:] + ring[:-1])) / (2.0 * np.pi))


@dataclass(frozen=True, slots=True, eq=False)
class HitView:
    """One hit. name : drawing number. loaded, free, incoming : the ring's axis. seam_rad, zone_rad : place and width of
    the seam's zone. strain_log, share_pct : round the loaded ring, at clock_rad, share of the strain limit used.
    position_mm : radius of the segments' middles under the axis. turned_mm : the radius their arcs have there.
    """

    name: str
    number: int
    of: int
    count: int
    slot_mm: float
    edge_radius_mm: float
    turned_mm: float
    position_mm: float
    incoming: Trace
    loaded: Trace
    free: Trace
    thickness_mm: float
    clock_rad: Array
    strain_log: Array
    share_pct: Array
    seam_rad: float | None
    zone_rad: float

    @property
    def pitch_rad(self) -> float:
        """Angle from segment to segment."""
        return 2.0 * math.pi / self.count

    @property
    def slots_rad(self) -> Array:
        """Clock angle of each slot, shape (N,)."""
        return np.asarray((np.arange(self.count) + 0.5) * self.pitch_rad, dtype=np.float64)


def _trace(state: RingState, turn: float) -> Trace:
    clock: Array = (state.angle_rad - turn) % (2.0 * np.pi)
    order = np.argsort(clock)
    return Trace(np.asarray(clock[order]), state.radius_mm[order])


def views(run: Hooped, operation: SizeOnSegments, card: ShopCard) -> tuple[HitView, ...]:
    """A view of every hit of a run."""
    found = []
    for hit in run.hits:
        around = round_of(run, hit.number, operation.drawn_mm, card)
        turn = hit.hoop.index_rad
        clock = (around.angle_rad - turn) % (2.0 * np.pi)
        order = np.argsort(clock)
        seam, zone = None, 0.0
        if run.weld is not None:
            seam = float((run.weld.angle_rad - turn) % (2.0 * np.pi))
            zone = run.weld.width_mm / run.fibres.axis_radius_mm
        found.append(
            HitView(
                name=run.incoming.part,
                number=hit.number,
                of=len(run.hits),
                count=run.tool.count,
                slot_mm=run.tool.slot_mm,
                edge_radius_mm=run.tool.edge_radius_mm,
                turned_mm=run.tool.turned_radius_mm,
                position_mm=hit.hoop.position_mm,
                incoming=_trace(run.result.incoming, turn),
                loaded=_trace(hit.hoop.loaded, turn),
                free=_trace(hit.hoop.free, turn),
                thickness_mm=run.fibres.section.thickness_mm,
                clock_rad=clock[order],
                strain_log=around.strain_log[order],
                share_pct=around.share_pct[order],
                seam_rad=seam,
                zone_rad=zone,
            )
        )
    return tuple(found)
