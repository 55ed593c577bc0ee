"""From readings to statements: girth, decisions, sections, patterns, sheet, inspection plan, budgets."""

from __future__ import annotations

import math

import numpy as np
import pytest

from hoopwright.design.demo import demo_liner
from hoopwright.errors import InputError
from hoopwright.kernels.profile_offset import offset
from hoopwright.kernels.statistics.small_samples import one_sided_factor, two_sided_factor
from hoopwright.kernels.statistics.summary import equivalent, grubbs
from hoopwright.kernels.statistics.uncertainty import Term, budget, sampled
from hoopwright.measure.decision import Rule, decide, finding_of
from hoopwright.measure.girth import Tape, girth_diameter
from hoopwright.measure.inspection import SAFE_SHARE, inspection_plan
from hoopwright.measure.pattern import evaluate_pattern
from hoopwright.measure.roundness import (
    RoundnessSettings,
    diameters_from,
    evaluate_roundness,
    order_finding,
    three_point_diameter,
)
from hoopwright.measure.section import evaluate_section
from hoopwright.measure.sheet_receiving import evaluate_hardness, evaluate_thickness

LINER = demo_liner()


def test_warm_ring_reads_large_by_the_difference_of_expansions() -> None:
    """250 mm nickel ring: 0.0035 mm/K of itself, a steel tape takes most back; 13.9e-6 less 11.5e-6 is 0.0006 mm/K."""
    found = girth_diameter([250.0, 250.0], 30.0, 13.9e-6)
    assert found.temperature_mm == pytest.approx(-250.0 * 2.4e-6 * 10.0, rel=1e-12)
    assert found.diameter_mm == pytest.approx(250.0 - 0.006, abs=1e-9)
    assert girth_diameter([250.0, 250.0], 20.0, 13.9e-6).diameter_mm == 250.0


def test_tape_pulled_harder_reads_small() -> None:
    hard = girth_diameter([250.0, 250.0], 20.0, 13.9e-6, tension_N=50.0)
    assert hard.tension_mm == pytest.approx(250.0 * 30.0 / (205_000.0 * 6.0 * 0.2), rel=1e-12)
    # a ring of 43 mm^2 gives way by its own hoop as well
    both = girth_diameter([250.0, 250.0], 20.0, 13.9e-6, tension_N=50.0, hoop_area_mm2=43.0)
    assert both.tension_mm - hard.tension_mm == pytest.approx(250.0 * 50.0 / (205_000.0 * 43.0), rel=1e-12)


def test_budget_of_a_girth() -> None:
    twice = girth_diameter([247.48, 247.49], 22.0, 13.9e-6)
    once = girth_diameter([247.48], 22.0, 13.9e-6)
    assert 0.02 < twice.expanded_mm < 0.15
    assert once.notes and not twice.notes
    assert twice.budget.shares()[0][0] == "tape accuracy"
    apart = girth_diameter([247.48, 247.481, 247.479, 247.48, 247.482, 247.6], 22.0, 13.9e-6)
    assert "reading 6" in apart.notes[0]


@pytest.mark.parametrize(
    "wrong",
    [
        {"readings_mm": []}, {"readings_mm": [float("nan")]}, {"readings_mm": [-1.0]},
        {"readings_mm": [250.0], "part_degC": 200.0}, {"readings_mm": [250.0], "tension_N": 0.0},
    ],
)  # fmt: skip
def test_girth_refuses(wrong: dict[str, object]) -> None:
    given: dict[str, object] = {"part_degC": 20.0, "expansion_per_K": 13.9e-6} | wrong
    with pytest.raises(InputError):
        girth_diameter(**given)  # type: ignore[arg-type]
    with pytest.raises(InputError):
        Tape(width_mm=0.0)


GAUGE = budget([Term("gauge", 0.015, dof=50.0)])


