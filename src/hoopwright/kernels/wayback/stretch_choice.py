"""Which rings to stretch by how much, so that every lap of a stack fits: leximin by linear programmes, fewest first. mm

x_j >= 0 is the change of diameter of ring j, the same at every station of it (the segments move all stations by one
radius). A row is anything with two limits: a gap g0 + (x_outer - x_inner)/2, a part size d0 + x_j. Its margin is the
distance to the nearer limit over half the width: 1 in the middle, 0 on a limit, below 0 outside.

    leximin   maximise the smallest margin; freeze the rows that hold it (non-zero dual); go on with the rest;
              last, least total stretch at those margins
    fewest    least number of rings with which every row is inside (binary programme), then leximin over all subsets of
              that size

A row that no movable ring touches is only reported: a size exactly on its limit must not block the rest.

References
----------
Derived here; optimality against enumeration of all subsets and of a fine grid in
tests/exact/test_stretch_choice_exact.py.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from scipy import optimize, special

from hoopwright.errors import InputError, require_finite, require_range
from hoopwright.kernels.arrays import Vector

SLACK = 1e-7
"""The solver's own tolerance: frozen rows are slackened by it, not by less."""


@dataclass(frozen=True, slots=True)
class Row:
    """value + sum(coefficient * x[ring]) shall lie between low and high. rings : (number of ring, coefficient)."""

    name: str
    value: float
    low: float
    high: float
    rings: tuple[tuple[int, float], ...]

    def __post_init__(self) -> None:
        require_finite(f"{self.name} value", self.value, "mm")
        if not require_finite(f"{self.name} low", self.low, "mm") < require_finite(
            f"{self.name} high", self.high, "mm"
        ):
            raise InputError(f"{self.name} low limit", self.low, "mm", f"below {self.high:g}", "exchange the limits")

    def at(self, x: Vector) -> float:
        """Value after stretching. [mm]"""
        return self.value + sum(c * float(x[j]) for j, c in self.rings)

    def margin(self, x: Vector) -> float:
        """Distance to the nearer limit over half the width [1]."""
        v = self.at(x)
        return min(v - self.low, self.high - v) / (0.5 * (self.high - self.low))


@dataclass(frozen=True, slots=True)
class Choice:
    """stretch : change of diameter of each ring [mm]. margins and values : of each row. smallest : over touched
    rows."""

    stretch: tuple[float, ...]
    rings: tuple[int, ...]
    margins: tuple[float, ...]
    values: tuple[float, ...]
    smallest: float

    @property
    def feasible(self) -> bool:
        """Whether every touched row is inside its limits."""
        return self.smallest >= -1e-6


def _touched(rows: Sequence[Row], moving: Sequence[int]) -> list[int]:
    return [n for n, row in enumerate(rows) if any(j in moving and c != 0.0 for j, c in row.rings)]


def _system(rows: Sequence[Row], use: Sequence[int], moving: Sequence[int]) -> tuple[Any, Vector, Vector]:
    """Rows 2n: low side, 2n+1: high side, as  a x + h m <= b  with the margin m."""
    a = np.zeros((2 * len(use), len(moving)))
    b, h = np.zeros(2 * len(use)), np.zeros(2 * len(use))
    place = {j: k for k, j in enumerate(moving)}
    for n, number in enumerate(use):
        row = rows[number]
        for j, c in row.rings:
            if j in place:
                a[2 * n, place[j]] -= c
                a[2 * n + 1, place[j]] += c
        b[2 * n], b[2 * n + 1] = row.value - row.low, row.high - row.value
        h[2 * n] = h[2 * n + 1] = 0.5 * (row.high - row.low)
    return a, b, h


def leximin(rows: Sequence[Row], count: int, limits: Sequence[float], moving: Sequence[int] | None = None) -> Choice:
    """Best margins, the smallest first, by stretching the `moving` rings (all by default) up to `limits` [mm]."""
    move = tuple(range(count)) if moving is None else tuple(moving)
    use = _touched(rows, move)
    x = np.zeros(count)
    if use and move:
        x[list(move)] = _leximin(rows, use, move, [limits[j] for j in move])
    return _choice(rows, x, use)


def _choice(rows: Sequence[Row], x: Vector, use: Sequence[int]) -> Choice:
    margins = tuple(row.margin(x) for row in rows)
    smallest = min((margins[n] for n in use), default=min(margins, default=1.0))
    stretched = tuple(j for j in range(x.size) if x[j] > 1e-9)
    return Choice(tuple(float(v) for v in x), stretched, margins, tuple(row.at(x) for row in rows), smallest)


def _leximin(rows: Sequence[Row], use: list[int], move: Sequence[int], limits: Sequence[float]) -> Vector:
    a, b, h = _system(rows, use, move)
    level: dict[int, float] = {}
    bounds: list[tuple[float | None, float | None]] = [(0.0, float(v)) for v in limits]
    for _ in range(len(use)):
        free = np.array([n not in level for n in range(len(use))])
        double = np.repeat(free, 2)
        fixed = np.repeat(np.array([level.get(n, 0.0) - SLACK for n in range(len(use))]), 2)
        column = np.where(double, h, 0.0)
        right = np.where(double, b, b - h * fixed)
        found = optimize.linprog(
            np.concatenate((np.zeros(len(move)), [-1.0])), A_ub=np.column_stack((a, column)), b_ub=right,
            bounds=[*bounds, (None, 1.0)], method="highs-ds",
        )  # fmt: skip
        if found.status != 0:
            break
        best = float(found.x[-1])
        duals = np.abs(np.asarray(found.ineqlin.marginals)).reshape(-1, 2).max(axis=1)
        bound = [n for n in range(len(use)) if free[n] and duals[n] > 1e-9]
        for n in bound or [n for n in range(len(use)) if free[n]]:
            level[n] = best
        if len(level) == len(use):
            break
    fixed = np.repeat(np.array([level.get(n, -1e9) - SLACK for n in range(len(use))]), 2)
    last = optimize.linprog(np.ones(len(move)), A_ub=a, b_ub=b - h * fixed + 1e-12, bounds=bounds, method="highs-ds")
    return np.asarray(last.x if last.status == 0 else found.x[: len(move)], dtype=np.float64)


