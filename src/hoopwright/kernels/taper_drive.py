"""N segments pushed out against a stretched hoop by a taper pin, on a flat base. N, mm, rad.

T is the hoop's section tension in a gap. Statics of one segment (exact, with or without friction on its arc):

    radial force          F = 2 T sin(pi/N)
    rho = atan mu_pin,    x = tan(a + rho),   y = tan(a - rho),   a = half angle of the pin
    push out              P = N F x / (1 - mu_b x);  jams when mu_b x >= 1
    normal on the taper   Q = F / [cos a - mu sin a - mu_b (sin a + mu cos a)]
    hold                  P = N F y / (1 + mu_b y) for a > rho; 0 for a <= rho: the pin stays by itself
    withdraw              W = N F |y| / (1 + mu_b |y|) for a <= rho; the segments are lifted off the base and need a
                          hold-down, whose friction is taken equal to the base's
    efficiency            N F tan a / P

With friction left out and N large, N F -> 2 pi T, the limit hand calculation uses (`radial_sum_limit`).

References
----------
Wedge statics, derived here; every force drawn out in tests/exact/test_taper_drive_exact.py.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.errors import InputError, require_finite, require_positive
from hoopwright.kernels.arrays import whole_count


@dataclass(frozen=True, slots=True)
class TaperDrive:
    """A pin of half angle a (from its axis) that drives N segments. Frictions are coefficients, from 0."""

    count: int
    half_angle_rad: float
    friction_pin: float
    friction_base: float = 0.0

    def __post_init__(self) -> None:
        whole_count("number of segments", self.count, 2, 400)
        angle = require_finite("half angle", self.half_angle_rad, "rad")
        if not 0.0 < angle < 0.5 * math.pi:
            raise InputError("half angle", angle, "rad", "between 0 and pi/2", "enter the half angle in radians")
        for name, value in (("friction on the pin", self.friction_pin), ("friction on the base", self.friction_base)):
            if not 0.0 <= require_finite(name, value) < 2.0:
                raise InputError(name, value, "", "from 0 to below 2", "enter a friction coefficient")

    @property
    def friction_angle_rad(self) -> float:
        """rho of the pin."""
        return math.atan(self.friction_pin)

    @property
    def release_margin_rad(self) -> float:
        """a - rho: above 0 the pin is pushed back out, at 0 or below it locks."""
        return self.half_angle_rad - self.friction_angle_rad

    @property
    def self_locking(self) -> bool:
        """Whether the pin stays in by itself and must be pulled out."""
        return self.release_margin_rad <= 0.0

    @property
    def jam_share(self) -> float:
        """mu_b tan(a + rho): at 1 or more no force opens the segments; infinite where a + rho reaches 90 degrees."""
        steep = self.half_angle_rad + self.friction_angle_rad
        if self.friction_base == 0.0 and steep < 0.5 * math.pi:
            return 0.0
        return self.friction_base * math.tan(steep) if steep < 0.5 * math.pi else math.inf

    @property
    def jams(self) -> bool:
        """Whether no force opens the segments."""
        return self.jam_share >= 1.0

    @property
    def diameter_per_stroke(self) -> float:
        """Diameter across segment middles per mm of pin: 2 tan a."""
        return 2.0 * math.tan(self.half_angle_rad)

    def stroke(self, radial_travel: float) -> float:
        """Pin stroke for a radial travel, of the same sign. [mm]"""
        return require_finite("radial travel", radial_travel, "mm") / math.tan(self.half_angle_rad)


@dataclass(frozen=True, slots=True)
class DriveForces:
    """Forces of a drive against one hoop tension.

    radial_per_segment_N : F. radial_sum_N : N F. pull_N : P, at the end of the stretch, pin moving in.
    taper_normal_N : Q, on each segment's taper, pin moving in. hold_N : to keep the pin where it is; 0 when it locks.
    withdraw_N : to pull it out; 0 when it comes by itself. lifts_off : whether the segments are lifted off the base
    then. efficiency : work into the hoop over work of the pin.
    """

    radial_per_segment_N: float
    radial_sum_N: float
    pull_N: float
    taper_normal_N: float
    hold_N: float
    withdraw_N: float
    lifts_off: bool
    efficiency: float


def radial_force(tension: float, count: int) -> float:
    """Radial force on one segment: 2 T sin(pi/N). [N]"""
    n = whole_count("number of segments", count, 2, 400)
    return 2.0 * require_positive("hoop tension", tension, "N") * math.sin(math.pi / n)


def radial_sum_limit(tension: float) -> float:
    """Radial sum of very many segments: 2 pi T. [N]"""
    return 2.0 * math.pi * require_positive("hoop tension", tension, "N")


def drive_forces(drive: TaperDrive, tension: float) -> DriveForces:
    """Forces for one hoop tension [N].

    Raises
    ------
    InputError
        When the drive jams: no finite force opens the segments.

    Examples
    --------
    >>> forces = drive_forces(TaperDrive(8, math.radians(8.0), 0.12, 0.10), 20156.0)
    >>> round(forces.radial_per_segment_N, 1), round(forces.pull_N), round(forces.taper_normal_N)
    (15426.7, 33596, 16277)
    """
    return _forces(drive, radial_force(tension, drive.count))


def drive_forces_limit(drive: TaperDrive, tension: float) -> DriveForces:
    """The same with the radial sum at its limit 2 pi T, as hand calculation has it. [N]"""
    return _forces(drive, radial_sum_limit(tension) / drive.count)


def _forces(drive: TaperDrive, radial: float) -> DriveForces:
    if drive.jams:
        raise InputError(
            "half angle", round(math.degrees(drive.half_angle_rad), 4), "deg",
            f"small enough for the base friction (friction * tan(angle + rho) is {drive.jam_share:.3g}, limit 1)",
            "lubricate the base, or grind a smaller angle",
        )  # fmt: skip
    a, mu, mu_b = drive.half_angle_rad, drive.friction_pin, drive.friction_base
    total = drive.count * radial
    x = math.tan(a + drive.friction_angle_rad)
    y = math.tan(drive.release_margin_rad)
    pull = total * x / (1.0 - mu_b * x)
    normal = radial / (math.cos(a) - mu * math.sin(a) - mu_b * (math.sin(a) + mu * math.cos(a)))
    back = total * abs(y) / (1.0 + mu_b * abs(y))
    locked = drive.self_locking
    return DriveForces(
        radial_per_segment_N=radial,
        radial_sum_N=total,
        pull_N=pull,
        taper_normal_N=normal,
        hold_N=0.0 if locked else back,
        withdraw_N=back if locked else 0.0,
        lifts_off=drive.release_margin_rad < 0.0,
        efficiency=total * math.tan(a) / pull,
    )
