"""Joints that only rest: pressed they hold, pulled they open. Force of each by the shell; what is pulled is let go."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from hoopwright.errors import InputError
from hoopwright.findings import Figure, Finding, Input, Source
from hoopwright.plan.hot.job import HotJob, Tie
from hoopwright.plan.hot.model import HotModel, hot_model
from hoopwright.process.working import reckoned

SEEN_N = 1.0
"""A force under this neither presses nor pulls a joint of sheet: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Rest:
    """A resting joint. press_N : force that presses it together, below 0 where it is pulled; opened : let go for that;
    kept : pulled, yet taken as closed because nothing else would hold a part."""

    joint: str
    press_N: float
    opened: bool = False
    kept: bool = False


def settled(job: HotJob) -> tuple[HotModel, tuple[Rest, ...]]:
    """The shell with every resting joint closed that is not pulled, and what became of each.

    Raises
    ------
    InputError
        See `hot_model`.
    """
    found: dict[str, Rest] = {}
    model = hot_model(job)
    while True:
        resting = [t for t in model.job.ties if t.joint.hold == "resting" and t.joint.id not in found]
        forces = [(press_of(model, tie), tie) for tie in resting]
        pulled = [(force, tie) for force, tie in forces if force < -SEEN_N]
        if not pulled:
            found |= {tie.joint.id: Rest(tie.joint.id, force) for force, tie in forces}
            return model, tuple(found[k] for k in sorted(found))
        force, tie = min(pulled, key=lambda one: one[0])
        try:
            model = hot_model(_let_go(model.job, tie))
            found[tie.joint.id] = Rest(tie.joint.id, force, opened=True)
        except InputError:
            found[tie.joint.id] = Rest(tie.joint.id, force, kept=True)


def _let_go(job: HotJob, tie: Tie) -> HotJob:
    free = replace(tie, joint=replace(tie.joint, hold="slides-axially"))
    return replace(job, ties=tuple(free if t.joint.id == tie.joint.id else t for t in job.ties))


def press_of(model: HotModel, tie: Tie) -> float:
    """Force that presses a joint together, the whole ring, steady. [N]

    The part that lies further aft is pressed aft.
    """
    stack = model.stack
    follower = stack.node(tie.outer, tie.outer_s_mm)
    on_outer = 2.0 * math.pi * float(stack.node_forces(model.moved(), model.shape @ model.strain)[follower, 1])
    aft = float(np.mean(stack.strands[tie.outer].z)) > float(np.mean(stack.strands[tie.inner].z))
    return on_outer if aft else -on_outer


def resting_said(job: HotJob, rests: tuple[Rest, ...]) -> tuple[list[Figure], list[Finding]]:
    """Figures and findings of the resting joints."""
    figures, findings = [], []
    source = Source("derived", "linear shell of the whole liner, temperatures alone")
    for one in rests:
        about = job.identity(f"joints/{one.joint}/press")
        given = Input("f", "axial force a radian at the tie", one.press_N / (2.0 * math.pi), "N", source)
        name, note = (
            f"{one.joint}: force that presses it together, steady",
            "from temperatures alone; below nil: pulled",
        )
        figures.append(reckoned(about, name, one.press_N, "N", "2 pi f", given, digits=0, note=note))
        if one.press_N > SEEN_N:
            continue
        findings.append(_finding(job, one, about))
    return figures, findings


def _finding(job: HotJob, one: Rest, about: str) -> Finding:
    pulls = f"{-one.press_N:.0f} N"
    if one.opened:
        return Finding(
            "caution",
            f"{job.liner.id}: {one.joint} rests and is pulled by {pulls} when hot; it opens and is reckoned open.",
            "weld it, or press it with a spring of more than that",
            about,
            "resting-opens",
            "a joint that only rests carries no pull",
        )
    if one.kept:
        return Finding(
            "stop",
            f"{job.liner.id}: {one.joint} rests and is pulled by {pulls} when hot; open, a part would hang on nothing.",
            "weld it, or hold the part elsewhere",
            about,
            "resting-pulled",
            "it is reckoned closed, which it cannot stay",
        )
    return Finding(
        "note",
        f"{job.liner.id}: {one.joint} rests; temperatures press it with no force.",
        "check that pressure or a spring keeps it closed",
        about,
        "resting-joint",
        "it is reckoned closed",
    )
