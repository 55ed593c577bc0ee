"""Calibration in levels: one linear-Gaussian model of springback and machine, solved in closed form. mm, [1].

Unknown u = ln(true / predicted springback) is shared by shop, cast and ring; o is the machine's offset on diameter, v_k
the segment set's profile error, seat and tilt belong to one hit. Residual of a reading (reading less prediction):

    free girth   y = o + v_k + seat + tilt l_k - sb_k (u_shop + u_cast + u_ring) + gauge
    loaded size  y = o + v_k + seat + tilt l_k + gauge'

Covariance of two readings: sum of the squared sd they share. Posterior of anything asked: X S^-1 y, C0 - X S^-1 X'.
Unknown scatter: the same with (ring, seat, tilt, gauge) x g and (shop, cast, off, prof) x G on a 3 x 3 grid, mixed by
marginal likelihood exp(-y'S^-1 y/2)/sqrt|S|.

References
----------
Gaussian conditioning, textbook; checked against brute-force regression in tests/exact/test_levels_exact.py, and on a
simulated shop in tests/correct/test_calibration_on_simulated_shops.py.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, fields, replace

import numpy as np
from numpy.typing import NDArray
from scipy import linalg, optimize, special

from hoopwright.errors import InputError, require_finite, require_range
from hoopwright.kernels.arrays import Vector

GRID = (0.6, 1.0, 1.6)
Matrix = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Scatter:
    """Prior standard deviations: shop, cast, ring on u [1]; the rest on diameter [mm], drift per root of a hit.

    Invented figures that a shop replaces by its own.
    """

    shop: float = 0.06
    cast: float = 0.05
    ring: float = 0.015
    offset: float = 0.05
    drift: float = 0.002
    profile: float = 0.010
    seat: float = 0.010
    tilt: float = 0.008
    gauge: float = 0.015
    loaded: float = 0.010

    def __post_init__(self) -> None:
        for f in fields(self):
            require_range(f"scatter {f.name}", getattr(self, f.name), 0.0, 10.0)

    def scaled(self, inner: float, outer: float) -> Scatter:
        """Scatter within a ring times `inner`, between shops, casts and sets times `outer`."""
        return replace(
            self, ring=self.ring * inner, seat=self.seat * inner, tilt=self.tilt * inner, gauge=self.gauge * inner,
            loaded=self.loaded * inner, shop=self.shop * outer, cast=self.cast * outer, offset=self.offset * outer,
            profile=self.profile * outer,
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Place:
    """What a reading, or a wanted figure, hangs on. springback : predicted on diameter [mm], 0 for a loaded size.

    axis : -1 to 1 along the ring. hit : number of the hit on the machine. machine restarts when a stop is shimmed: give
    the spell between shims a name of its own. widen : factor on this reading's seat, tilt and gauge.
    """

    springback: float
    cast: str
    ring: str
    tool: str
    station: str
    axis: float
    hit: int
    machine: str = "machine"
    widen: float = 1.0
    gauge_sd: float | None = None

    @property
    def loaded(self) -> bool:
        """Whether this is a size under load."""
        return self.springback == 0.0


def covariance(one: Sequence[Place], two: Sequence[Place], sd: Scatter) -> Matrix:
    """Covariance of what two lists of places share, without the gauges' own noise, shape (n, m). [mm^2]"""
    return _combined(_shared(one, two), sd)


def _combined(shared: Matrix, sd: Scatter) -> Matrix:
    """Sum of the shared structures, each times its variance."""
    variances = np.array([sd.shop, sd.cast, sd.ring, sd.offset, sd.drift, sd.profile, sd.seat, sd.tilt]) ** 2
    return np.asarray(np.tensordot(variances, shared, axes=1), dtype=np.float64)


def _shared(one: Sequence[Place], two: Sequence[Place]) -> Matrix:
    """What two lists of places share by shop, cast, ring, offset, drift, profile, seat, tilt; shape (8, n, m)."""
    names: dict[str, int] = {}

    def column(places: Sequence[Place], name: str) -> Matrix:
        return np.array([float(getattr(p, name)) for p in places])

    def alike(name: str) -> NDArray[np.bool_]:
        a, b = ([names.setdefault(getattr(p, name), len(names)) for p in places] for places in (one, two))
        return np.asarray(np.equal.outer(a, b))

    both = np.outer(column(one, "springback"), column(two, "springback"))
    hits_one, hits_two = column(one, "hit"), column(two, "hit")
    cast, machine = alike("cast"), alike("machine")
    widen = np.outer(column(one, "widen"), column(two, "widen")) * (machine & np.equal.outer(hits_one, hits_two))
    return np.stack([
        both, both * cast, both * (cast & alike("ring")), machine.astype(np.float64),
        machine * np.minimum.outer(hits_one, hits_two), (alike("tool") & alike("station")).astype(np.float64), widen,
        widen * np.outer(column(one, "axis"), column(two, "axis")),
    ])  # fmt: skip


def noise(places: Sequence[Place], sd: Scatter) -> Vector:
    """Variance of each reading's own gauge, shape (n,). [mm^2]"""
    own = [p.gauge_sd if p.gauge_sd is not None else (sd.loaded if p.loaded else sd.gauge) for p in places]
    return np.array([(g * p.widen) ** 2 for g, p in zip(own, places, strict=True)])


