"""Random makeable cases for the section kernel, drawn from stated ranges; the number of a case is its seed.

Strips: five straights with turns of 15 to 40 degrees, radii 2.2 to 5 (times t/0.8), t 0.8 to 1.2, running clearance
0.02 to 0.08 (0.04 to 0.08 with curl, because the inside of a curl thickens by up to 2 % and must not be coined),
friction 0.03 to 0.2, Swift or back-stress law, rolled flat, curled while closing or in a second pass (R 60 to 130).
Rings: mean radius 60 to 200, the same contours, stretched 1 to 4 % on their mandrel. Cups: draw ratio 1.3 to 1.8, t 0.6
to 1.5, punch and die radii 5 to 8 t, the flange at least 8 wide under a holder by force, drawn until at most four
fifths of what would take the rim out from under it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hoopwright.kernels.flow import swift
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.profile_build import from_corners
from hoopwright.kernels.profile_offset import offset
from hoopwright.kernels.section import (
    FREE,
    SOFT,
    STIFF,
    Drift,
    Force,
    Metal,
    Release,
    Result,
    Schedule,
    Step,
    Support,
    Tool,
    mesh_line,
    mesh_profile,
    run,
)
from hoopwright.kernels.section.contour import extended
from hoopwright.kernels.section.touch import deepest_between_nodes_mm, first_touch_mm


@dataclass(frozen=True)
class Outcome:
    """A finished case: its result, the tools to be looked at, and where they stood when the shape was shut."""

    kind: str
    result: Result
    tools: tuple[Tool, ...]
    shut: str
    thickness: float

    def deepest(self) -> float:
        """Greatest depth of the sheet in its tools at the shut pose, between nodes too. [mm]"""
        end = self.result.step(self.shut)
        return max(
            deepest_between_nodes_mm(end.section, tool, (float(x), float(y)))
            for tool, (x, y) in zip(self.tools, end.travel_mm, strict=True)
        )


def _metal(rng: np.random.Generator) -> Metal:
    curve = swift(rng.uniform(500.0, 1700.0), rng.uniform(0.004, 0.03), rng.uniform(0.15, 0.40))
    back = {"kinematic_MPa": 9000.0, "recovery": 60.0} if rng.random() < 0.3 else {}
    return Metal(curve, rng.uniform(190e3, 215e3), 0.3, rng.uniform(0.8, 1.5), **back)


def _contour(rng: np.random.Generator, t: float) -> Profile:
    """Five straights, four bends, never folded back: turns up, level, down, level or the other way round."""
    while True:
        turns = np.radians(rng.uniform(15.0, 40.0, 4))
        sign = rng.choice([-1.0, 1.0])
        headings = np.cumsum([0.0, *(turns * sign * np.array([1.0, -1.0, -1.0, 1.0]))])
        lengths = np.array(
            [rng.uniform(6, 12), rng.uniform(4, 8), rng.uniform(8, 16), rng.uniform(4, 8), rng.uniform(8, 20)]
        )
        xs = np.concatenate(([0.0], np.cumsum(lengths * np.cos(headings))))
        ys = np.concatenate(([0.0], np.cumsum(lengths * np.sin(headings))))
        radii = rng.uniform(2.2, 5.0, 4) * t / 0.8
        reach = radii * np.tan(0.5 * turns)
        room = lengths - np.array([reach[0], *(reach[:-1] + reach[1:]), reach[-1]])
        if room.min() > 1.0 and np.max(np.abs(headings[-1:])) < 0.4:
            return from_corners(list(zip(xs.tolist(), ys.tolist(), strict=True)), radii.tolist())


def _pass(strip, node, middle, t, clear, friction, metal, curl) -> tuple[Result, tuple[Tool, ...]]:
    low, up = offset(middle, -0.5 * t), offset(middle, 0.5 * t).moved(0.0, clear).reversed()
    strip = strip.moved(0.0, 20.0 - first_touch_mm(strip, Tool("lower", low), (0.0, 1.0), (0.0, -20.0)))
    opening = 20.0 - first_touch_mm(strip, Tool("upper", up), (0.0, -1.0), (0.0, 20.0))
    tools = (Tool("lower", low, friction), Tool("upper", up.moved(0.0, opening), friction))
    soft, hard = (0.6, 0.2) if opening > 0.7 else (0.8 * opening, 0.3 * opening)
    steps, done = [], 0.0
    for name, part, (begin, end) in (
        ("near", opening - soft, (SOFT, SOFT)),
        ("close", soft - hard, (SOFT, STIFF)),
        ("shut", hard, (STIFF, STIFF)),
    ):
        done += part
        drift = FREE if curl is None else Drift(curl * done / opening)
        moves = {"lower": (0.0, 0.0), "upper": (0.0, -part)}
        steps.append(
            Step(
                name, moves, supports=(Support(node, "x"),), stretch=FREE, curl=drift, contact=begin, contact_end=end,
                increments=20, hold=1e-5,
            )
        )  # fmt: skip
    return run(strip, Schedule((*steps, Release()), tools), metal), tools


def strip_case(rng: np.random.Generator, elements: int) -> Outcome:
    """A strip through one or two roll passes."""
    metal, t = _metal(rng), rng.uniform(0.8, 1.2)
    contour = _contour(rng, t)
    friction, radius = rng.uniform(0.03, 0.2), rng.uniform(60.0, 130.0)
    how = rng.choice(["flat", "during", "second"])
    clear = rng.uniform(0.02 if how == "flat" else 0.04, 0.08)
    middle = extended(contour, 20.0)
    crown = 0.5 * (contour.breaks[4] + contour.breaks[5]) if len(contour) > 5 else 0.5 * contour.length
    x, y = contour.point_at(crown)
    strip = mesh_line((x - crown - 2.0, y), (x - crown + contour.length + 2.0, y), t, elements, "prism")
    node = int(np.argmin(np.abs(strip.x_mm - x)))
    curl = 1.0 / radius if how == "during" else None
    result, tools = _pass(strip, node, middle, t, clear, friction, metal, curl)
    if how == "second":
        result, tools = _pass(result.section, node, middle, t, clear, friction, metal, 1.0 / radius)
    return Outcome(f"strip {how}", result, tools, "shut", t)


def ring_case(rng: np.random.Generator, elements: int) -> Outcome:
    """A ring of a random section stretched on its mandrel and released."""
    metal, t = _metal(rng), rng.uniform(0.6, 1.2)
    contour = _contour(rng, t).moved(0.0, rng.uniform(60.0, 200.0))
    stretch = rng.uniform(0.01, 0.04) * contour.start[1]
    mandrel = extended(offset(contour, -0.5 * t), 15.0)
    section = mesh_profile(contour, t, elements)
    touch = first_touch_mm(section, Tool("m", mandrel), (0.0, 1.0), (0.0, -1.0)) - 1.0
    tools = (Tool("m", mandrel.moved(0.0, touch), rng.uniform(0.0, 0.25)),)
    hold = (Support(elements // 2, "x"),)
    step = Step("size", {"m": (0.0, stretch - touch)}, supports=hold, increments=50)
    return Outcome("ring", run(section, Schedule((step, Release()), tools), metal), tools, "size", t)


def cup_case(rng: np.random.Generator, elements: int) -> Outcome:
    """A cup drawn part of the way under a holder by force."""
    metal, t = _metal(rng), rng.uniform(0.6, 1.5)
    rp, rd = rng.uniform(5.0, 8.0, 2) * t
    punch_r = 30.0
    die_r, friction = punch_r + 1.25 * t, rng.uniform(0.02, 0.12)
    blank = max(30.0 * rng.uniform(1.3, 1.8), die_r + rd + 8.0)
    half = 0.5 * t
    tools = (
        Tool("punch", from_corners([(-80.0, punch_r), (-half, punch_r), (-half, -5.0)], [rp]), friction),
        Tool("die", from_corners([(80.0, die_r), (half, die_r), (half, blank + 20.0)], [rd]), friction),
        Tool(
            "holder", from_corners([(-half, blank + 20.0), (-half, die_r + rd), (-20.0, die_r + rd)], [2.0]), friction
        ),
    )
    force = 0.02 * math.pi * (blank**2 - die_r**2) * metal.curve.stress(0.0)
    grip = {"die": (0.0, 0.0), "holder": (0.0, 0.0)}
    # the sheet keeps its area: the rim reaches the holder's edge when a wall this long has been drawn
    depth = rng.uniform(0.3, 0.8) * (blank**2 - (die_r + rd + 2.0) ** 2) / (2.0 * punch_r)
    steps = (
        Step("grip", grip, force=Force("holder", 1.0, 0.0, 0.1 * force, force), contact=SOFT, increments=4),
        Step(
            "draw", {"punch": (depth, 0.0), **grip}, force=Force("holder", 1.0, 0.0, force, force), contact=SOFT,
            increments=60,
        ),
        Step("settle", {"punch": (0.0, 0.0), **grip}, force=Force("holder", 1.0, 0.0, force, force), contact=SOFT,
             contact_end=STIFF, increments=6),
        Release(),
    )  # fmt: skip
    disc = mesh_line((0.0, 0.0), (0.0, blank), t, elements)
    return Outcome("cup", run(disc, Schedule(steps, tools), metal), tools, "settle", t)


CASES = (strip_case, strip_case, ring_case, cup_case)


def case(seed: int, elements: int = 240) -> Outcome:
    """Case number `seed`."""
    return CASES[seed % len(CASES)](np.random.default_rng(seed), elements)
