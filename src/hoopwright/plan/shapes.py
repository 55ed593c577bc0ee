"""What the modules of this room hand to each other: the job of one ring, the route chosen, and what was reckoned of it.

Every module of the room that plans one thing (`blank`, `passes`, `trim`, `holes`, `characteristics`) is one function
`plan_x(job: RingJob, reckoning: Reckoning)` that returns a frozen result with `figures` and `findings`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, Protocol, runtime_checkable

import numpy as np
from numpy.typing import NDArray

from hoopwright.cards.alloy import Alloy
from hoopwright.cards.friction import Friction
from hoopwright.cards.limits import HouseLimits
from hoopwright.cards.machines import Machines
from hoopwright.cards.seam import SeamCard
from hoopwright.cards.spread import Spread
from hoopwright.findings import Figure, Finding, Source
from hoopwright.kernels.metal import Metal
from hoopwright.kernels.profile import Profile, Stations
from hoopwright.process.workpiece import Workpiece

if TYPE_CHECKING:
    from hoopwright.design.shapes import Liner, Ring

Array = NDArray[np.float64]

CURVE = Source("derived", "flow curve of the alloy card")

BlankKind = Literal["strip", "arc"]

Rolling = Literal["level", "canted", "conical", "closed-cone"]
"""How the contour is rolled: section level as drawn, section canted to its chord on straight pitch lines, conical pitch
lines through the apex of the arc blank, or in the ring already closed as a plain hoop or cone."""


@runtime_checkable
class Chapter(Protocol):
    """What every part of a plan has."""

    @property
    def figures(self) -> tuple[Figure, ...]:
        """Every figure a person acts on, in the order of use."""
        ...

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What is to be said about it."""
        ...


@dataclass(frozen=True, slots=True, eq=False)
class RingJob:
    """One ring, ready to be planned: the drawing, the metal and the cards.

    liner, ring : as the liner file gives them. section : mid-surface, x = z (aft) and y = r, forward edge first.
    stations : where the reckoning looks, n of them. thickness_mm : of the sheet. metal : first loading, as the kernels
    take it. young_MPa, poisson, uniform_strain_log, density_kg_per_m3 : the same metal as figures with their sources.
    prior_strain_log : the shop's own value of the plastic strain carried into sizing; None for the program's own map.
    seam : card of the closing weld of this alloy and sheet. flow_source : ground of the flow curve in `metal`.
    """

    liner: Liner
    ring: Ring
    section: Profile
    stations: Stations
    thickness_mm: Figure
    alloy: Alloy
    metal: Metal
    young_MPa: Figure
    poisson: Figure
    uniform_strain_log: Figure
    density_kg_per_m3: Figure
    limits: HouseLimits
    machines: Machines
    spread: Spread
    friction: Friction
    seam: SeamCard
    prior_strain_log: Figure | None = None
    flow_source: Source = CURVE

    def identity(self, rest: str) -> str:
        """Identity of a figure of this ring.

        "size/hit-1/free-lip-dia" becomes "HD-402/size/hit-1/free-lip-dia".
        """
        return f"{self.ring.id}/{rest}"


@dataclass(frozen=True, slots=True)
class BlankLine:
    """Radius of the flat blank, closed, at the developed distance s from the forward edge: r = a + b s.

    slope : b, 0 for a straight strip. base_mm : a. developed_mm : length of the section across.
    A sector with slant radii r/|b| and angle 360 |b| develops it.
    """

    base_mm: float
    slope: float
    developed_mm: float

    def radius_mm(self, s_mm: Array) -> Array:
        """Radius at the distance s, any shape."""
        return self.base_mm + self.slope * np.asarray(s_mm, dtype=np.float64)


@dataclass(frozen=True, slots=True)
class RouteOption:
    """One way of making the ring that was weighed.

    slip : worst face-to-face slip in the rolls as a share. reason : why it was chosen or not, in the shop's words.
    """

    blank: BlankKind
    rolling: Rolling
    name: str
    slip: Figure
    chosen: bool
    reason: str


@dataclass(frozen=True, slots=True)
class Restore:
    """One way of restoring worked metal, or of leaving it, that was weighed."""

    name: str
    chosen: bool
    reason: str


@dataclass(frozen=True, slots=True)
class Route:
    """The way chosen.

    stretches : full ones, with an anneal between where more than one; hits : of the last. anneal : of the welded hoop,
    before it is stretched. options, restores : everything that was weighed.
    """

    blank: BlankKind
    rolling: Rolling
    stretches: int
    hits: int
    anneal: bool
    options: tuple[RouteOption, ...]
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]
    restores: tuple[Restore, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Reckoning:
    """What the closed forms and the layered chain say about one ring; every array over the job's n stations.

    line : the blank, scaled so that the least stretch in sizing is the wished one (forces balance when it is closed).
    neutral_length_mm : length, once round, of the fibre that keeps its length when the strip is closed.
    cut_length_mm : the same before welding (shrinkage added).
    curl_strain_log : hoop strain from flat blank to closed hoop, shape (n,). sizing_strain_log : from closed hoop onto
    the segments, shape (n,). total_strain_log : from flat blank to the free ring, shape (n,).
    strip, hoop, loaded, free : the workpiece rolled (still open), welded, on the segments, and off them.
    tool_face_mm : radius of the segments under each station, loaded, shape (n,). springback_mm : on radius.
    tension_N : of the whole section on the segments, edge trims still on.
    """

    route: Route
    line: BlankLine
    neutral_length_mm: Figure
    cut_length_mm: Figure
    curl_strain_log: Array
    sizing_strain_log: Array
    total_strain_log: Array
    strip: Workpiece
    hoop: Workpiece
    loaded: Workpiece
    free: Workpiece
    tool_face_mm: Array
    springback_mm: float
    tension_N: float
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]
