"""Every force of one segment drawn out as vectors: they balance, and friction works against sliding."""

import math

import pytest

from hoopwright.kernels.taper_drive import TaperDrive, drive_forces

T = 20156.0


@pytest.mark.parametrize("angle", [4.0, 7.0, 12.0])
@pytest.mark.parametrize(("pin", "base"), [(0.0, 0.0), (0.10, 0.12), (0.2, 0.05)])
def test_pushing_out(angle: float, pin: float, base: float) -> None:
    drive = TaperDrive(8, math.radians(angle), pin, base)
    forces = drive_forces(drive, T)
    a, q = drive.half_angle_rad, forces.taper_normal_N
    # on the segment: normal outward and down, friction along the taper with the pin (in, down)
    radial = q * math.cos(a) - pin * q * math.sin(a)
    down = q * math.sin(a) + pin * q * math.cos(a)
    assert radial - base * down == pytest.approx(forces.radial_per_segment_N, rel=1e-12)
    # on the pin: the same, reversed, N times; the pull makes up for it
    assert 8 * down == pytest.approx(forces.pull_N, rel=1e-12)


@pytest.mark.parametrize(("angle", "base"), [(4.0, 0.12), (4.0, 0.0), (9.0, 0.12), (9.0, 0.0)])
def test_coming_back(angle: float, base: float) -> None:
    drive = TaperDrive(8, math.radians(angle), 0.10, base)
    forces = drive_forces(drive, T)
    a = drive.half_angle_rad
    # pin about to move out: friction on the segment turns round; the base or hold-down holds against moving in
    per_normal_radial = math.cos(a) + 0.10 * math.sin(a)
    per_normal_down = math.sin(a) - 0.10 * math.cos(a)
    normal = forces.radial_per_segment_N / (per_normal_radial + base * abs(per_normal_down))
    axial = 8 * normal * per_normal_down
    assert (axial > 0.0) == (forces.hold_N > 0.0) == (not drive.self_locking)
    assert abs(axial) == pytest.approx(forces.hold_N + forces.withdraw_N, rel=1e-12)


def test_work_of_the_pin_is_work_into_the_hoop_and_friction() -> None:
    drive = TaperDrive(8, math.radians(7.0), 0.10, 0.12)
    forces = drive_forces(drive, T)
    a, q, stroke = drive.half_angle_rad, forces.taper_normal_N, 1.0
    out = stroke * math.tan(a)
    sliding = stroke / math.cos(a)
    down = q * math.sin(a) + 0.10 * q * math.cos(a)
    into_hoop, on_taper, on_base = forces.radial_per_segment_N * out, 0.10 * q * sliding, 0.12 * down * out
    assert 8 * (into_hoop + on_taper + on_base) == pytest.approx(forces.pull_N * stroke, rel=1e-12)
    assert forces.efficiency == pytest.approx(8 * into_hoop / (forces.pull_N * stroke), rel=1e-12)
