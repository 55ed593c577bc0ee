"""Weld lots of the job, each judged."""

from __future__ import annotations

from hoopwright.design.wishes import limits_for
from hoopwright.desk.page.job import Job
from hoopwright.plan.seam.weld_lot import LotVerdict, judge_lot


def verdicts(job: Job) -> tuple[LotVerdict, ...]:
    """Every weld lot of the readings, judged by the house card."""
    liner, readings = job.current().liner, job.readings()
    limits = limits_for(liner, job.shop_folder)
    thickness = min(ring.thickness_mm for ring in liner.rings)
    found = []
    for lot in readings.weld_lots:
        cut = _cut_length(job, lot.rings[0].serial if lot.rings else "")
        key = ("lot", lot, thickness, limits, cut)
        made: LotVerdict = job.remembered(key, lambda lot=lot, cut=cut: judge_lot(lot, thickness, limits, cut))
        found.append(made)
    return tuple(found)


def _cut_length(job: Job, serial: str) -> float | None:
    """Cut length in use for the ring of a serial ("402-03" belongs to the ring that ends in 402)."""
    ring = next((r.id for r in job.current().liner.rings if r.id.endswith(serial.partition("-")[0])), None)
    if not serial or ring is None:
        return None
    return job.plan(ring).figure("strip/cut-length").value
