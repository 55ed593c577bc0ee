"""Fit-up of one ring's seam: what the metal lets expect, what both ends measure, what was read in the fixture."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import Final

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import Fault, FileFaults
from hoopwright.findings import Check, Figure, Finding, Input, Source, gravest_first, judged
from hoopwright.plan.seam.end_geometry import NINE_IN_TEN, EndScatter, deviation_from_plan, end_scatter
from hoopwright.plan.seam.fit_up import (
    FROM_MEMORY,
    EndGeometry,
    FitUp,
    Level,
    fixture_words,
    judge_fit_up,
    level_limits,
    mismatch_of_ends,
)
from hoopwright.plan.seam.table_file import numbers, table_rows
from hoopwright.plan.shapes import RingJob
from hoopwright.process.working import reckoned, stated

Array = NDArray[np.float64]

END_COLUMNS: Final = ("z_mm", "r_first_mm", "r_second_mm")
OUTLINES: Final = Source("measured", "outlines of both strip ends before closing")


@dataclass(frozen=True, slots=True)
class FitUpSheet:
    """Fit-up of a ring. scatter : as the metal lets expect. ends : as measured, None without outlines.

    allowed_mm : mismatch allowed. words : what the fixture must do.
    """

    part: str
    scatter: EndScatter
    ends: EndGeometry | None
    allowed_mm: float
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]
    words: tuple[str, ...]


def read_ends(path: Path) -> tuple[Array, Array]:
    """(z, r) of both strip ends from a file with z_mm, r_first_mm, r_second_mm, forward edge first; shapes (n, 2).

    Raises
    ------
    InputError, FileFaults
        As the table reader; places that do not rise.
    """
    faults: list[Fault] = []
    rows = [(line, numbers(row, END_COLUMNS, line, faults)) for line, row in table_rows(path, END_COLUMNS)]
    for (_, before), (line, after) in pairwise(rows):
        if before and after and after[0] <= before[0]:
            faults.append(
                Fault("z_mm", f"{after[0]:g}", "mm", "above the one before", "order them from forward to aft", line)
            )
    if faults:
        raise FileFaults(str(path), faults)
    table = np.array([cells for _, cells in rows], dtype=np.float64).reshape(-1, 3)
    return table[:, [0, 1]], table[:, [0, 2]]


def plan_fit_up(
    job: RingJob,
    level: Level = "house",
    spot_dia_mm: float | None = None,
    mismatch_mm: Sequence[float] = (),
    gap_mm: Sequence[float] = (),
    ends: tuple[Array, Array] | None = None,
) -> FitUpSheet:
    """Fit-up of a ring's seam.

    Parameters
    ----------
    spot_dia_mm : float, optional
        Least spot of the laser's card where left out.
    mismatch_mm, gap_mm : sequences
        Readings in the fixture, three places or more; both or neither.
    ends : pair of arrays, optional
        Outlines of both ends.

    Raises
    ------
    InputError
        One of the readings without the other, a reading below 0, outlines that do not match.
    """
    t, part = job.thickness_mm.value, job.ring.id
    allowed, source = job.limits.butt_mismatch_max_t.value * t, job.limits.butt_mismatch_max_t.source
    if level != "house":
        allowed, source = level_limits(level, t).misalignment_mm, FROM_MEMORY
    scatter = end_scatter(job)
    expected = _expected(job, scatter)
    figures, found = [expected], [_judged_expected(part, expected, allowed, source)]
    measured = None
    if ends is not None:
        measured = mismatch_of_ends(*ends)
        more, said = _ends(job, ends, measured, allowed, source)
        figures += more
        found += said
    if mismatch_mm or gap_mm:
        spot = job.machines.laser.spot_dia_min_mm.value if spot_dia_mm is None else spot_dia_mm
        read = judge_fit_up(FitUp(part, tuple(mismatch_mm), tuple(gap_mm), t, spot), job.limits, level)
        figures += read.figures
        found += read.findings
    findings = gravest_first(f for f in found if f is not None)
    return FitUpSheet(part, scatter, measured, allowed, tuple(figures), findings, fixture_words(t))


def _expected(job: RingJob, scatter: EndScatter) -> Figure:
    place, worst = scatter.worst
    inputs = [
        Input(f"d{k}", f"{name}, one standard deviation at one end", value, "mm", job.spread.sheet_thickness_mm.source)
        for k, (name, value) in enumerate(scatter.causes, start=1)
    ]
    return reckoned(
        f"{job.ring.id}/fit-up/expected-mismatch",
        "mismatch that 9 of 10 strips stay below, from the metal alone",
        worst,
        "mm",
        "z sqrt ( 2 ( " + " + ".join(f"{i.symbol} ²" for i in inputs) + " ) )",
        Input("z", "9 of 10, both ways", NINE_IN_TEN, "1", Source("derived", "normal distribution")),
        *inputs,
        digits=3,
        note=f"worst {place:.0f} mm from the forward edge along the contour",
    )


def _judged_expected(part: str, expected: Figure, allowed: float, source: Source) -> Finding | None:
    check = Check(
        "the metal leaves room for the clamps",
        expected.value,
        allowed,
        "<=",
        "mm",
        source,
        "caution",
        "take both ends from the same sheet; cut more off the ends after rolling",
        expected.identity,
    )
    return judged(
        check,
        f"The ends of {part} may miss each other by {expected.value:.3f} mm as rolled; {allowed:.2f} mm is allowed.",
        "fit-up-expected",
    )


def _ends(
    job: RingJob, ends: tuple[Array, Array], measured: EndGeometry, allowed: float, source: Source
) -> tuple[list[Figure], list[Finding | None]]:
    part = job.ring.id
    place, size = measured.worst
    worst = stated(
        f"{part}/fit-up/ends-mismatch",
        "worst mismatch of both ends, shift and tilt set by the clamp",
        abs(size),
        "mm",
        OUTLINES,
        3,
        f"{place:.1f} mm along the contour from its forward end",
    )
    figures = [worst]
    for name, end in (("first", ends[0]), ("second", ends[1])):
        off = deviation_from_plan(job, end).worst
        figures.append(
            stated(
                f"{part}/fit-up/{name}-end-off-plan",
                f"{name} end off the section as planned, worst",
                abs(off[1]),
                "mm",
                OUTLINES,
                3,
                f"{off[0]:.1f} mm along the contour; shift and tilt taken out",
            )
        )
    check = Check(
        "both ends meet along the contour",
        abs(size),
        allowed,
        "<=",
        "mm",
        source,
        "stop",
        "turn the strip end for end in the clamp and measure again; then cut more off the ends",
        worst.identity,
    )
    sentence = f"The ends of {part} miss each other by {abs(size):.3f} mm, {place:.0f} mm along the contour."
    return figures, [judged(check, sentence, "fit-up-ends", f"{allowed:.2f} mm is allowed")]
