"""What rules of retest do: the share of lots each releases, by drawing lots. unitless

A lot: six weld and three parent coupons, normal logarithms of one cv. Limits: each ratio, and their mean. The rules are
common practice, no source; the shares are reckoned here and stand beside the rule on the record.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from scipy.stats import t

from hoopwright.errors import InputError, require_positive, require_range
from hoopwright.kernels.seam_stats_tolerance import CONFIDENCE

Array = NDArray[np.float64]
Rule = Literal["none", "two more", "two more, failed dropped", "twelve more", "three tries", "bound"]
RULES: tuple[Rule, ...] = ("none", "two more", "two more, failed dropped", "twelve more", "three tries", "bound")


@dataclass(frozen=True, slots=True)
class LotKind:
    """True lots. ratio and cv of good welds; share of bad ones and their ratio."""

    ratio: float
    cv: float
    bad_share: float = 0.0
    bad_ratio: float = 0.92


def share_released(
    kind: LotKind, rule: Rule, lots: int = 20_000, seed: int = 1, each: float = 0.95, mean: float = 0.97,
    welds: int = 6, parents: int = 3,
) -> float:  # fmt: skip
    """Share of lots of this kind that a rule releases."""
    require_positive("scatter", kind.cv)
    require_range("share of bad welds", kind.bad_share, 0.0, 1.0)
    if rule not in RULES:
        raise InputError("retest rule", rule, "", "one of " + ", ".join(RULES), "name one of them")
    rng = np.random.default_rng(seed)
    parent_logs = kind.cv * rng.normal(size=(lots, parents))
    parent = np.exp(parent_logs).mean(axis=1, keepdims=True)

    def drawn(count: int) -> Array:
        bad = rng.random((lots, count)) < kind.bad_share
        centre = np.where(bad, math.log(kind.bad_ratio), math.log(kind.ratio))
        made: Array = np.exp(centre + kind.cv * rng.normal(size=(lots, count))) / parent
        return made

    first = drawn(welds)
    if rule == "bound":
        return float(_bound(np.log(first * parent), parent_logs, each).mean())
    good = first >= each
    passed: NDArray[np.bool_] = good.all(axis=1) & (first.mean(axis=1) >= mean)
    failed = (~good).sum(axis=1)
    if rule == "two more":
        more = drawn(2)
        every = np.hstack([first, more])
        passed |= (failed == 1) & (more >= each).all(axis=1) & (every.mean(axis=1) >= mean)
    elif rule == "two more, failed dropped":
        more = drawn(2)
        kept = (np.where(good, first, 0.0).sum(axis=1) + more.sum(axis=1)) / (welds - 1 + 2)
        passed |= (failed == 1) & (more >= each).all(axis=1) & (kept >= mean)
    elif rule == "twelve more":
        more = drawn(12)
        every = np.hstack([first, more])
        passed |= (more >= each).all(axis=1) & (every.mean(axis=1) >= mean)
    elif rule == "three tries":
        for _ in range(2):
            again = drawn(welds)
            passed |= (again >= each).all(axis=1) & (again.mean(axis=1) >= mean)
    return float(passed.mean())


def _bound(welds: Array, parents: Array, limit: float) -> NDArray[np.bool_]:
    """Whether the lower bound of the mean ratio passes the limit, lot by lot."""
    freedom = welds.shape[1] + parents.shape[1] - 2
    squares = welds.var(axis=1) * welds.shape[1] + parents.var(axis=1) * parents.shape[1]
    s = np.sqrt(squares / freedom) * math.sqrt(1.0 / welds.shape[1] + 1.0 / parents.shape[1])
    d = welds.mean(axis=1) - parents.mean(axis=1)
    found: NDArray[np.bool_] = d - float(t.ppf(CONFIDENCE, freedom)) * s >= math.log(limit)
    return found