def test_decision_between_guard_bands() -> None:
    u = GAUGE.expanded(0.95)
    assert u == pytest.approx(2.009 * 0.015, rel=1e-3)
    inside, near, out = (decide(v, 247.5, 247.7, GAUGE) for v in (247.6, 247.69, 247.75))
    assert (inside.verdict, near.verdict, out.verdict) == ("accepted", "undecided", "refused")
    assert near.chance_inside == pytest.approx(0.7475, abs=1e-3)
    assert decide(247.69, 247.5, 247.7, GAUGE, Rule(guard=0.0)).verdict == "accepted"
    assert finding_of(inside, "lip", "402") is None
    found = finding_of(near, "lip", "402-03")
    assert found is not None and found.level == "caution" and "guard band" in found.why
    gone = finding_of(out, "lip", "402-03")
    assert gone is not None and gone.level == "stop"
    assert decide(0.3, -math.inf, 0.8, GAUGE).verdict == "accepted"
    with pytest.raises(InputError):
        decide(1.0, 2.0, 1.0, GAUGE)


def test_accepted_parts_are_good_with_the_chance_that_is_stated() -> None:
    """Readings of parts exactly at the acceptance limit: at most 2.5 % are truly outside."""
    rng = np.random.default_rng(4)
    edge = 247.7 - GAUGE.expanded(0.95)
    true = edge + 0.015 * rng.standard_t(50, 200_000)
    assert float((true > 247.7).mean()) == pytest.approx(0.025, abs=1.5e-3)


def test_budget_against_sampling() -> None:
    terms = [
        Term("a", 0.02),
        Term("b", 0.03, "uniform"),
        Term("c", 0.01, "triangular", 2.0),
        Term("d", 0.02, "arcsine"),
    ]
    linear = budget(terms)
    drawn = sampled(lambda v: v[0] + v[1] + 2.0 * v[2] + v[3], terms, 200_000)
    assert drawn.sd == pytest.approx(linear.standard, rel=5e-3)
    # the sum of four shapes is nearly normal: 1.96 sd, a little less as three of them have ends
    assert 0.5 * (drawn.high - drawn.low) == pytest.approx(linear.expanded(0.95), rel=0.03)


def test_terms_of_one_group_add_before_they_are_squared() -> None:
    same = budget([Term("one", 0.01, group="tape"), Term("two", 0.01, group="tape")])
    apart = budget([Term("one", 0.01), Term("two", 0.01)])
    assert same.standard == pytest.approx(0.02) and apart.standard == pytest.approx(0.01 * math.sqrt(2.0))
    drawn = sampled(lambda v: v[0] + v[1], same.terms, 50_000)
    assert drawn.sd == pytest.approx(0.02, rel=0.02)


@pytest.mark.parametrize("count", [2, 3, 5, 10, 50])
def test_two_sided_factor_covers_as_stated(count: int) -> None:
    """By 40 000 samples: 95 % of them hold 90 % of the population."""
    from scipy.special import ndtr

    rng = np.random.default_rng(count)
    k = two_sided_factor(count, 0.90, 0.95)
    x = rng.standard_normal((40_000, count))
    m, s = x.mean(axis=1), x.std(axis=1, ddof=1)
    held = ndtr(m + k * s) - ndtr(m - k * s) >= 0.90
    assert float(held.mean()) == pytest.approx(0.95, abs=3.0 * math.sqrt(0.95 * 0.05 / 40_000))


@pytest.mark.parametrize("count", [3, 10])
def test_one_sided_factor_covers_as_stated(count: int) -> None:
    from scipy.special import ndtri

    rng = np.random.default_rng(count)
    k = one_sided_factor(count, 0.99, 0.95)
    x = rng.standard_normal((40_000, count))
    held = x.mean(axis=1) - k * x.std(axis=1, ddof=1) <= -float(ndtri(0.99))
    assert float(held.mean()) == pytest.approx(0.95, abs=3.0 * math.sqrt(0.95 * 0.05 / 40_000))


