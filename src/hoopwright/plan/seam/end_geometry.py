"""Both ends of a rolled strip before they meet: how far they may miss each other along the contour, from the metal.

The ends come from the same rolls but not from the same metal: flow stress scatters within a cast and the sheet is not
even, so each corner springs back by another amount at each end. A free end has no neighbour to hold its section, so its
corners spring back as lone ones do. With d the mismatch that one standard deviation of one cause makes at one end,
after the clamp has set shift and tilt, both ends together scatter by

    sd(s) = sqrt(2 sum over causes of d(s)^2)

Where one face is set flush, the other steps by the difference in thickness: that is the last cause, the same all along.
Left out: roll gap and wear along the strip, handling. A measured outline of both ends takes the place of this.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from hoopwright.kernels.corner_bend import BendSheet, springback_curvature
from hoopwright.kernels.sizing_weld import scaled
from hoopwright.plan.corners import bend_sheet
from hoopwright.plan.seam.fit_up import EndGeometry, mismatch_of_ends
from hoopwright.plan.shapes import RingJob

Array = NDArray[np.float64]

NINE_IN_TEN = 1.6448536269514722


@dataclass(frozen=True, slots=True)
class EndScatter:
    """How far two ends of one strip miss each other. place_mm along the contour; sd_mm normal to it, shapes (n,).

    causes : (name, mismatch that one standard deviation of it at one end makes at the worst place [mm]).
    """

    place_mm: tuple[float, ...]
    sd_mm: tuple[float, ...]
    causes: tuple[tuple[str, float], ...]

    @property
    def worst(self) -> tuple[float, float]:
        """Place, and the mismatch there that 9 of 10 strips stay below in size (two-sided). [mm]"""
        k = int(np.argmax(self.sd_mm))
        return self.place_mm[k], NINE_IN_TEN * self.sd_mm[k]


def section_outline(job: RingJob) -> Array:
    """(z, r) of the section as drawn, edge trims on, shape (n, 2)."""
    return np.column_stack([job.stations.x, job.stations.y])


def end_outline(job: RingJob, sheet: BendSheet) -> Array:
    """(z, r) of an end whose corners spring back as those of `sheet`, rolled to the drawing with the job's own sheet.

    Shape (n, 2).
    """
    stations, own = job.stations, bend_sheet(job)
    change = {
        k: springback_curvature(own, k) - springback_curvature(sheet, k) for k in set(stations.curvature.tolist()) if k
    }
    bent = np.array([change.get(k, 0.0) for k in stations.curvature.tolist()])
    # the weights of the stations are their share of the length; arcs and straights meet between stations
    turned = np.cumsum(bent * stations.weight) - 0.5 * bent * stations.weight
    step = stations.weight * turned
    moved = np.column_stack([-np.cumsum(step * np.sin(stations.angle)), np.cumsum(step * np.cos(stations.angle))])
    found: Array = section_outline(job) + moved
    return found


def end_scatter(job: RingJob) -> EndScatter:
    """Mismatch of both ends from the scatter of flow stress within a cast and of the sheet thickness."""
    sheet, spread = bend_sheet(job), job.spread
    share = spread.flow_stress_within_cast_pct.value / 100.0
    thicker = sheet.thickness_mm + spread.sheet_thickness_mm.value
    causes = (
        ("flow stress within the cast", replace(sheet, curve=scaled(sheet.curve, 1.0 + share))),
        ("springback by the sheet's thickness", replace(sheet, thickness_mm=thicker)),
    )
    drawn = section_outline(job)
    made = [(name, mismatch_of_ends(drawn, end_outline(job, other))) for name, other in causes]
    step = spread.sheet_thickness_mm.value
    square = 2.0 * step**2 + sum(2.0 * np.square(geometry.mismatch_mm) for _, geometry in made)
    worst = int(np.argmax(square))
    told = (*((name, abs(geometry.mismatch_mm[worst])) for name, geometry in made), ("step of the faces", step))
    return EndScatter(made[0][1].place_mm, tuple(map(float, np.sqrt(square))), told)


def deviation_from_plan(job: RingJob, end: Array) -> EndGeometry:
    """A measured end against the section, at its own z; end (n, 2) as (z, r), forward edge first. [mm]"""
    order = np.argsort(job.stations.x)
    radius = np.interp(end[:, 0], job.stations.x[order], job.stations.y[order])
    return mismatch_of_ends(np.column_stack([end[:, 0], radius]), end)