def fewest_rings(rows: Sequence[Row], count: int, limits: Sequence[float]) -> int | None:
    """Least number of rings with which every row that some ring touches is inside; None where no choice does it. [1]"""
    use = _touched(rows, range(count))
    a, b, _ = _system(rows, use, range(count))
    link = np.hstack((np.eye(count), -np.diag(np.asarray(limits, dtype=np.float64))))
    full = np.vstack((np.hstack((a, np.zeros((a.shape[0], count)))), link))
    # an untouched row of a subset stays outside if it starts outside: all rows that any ring touches must hold
    right = np.concatenate((b + SLACK, np.zeros(count)))
    cost = np.concatenate((np.zeros(count), np.ones(count)))
    high = np.concatenate((np.asarray(limits, dtype=np.float64), np.ones(count)))
    found = optimize.milp(
        cost, constraints=optimize.LinearConstraint(full, -np.inf, right), bounds=optimize.Bounds(0.0, high),
        integrality=np.concatenate((np.zeros(count), np.ones(count))),
    )  # fmt: skip
    return None if found.status != 0 else round(float(found.fun))


def choose_stretches(rows: Sequence[Row], count: int, limits: Sequence[float]) -> tuple[Choice, ...]:
    """Best choice with the fewest rings first; then, where it lifts the smallest margin by over 0.1, with one ring
    more.

    Where nothing makes every row fit the best of all choices is the only answer, and it is not `feasible`.
    """
    for j, limit in enumerate(limits):
        require_range(f"largest stretch of ring {j + 1}", limit, 0.0, 1e3, "mm")
    least = fewest_rings(rows, count, limits)
    if least is None:
        return (leximin(rows, count, limits),)
    found = [_best_of_size(rows, count, limits, least)]
    if least < count:
        more = _best_of_size(rows, count, limits, least + 1)
        if more.smallest > found[0].smallest + 0.1:
            found.append(more)
    return tuple(found)


def _best_of_size(rows: Sequence[Row], count: int, limits: Sequence[float], size: int) -> Choice:
    best: tuple[tuple[float, ...], Choice] | None = None
    every = _touched(rows, range(count))
    for moving in itertools.combinations(range(count), size):
        one = leximin(rows, count, limits, moving)
        # rows that other rings could mend count as well, rows that this subset leaves alone included only if they fail
        touched = set(_touched(rows, moving))
        worst = [one.margins[n] for n in every if n in touched or one.margins[n] < -1e-6]
        key = tuple(round(m, 9) for m in sorted(worst))
        if best is None or _before(best[0], key):
            best = (key, one)
    assert best is not None
    return best[1]


def _before(old: tuple[float, ...], new: tuple[float, ...]) -> bool:
    """Whether `new` is the better sorted list of margins (smallest first; a longer list wins a tie)."""
    for a, b in zip(old, new, strict=False):
        if abs(a - b) > 1e-7:
            return b > a
    return len(new) > len(old)


Faces = Sequence[tuple[tuple[int, float], ...]]
"""For each row the measured faces it is made of: (number of the face, coefficient)."""


def chance_inside(
    rows: Sequence[Row],
    choice: Choice,
    faces: Faces,
    face_sd: float,
    landing_sd: float,
    seed: int = 5,
) -> tuple[tuple[float, ...], float]:
    """P of each row truly inside, and of all of them [1], the latter by 40 000 draws.

    A face's reading stands in its gap and in its size, and one ring's landing moves all its rows: errors are shared as
    they are in the shop. face_sd, landing_sd : of one face and of one stretch [mm].
    """
    rng = np.random.default_rng(seed)
    draws = 40_000
    count = 1 + max((n for row in faces for n, _ in row), default=-1)
    read = face_sd * rng.standard_normal((max(count, 1), draws))
    landing = landing_sd * rng.standard_normal((len(choice.stretch), draws))
    inside_all = np.ones(draws, dtype=bool)
    single = []
    for row, own, value in zip(rows, faces, choice.values, strict=True):
        moved = [(c, j) for j, c in row.rings if choice.stretch[j] > 1e-9]
        true = np.full(draws, value)
        for n, c in own:
            true += c * read[n]
        for c, j in moved:
            true += c * landing[j]
        inside_all &= (true > row.low) & (true < row.high)
        sd = float(np.sqrt(face_sd**2 * sum(c * c for _, c in own) + landing_sd**2 * sum(c * c for c, _ in moved)))
        if sd > 0.0:
            single.append(float(special.ndtr((row.high - value) / sd) - special.ndtr((row.low - value) / sd)))
        else:
            single.append(1.0 if row.low <= value <= row.high else 0.0)
    return tuple(single), float(inside_all.mean())
