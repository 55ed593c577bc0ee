"""The smallest change of nominals and tolerances that brings every stack to its margin. Units mm, N, MPa.

    least sum c |dx| + sum d dtau
    such that g_i(x) + J dx - |J| (tau - dtau) + (corner worst - linear worst) >= margin

within bounds; linearised anew until still. The sum of sizes changes few things, not all a little. Derived here; the
programme is solved by scipy's simplex.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linprog

from hoopwright.errors import InputError
from hoopwright.kernels.stack_variation import Function, Varies, gradient, stack

Vector = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Allowed:
    """How far an input may be changed. low, high : bounds of the nominal; cost : of one unit of it; tighten : by how
    much its tolerance may be cut at most, tighten_cost : of one unit."""

    low: float
    high: float
    cost: float = 1.0
    tighten: float = 0.0
    tighten_cost: float = 1.0


@dataclass(frozen=True, slots=True)
class Mend:
    """What to change. inputs : changed, same order; moved, tightened : by how much; worst : of each stack afterwards;
    reached : whether every stack has its margin."""

    inputs: tuple[Varies, ...]
    moved: tuple[float, ...]
    tightened: tuple[float, ...]
    worst: tuple[float, ...]
    reached: bool


def mend(
    functions: Sequence[Function], inputs: Sequence[Varies], allowed: Sequence[Allowed], margin: float = 0.0,
    turns: int = 12,
) -> Mend:  # fmt: skip
    """Search over the allowed changes, smallest sum of costs first.

    Raises
    ------
    InputError
        Not one `allowed` an input, or bounds that leave out the nominal.
    """
    if len(allowed) != len(inputs):
        raise InputError("allowed changes", len(allowed), "", f"{len(inputs)}, one an input", "give each its bounds")
    for v, a in zip(inputs, allowed, strict=True):
        if not a.low <= v.nominal <= a.high or a.tighten < 0.0:
            bounds_said = f"{a.low:g} to {a.high:g}"
            raise InputError(f"bounds of {v.name}", bounds_said, v.unit, f"about {v.nominal:g}", "widen them")
    nominal = np.array([v.nominal for v in inputs])
    shift, cut = np.zeros(nominal.size), np.zeros(nominal.size)
    now = tuple(inputs)
    worst = tuple(stack(f, now).low for f in functions)
    for _ in range(turns):
        step = _programme(functions, now, nominal, shift, cut, inputs, allowed, margin)
        if step is None:
            return Mend(now, tuple(shift), tuple(cut), worst, False)
        new_shift, new_cut = step
        still = np.allclose(new_shift, shift, atol=1e-7) and np.allclose(new_cut, cut, atol=1e-7)
        shift, cut = new_shift, new_cut
        now = tuple(_changed(v, s, c) for v, s, c in zip(inputs, shift, cut, strict=True))
        worst = tuple(stack(f, now).low for f in functions)
        if still:
            break
    reached = all(w >= margin - 1e-4 * max(1.0, abs(margin)) for w in worst)
    return Mend(now, tuple(float(s) for s in shift), tuple(float(c) for c in cut), worst, reached)


def _changed(v: Varies, shift: float, cut: float) -> Varies:
    side = max(v.half, 1e-300)
    share = max(0.0, 1.0 - cut / side)
    return replace(v, nominal=v.nominal + float(shift), minus=v.minus * share, plus=v.plus * share)


def _programme(
    functions: Sequence[Function], now: tuple[Varies, ...], nominal: Vector, shift: Vector, cut: Vector,
    inputs: Sequence[Varies], allowed: Sequence[Allowed], margin: float,
) -> tuple[Vector, Vector] | None:  # fmt: skip
    """One linear programme in (up, down, cut); None where no change within the bounds is enough."""
    n = nominal.size
    centre, half = np.array([v.middle for v in now]), np.array([v.half for v in now])
    rows, right = [], []
    for function in functions:
        told = stack(function, now)
        slope = gradient(function, centre, half)
        # the corner found lies at `low`; moving on from the present state by (dx, dcut)
        rows.append(np.concatenate((-slope, slope, -np.abs(slope))))
        right.append(told.low - margin - float(slope @ shift) - float(np.abs(slope) @ cut))
    bounds = [(0.0, a.high - x) for a, x in zip(allowed, nominal, strict=True)]
    bounds += [(0.0, x - a.low) for a, x in zip(allowed, nominal, strict=True)]
    bounds += [(0.0, min(a.tighten, v.half)) for a, v in zip(allowed, inputs, strict=True)]
    cost = np.array([a.cost for a in allowed] * 2 + [a.tighten_cost for a in allowed])
    solved = linprog(cost, A_ub=np.array(rows), b_ub=np.array(right), bounds=bounds, method="highs")
    if not solved.success:
        return None
    return solved.x[:n] - solved.x[n : 2 * n], solved.x[2 * n :]
