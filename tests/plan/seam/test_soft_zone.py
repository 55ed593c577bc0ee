"""The soft zone of a seam in worked strip: the card's weld table, proof stress of a gauge, refused stretches."""

from __future__ import annotations

import pytest

from hoopwright.cards.alloy import alloy
from hoopwright.cards.shop import house_limits
from hoopwright.errors import InputError
from hoopwright.kernels.softening import Swift, zone_from_proof
from hoopwright.plan.seam.soft_zone import plan_soft_zone

CARD, HOUSE = alloy("N06002"), house_limits()


def test_card_table_gives_zone_widths() -> None:
    found = plan_soft_zone("X-1", CARD, 0.03, 0.015, 1.5, HOUSE)
    assert [r for r, _ in found.card_zones_mm] == [5.0, 15.0, 30.0]
    assert [w for _, w in found.card_zones_mm] == pytest.approx([4.0, 2.9, 3.4], abs=0.06)
    assert found.findings == ()


def test_wider_zone_and_longer_gauge_change_the_proof_stress() -> None:
    def proof(zone: float, gauge: float) -> float:
        made = plan_soft_zone("X-1", CARD, 0.15, 0.0, zone, HOUSE, gauge)
        return next(f.value for f in made.figures if f.identity.endswith("/joint-proof"))

    assert proof(3.0, 50.0) < proof(1.0, 50.0) < proof(1.0, 100.0)


def test_stretch_over_half_the_uniform_strain_is_refused() -> None:
    easy, hard = (plan_soft_zone("X-1", CARD, 0.10, e, 1.5, HOUSE) for e in (0.005, 0.03))
    assert all(f.level != "stop" for f in easy.findings)
    assert hard.findings[0].level == "stop" and hard.findings[0].topic == "seam-strain"
    assert any(f.topic == "seam-softening" for f in hard.findings)
    necks = plan_soft_zone("X-1", CARD, 0.20, 0.02, 1.5, HOUSE)
    assert "necks" in necks.findings[0].sentence


def test_gauge_lengths_are_never_mixed() -> None:
    law = Swift(1227.0, 0.0264, 0.324)
    with pytest.raises(InputError, match="gauge length of the parent"):
        zone_from_proof(497.0, 50.0, 0.1877, law, gauge_of_parent=80.0)
    with pytest.raises(InputError, match="proof stress of the joint"):
        zone_from_proof(900.0, 50.0, 0.1877, law)


def test_card_without_a_weld_table() -> None:
    found = plan_soft_zone("X-1", alloy("N06625"), 0.03, 0.015, 1.5, HOUSE)
    assert found.card_zones_mm == ()
    with pytest.raises(InputError, match="stretch"):
        plan_soft_zone("X-1", CARD, 0.03, -0.1, 1.5, HOUSE)
