"""Flow through nozzles, collars and long ducts against printed and worked figures; see SOURCE.md."""

import math

import numpy as np
import pytest

from hoopwright.kernels.gap_flow import fanno, gap_flux, hole, laminar_ring, mach_of_fanno, ring_gap
from hoopwright.kernels.gas import gas_of
from hoopwright.kernels.orifice import critical_function, critical_ratio, loss_of, nozzle_flow

COLD = gas_of(287.05, 1.4, 1.846e-5, 26.85)
HOT = gas_of(287.05, 1.4, 33.2e-6, 426.85)


def test_critical_figures() -> None:
    assert critical_ratio(1.4) == pytest.approx(0.52828, abs=5e-6)
    assert critical_function(1.4) == pytest.approx(0.68473, abs=5e-6)
    assert critical_ratio(1.36) == pytest.approx(0.53511, abs=5e-6)
    assert critical_function(1.36) == pytest.approx(0.67789, abs=5e-6)


def test_choked_hole() -> None:
    area = 0.25 * math.pi * 2.0**2
    assert nozzle_flow(area, 0.7, 0.1, COLD) == pytest.approx(5.1313, abs=5e-5)
    assert nozzle_flow(area, 0.7, 0.1, COLD, 0.8) == pytest.approx(4.1051, abs=5e-5)
    series = hole(2.0, 0.0, 0.7, 0.1, COLD, 0.0, edges=False)
    assert series.choked
    assert series.flow == pytest.approx(5.1313, abs=5e-5)


def test_unchoked_hole_by_the_orifice_formula() -> None:
    area = 0.25 * math.pi * 2.0**2
    assert nozzle_flow(area, 0.12, 0.101325, COLD, 0.65) == pytest.approx(0.42527, abs=5e-6)


def test_unchoked_hole_by_the_series_model() -> None:
    """1.5 %: a discharge coefficient and a loss coefficient are the same only where the gas keeps its density."""
    series = hole(2.0, 0.0, 0.12, 0.101325, COLD, loss_of(0.65), edges=False)
    assert series.flow == pytest.approx(0.42527, rel=0.015)


def test_collar_as_orifice() -> None:
    area = math.pi * 25.0 * 0.05
    assert nozzle_flow(area, 1.0, 0.97, HOT, 0.7) == pytest.approx(1.4778, abs=2e-4)
    series = ring_gap(25.0, 0.05, 0.0, 1.0, 0.97, HOT, entrance=loss_of(0.7), edges=False)
    # the same reason, at a pressure drop of 3 % only
    assert series.flow == pytest.approx(1.4778, rel=0.003)


def test_collar_creeping() -> None:
    assert laminar_ring(25.0, 0.05, 3.0, 1.0, 0.97, HOT) == pytest.approx(1.2080, abs=5e-5)
    assert laminar_ring(25.0, 0.05, 300.0, 1.0, 0.97, HOT) == pytest.approx(0.01208, abs=5e-6)
    # a long land creeps, whatever its entrance: 0.1 %
    assert ring_gap(25.0, 0.05, 300.0, 1.0, 0.97, HOT).flow == pytest.approx(0.012080, rel=1e-3)


def test_short_collar_lies_under_both_limits() -> None:
    """The lower of orifice and creeping flow is 47 % high at a land of 3 mm: both losses act at once."""
    found = ring_gap(25.0, 0.05, 3.0, 1.0, 0.97, HOT).flow
    assert found < 1.2080 < 1.4778
    assert found == pytest.approx(0.8191, rel=0.002)


@pytest.mark.parametrize(("eccentricity", "factor"), [(0.25, 1.09375), (0.5, 1.375), (0.75, 1.84375), (1.0, 2.5)])
def test_off_centre(eccentricity: float, factor: float) -> None:
    middle = ring_gap(25.0, 0.05, 3000.0, 1.0, 0.97, HOT).flow
    off = ring_gap(25.0, 0.05, 3000.0, 1.0, 0.97, HOT, eccentricity).flow
    assert off / middle == pytest.approx(factor, rel=2e-4)
    assert laminar_ring(25.0, 0.05, 3.0, 1.0, 0.97, HOT, eccentricity) == pytest.approx(1.2080 * factor, rel=1e-4)


def test_friction_choking() -> None:
    """4 f L/D 40: chokes below an exit over inlet static pressure of 0.11637, then M1 0.12728."""
    choked = float(mach_of_fanno(np.array([40.0]), 1.4)[0])
    assert choked == pytest.approx(0.12728, abs=2e-5)

    def ratio(mach: float) -> tuple[float, float]:
        out = float(mach_of_fanno(fanno(np.array([mach]), 1.4) - 40.0, 1.4)[0])
        over = [math.sqrt(2.4 / (2.0 + 0.4 * m**2)) / m for m in (mach, out)]
        return over[1] / over[0], out

    assert ratio(choked)[0] == pytest.approx(0.11637, abs=2e-4)
    for mach, wanted, out in ((0.12420, 0.3, 0.40790), (0.07975, 0.8, 0.09965)):
        found, exit_mach = ratio(mach)
        assert found == pytest.approx(wanted, abs=2e-4)
        assert exit_mach == pytest.approx(out, abs=2e-4)


def test_no_flow_without_a_drop() -> None:
    assert gap_flux(0.1, 1.0, 0.4, 0.4, COLD).flux[0] == 0.0
