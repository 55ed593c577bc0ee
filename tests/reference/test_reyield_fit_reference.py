"""Re-yield fit of N06002 against the figures of our own method papers (not published): K 1227, e0 0.0264, n 0.324."""

from __future__ import annotations

import pytest

from hoopwright.cards.alloy import alloy
from hoopwright.cards.fit import fit_law, reduction_strain


def test_swift_fit_to_cold_reduction() -> None:
    table = alloy("N06002").cold_work()
    strains = [reduction_strain(r) for r in table.column("reduction_pct")]
    assert strains == pytest.approx([0.0, 0.0592, 0.1877, 0.4119], abs=5e-5)
    fit = fit_law("swift", strains, list(table.column("yield_strength_MPa")))
    assert fit.constants["K_MPa"] == pytest.approx(1227.0, rel=0.01)
    assert fit.constants["e0_log"] == pytest.approx(0.0264, abs=5e-5)
    assert fit.constants["n"] == pytest.approx(0.324, abs=0.0005)
    assert fit.rms_MPa == pytest.approx(9.5, abs=0.05)


def test_growth_of_a_hoop() -> None:
    """500.000 mm at 26 degC grows 3.866 mm to 538 and 7.935 mm to 982; carried to 20 degC the mean is 15.083."""
    sheet = alloy("N06002")
    assert 500.0 * sheet.thermal_growth_eng(538.0, 26.0).value == pytest.approx(3.866, abs=0.0005)
    assert 500.0 * sheet.thermal_growth_eng(982.0, 26.0).value == pytest.approx(7.935, abs=0.0005)
    # Two steps of 0.0012 each above the paper: it takes 13.6 near room temperature by eye where the card's line gives
    # 13.70, and it adds the 6 K without referring the growth to the length at 20 degC (a factor 1 + 82e-6 on 7.8e-3).
    by_paper = (15.1 * 512.0 + 13.6 * 6.0) / 518.0
    assert by_paper == pytest.approx(15.083, abs=0.0005)
    assert 1e6 * sheet.mean_expansion_per_K(538.0).value - by_paper == pytest.approx(0.0024, abs=0.0002)
