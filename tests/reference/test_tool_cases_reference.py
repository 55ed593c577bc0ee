"""Mandrel crown, wedge and sizing force: cases made for checking (our figures, not published; the wedge is textbook
statics from memory). Tolerances as the catalogue of checks states them.
"""

import math

import pytest

from hoopwright.kernels.segment_hull import SegmentCircle
from hoopwright.kernels.taper_drive import TaperDrive, drive_forces, radial_force, radial_sum_limit


@pytest.mark.parametrize(("count", "drop", "gap"), [(12, 0.1003, 1.553), (16, 0.0565, 1.171)])
def test_crown_turned_at_150_moved_out_3(count: int, drop: float, gap: float) -> None:
    circle = SegmentCircle(count, 150.0, 3.0, 0.0)
    assert circle.middle_radius_mm == pytest.approx(153.0, abs=1e-4)
    assert circle.middle_radius_mm - circle.edge_radius_mm == pytest.approx(drop, abs=1e-4)
    assert circle.gap_mm == pytest.approx(gap, abs=1e-3)


@pytest.mark.parametrize(
    ("angle", "friction", "push", "efficiency", "release", "limit"),
    [(5.0, 0.10, 0.18914, 0.4626, -0.01240, 5.711), (10.0, 0.15, 0.33519, 0.5260, 0.02565, 8.531)],
)
def test_wedge(angle: float, friction: float, push: float, efficiency: float, release: float, limit: float) -> None:
    drive = TaperDrive(12, math.radians(angle), friction)
    forces = drive_forces(drive, 9000.0)
    total = forces.radial_sum_N
    assert forces.pull_N / total == pytest.approx(push, abs=1e-4)
    assert forces.efficiency == pytest.approx(efficiency, abs=1e-4)
    assert (forces.hold_N - forces.withdraw_N) / total == pytest.approx(release, abs=1e-4)
    assert math.degrees(drive.friction_angle_rad) == pytest.approx(limit, abs=1e-3)
    assert drive.self_locking == (release < 0.0)


def test_sizing_force() -> None:
    """Hoop 1.0 x 20 mm at 450 MPa on 12 segments; the printed pin force takes the sum at its limit 2 pi T."""
    tension = 450.0 * 20.0
    assert radial_force(tension, 12) == pytest.approx(4658.7, abs=0.05)
    assert radial_sum_limit(tension) == pytest.approx(56549.0, abs=0.5)
    drive = TaperDrive(12, math.radians(5.0), 0.10)
    assert radial_sum_limit(tension) * math.tan(drive.half_angle_rad + drive.friction_angle_rad) == pytest.approx(
        10696.0, abs=0.5
    )
    # twelve segments need 1.1 % less
    assert drive_forces(drive, tension).pull_N == pytest.approx(10696.0 * 0.9886, rel=1e-4)
