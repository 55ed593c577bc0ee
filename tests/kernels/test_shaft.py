import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright.errors import InputError
from hoopwright.kernels.shaft import (
    Shaft,
    loads_from,
    pair_compliance,
    running_gap,
    set_gap_for,
    shaft_bend,
    tilt_over_width,
)

TABLE = loads_from([0.0, 0.02, 0.05, 0.10], [3120.0, 2290.0, 1890.0, 1530.0])


def test_overhung_shaft_deflects_sixteen_times_a_supported_one_of_the_same_arm() -> None:
    supported = shaft_bend(Shaft(40.0, 150.0, False, 205000.0), 1000.0)
    overhung = shaft_bend(Shaft(40.0, 150.0, True, 205000.0), 1000.0)
    assert overhung.bending_mm == pytest.approx(16.0 * supported.bending_mm)
    assert overhung.tilt_rad == pytest.approx(1.5 * overhung.bending_mm / 150.0)
    assert supported.tilt_rad == 0.0
    assert tilt_over_width(overhung, 54.5) == pytest.approx(54.5 * overhung.tilt_rad)


def test_shear_matters_only_for_a_stubby_shaft() -> None:
    def share(slenderness: float) -> float:
        bend = shaft_bend(Shaft(40.0, 40.0 * slenderness, False, 205000.0), 1000.0)
        return bend.shear_mm / bend.deflection_mm

    assert share(2.0) > 0.3 > 0.2 > share(4.0) > share(10.0)
    assert share(10.0) < 0.04


def test_bending_stress() -> None:
    bend = shaft_bend(Shaft(40.0, 150.0, False, 205000.0), 1000.0)
    assert bend.stress_MPa == pytest.approx(1000.0 * 150.0 / 4.0 * 32.0 / (math.pi * 40.0**3))


def test_pair_and_frame_add_up() -> None:
    shaft = Shaft(40.0, 160.0, False, 205000.0)
    alone = pair_compliance(shaft, shaft)
    assert alone == pytest.approx(2.0 * shaft_bend(shaft, 1.0).deflection_mm)
    assert pair_compliance(shaft, shaft, 45000.0) == pytest.approx(alone + 1.0 / 45000.0)


@settings(max_examples=30, deadline=None)
@given(gap=st.floats(0.0, 0.1), compliance=st.floats(1e-7, 3e-5))
def test_setting_and_running_are_each_others_inverse(gap: float, compliance: float) -> None:
    wanted = set_gap_for(gap, compliance, TABLE)
    found = running_gap(wanted.set_mm, compliance, TABLE)
    assert found.running_mm == pytest.approx(gap, abs=1e-12)
    assert found.spring_mm == pytest.approx(compliance * TABLE.at(gap), abs=1e-12)


def test_refusals() -> None:
    with pytest.raises(InputError, match="set gap"):
        running_gap(0.2, 5.5e-6, TABLE)
    with pytest.raises(InputError, match="set gap"):
        running_gap(-0.1, 5.5e-6, TABLE)
    with pytest.raises(InputError, match="running gap"):
        set_gap_for(0.2, 5.5e-6, TABLE)
    with pytest.raises(InputError, match="load"):
        loads_from([0.0, 1.0], [1.0, 2.0])
    with pytest.raises(InputError, match="gap"):
        loads_from([0.0, 0.0], [2.0, 1.0])
    with pytest.raises(InputError, match="shaft diameter"):
        Shaft(0.0, 1.0, False, 1.0)
    with pytest.raises(InputError, match="load"):
        shaft_bend(Shaft(1.0, 1.0, False, 1.0), math.inf)