def test_grubbs_and_equivalence() -> None:
    """Critical value of 1.887 for n 6, two-sided 5 % (textbook table, from memory)."""
    assert grubbs([1.0, 1.1, 0.9, 1.0, 1.05, 3.0]).critical == pytest.approx(1.887, abs=1e-3)
    assert grubbs([1.0, 1.1, 0.9, 1.0, 1.05, 3.0]).is_outlier
    assert not grubbs([1.0, 1.0, 1.0]).is_outlier
    one, two = [10.0, 10.01, 9.99, 10.0], [10.0, 10.01, 10.0, 9.99]
    assert equivalent(one, two, 0.05) < 0.01 < equivalent(one, two, 0.001)


def turn(count: int) -> np.ndarray:
    return 360.0 * np.arange(count) / count


def shape(angle: np.ndarray, seed: int = 1) -> np.ndarray:
    th = np.deg2rad(angle)
    noise = 0.01 * np.random.default_rng(seed).standard_normal(angle.size)
    return 0.2 * np.cos(2 * th - 0.5) + 0.03 * np.cos(3 * th) + 0.05 * np.cos(8 * th) + noise


def test_too_few_readings_are_said_with_their_alias() -> None:
    angle = turn(24)
    found = evaluate_roundness(angle, shape(angle), RoundnessSettings(8, 124.0))
    text = next(f for f in found.findings if f.topic == "roundness-too-few")
    assert "order 8 reads like 16" in text.sentence and "36" in text.remedy
    angle = turn(36)
    assert not evaluate_roundness(angle, shape(angle), RoundnessSettings(8, 124.0)).findings


def test_flat_at_the_seam_is_a_feature_not_a_wrong_reading() -> None:
    angle = turn(36)
    dev = shape(angle)
    dev[10] -= 0.4
    seam = evaluate_roundness(angle, dev, RoundnessSettings(8, 124.0, seam_deg=100.0))
    assert seam.left_deg == (pytest.approx(100.0),)
    text = next(f for f in seam.findings if f.topic == "roundness-feature")
    assert "beside the seam" in text.sentence and "90 to 110 deg again in steps of 1 to 2" in text.remedy
    away = evaluate_roundness(angle, dev, RoundnessSettings(8, 124.0, seam_deg=200.0))
    assert [f.topic for f in away.findings] == ["roundness-left-out"]
    dev[11] -= 0.4
    two = evaluate_roundness(angle, dev, RoundnessSettings(8, 124.0))
    assert [f.topic for f in two.findings] == ["roundness-feature"] * 2


def test_off_centre_ring_is_recentred() -> None:
    angle = turn(72)
    th = np.deg2rad(angle)
    r = 3.0 * np.cos(th) + np.sqrt(124.0**2 - 9.0 * np.sin(th) ** 2) - 124.0
    found = evaluate_roundness(angle, r, RoundnessSettings(8, 124.0))
    assert any(f.topic == "roundness-off-centre" for f in found.findings)
    assert found.orders.order(2).amplitude < 1e-3 < 9.0 / (4.0 * 124.0)
    assert found.minimum_zone.zone < 1e-9


def test_section_is_seen_before_sizing() -> None:
    assert order_finding(True) is None
    found = order_finding(False)
    assert found is not None and "sizing hides a bad roll pass" in found.sentence


def test_simple_diameters() -> None:
    assert diameters_from([0.0, 90.0], [247.5, 247.7]) == (pytest.approx(247.6), 247.7, 247.5)
    reach = 100.0 * (1.0 + 1.0 / math.sin(math.radians(30.0)))
    assert three_point_diameter(reach, 60.0) == pytest.approx(200.0)


def test_section_trace_of_the_drawing_has_no_error_and_a_shifted_one_has() -> None:
    ring = LINER.ring("HD-402")
    face = offset(ring.section, 0.5 * ring.thickness_mm).stations(0.4)
    good = evaluate_section(ring.section, ring.thickness_mm, "outside", face.x, face.y, 0.2, ("along",), ring.id)
    assert good.profile_mm < 1e-6 and not good.findings
    assert all(c.traced_mm == pytest.approx(c.nominal_mm, abs=1e-6) for c in good.corners) and len(good.corners) >= 4
    bad = evaluate_section(ring.section, ring.thickness_mm, "outside", face.x, face.y + 0.15, 0.2, ("along",), ring.id)
    # the shift stays 0.15 on the flats
    assert bad.profile_mm == pytest.approx(0.3, abs=0.03) and bad.findings[0].topic == "section-profile"
    free = evaluate_section(ring.section, ring.thickness_mm, "outside", face.x, face.y + 0.15, 0.2, ring=ring.id)
    assert free.profile_mm < 1e-6


