"""Disc, wave and finger springs against tables and handbook formulas; see SOURCE.md."""

import csv
from pathlib import Path

import pytest

from hoopwright.kernels.spring_disc import DiscSpring, disc_force, disc_stresses
from hoopwright.kernels.spring_finger import root_stress, taper_factor, wave_washer_stress

ROWS = list(csv.DictReader((Path(__file__).parent / "data.csv").read_text().splitlines()))


@pytest.mark.parametrize("row", ROWS, ids=[r["designation"] for r in ROWS])
def test_table_force(row: dict[str, str]) -> None:
    t = float(row["t_mm"])
    disc = DiscSpring(float(row["De_mm"]), float(row["Di_mm"]), t, float(row["l0_mm"]) - t)
    force = disc_force(disc, 206e3, 0.3, 0.75 * disc.height)
    # tables are rounded to two or three figures: 0.3 %
    assert force == pytest.approx(float(row["F075_table_N"]), rel=0.003)
    assert force == pytest.approx(float(row["F075_recomputed_N"]), abs=0.05)


def test_stresses_of_one_disc() -> None:
    disc = DiscSpring(40.0, 20.4, 1.5, 1.15)
    found = disc_stresses(disc, 206e3, 0.3, 0.75 * 1.15)
    for place, printed in (("OM", -1019), ("I", -2073), ("II", 835), ("III", 1136), ("IV", -347)):
        assert found[place] == pytest.approx(printed, rel=0.002), place
    assert disc.factors == pytest.approx((0.68614, 1.21080, 1.36257), abs=5e-6)


def test_aged_N07718() -> None:
    """E 200 GPa, nu 0.294, to the newton."""
    assert disc_force(DiscSpring(40.0, 20.4, 1.5, 1.15), 200e3, 0.294, 0.8625) == pytest.approx(2535.0, abs=0.5)


def test_wave_washer() -> None:
    assert wave_washer_stress(204e3, 0.4, 0.3, 6, 40.0) == pytest.approx(519.1, abs=0.05)
    # psi and inch
    assert wave_washer_stress(30e6, 0.05, 0.03, 3, 1.75) == pytest.approx(124_638.0, rel=1e-5)


def test_finger() -> None:
    assert root_stress(204e3, 0.5, 12.0, 0.5) == pytest.approx(531.25, abs=5e-3)


@pytest.mark.parametrize(("share", "factor"), [(1.0, 1.0), (0.75, 1.06966), (0.5, 1.15888), (0.0, 1.5)])
def test_tapered_finger(share: float, factor: float) -> None:
    assert taper_factor(share) == pytest.approx(factor, abs=5e-6)
