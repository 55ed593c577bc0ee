"""What a proof run found, as plain data: it is kept on disk beside the job and read back instead of run again."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from hoopwright.findings import Figure
from hoopwright.kernels.profile import Profile, Segment

GOOD_MM = 0.03
"""Deviation of the rolled section, let go, below which a contour is left as it is: the depth asked for."""

ContourRow = tuple[tuple[float, float], tuple[float, float], tuple[float, float] | None, bool]


@dataclass(frozen=True, slots=True)
class SizeProof:
    """One control size, diameters by girth tape [mm].

    reckoned_mm : free, as the reckoning has it on its own tools. first_mm : free in the proof on those tools.
    loaded_mm, free_mm : in the proof on the corrected tools, the edges trimmed off for the free one. segments_mm : what
    slots and flats of the segments add to a full circle of their hull, contained in first_mm and free_mm.
    """

    name: str
    z_mm: float
    wanted_mm: float
    tolerance_mm: float
    reckoned_mm: float
    first_mm: float
    loaded_mm: float
    free_mm: float
    segments_mm: float

    @property
    def residual_mm(self) -> float:
        """Free size less the drawing."""
        return self.free_mm - self.wanted_mm

    @property
    def holds(self) -> bool:
        """Whether the residual is below a tenth of the tolerance."""
        return abs(self.residual_mm) < 0.1 * self.tolerance_mm


@dataclass(frozen=True, slots=True)
class PlaceProof:
    """The trimmed ring at one station of the reckoning, proof beside reckoning; hoop strain from the flat blank."""

    z_mm: float
    radius_mm: float
    thickness_mm: float
    thickness_reckoned_mm: float
    hoop_log: float
    hoop_reckoned_log: float
    plastic: float
    plastic_reckoned: float
    inside: float
    outside: float


@dataclass(frozen=True, slots=True)
class RollProof:
    """The roll contour. greatest_mm, rms_mm, depth_mm : deviation of the section, let go, from the drawing, and its
    greatest miss in depth at the middle of a straight; as drawn and corrected. runs : of the kernel."""

    greatest_before_mm: float
    rms_before_mm: float
    depth_before_mm: float
    greatest_mm: float
    rms_mm: float
    depth_mm: float
    changes: int
    runs: int


@dataclass(frozen=True, slots=True)
class LengthProof:
    """Cut length, before welding, along the fibre that keeps it. [mm]

    least_reckoned_mm, least_mm : smallest mid radius as welded from the reckoned length, by both tiers. hand_pct :
    stretch of that radius which the hand rule's length would give, by the proof.
    """

    reckoned_mm: float
    cut_mm: float
    hand_mm: float
    least_reckoned_mm: float
    least_mm: float
    hand_pct: float


@dataclass(frozen=True, slots=True)
class CurlProof:
    """Curl in the rolls: loaded radius of the fibre that keeps its length, lean of rolls or guides, moments; and the
    lean of a strip that nothing guides (None where the curl is in plain rolls)."""

    how: str
    radius_mm: float
    reckoned_mm: float
    guide_deg: float
    moment_Nm: float
    side_moment_Nm: float
    unguided_deg: float | None


@dataclass(frozen=True, slots=True)
class Proof:
    """A proof run of one ring.

    key : digest of everything it was made from. section : mid-line the rolls are cut to, in the frame of the ring.
    face_shift_mm : radial correction of the segments' face by station of the reckoning. profile_mm : greatest and rms
    deviation of the trimmed ring from the drawing. ledge, ledge_kN : edge that has to be held along the axis on the
    segments ("none", "forward", "aft"), and with what. figures : of every step of the proof walk. reason : why a
    residual stays, empty where none does.
    """

    ring: str
    key: str
    elements: int
    layers: int
    section: tuple[ContourRow, ...]
    face_shift_mm: tuple[float, ...]
    line_force_N_per_mm: float
    roll_load_kN: float
    torque_Nm: float
    rolls: RollProof
    curl: CurlProof
    length: LengthProof
    sizes: tuple[SizeProof, ...]
    places: tuple[PlaceProof, ...]
    profile_mm: tuple[float, float]
    stretch_pct: float
    springback_mm: float
    volume_share: float
    ledge: Literal["none", "forward", "aft"]
    ledge_kN: float
    figures: tuple[Figure, ...]
    reason: str
    runs: int
    processor_s: float

    @property
    def holds(self) -> bool:
        """Whether every control size is within a tenth of its tolerance."""
        return all(size.holds for size in self.sizes)

    @property
    def residual_mm(self) -> float:
        """The residual of largest size, with its sign; 0 where the ring has no control size."""
        return max((size.residual_mm for size in self.sizes), key=abs, default=0.0)

    def profile(self) -> Profile:
        """Mid-line the rolls are cut to."""
        return Profile(tuple(Segment(*row) for row in self.section))


def contour_rows(profile: Profile) -> tuple[ContourRow, ...]:
    """A profile as plain rows."""
    return tuple((one.start, one.end, one.centre, one.ccw) for one in profile)
