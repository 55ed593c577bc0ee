"""What coupons prove: strength and proof stress against the same sheet, life, softened width, fracture place."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from hoopwright.errors import InputError, require_finite, require_positive
from hoopwright.findings import Check, Figure, Finding, Input, gravest_first
from hoopwright.kernels.seam_stats_life import LifeComparison, LifeTests
from hoopwright.kernels.seam_stats_ratio import RatioResult, compare
from hoopwright.plan.seam.lot_figures import TESTED
from hoopwright.process.working import reckoned, stated


@dataclass(frozen=True, slots=True)
class ProofStress:
    """0.2 % proof stress and the gauge length that it was read over: a number of that gauge length alone."""

    proof_MPa: float
    gauge_mm: float


def proof_ratio(welds: Sequence[ProofStress], parents: Sequence[ProofStress]) -> tuple[RatioResult, float]:
    """Proof stress of joint over parent, and the gauge length of both [mm].

    Raises
    ------
    InputError
        Fewer than two of either, or gauge lengths that differ: the soft zone is another share of each.
    """
    gauges = sorted({require_positive("gauge length", p.gauge_mm, "mm") for p in (*welds, *parents)})
    if len(gauges) > 1:
        said = " and ".join(f"{gauge:g}" for gauge in gauges)
        remedy = "test joint and parent over one gauge length; proof stresses of different ones are never compared"
        raise InputError("gauge lengths", said, "mm", "one and the same", remedy)
    found = compare([p.proof_MPa for p in welds], [p.proof_MPa for p in parents])
    return found, gauges[0]


@dataclass(frozen=True, slots=True)
class Traverse:
    """Hardness across a weld. width_mm : of the zone below half way from parent to least; drop_pct : of hardness."""

    parent_HV: float
    least_HV: float
    width_mm: float
    drop_pct: float


def hardness_traverse(place_mm: Sequence[float], hardness_HV: Sequence[float]) -> Traverse:
    """Softened width from a traverse; the outer quarters are taken as parent.

    Raises
    ------
    InputError
        Fewer than 9 points, places not rising, a hardness not above 0.
    """
    x = np.array([require_finite("place of the indent", p, "mm") for p in place_mm])
    h = np.array([require_positive("hardness", v, "HV") for v in hardness_HV])
    if x.size != h.size or x.size < 9 or np.any(np.diff(x) <= 0.0):
        raise InputError("hardness traverse", x.size, "indents", "9 or more, from one side to the other", "indent more")
    outer = max(2, x.size // 4)
    parent = float(np.median(np.concatenate([h[:outer], h[-outer:]])))
    least = float(h[outer:-outer].min())
    half = 0.5 * (parent + least)
    below = np.nonzero(h < half)[0]
    if parent <= least or below.size == 0:
        return Traverse(parent, least, 0.0, 0.0)
    first, last = int(below[0]), int(below[-1])
    if first == 0 or last == x.size - 1:
        raise InputError("hardness traverse", x.size, "indents", "reaching into parent on both sides", "indent further")
    left = float(np.interp(-half, -h[first - 1 : first + 1], x[first - 1 : first + 1]))
    right = float(np.interp(half, h[last : last + 2], x[last : last + 2]))
    return Traverse(parent, least, right - left, 100.0 * (1.0 - least / parent))


@dataclass(frozen=True, slots=True)
class Qualification:
    """What the coupons prove. lives : tests of weld and parent behind `life`; proof : with its gauge length [mm]."""

    comparison: RatioResult
    life: LifeComparison | None
    traverse: Traverse | None
    fractures: tuple[tuple[str, int], ...]
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]
    lives: tuple[LifeTests, LifeTests] | None = None
    proof: tuple[RatioResult, float] | None = None


def evaluate(
    part: str,
    welds_MPa: Sequence[float],
    parents_MPa: Sequence[float],
    fractures: Sequence[str] = (),
    life: LifeComparison | None = None,
    traverse: Traverse | None = None,
    limit: float = 0.95,
    lives: tuple[LifeTests, LifeTests] | None = None,
    proof: tuple[RatioResult, float] | None = None,
) -> Qualification:
    """Strength of the weld against its own sheet; says what is proved, and what is merely not disproved.

    Raises
    ------
    InputError
        Fewer than two coupons of either.
    """
    compared = compare(welds_MPa, parents_MPa, (limit, 1.0 / limit))
    at = f"{part}/qualify"
    seen = Input("R", "strengths, weld over parent", f"{len(welds_MPa)} over {len(parents_MPa)}", "coupons", TESTED)
    figures = [
        reckoned(f"{at}/ratio", "weld over parent, geometric means", compared.ratio, "1", "mean ( R )", seen),
        reckoned(f"{at}/ratio-bound", "the same, one-sided 95 % bound", compared.lower, "1", "bound ( R )", seen),
        reckoned(
            f"{at}/each-bound", "bound above which 90 % of welds lie", compared.each_lower, "1", "tolerance ( R )", seen
        ),
        reckoned(f"{at}/scatter", "pooled scatter", compared.cv, "1", "s ( R )", seen, digits=4),
    ]
    if proof is not None:
        figures += _proof_figures(at, proof)
    if life is not None:
        figures += _life_figures(at, life)
    if traverse is not None:
        figures.append(stated(f"{at}/softened-width", "softened width by hardness", traverse.width_mm, "mm", TESTED, 2))
    counted = tuple(sorted(Counter(fractures).items(), key=lambda pair: -pair[1]))
    findings = _evaluation_findings(at, compared, life, counted, limit)
    return Qualification(compared, life, traverse, counted, tuple(figures), findings, lives, proof)


def _proof_figures(at: str, proof: tuple[RatioResult, float]) -> list[Figure]:
    found, gauge = proof
    both = Input("S", "proof stresses of joint and parent", f"over {gauge:g} mm", "", TESTED)
    return [
        reckoned(
            f"{at}/proof-ratio",
            f"proof stress of joint over parent, both over {gauge:g} mm",
            found.ratio,
            "1",
            "mean ( S )",
            both,
            note="a number of this gauge length; never beside another's",
        )
    ]


def _life_figures(at: str, life: LifeComparison) -> list[Figure]:
    out = sum(life.run_outs)
    how = "likelihood of failures and run-outs, separate slopes" if out else "log-linear, separate slopes"
    line = Input("N", "life tests of weld and parent", how, "", TESTED)
    amplitude = Input("S", "design amplitude", life.design, "MPa", TESTED)
    counted = f"{life.counts[0]} weld, {life.counts[1]} parent"
    told = f"{counted}; {life.run_outs[0]} and {life.run_outs[1]} ran out" if out else counted
    return [
        reckoned(
            f"{at}/life-ratio",
            "life over parent at the design amplitude",
            life.ratio,
            "1",
            "N ( S )",
            line,
            amplitude,
            digits=2,
            note=told,
        ),
        reckoned(
            f"{at}/life-bound",
            "the same, one-sided 95 % bound",
            life.lower,
            "1",
            "bound ( N , S )",
            line,
            amplitude,
            digits=2,
        ),
        reckoned(
            f"{at}/life-one-line",
            "p of the test that weld and parent lie on one line",
            life.p_one_line,
            "1",
            "F ( N )",
            line,
            note="a large p is no claim that they are alike",
        ),
        reckoned(f"{at}/life-slopes", "p of the test for equal slopes", life.p_slopes, "1", "F ( N )", line),
    ]


def _evaluation_findings(
    at: str, compared: RatioResult, life: LifeComparison | None, fractures: Sequence[tuple[str, int]], limit: float
) -> tuple[Finding, ...]:
    found: list[Finding] = []
    check = Check(
        "the mean is proved", compared.lower, limit, ">=", "1", TESTED, "stop", "test more parent coupons first", at
    )
    if not check.ok:
        found.append(
            Finding(
                "stop",
                f"The weld is not proved above {100 * limit:.0f} % of its parent; "
                f"the bound is {100 * compared.lower:.1f} %.",
                check.remedy,
                f"{at}/ratio-bound",
                "qualify-mean",
                "",
                check,
            )
        )
    if not compared.equivalent:
        found.append(
            Finding(
                "caution",
                "Weld and parent are not shown to be equivalent within 5 %.",
                "test more parent coupons of the same sheet",
                f"{at}/ratio",
                "qualify-equivalence",
                "that no difference is significant is no claim",
            )
        )
    if life is not None and life.lower < 0.5:
        found.append(
            Finding(
                "caution",
                f"Half of parent life is not proved; the bound is {life.lower:.2f}.",
                "test more at the design amplitude",
                f"{at}/life-bound",
                "qualify-life",
            )
        )
    if life is not None and life.outside:
        found.append(
            Finding(
                "caution",
                "The design amplitude lies outside the amplitudes tested.",
                "test on both sides of it",
                f"{at}/life-ratio",
                "qualify-life-outside",
            )
        )
    if life is not None and max(life.run_outs) > 0:
        found.append(
            Finding(
                "note",
                f"{life.run_outs[0]} of {life.counts[0]} weld tests and {life.run_outs[1]} of {life.counts[1]} parent "
                "tests ran out.",
                "leave them in the file, marked: they count as living longer than their cycles, not as failures",
                f"{at}/life-ratio",
                "qualify-run-outs",
            )
        )
    in_weld = sum(n for place, n in fractures if "parent" not in place.lower())
    if in_weld:
        total = sum(n for _, n in fractures)
        found.append(
            Finding(
                "note",
                f"{in_weld} of {total} coupons broke at or in the weld.",
                "look at those sections first: mismatch, undercut, root",
                at,
                "qualify-fracture",
            )
        )
    return gravest_first(found)
