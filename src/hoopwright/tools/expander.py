"""The pin's stop: what size each setting gives, by pin stroke and by shim."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hoopwright.kernels.segment_hull import SegmentCircle, girth_factor
from hoopwright.kernels.stop_table import girth_per_stroke
from hoopwright.kernels.taper_drive import TaperDrive


@dataclass(frozen=True, slots=True)
class StopRow:
    """One line of the stop table.

    stop_mm : pin stroke from the collapsed position. shim_mm : against the full stop, negative short of it.
    loaded_mm, free_mm : girth diameter of each control size, on the segments and off them. lobe_mm : peak to valley.
    """

    stop_mm: float
    shim_mm: float
    loaded_mm: tuple[float, ...]
    free_mm: tuple[float, ...]
    lobe_mm: float


@dataclass(frozen=True, slots=True)
class StopSetting:
    """The stop of one hit: stroke from collapsed, how far the segments stand off as turned (on radius), its girth."""

    stop_mm: float
    standing_mm: float

    def girth_change_mm(self, count: int) -> float:
        """Change of the girth diameter that this standing makes."""
        return 2.0 * self.standing_mm * girth_factor(count)


def rounded_to(value: float, step: float) -> float:
    """Nearest setting of a stop that moves in steps.

    Examples
    --------
    >>> rounded_to(44.79, 0.05)
    44.8
    """
    return round(round(value / step) * step, 6)


def stop_for_girth(drive: TaperDrive, full_stop_mm: float, girth_change_mm: float, step_mm: float) -> StopSetting:
    """Stop that changes the girth diameter by about `girth_change_mm` from the size as turned, on the press's steps."""
    shim = rounded_to(girth_change_mm / girth_per_stroke(drive), step_mm)
    return StopSetting(round(rounded_to(full_stop_mm, step_mm) + shim, 6), 0.5 * shim * drive.diameter_per_stroke)


def stop_rows(
    drive: TaperDrive,
    full_stop_mm: float,
    loaded_mm: tuple[float, ...],
    free_mm: tuple[float, ...],
    free_per_loaded: float,
    circle: SegmentCircle,
    shims_mm: tuple[float, ...],
) -> tuple[StopRow, ...]:
    """Stop table about the full stop.

    Parameters
    ----------
    loaded_mm, free_mm : girth diameters of the control sizes at the full stop.
    free_per_loaded : change of a free diameter for a change of the loaded one (a little below 1: springback grows).
    circle : the set as turned, at the smallest radius, for the lobes.
    """
    per_mm = girth_per_stroke(drive)
    rows: list[StopRow] = []
    for shim in shims_mm:
        change = per_mm * shim
        standing = 0.5 * drive.diameter_per_stroke * shim
        here = SegmentCircle(circle.count, circle.turned_radius_mm, standing, circle.slot_mm)
        rows.append(
            StopRow(
                round(full_stop_mm + shim, 6),
                shim,
                tuple(d + change for d in loaded_mm),
                tuple(d + change * free_per_loaded for d in free_mm),
                here.peak_to_valley_mm,
            )
        )
    return tuple(rows)


def shims_about(step_mm: float, first_shim_mm: float) -> tuple[float, ...]:
    """Shims worth a line: from a little below the first hit to three quarters of a millimetre past the full stop."""
    low = min(first_shim_mm, 0.0) - 5.0 * step_mm
    coarse = np.arange(round(low / step_mm), round(0.75 / step_mm) + 1, 5)
    wanted = {round(float(k) * step_mm, 6) for k in coarse} | {0.0, round(first_shim_mm, 6)}
    return tuple(sorted(wanted))