PORTS = [(91.0 * math.cos(a), 91.0 * math.sin(a)) for a in 2 * np.pi * np.arange(9) / 9]


@pytest.mark.parametrize(
    ("moved", "kind"),
    [
        (lambda x, y: (1.004 * x, 1.004 * y), "scale"),
        (lambda x, y: (x + 0.3, y), "shift"),
        (lambda x, y: (x - 0.004 * y, y + 0.004 * x), "turn"),
    ],
)
def test_pattern_says_what_kind_of_error_it_is(moved, kind) -> None:  # type: ignore[no-untyped-def]
    found = evaluate_pattern(PORTS, [moved(x, y) for x, y in PORTS], 0.3, datum_free=())
    assert f"mostly {kind}" in found.findings[0].sentence
    assert not evaluate_pattern(PORTS, PORTS, 0.3).findings


def test_pattern_keeps_the_drawing_s_datums() -> None:
    shifted = [(x + 0.3, y) for x, y in PORTS]
    assert not evaluate_pattern(PORTS, shifted, 0.3, datum_free=("shift", "turn")).findings
    grown = evaluate_pattern(PORTS, [(1.004 * x, 1.004 * y) for x, y in PORTS], 0.3)
    assert grown.radius_error_mm == pytest.approx(0.364, abs=1e-3)
    assert "-0.364" in grown.findings[0].remedy


def test_sheet_as_received() -> None:
    good = evaluate_thickness([0.80, 0.802, 0.799, 0.801, 0.80, 0.798, 0.80, 0.801, 0.799], 0.75, 0.85)
    assert not good.findings and good.interval_mm[0] < 0.798 < 0.802 < good.interval_mm[1]
    thin = evaluate_thickness([0.80, 0.74], 0.75, 0.85)
    assert {f.topic for f in thin.findings} == {"size-outside", "thickness-few"}
    near = evaluate_thickness([0.80, 0.753], 0.75, 0.85)
    assert "size-undecided" in {f.topic for f in near.findings}


def test_hardness_off_stops_before_the_next_ring() -> None:
    assert not evaluate_hardness([200.0, 203.0, 198.0], 200.0).findings
    off = evaluate_hardness([230.0, 232.0, 228.0], 200.0, "402-03")
    assert off.findings[0].level == "stop" and "wrong cast" in off.findings[0].why.lower()
    assert off.share_pct == pytest.approx(15.0)


def test_inspection_plan_of_every_ring() -> None:
    for ring in LINER.rings:
        plan = inspection_plan(LINER, ring.id)
        names = [c.name for c in plan.characteristics]
        assert {c.name for c in ring.controls} <= set(names)
        round_rows = [c for c in plan.characteristics if c.name.startswith("roundness")]
        assert {c.state for c in round_rows} == {"free", "restrained"} and all(c.readings == 36 for c in round_rows)
        # the section is looked at before sizing and after it
        profile = [c.when for c in plan.characteristics if c.name.startswith("profile")]
        assert profile[0].startswith("rolled strip") and len(profile) == 2
        for c in plan.characteristics:
            assert c.gauge and c.method and c.held_how and c.readings >= 1 and c.guard > 0.0
            if c.low is not None and c.high is not None and c.accept_low is not None and c.accept_high is not None:
                assert c.low < c.accept_low < c.accept_high < c.high
                assert c.expanded <= SAFE_SHARE * (c.high - c.low)
    assert inspection_plan(LINER, "HD-402", segments=10).characteristics[3].readings == 41
