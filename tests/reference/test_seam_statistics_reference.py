"""Tables of our own method paper: coupons, factors, equivalence, lives, retest rules. Not published values."""

from __future__ import annotations

import pytest

from hoopwright.kernels.seam_stats_life import claim_power, difference_power
from hoopwright.kernels.seam_stats_ratio import coupons_needed, each_power, equivalence_power, mean_power
from hoopwright.kernels.seam_stats_retest import RULES, LotKind, share_released
from hoopwright.kernels.seam_stats_tolerance import one_sided_factor, share_shown, two_sample_factor

TRUE = (0.97, 0.98, 0.99, 1.00)
MEAN = {
    0.01: [(5, 4, 10), (3, 2, 3), (3, 2, 2), (2, 2, 2)],
    0.015: [(10, 22, None), (5, 5, 10), (4, 2, 4), (3, 2, 3)],
    0.02: [(17, None, None), (8, 12, None), (5, 5, 10), (4, 3, 5)],
    0.03: [(37, None, None), (17, None, None), (10, 24, None), (7, 8, None)],
}
EQUIVALENCE = {
    0.01: [(2, 3), (2, 3), (3, 3), (4, 5)],
    0.015: [(3, 3), (3, 4), (4, 5), (8, 10)],
    0.02: [(4, 5), (4, 5), (6, 8), (13, 17)],
    0.03: [(7, 9), (8, 10), (13, 17), (27, 37)],
    0.04: [(12, 14), (13, 18), (22, 30), (47, 64)],
}
RETEST = [
    (LotKind(1.00, 0.02), (0.925, 0.981, 0.983, 0.973, 0.992, 0.944)),
    (LotKind(0.98, 0.01), (0.919, 0.927, 0.931, 0.968, 0.982, 0.989)),
    (LotKind(0.98, 0.02), (0.604, 0.746, 0.773, 0.705, 0.831, 0.628)),
    (LotKind(0.96, 0.02), (0.147, 0.211, 0.245, 0.183, 0.290, 0.164)),
    (LotKind(0.95, 0.02), (0.040, 0.061, 0.078, 0.049, 0.094, 0.048)),
    (LotKind(0.985, 0.01, 0.1), (0.524, 0.769, 0.808, 0.656, 0.890, 0.582)),
    (LotKind(0.985, 0.01, 0.2), (0.260, 0.475, 0.507, 0.310, 0.591, 0.319)),
]


@pytest.mark.parametrize("cv", MEAN)
def test_coupons_for_the_mean(cv: float) -> None:
    found = [
        tuple(
            coupons_needed(power, 0.90)
            for power in (
                lambda n, r=r: mean_power(n, n, cv, r),
                lambda n, r=r: mean_power(n, 6, cv, r),
                lambda n, r=r: mean_power(n, 3, cv, r),
            )
        )
        for r in TRUE
    ]
    assert found == MEAN[cv]


@pytest.mark.parametrize("cv", EQUIVALENCE)
def test_coupons_for_equivalence(cv: float) -> None:
    found = [
        tuple(coupons_needed(lambda n, r=r: equivalence_power(n, n, cv, r), wanted) for wanted in (0.80, 0.90))
        for r in reversed(TRUE)
    ]
    assert found == EQUIVALENCE[cv]


def test_house_number_of_coupons() -> None:
    found = [mean_power(6, 3, cv, 0.98) for cv in (0.01, 0.015, 0.02, 0.03)]
    assert found == pytest.approx([0.989, 0.838, 0.631, 0.374], abs=5e-4)
    assert share_shown(6) == pytest.approx(0.61, abs=0.005)


def test_factors_against_a_parent() -> None:
    found = [two_sample_factor(w, p, s) for p in (3, 6) for w in (6, 10, 20) for s in (0.90, 0.99)]
    printed = [3.134, 4.777, 2.775, 4.196, 2.505, 3.748, 2.688, 4.170, 2.449, 3.817, 2.229, 3.473]
    assert found == pytest.approx(printed, abs=5e-4)


def test_factors_without_a_parent() -> None:
    rows = {3: (6.155, 7.656, 10.553), 4: (4.162, 5.144, 7.042), 6: (3.006, 3.708, 5.062), 15: (2.068, 2.566, 3.520)}
    for n, printed in rows.items():
        assert [one_sided_factor(n, s) for s in (0.90, 0.95, 0.99)] == pytest.approx(printed, abs=5e-4)


def test_coupons_for_each_weld() -> None:
    def needed(cv: float, true: float, share: float) -> int | None:
        return coupons_needed(lambda n: each_power(n, 6, cv, true, share), 0.90, 120)

    assert [needed(0.01, r, 0.90) for r in TRUE[1:]] == [14, 4, 2]
    assert [needed(0.01, r, 0.99) for r in TRUE[1:]] == [None, 28, 9]
    assert [needed(0.015, r, 0.90) for r in TRUE[1:]] == [None, 36, 9]


def test_life_tests_needed() -> None:
    def first(power: object) -> int:
        return next(n for n in range(3, 120) if power(n) >= 0.90)  # type: ignore[operator]

    claims = {0.10: (4, 6, 12), 0.15: (6, 11, 25), 0.20: (9, 18, 44), 0.30: (18, 38, 97)}
    for s, printed in claims.items():
        assert tuple(first(lambda n, s=s, r=r: claim_power(n, s, r)) for r in (1.0, 0.8, 0.67)) == printed
    seen = {0.10: (10, 5, 4), 0.15: (20, 9, 5), 0.20: (35, 13, 7)}
    for s, printed in seen.items():
        assert tuple(first(lambda n, s=s, f=f: difference_power(n, s, f)) for f in (1.5, 2.0, 3.0)) == printed


@pytest.mark.parametrize(("kind", "printed"), RETEST)
def test_retest_rules(kind: LotKind, printed: tuple[float, ...]) -> None:
    """The paper drew 200 000 lots, this test 20 000: standard error 0.0035 at most, three of them allowed."""
    assert [share_released(kind, rule) for rule in RULES] == pytest.approx(printed, abs=0.0105)
