"""The calibration's closed form against an explicit regression on every hidden quantity, and against sampling."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from hoopwright.errors import InputError
from hoopwright.kernels.wayback.levels import Place, Reading, Scatter, posterior, shares_of_error

SB = (0.79, 0.80, 0.78)


def free(station: int, cast: str, ring: str, hit: int, **more: float) -> Place:
    return Place(SB[station], cast, ring, "S", str(station), station - 1.0, hit, **more)  # type: ignore[arg-type]


def loaded(station: int, cast: str, ring: str, hit: int) -> Place:
    return Place(0.0, cast, ring, "S", str(station), station - 1.0, hit)


def readings(seed: int, rings: int = 3) -> list[Reading]:
    rng = np.random.default_rng(seed)
    found = []
    for k in range(rings):
        cast = "A" if k < 2 else "B"
        for s in range(3):
            found.append(Reading(free(s, cast, f"r{k}", k + 1), 0.05 * rng.standard_normal()))
            found.append(Reading(loaded(s, cast, f"r{k}", k + 1), 0.05 * rng.standard_normal()))
    return found


def by_hidden_quantities(found: list[Reading], asked: list[Place], sd: Scatter) -> tuple[np.ndarray, np.ndarray]:
    """Ridge regression on every hidden quantity, drift as a walk of single steps."""
    names: dict[tuple[str, ...], float] = {}

    def row(p: Place) -> dict[tuple[str, ...], float]:
        parts = {
            ("shop",): -p.springback * sd.shop, ("cast", p.cast): -p.springback * sd.cast,
            ("ring", p.cast, p.ring): -p.springback * sd.ring, ("off", p.machine): sd.offset,
            ("prof", p.tool, p.station): sd.profile, ("seat", p.machine, str(p.hit)): sd.seat,
            ("tilt", p.machine, str(p.hit)): sd.tilt * p.axis,
        }  # fmt: skip
        for step in range(1, p.hit + 1):
            parts[("walk", p.machine, str(step))] = sd.drift
        return parts

    rows, wanted = [row(r.place) for r in found], [row(p) for p in asked]
    for parts in rows + wanted:
        for name in parts:
            names.setdefault(name, float(len(names)))
    a = np.zeros((len(rows), len(names)))
    b = np.zeros((len(wanted), len(names)))
    for table, source in ((a, rows), (b, wanted)):
        for n, parts in enumerate(source):
            for name, value in parts.items():
                table[n, int(names[name])] = value
    noise = np.array([(sd.loaded if r.place.loaded else sd.gauge) ** 2 for r in found])
    precision = np.eye(len(names)) + a.T @ (a / noise[:, None])
    hidden = np.linalg.solve(precision, a.T @ (np.array([r.residual for r in found]) / noise))
    return b @ hidden, b @ np.linalg.solve(precision, b.T)


@pytest.mark.parametrize("seed", range(3))
def test_closed_form_is_the_regression(seed: int) -> None:
    found = readings(seed)
    asked = [free(0, "A", "new", 4), free(2, "C", "new", 5), loaded(1, "A", "new", 4)]
    ours = posterior(found, asked, grid=(1.0,))
    mean, cov = by_hidden_quantities(found, asked, Scatter())
    assert ours.mean == pytest.approx(mean, abs=1e-9)
    assert ours.cov == pytest.approx(cov, abs=1e-10)


def test_band_and_share_belong_together() -> None:
    ours = posterior(readings(1), [free(2, "A", "new", 4)])
    low, high = ours.band(0, 0.9)
    assert ours.inside(0, low, high) == pytest.approx(0.9, abs=1e-6)
    assert low < float(ours.mean[0]) < high


def test_more_readings_never_widen_a_known_scatter() -> None:
    asked = [free(2, "A", "new", 9)]
    widths = [float(posterior(readings(0, n), asked, grid=(1.0,)).sd[0]) for n in range(5)]
    assert all(b <= a + 1e-12 for a, b in itertools.pairwise(widths))


def test_widened_reading_counts_less() -> None:
    asked = [free(2, "A", "new", 4)]
    base = [Reading(free(2, "A", "r", 1), 0.2)]
    wide = [Reading(free(2, "A", "r", 1, widen=5.0), 0.2)]
    assert abs(posterior(wide, asked).mean[0]) < abs(posterior(base, asked).mean[0])


def test_shares() -> None:
    free_only = shares_of_error(0.788)
    # method paper: 0.35, 0.24, 0.39 (printed to two digits)
    assert free_only.shop == pytest.approx(0.35, abs=0.006)
    assert free_only.cast == pytest.approx(0.24, abs=0.006)
    assert free_only.offset == pytest.approx(0.39, abs=0.006)
    known = shares_of_error(0.788, rings=3, offset_known=True)
    # 0.59 and 0.41 there leave the ring's own scatter (0.012) out
    assert known.shop / (known.shop + known.cast) == pytest.approx(0.59, abs=0.005)


def test_nothing_asked_is_refused() -> None:
    with pytest.raises(InputError):
        posterior([], [])
