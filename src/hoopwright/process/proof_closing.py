"""Closing a contoured pair of rolls on a strip, pass by pass, with or without curl: the section kernel's part of it.

The contact is soft until the last 0.6 mm, hardens down to 0.2 mm and is stiff from there on; sharpened only at the end
it would leave 20 um of the gap to the contact. The strip lies loose until the rolls grip, so it is held weakly to its
last state. Method paper on rolling in prism mode, section 3.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from hoopwright.errors import InputError, NotConverged, require_finite, require_positive, require_range
from hoopwright.kernels.flow import Vector
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.profile_offset import offset
from hoopwright.kernels.section import (
    FREE,
    SOFT,
    STIFF,
    Contact,
    Drift,
    Metal,
    Release,
    Result,
    Schedule,
    Section,
    Step,
    Support,
    Tool,
    run,
)
from hoopwright.kernels.section.contour import extended
from hoopwright.kernels.section.touch import first_touch_mm

APART_MM = 20.0
SOFT_ABOVE_MM, STIFF_BELOW_MM = 0.6, 0.2
LOOSE = 1e-5
FINER = (1, 2, 3)
RUN_OUT_MM = 15.0
SHUT = "shut"

STAGES: tuple[tuple[str, float, float, Contact, Contact], ...] = (
    ("soft", SOFT_ABOVE_MM, 0.8, SOFT, SOFT),
    ("ramp", STIFF_BELOW_MM, 0.3, SOFT, STIFF),
    (SHUT, 0.0, 0.0, STIFF, STIFF),
)
"""Name, opening at its end [mm], the same as a share of a small opening, contact at start and end."""


@dataclass(frozen=True, slots=True, eq=False)
class RollGap:
    """A pair of rolls as the strip's section sees it.

    middle : mid-line the faces of the rolls are cut to, in the frame of the rolls (x along, y up). thickness_mm : they
    are cut for. gap_mm : upright gap on the crown, running. friction : strip on rolls.
    """

    middle: Profile
    thickness_mm: float
    gap_mm: float
    friction: float

    def __post_init__(self) -> None:
        require_positive("thickness the rolls are cut for", self.thickness_mm, "mm")
        require_range("friction of the strip on the rolls", self.friction, 0.0, 1.0)
        if require_finite("running gap", self.gap_mm, "mm") < self.thickness_mm:
            raise InputError(
                "running gap", self.gap_mm, "mm", f"at least the sheet, {self.thickness_mm:g}",
                "open the rolls; squeezing the sheet through its thickness is not in this kernel",
            )  # fmt: skip

    def faces(self) -> tuple[Profile, Profile]:
        """Lower and upper contour, closed, each with the sheet on its left."""
        whole, half = extended(self.middle, RUN_OUT_MM), 0.5 * self.thickness_mm
        clear = self.gap_mm - self.thickness_mm
        return offset(whole, -half), offset(whole, half).moved(0.0, clear).reversed()


@dataclass(frozen=True, slots=True, eq=False)
class Closed:
    """Outcome of one closing. result : of the kernel. opening_mm, force_N_per_mm : while closing, shapes (k,).

    first_opening_mm : opening at first touch. moment_Nmm, side_moment_Nmm : about the two axes of the section while
    the rolls are shut, what curl and side guides hold.
    """

    result: Result
    opening_mm: Vector
    force_N_per_mm: Vector
    first_opening_mm: float
    moment_Nmm: float
    side_moment_Nmm: float

    @property
    def section(self) -> Section:
        """Section let go."""
        return self.result.section

    @property
    def shut(self) -> Section:
        """Section while the rolls are shut."""
        return self.result.step(SHUT).section


def touching(section: Section, rolls: RollGap) -> tuple[Section, float, tuple[Profile, Profile]]:
    """The strip laid on the lower roll, the opening at which the upper one touches it [mm], and both closed faces."""
    low, up = rolls.faces()
    ahead = first_touch_mm(section, Tool("lower", low), (0.0, 1.0), (0.0, -APART_MM))
    laid = section.moved(0.0, APART_MM - ahead)
    opening = APART_MM - first_touch_mm(laid, Tool("upper", up), (0.0, -1.0), (0.0, APART_MM))
    return laid, opening, (low, up)


def closing(
    section: Section,
    rolls: RollGap,
    node: int,
    metal: Metal,
    left_mm: float = 0.0,
    curl_per_mm: float | None = None,
    camber: Drift | None = None,
    release: Release | None = None,
    straight: Drift | None = FREE,
    fine: int = 1,
) -> Closed:
    """Close the rolls to an opening of `left_mm` above their running gap, and let go.

    Parameters
    ----------
    node : held in its place along the rolls.
    curl_per_mm : curl reached with the closing, in line with the travel; None where the strip is not curled, and then
        `straight` says what its curl does.
    camber : None keeps the blank's own (side guides), FREE lets it go, Drift leads it.
    fine : increments, as a multiple of the usual.

    Raises
    ------
    NotConverged
        With the last state, when no increment is small enough.
    """
    section, opening, (low, up) = touching(section, rolls)
    if opening <= left_mm:
        raise InputError("opening left", left_mm, "mm", f"below the first touch at {opening:.3f}", "close further")
    tools = (Tool("lower", low, rolls.friction), Tool("upper", up.moved(0.0, opening), rolls.friction))

    def closed(finer: int) -> Result:
        steps = _steps(section, node, opening, left_mm, curl_per_mm, camber, straight, finer * fine)
        return _let_go(section, steps, tools, release or Release(), metal, left_mm > 0.0)

    result = closed(1) if left_mm > 0.0 else _closed_somehow(closed)
    history, end = result.history, result.step(SHUT)
    gap = history.travel_mm[:, 1, 1] + opening
    last = int(np.argmin(gap)) + 1
    force = np.maximum(history.force_N("lower")[:last, 1], 0.0)
    return Closed(
        result, gap[:last] - left_mm, force, opening, float(end.resultant[1]), float(end.resultant[2])
    )  # fmt: skip


def _closed_somehow(closed: Callable[[int], Result]) -> Result:
    """The run in the usual increments; in finer ones where it stalls, as contact chatters between two of them."""
    for finer in FINER[:-1]:
        try:
            return closed(finer)
        except NotConverged:
            continue
    return closed(FINER[-1])


def _let_go(
    section: Section, steps: list[Step], tools: tuple[Tool, Tool], release: Release, metal: Metal, part_way: bool
) -> Result:
    """The run with its release: forces faded, or the rolls led apart; the other way where the first one fails.

    Part of the way down the strip is bent far and hardly set, and springs too far for faded forces.
    """
    away = APART_MM / 4.0
    apart = replace(release, retract={"lower": (0.0, -away), "upper": (0.0, away)}, increments=40)
    first, second = (apart, release) if part_way else (release, apart)
    try:
        return run(section, Schedule((*steps, first), tools), metal)
    except NotConverged as failed:
        if not str(failed).startswith(release.name):
            raise
    return run(section, Schedule((*steps, second), tools), metal)


def _steps(
    section: Section,
    node: int,
    opening: float,
    left: float,
    curl: float | None,
    camber: Drift | None,
    straight: Drift | None,
    fine: int,
) -> list[Step]:
    start, at = section.curl_per_mm, opening
    steps: list[Step] = []
    for name, end, share, soft, hard in STAGES:
        to = max(min(end, share * opening), left) if name != SHUT else left
        if at - to < 1e-9:
            continue
        done = (opening - to) / (opening - left)
        steps.append(
            Step(
                name,
                {"lower": (0.0, 0.0), "upper": (0.0, to - at)},
                supports=(Support(node, "x"),),
                stretch=FREE,
                curl=straight if curl is None else Drift(start + (curl - start) * done),
                camber=_led(section.camber_per_mm, camber, done),
                contact=soft,
                contact_end=hard,
                increments=fine * (20 if name == "ramp" else 30),
                hold=LOOSE,
            )
        )
        at = to
    return [*steps[:-1], _named_shut(steps[-1])]


def _led(start: float, camber: Drift | None, done: float) -> Drift | None:
    if camber is None or camber.to is None:
        return camber
    return Drift(start + (camber.to - start) * done)


def _named_shut(step: Step) -> Step:
    return replace(step, name=SHUT)
