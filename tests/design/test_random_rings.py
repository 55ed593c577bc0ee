"""The generator of random rings gives sound rings within its stated ranges, the same for the same seed."""

from __future__ import annotations

from collections import Counter

from random_rings import ALLOYS, draws, random_liner, random_ring, shape_of

from hoopwright.cards.alloy import alloy
from hoopwright.design.geometry_checks import geometry_findings
from hoopwright.design.liner_reading import liner_from_text
from hoopwright.design.liner_writing import write_liner

SEEDS = range(100)


def test_within_the_stated_ranges() -> None:
    for seed in SEEDS:
        ring = random_ring(seed)
        width, low, high = shape_of(ring.section)
        assert 20.0 <= width <= 90.0
        assert 0.5 <= ring.thickness_mm <= 1.2
        assert 40.0 <= ring.section.start[1] <= 200.0
        assert 0.7 * 40.0 - 3.0 <= low <= high <= 1.3 * 200.0 + 3.0
        inside = [(s.radius - 0.5 * ring.thickness_mm) / ring.thickness_mm for s in ring.section if s.is_arc]
        assert inside
        assert all(2.5 - 1e-6 <= ratio <= 5.0 + 1e-6 for ratio in inside)
        assert ring.material in ALLOYS


def test_sound_by_the_checks_of_the_program() -> None:
    for seed in SEEDS:
        stops = [f.sentence for f in geometry_findings(random_liner(seed)) if f.level == "stop"]
        assert stops == [], seed


def test_every_kind_and_alloy_comes_up() -> None:
    rings = [random_ring(seed) for seed in SEEDS]
    assert set(Counter(ring.material for ring in rings)) == set(ALLOYS)
    assert set(Counter(len(ring.section) for ring in rings)) >= {5, 9}
    assert {ring.side for ring in rings} == {"outer", "inner"}


def test_every_alloy_has_a_first_loading_curve() -> None:
    for name in ALLOYS:
        assert alloy(name).flow_curve_first().use == "first"


def test_same_seed_same_ring() -> None:
    assert random_ring(7) == random_ring(7)
    assert random_ring(7) != random_ring(8)


def test_draws_are_counted() -> None:
    counts = [draws(seed) for seed in range(30)]
    assert min(counts) == 1
    assert max(counts) > 1


def test_written_and_read_back_it_is_the_same_liner() -> None:
    for seed in range(20):
        liner = random_liner(seed)
        assert liner_from_text(write_liner(liner), f"seed {seed}") == liner
