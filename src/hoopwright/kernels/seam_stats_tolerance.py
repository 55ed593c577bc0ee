"""Small-sample tolerance factors and zero-failure counts by the noncentral t distribution. unitless

One-sided factor k: mean - k s lies below a share p of the population with confidence C;
k = t'(C; n-1, z_p sqrt n)/sqrt n.
Against a reference of its own sample, common scatter: k = t'(C; df, z_p/h) h, h = sqrt(1/nw + 1/np), df = nw + np - 2.
Source: method as in MIL-HDBK-5J section 9 (from memory); tests/published/weld_statistics.
"""

from __future__ import annotations

import math

from scipy.stats import nct, norm

from hoopwright.errors import InputError, require_range

CONFIDENCE = 0.95


def counted(name: str, value: int, least: int) -> int:
    """A whole number of pieces [1], not below `least`."""
    if isinstance(value, bool) or not isinstance(value, int) or value < least:
        raise InputError(name, value, "", f"a whole number, {least} or more", "test more pieces")
    return value


def one_sided_factor(count: int, share: float, confidence: float = CONFIDENCE) -> float:
    """k for `count` pieces so that a share lies beyond mean -/+ k s.

    >>> round(one_sided_factor(10, 0.99), 3)
    3.981
    """
    n = counted("pieces", count, 2)
    z = float(norm.ppf(require_range("share", share, 0.5, 0.999999)))
    level = require_range("confidence", confidence, 0.5, 0.999999)
    return float(nct.ppf(level, n - 1, z * math.sqrt(n))) / math.sqrt(n)


def two_sample_factor(welds: int, parents: int, share: float, confidence: float = CONFIDENCE) -> float:
    """k so that a share of welds lies above d - k s of the parent mean, d the difference of the means.

    >>> round(two_sample_factor(6, 3, 0.90), 3)
    3.134
    """
    h = math.sqrt(1.0 / counted("weld coupons", welds, 1) + 1.0 / counted("parent coupons", parents, 1))
    freedom = counted("coupons together", welds + parents, 3) - 2
    return float(nct.ppf(confidence, freedom, float(norm.ppf(share)) / h)) * h


def pieces_without_failure(share: float, confidence: float = CONFIDENCE) -> int:
    """Pieces that must all pass to show a share of good ones.

    >>> pieces_without_failure(0.95), pieces_without_failure(0.99, 0.90)
    (59, 230)
    """
    require_range("share", share, 0.5, 0.999999)
    return math.ceil(math.log(1.0 - confidence) / math.log(share) - 1e-12)


def share_shown(passed: int, confidence: float = CONFIDENCE) -> float:
    """Share of good pieces that `passed` pieces without a failure prove.

    >>> round(share_shown(6), 2)
    0.61
    """
    return float((1.0 - confidence) ** (1.0 / counted("pieces", passed, 1)))
