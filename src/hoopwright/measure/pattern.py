"""A pattern of points (ports, holes) against nominal: shift, turn, scale, and what is left, each with its
correction."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.errors import require_positive
from hoopwright.findings import Finding
from hoopwright.kernels.point_fit import PointFit, fit_points
from hoopwright.measure.table import Readings

SEEN = 3.0
"""A shift, turn or scale is told from noise beyond this many of its standard deviations."""


@dataclass(frozen=True, slots=True)
class Pattern:
    """fit : of all three freedoms. position_mm : diameter of the worst position error with only `free` taken out."""

    fit: PointFit
    position_mm: float
    radius_error_mm: float
    findings: tuple[Finding, ...]


def evaluate_pattern(
    nominal: Sequence[tuple[float, float]],
    measured: Sequence[tuple[float, float]],
    position_tolerance_mm: float,
    datum_free: tuple[str, ...] = ("shift", "turn"),
    about: str = "ports",
) -> Pattern:
    """Judge positions with what the datums leave free, and say what kind of error it is.

    Rule: scale is draw-in, shift is location, turn is the pilot, the rest clearance (common practice, no source).
    """
    tolerance = require_positive("position tolerance", position_tolerance_mm, "mm")
    nx, ny = [p[0] for p in nominal], [p[1] for p in nominal]
    mx, my = [p[0] for p in measured], [p[1] for p in measured]
    judged = fit_points(nx, ny, mx, my, datum_free)
    full = fit_points(nx, ny, mx, my)
    position = 2.0 * judged.worst_position_mm
    pitch = math.sqrt(sum(x * x + y * y for x, y in nominal) / len(nominal))
    radius = full.scale_error * pitch
    findings = []
    if position > tolerance:
        kinds = _kinds(full, pitch)
        sentence = f"{about}: position error {position:.3f} mm against {tolerance:g} mm, mostly {kinds[0][0]}."
        findings.append(Finding("stop", sentence, kinds[0][1], about, "pattern-position", _shares(full, pitch)))
    return Pattern(full, position, radius, tuple(findings))


def _kinds(fit: PointFit, pitch: float) -> list[tuple[str, str, float]]:
    shift = math.hypot(fit.shift_x, fit.shift_y)
    rest = fit.worst_position_mm
    rows = [
        (abs(fit.scale_error) * pitch if abs(fit.scale_error) > SEEN * fit.sd_scale else 0.0, "scale",
         f"move the pre-holes' pitch radius by {-fit.scale_error * pitch:+.3f} mm"),
        (shift if shift > SEEN * fit.sd_shift else 0.0, "shift", "check where the blank is located"),
        (abs(fit.turn_rad) * pitch if abs(fit.turn_rad) > SEEN * fit.sd_turn_rad else 0.0, "turn", "check the pilots"),
        (rest, "scatter", "check clearance of pilots and punch guides"),
    ]  # fmt: skip
    return [(name, remedy, size) for size, name, remedy in sorted(rows, key=lambda r: -r[0])]


def _shares(fit: PointFit, pitch: float) -> str:
    return (
        f"Scale {fit.scale_error * pitch:+.3f} mm at the pitch radius, "
        f"shift ({fit.shift_x:+.3f}, {fit.shift_y:+.3f}) mm, "
        f"turn {math.degrees(fit.turn_rad):+.4f} deg, left over {fit.worst_position_mm:.3f} mm."
    )


def pattern_points(readings: Readings) -> tuple[list[tuple[float, float]], list[tuple[float, float]]]:
    """Nominal and measured points of a file of coordinates."""
    n = readings.numbers
    nominal = list(zip(n["nominal_x_mm"], n["nominal_y_mm"], strict=True))
    return nominal, list(zip(n["x_mm"], n["y_mm"], strict=True))
