"""Correcting a roll contour on the profile it makes: damped Gauss-Newton by differences, a step kept only if it gains.

Judged is the rolled and curled section, let go, against the drawing: normal distance at every node after a rigid fit.
Corner angles can be exact while the profile is not, so angles are not looked at. Method paper on rolling, section 6.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from hoopwright.errors import GeometryError, NotConverged
from hoopwright.kernels.flow import Vector
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.section import Section
from hoopwright.kernels.section.contour import extended
from hoopwright.kernels.section.measure import Fit, fit_profile, start_arc_mm
from hoopwright.plan.prove.contour import Change, changed
from hoopwright.process.proof_closing import RUN_OUT_MM

EDGE_MM = 3.0
LARGEST_STEPS = 6.0
LEAST_GAIN = 0.05
DAMPING = (1e-3, 0.05, 0.3)

Form = Callable[[Profile], Section]
"""A contour in the frame of the rolls to the section it leaves."""


@dataclass(frozen=True, slots=True, eq=False)
class ContourFit:
    """Contour found, deviation before and after. values : of the changes. runs : of the kernel."""

    middle: Profile
    changes: tuple[Change, ...]
    values: Vector
    before: Fit
    after: Fit
    runs: int


def deviation(section: Section, drawing: Profile) -> Fit:
    """The section against its drawing; 3 mm of each edge left out."""
    return fit_profile(section, extended(drawing, RUN_OUT_MM), EDGE_MM)


def fit_contour(
    drawing: Profile,
    changes: tuple[Change, ...],
    form: Form,
    held: float,
    least_radius_mm: float,
    first: ContourFit | None = None,
    rounds: int = 1,
) -> ContourFit:
    """Changes of a contour that bring its section to the drawing.

    Parameters
    ----------
    drawing : mid-line wanted, in the frame of the rolls.
    first : an earlier fit of fewer changes to start from.
    rounds : at most so many Gauss-Newton steps.
    """
    values = np.zeros(len(changes))
    if first is not None:
        known = dict(zip(first.changes, first.values, strict=True))
        values = np.array([float(known.get(change, 0.0)) for change in changes])

    def contour(v: Vector) -> Profile:
        return changed(drawing, changes, v, least_radius_mm, held)

    middle = contour(values)
    now = deviation(form(middle), drawing) if first is None else first.after
    earlier = 1 if first is None else first.runs
    best = ContourFit(middle, changes, values, now if first is None else first.before, now, earlier)
    for _ in range(rounds):
        better, runs = _round(best, drawing, form, contour)
        if better is None:
            return replace(best, runs=runs)
        gain = 1.0 - better.after.rms_mm / best.after.rms_mm
        best = better
        if gain < LEAST_GAIN:
            break
    return best


def _round(
    best: ContourFit, drawing: Profile, form: Form, contour: Callable[[Vector], Profile]
) -> tuple[ContourFit | None, int]:
    """One step, a column a change: damped more and more until the profile gains, None where it does not; and runs."""
    steps = np.array([change.step for change in best.changes])
    kept = ~np.isnan(best.after.deviation_mm)
    runs = best.runs
    columns: list[Vector] = []
    for k, step in enumerate(steps):
        shifted = best.values.copy()
        shifted[k] += step
        moved = deviation(form(contour(shifted)), drawing)
        runs += 1
        columns.append((moved.deviation_mm - best.after.deviation_mm)[kept])
    matrix, miss = np.array(columns).T, best.after.deviation_mm[kept]
    for damping in DAMPING:
        damped = np.vstack((matrix, damping * np.linalg.norm(matrix) * np.eye(steps.size)))
        answer = np.linalg.lstsq(damped, np.concatenate((-miss, np.zeros(steps.size))), rcond=None)[0]
        answer = np.clip(answer, -LARGEST_STEPS, LARGEST_STEPS)
        values = best.values + answer * steps
        try:
            middle = contour(values)
            after = deviation(form(middle), drawing)
        except (GeometryError, NotConverged):
            continue
        finally:
            runs += 1
        if after.rms_mm < best.after.rms_mm:
            return ContourFit(middle, best.changes, values, best.before, after, runs), runs
    return None, runs


def depth_miss(section: Section, fit: Fit, drawing: Profile, starts_mm: float) -> float:
    """Greatest miss in depth at the middle of a straight, against the deviation of the middle straight. [mm]

    starts_mm : distance along the unstrained section at which the drawing begins.
    """
    breaks = drawing.breaks + starts_mm
    arc = start_arc_mm(section)
    middles = [0.5 * (breaks[k] + breaks[k + 1]) for k, segment in enumerate(drawing) if not segment.is_arc]
    inside = [m for m in middles if arc[0] + EDGE_MM <= m <= arc[-1] - EDGE_MM]
    values = np.interp(inside, arc, np.nan_to_num(fit.deviation_mm))
    return float(np.max(np.abs(values))) if inside else 0.0
