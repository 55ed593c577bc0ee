"""Bringing a force-driven tool into contact before its force takes over. Units mm, N.

A tool that touches nothing has no stiffness against its travel, so it is first led by travel until it presses with the
starting force; only then is the travel set free.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np

from hoopwright.errors import InputError, NotConverged
from hoopwright.kernels.section.schedule import Drift, Step, Support
from hoopwright.kernels.section.section import Section
from hoopwright.kernels.section.tool import Contact, Force, Tool
from hoopwright.kernels.section.touch import first_touch_mm

ROUNDS = 40


def still(supports: tuple[Support, ...]) -> tuple[Support, ...]:
    """The same supports, not led anywhere."""
    return tuple(replace(support, travel=0.0) for support in supports)


def keeping(drift: Drift | None) -> Drift | None:
    """What is free stays free; what is led waits."""
    return drift if drift is not None and drift.to is None else None


def depth_for(section: Section, force: Force, contact: Contact, young: float) -> float:
    """Travel past touch that would press with the starting force if half the sheet lay under the tool. [mm]"""
    area = 0.5 * section.extent * float(np.sum(section.lengths_mm() * section.fibres()))
    stiffness = contact.share * young / float(section.thickness_start_mm.mean())
    return contact.blend_mm + force.start_N / (stiffness * area)


def seat(
    step: Step,
    section: Section,
    tool: Tool,
    place: tuple[float, float],
    young: float,
    advance: Callable[[Step], tuple[float, Section, tuple[float, float]]],
    pressing: float,
) -> None:
    """Lead the tool until it presses with the starting force.

    advance : runs a step and returns the tool's force along its direction [N], the section and the tool's place.
    pressing : force it presses with already. [N]

    Raises
    ------
    NotConverged
        When it does not reach the force, because nothing backs the sheet.
    """
    assert step.force is not None
    force, size = step.force, math.hypot(step.force.dx, step.force.dy)
    ux, uy = force.dx / size, force.dy / size
    quiet = replace(
        step,
        name=f"{step.name}: seating",
        force=None,
        supports=still(step.supports),
        stretch=keeping(step.stretch),
        curl=keeping(step.curl),
        camber=keeping(step.camber),
        lead=None,
        heat_K=0.0,
        free_log=(),
        contact_end=None,
        moves={name: (0.0, 0.0) for name in step.moves},
        hold=max(step.hold, 1e-6),
        increments=4,
    )
    if pressing >= force.start_N:
        return
    if pressing == 0.0:
        try:
            ahead = first_touch_mm(section, tool, (ux, uy), place)
        except InputError as fault:
            raise InputError(f"{tool.name}: direction", (ux, uy), "", "towards the sheet", fault.remedy) from None
        travel = ahead + 0.2 * depth_for(section, force, step.contact, young)
    else:
        travel = 0.2 * depth_for(section, force, step.contact, young)
    for _ in range(ROUNDS):
        moves = {**quiet.moves, force.tool: (travel * ux, travel * uy)}
        before = pressing
        pressing, section, place = advance(replace(quiet, moves=moves))
        if pressing >= force.start_N:
            return
        gain = max(pressing - before, 1e-9 * force.start_N)
        step_size = 0.2 * depth_for(section, force, step.contact, young)
        travel = min(max(step_size, travel * (force.start_N - pressing) / gain), 20.0 * step_size)
    raise NotConverged(
        f"{step.name}: {tool.name} presses with {pressing:.4g} N only and does not reach {force.start_N:.4g} N.",
        section,
        "let another tool back the sheet, or start from a smaller force",
    )
