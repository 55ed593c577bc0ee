"""Choice of serials and of seam places against full enumeration."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from hoopwright.errors import InputError
from hoopwright.kernels.wayback.clocking import apart, bending_load, clock, every_clocking, gap_range
from hoopwright.kernels.wayback.serials import best_path, disjoint_paths


def tables(seed: int, parts: int, serials: int) -> list[np.ndarray]:
    rng = np.random.default_rng(seed)
    return [rng.uniform(-1, 1, (serials, serials)).round(3) for _ in range(parts - 1)]


@pytest.mark.parametrize("seed", range(10))
def test_one_liner_is_the_enumerated_best(seed: int) -> None:
    t = tables(seed, 5, 4)
    rows = [
        (min(v), sum(v))
        for p in itertools.product(range(4), repeat=5)
        for v in [[t[k][p[k], p[k + 1]] for k in range(4)]]
    ]
    floor = max(r[0] for r in rows)
    ours = best_path(t)
    assert ours.smallest == pytest.approx(floor)
    assert ours.total == pytest.approx(max(r[1] for r in rows if r[0] >= floor - 1e-12))


@pytest.mark.parametrize("seed", range(10))
def test_several_liners_are_the_enumerated_best(seed: int) -> None:
    t = tables(seed, 4, 4)
    liners = 3
    best = (-9.0, -9.0)
    chosen = list(itertools.permutations(range(4), liners))
    for second, third, fourth in itertools.product(chosen, chosen, chosen):
        for first in itertools.combinations(range(4), liners):
            paths = zip(first, second, third, fourth, strict=True)
            v = [t[k][p[k], p[k + 1]] for p in paths for k in range(3)]
            best = max(best, (min(v), sum(v)))
    ours = disjoint_paths(t, liners)
    assert min(p.smallest for p in ours) == pytest.approx(best[0])
    assert sum(p.total for p in ours) == pytest.approx(best[1])
    assert all(len({p.serials[k] for p in ours}) == liners for k in range(4))


def test_more_liners_than_serials_are_refused() -> None:
    with pytest.raises(InputError):
        disjoint_paths(tables(0, 3, 2), 3)


@pytest.mark.parametrize("seed", range(8))
def test_clocking_is_the_enumerated_best(seed: int) -> None:
    rng = np.random.default_rng(seed)
    places = [20.0 + 40.0 * k for k in range(9)]
    tables_ = [rng.uniform(-1, 1, 9) for _ in range(3)]

    def margin(k: int):  # type: ignore[no-untyped-def]
        return lambda a, b: float(tables_[k][round(((a - b) % 360) / 40.0) % 9])

    margins = [margin(k) for k in range(3)]
    ours = clock([places] * 4, margins)
    good = every_clocking([places] * 4, 60.0, 30.0)
    worst = [min(margins[k](s[k], s[k + 1]) for k in range(3)) for s in good]
    assert ours[0].smallest == pytest.approx(max(worst))
    assert [c.smallest for c in ours] == pytest.approx(sorted(worst, reverse=True)[:10])
    assert all(apart(a, b) >= 60 for a, b in itertools.pairwise(ours[0].seams))


def test_no_place_left_is_said() -> None:
    with pytest.raises(InputError, match="allow more places"):
        clock([[20.0], [40.0]], [lambda a, b: 1.0])


def test_what_clamps_can_close() -> None:
    # E 205 GPa, I 100, R 124, amplitude 0.1: method paper prints 0.08, 0.55, 2.0, 34 N/mm to two digits
    loads = [bending_load(n, 0.1, 124.0, 100.0, 205_000.0) for n in (2, 3, 4, 8)]
    assert loads == pytest.approx([0.078, 0.555, 1.95, 34.4], rel=0.01)


def test_matching_lobes_leave_an_even_gap() -> None:
    def lobes(th: np.ndarray) -> np.ndarray:
        return 0.05 * np.cos(8 * th)

    low, high = gap_range(0.05, lobes, lobes, 0.0)
    assert (low, high) == (pytest.approx(0.05), pytest.approx(0.05))
    low, high = gap_range(0.05, lobes, lobes, 22.5)
    # steps of 1 deg miss the crest by half a step at most: 0.1 (1 - cos 4 deg)
    assert (low, high) == (pytest.approx(-0.05, abs=2.5e-4), pytest.approx(0.15, abs=2.5e-4))
