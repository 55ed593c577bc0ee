"""Seam cards as files: what is new, what stays of the card in use, and that a plan reads them."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from hoopwright.cards.seam import SeamCard
from hoopwright.findings import Source
from hoopwright.plan.seam.card_text import CardFigure, coupon_card, ring_scatter, seam_card_text
from hoopwright.plan.seam.evaluation import evaluate, hardness_traverse
from hoopwright.plan.shelf import Shelf

USUAL = Shelf().seam("N06002", 0.8)
MEASURED, DERIVED = Source("measured", 'tape "A"'), Source("derived", "heat kernel")


def read(folder: Path, text: str) -> SeamCard:
    (folder / "seam.toml").write_text(text, encoding="utf-8")
    return Shelf(folder).seam("N06002", 0.8)


def test_what_is_not_new_stays(tmp_path: Path) -> None:
    text = seam_card_text("N06002", 0.8, "test", [CardFigure("shrinkage_mm", 0.137, "mm", MEASURED)], USUAL)
    found = read(tmp_path, text)
    assert found.card_id == "N06002-0.80"
    assert found.shrinkage_mm is not None and found.shrinkage_mm.value == 0.137
    assert found.angle_deg.value == USUAL.angle_deg.value and found.angle_deg.source.basis == "practice"
    assert found.strength_ratio is None


def test_firmer_ground_stays_and_equal_ground_gives_way(tmp_path: Path) -> None:
    first = read(
        tmp_path,
        seam_card_text("N06002", 0.8, "one", [CardFigure("softened_width_mm", 1.3, "mm", MEASURED)], USUAL),
    )
    planned = seam_card_text("N06002", 0.8, "two", [CardFigure("softened_width_mm", 1.8, "mm", DERIVED)], first)
    assert read(tmp_path, planned).softened_width_mm.value == 1.3
    again = seam_card_text("N06002", 0.8, "three", [CardFigure("softened_width_mm", 1.5, "mm", MEASURED)], first)
    assert read(tmp_path, again).softened_width_mm.value == 1.5


def test_coupons_and_traverse_make_a_card(tmp_path: Path) -> None:
    x = [-4.0 + 0.25 * k for k in range(33)]
    traverse = hardness_traverse(x, [240.0 - 60.0 * (abs(v) < 1.0) for v in x])
    found = evaluate("X", [770.0, 768.0, 772.0, 771.0], [775.0, 774.0, 777.0, 776.0], (), None, traverse)
    card = read(tmp_path, coupon_card(found, "N06002", 0.8, USUAL))
    assert card.strength_ratio is not None and card.strength_ratio.value == pytest.approx(0.9932, abs=2e-4)
    assert card.softened_width_mm.value == pytest.approx(2.0, abs=0.26)
    assert card.softened_width_mm.source.basis == "measured"
    sound = coupon_card(replace(found, traverse=None), "N06002", 0.8, USUAL)
    assert read(tmp_path, sound).softened_width_mm.value == USUAL.softened_width_mm.value


def test_next_ring_scatters_by_doubt_and_ring_to_ring() -> None:
    assert ring_scatter(0.137, 0.016) == pytest.approx(0.01936, abs=1e-4)
