import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright.errors import InputError
from hoopwright.kernels.taper_drive import (
    TaperDrive,
    drive_forces,
    drive_forces_limit,
    radial_force,
    radial_sum_limit,
)


def drive(angle_deg: float, pin: float = 0.10, base: float = 0.12, count: int = 8) -> TaperDrive:
    return TaperDrive(count, math.radians(angle_deg), pin, base)


def test_without_friction_the_pin_is_a_plain_wedge() -> None:
    forces = drive_forces(drive(7.0, 0.0, 0.0), 1000.0)
    assert forces.pull_N == pytest.approx(forces.radial_sum_N * math.tan(math.radians(7.0)))
    assert forces.efficiency == pytest.approx(1.0)
    assert forces.hold_N == pytest.approx(forces.pull_N)
    assert forces.withdraw_N == 0.0


def test_self_locking_begins_at_the_friction_angle() -> None:
    locked = math.degrees(math.atan(0.10))
    assert drive(locked - 1e-6).self_locking and not drive(locked + 1e-6).self_locking
    below, above = drive_forces(drive(4.0), 1000.0), drive_forces(drive(7.0), 1000.0)
    assert below.hold_N == 0.0 < below.withdraw_N and below.lifts_off
    assert above.withdraw_N == 0.0 < above.hold_N and not above.lifts_off


def test_margin_stroke_and_diameter() -> None:
    assert math.degrees(drive(7.0).release_margin_rad) == pytest.approx(1.29, abs=0.005)
    assert drive(7.0).stroke(5.5) == pytest.approx(44.8, abs=0.05)
    assert drive(7.0).diameter_per_stroke == pytest.approx(0.2456, abs=5e-5)


@settings(max_examples=30, deadline=None)
@given(angle=st.floats(2.0, 20.0), pin=st.floats(0.0, 0.3), base=st.floats(0.0, 0.3), count=st.integers(3, 24))
def test_pull_grows_with_friction_and_scales_with_tension(angle: float, pin: float, base: float, count: int) -> None:
    here = drive_forces(drive(angle, pin, base, count), 1000.0)
    more = drive_forces(drive(angle, pin + 0.02, base + 0.02, count), 1000.0)
    twice = drive_forces(drive(angle, pin, base, count), 2000.0)
    assert more.pull_N > here.pull_N
    assert twice.pull_N == pytest.approx(2.0 * here.pull_N, rel=1e-12)
    assert 0.0 < here.efficiency <= 1.0 + 1e-12
    assert here.radial_sum_N < radial_sum_limit(1000.0)


def test_limit_of_many_segments() -> None:
    many, limit = drive_forces(drive(7.0, count=400), 1000.0), drive_forces_limit(drive(7.0, count=400), 1000.0)
    assert many.pull_N == pytest.approx(limit.pull_N, rel=2e-5)
    eight = drive_forces(drive(7.0), 1000.0).radial_sum_N
    assert 1.0 - eight / radial_sum_limit(1000.0) == pytest.approx(0.026, abs=5e-4)


def test_a_jamming_drive_is_refused_with_its_remedy() -> None:
    steep = drive(50.0, 0.3, 0.6)
    assert steep.jams and steep.jam_share > 1.0
    with pytest.raises(InputError, match="lubricate the base"):
        drive_forces(steep, 1000.0)
    assert drive(80.0, 0.3, 0.0).jam_share == math.inf
    assert drive(70.0, 0.1, 0.0).jam_share == 0.0


@pytest.mark.parametrize(
    ("arguments", "word"),
    [
        ((1, 0.1, 0.1), "number of segments"),
        ((8, 0.0, 0.1), "half angle"),
        ((8, 7.0, 0.1), "half angle"),
        ((8, 0.1, -0.1), "friction on the pin"),
        ((8, 0.1, 0.1, math.nan), "friction on the base"),
    ],
)
def test_refusals(arguments: tuple[float, ...], word: str) -> None:
    with pytest.raises(InputError, match=word):
        TaperDrive(*arguments)  # type: ignore[arg-type]


def test_tension_must_be_a_pull() -> None:
    with pytest.raises(InputError, match="tension"):
        radial_force(-1.0, 8)
