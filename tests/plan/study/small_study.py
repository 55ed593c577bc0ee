"""A study small enough to run whole in a test: the half pitch of HD-402, three things that scatter."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from hoopwright.design.demo import demo_liner
from hoopwright.plan.hooping.ask import Incoming
from hoopwright.plan.ring_plan import RingPlan, plan_ring
from hoopwright.plan.study.forward import StudyAsk, study_ask
from hoopwright.plan.study.inputs import scattered
from hoopwright.plan.study.study import StudyPlan

SMALL = StudyPlan(samples=2000, runs=24, held_back=16, seed=3, sensitivity=512)
KEYS = ("sheet_thickness", "flow_stress", "friction", "pin_stop")


@lru_cache
def demo_plan() -> RingPlan:
    """HD-402 as planned."""
    return plan_ring(demo_liner(), "HD-402")


@lru_cache
def small_ask() -> StudyAsk:
    """Without seam, kink and single segments, so that half a pitch stands for the ring."""
    plan = demo_plan()
    job = replace(plan.job, seam=replace(plan.job.seam, angle_deg=replace(plan.job.seam.angle_deg, value=0.0)))
    inputs, _missing = scattered(job, plan.settings.segments.count)
    kept = tuple(one for one in inputs if one.key in KEYS)
    return study_ask(job, plan.settings, Incoming(zone_mm=0.0), kept)