@dataclass(frozen=True, slots=True, eq=False)
class Component:
    """One member of the mixture. Arrays of the asked places [mm], [mm^2]; factors: solved Cholesky of the readings."""

    weight: float
    mean: Vector
    cov: Matrix


@dataclass(frozen=True, slots=True, eq=False)
class Posterior:
    """What is known of the asked places after the readings: a mixture of normals."""

    components: tuple[Component, ...]

    @property
    def mean(self) -> Vector:
        """Mean, shape (n,). [mm]"""
        return np.asarray(sum(c.weight * c.mean for c in self.components), dtype=np.float64)

    @property
    def cov(self) -> Matrix:
        """Covariance of the mixture, shape (n, n). [mm^2]"""
        m = self.mean
        total = sum(c.weight * (c.cov + np.outer(c.mean - m, c.mean - m)) for c in self.components)
        return np.asarray(total, dtype=np.float64)

    @property
    def sd(self) -> Vector:
        """Standard deviation, shape (n,). [mm]"""
        return np.sqrt(np.maximum(np.diag(self.cov), 0.0))

    def below(self, number: int, value: float) -> float:
        """P(asked place below a value) [1]."""
        return float(
            sum(
                c.weight * special.ndtr((value - c.mean[number]) / math.sqrt(max(c.cov[number, number], 1e-30)))
                for c in self.components
            )
        )

    def band(self, number: int, share: float = 0.90) -> tuple[float, float]:
        """Central band of one asked place. [mm]"""
        require_range("share", share, 0.01, 0.999)
        m, s = float(self.mean[number]), max(float(self.sd[number]), 1e-12)
        ends = []
        for p in (0.5 - 0.5 * share, 0.5 + 0.5 * share):
            ends.append(
                float(optimize.brentq(lambda v, p=p: self.below(number, v) - p, m - 40 * s, m + 40 * s, xtol=1e-10))
            )
        return ends[0], ends[1]

    def inside(self, number: int, low: float, high: float) -> float:
        """P(low < place < high) [1]."""
        return self.below(number, high) - self.below(number, low)


@dataclass(frozen=True, slots=True)
class Reading:
    """A residual (reading less prediction) [mm] and the place it was taken at."""

    place: Place
    residual: float


def posterior(
    readings: Sequence[Reading], asked: Sequence[Place], sd: Scatter | None = None, grid: tuple[float, ...] = GRID
) -> Posterior:
    """What the readings say of the asked places (true values, without gauge noise). [mm]

    `grid` (1.0,) takes the scatter as given; the default mixes 3 x 3 scales, which makes the bands honest.
    """
    scatter = sd if sd is not None else Scatter()
    if not asked:
        raise InputError("asked places", "none", "", "one at least", "name what shall be predicted")
    y = np.array([require_finite("residual", r.residual, "mm") for r in readings], dtype=np.float64)
    places = [r.place for r in readings]
    inside, across, own = _shared(places, places), _shared(asked, places), _shared(asked, asked)
    parts: list[tuple[float, Vector, Matrix]] = []
    for inner in grid:
        for outer in grid:
            sd_here = scatter.scaled(inner, outer)
            s = _combined(inside, sd_here) + np.diag(noise(places, sd_here))
            parts.append(_conditioned(s, y, _combined(across, sd_here), _combined(own, sd_here)))
    top = max(part[0] for part in parts)
    weights = np.array([math.exp(part[0] - top) for part in parts])
    weights /= weights.sum()
    return Posterior(tuple(Component(float(w), p[1], p[2]) for w, p in zip(weights, parts, strict=True)))


def _conditioned(s: Matrix, y: Vector, cross: Matrix, prior: Matrix) -> tuple[float, Vector, Matrix]:
    """Log marginal likelihood, mean and covariance of the asked places under one scatter."""
    if y.size == 0:
        return 0.0, np.zeros(prior.shape[0]), prior
    lower = linalg.cholesky(s + 1e-12 * np.eye(y.size), lower=True)
    white = linalg.solve_triangular(lower, y, lower=True)
    spread = linalg.solve_triangular(lower, cross.T, lower=True)
    log = -0.5 * float(white @ white) - float(np.log(np.diag(lower)).sum())
    return log, np.asarray(spread.T @ white), np.asarray(prior - spread.T @ spread)


@dataclass(frozen=True, slots=True)
class Shares:
    """Share of a ring's error that each level takes [1]: what metal may take (shop), the cast's card, the stop."""

    shop: float
    cast: float
    ring: float
    offset: float


def shares_of_error(
    springback: float, casts: int = 1, rings: int = 1, sd: Scatter | None = None, offset_known: bool = False
) -> Shares:
    """Shares by prior variances of an error that rings of so many casts agree on; springback on diameter [mm]. [1]"""
    s = sd if sd is not None else Scatter()
    sb2 = require_finite("springback", springback, "mm") ** 2
    shop, cast = sb2 * s.shop**2, sb2 * s.cast**2 / max(casts, 1)
    offset = 0.0 if offset_known else s.offset**2
    ring = sb2 * s.ring**2 / max(rings, 1)
    total = shop + cast + ring + offset
    return Shares(shop / total, cast / total, ring / total, offset / total)
