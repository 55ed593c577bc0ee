"""The same ring's next hit: how far to move the stop, what it costs in strain and lobes; or no correction and why.

By the hand method (diameter across segment middles, hardening as a share) and by ours (girth, hardening of the ring,
gain of what is known of this ring).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.correct.gates import WINDOW
from hoopwright.errors import InputError, require_positive
from hoopwright.findings import Finding
from hoopwright.kernels.arrays import rounded_up
from hoopwright.kernels.segment_hull import lobe_factor
from hoopwright.kernels.taper_drive import TaperDrive
from hoopwright.kernels.wayback.gains import same_ring_gain, stop_change

HAND_HARDENING = 0.015
STOP_STEP_MM = 0.01


@dataclass(frozen=True, slots=True)
class Hit:
    """What was read of a hit and what was wanted; diameters in mm. predicted_stress : on the flow curve [MPa]."""

    loaded_mm: float
    free_mm: float
    target_mm: float
    tolerance_mm: float
    predicted_stress_MPa: float
    modulus_MPa: float

    def __post_init__(self) -> None:
        for name in ("loaded_mm", "free_mm", "target_mm", "tolerance_mm", "predicted_stress_MPa", "modulus_MPa"):
            require_positive(name, getattr(self, name))
        if self.free_mm >= self.loaded_mm:
            raise InputError("free_mm", self.free_mm, "mm", f"below the loaded {self.loaded_mm:g}", "check both sizes")

    @property
    def springback_mm(self) -> float:
        """Loaded less free."""
        return self.loaded_mm - self.free_mm

    @property
    def springback_share(self) -> float:
        """Springback over the free diameter [1]."""
        return self.springback_mm / self.free_mm

    @property
    def implied_stress_MPa(self) -> float:
        """Flow stress that this springback stands for: E times its share."""
        return self.modulus_MPa * self.springback_share

    @property
    def ratio(self) -> float:
        """Implied over predicted stress [1]."""
        return self.implied_stress_MPa / self.predicted_stress_MPa


@dataclass(frozen=True, slots=True)
class NextHit:
    """stop_mm : to move the pin's stop (0 with a finding that says why). strain_share : extra stretch of the hoop.

    standing_mm : segments past the last stand [mm]; lobes_mm : peak to valley it adds. index_deg : turn of the ring.
    """

    stop_mm: float
    exact_stop_mm: float
    strain_share: float
    standing_mm: float
    lobes_mm: float
    index_deg: float
    finding: Finding | None

    @property
    def offered(self) -> bool:
        """Whether a correction is offered."""
        return self.stop_mm > 0.0


def next_hit_by_hand(hit: Hit, drive: TaperDrive, stop_step_mm: float = 0.05, about: str = "ring") -> NextHit:
    """The stated hand method: dD/(2 tan a), 1 to 2 % more for extra hardening, to the next step of the stop."""
    exact = stop_change(hit.target_mm - hit.free_mm, drive.half_angle_rad, drive.count, HAND_HARDENING, girth=False)
    return _next(hit, drive, exact, stop_step_mm, about)


def next_hit(
    hit: Hit, drive: TaperDrive, hardening_share: float, unknown_sd_mm: float = 0.075, gauge_sd_mm: float = 0.015,
    about: str = "ring",
) -> NextHit:  # fmt: skip
    """Ours: change read as girth, the ring's own hardening Et/E, gain of what its own reading tells of it."""
    gain = same_ring_gain(unknown_sd_mm, gauge_sd_mm)
    wanted = gain * (hit.target_mm - hit.free_mm)
    exact = stop_change(wanted, drive.half_angle_rad, drive.count, hardening_share)
    return _next(hit, drive, exact, STOP_STEP_MM, about)


def _next(hit: Hit, drive: TaperDrive, exact: float, step: float, about: str) -> NextHit:
    refusal = _refusal(hit, about)
    if refusal is not None:
        return NextHit(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, refusal)
    stop = rounded_up(exact - 0.5 * step, step)
    standing = stop * math.tan(drive.half_angle_rad)
    strain = (hit.target_mm - hit.free_mm) / hit.free_mm
    # a quarter of a pitch, mirrored, puts new flats between the old ones
    index = 90.0 / drive.count
    return NextHit(stop, exact, strain, standing, standing * lobe_factor(drive.count), index, None)


def _refusal(hit: Hit, about: str) -> Finding | None:
    if abs(hit.ratio - 1.0) > WINDOW:
        sentence = (
            f"No correction: the implied flow stress is {hit.ratio:.2f} of the prediction (window 1 +- {WINDOW:g})."
        )
        why = f"Springback {hit.springback_mm:.3f} mm stands for {hit.implied_stress_MPa:.0f} MPa."
        return Finding("stop", sentence, "check seat, stop and hardness, then read again", about, "no-correction", why)
    if hit.free_mm > hit.target_mm + hit.tolerance_mm:
        over = hit.free_mm - hit.target_mm - hit.tolerance_mm
        sentence = f"The ring is {over:.3f} mm over its limit and cannot be shrunk."
        return Finding("stop", sentence, "pair it with a larger mate, or ask for a concession", about, "oversize")
    if hit.free_mm >= hit.target_mm:
        sentence = "The ring is inside its limits at or above target: no further hit."
        return Finding("note", sentence, "leave the stop for this ring", about, "on-target")
    return None


def recut_by_hand(turned_radius_mm: float, hit: Hit) -> float:
    """Radius the segments would be cut larger by if the whole error were theirs: r d(stress/E). [mm]"""
    return turned_radius_mm * (hit.implied_stress_MPa - hit.predicted_stress_MPa) / hit.modulus_MPa
