"""Window of the blank-holder force: from what the sheet pushes up with to where it thins too far. N, mm, MPa."""

from __future__ import annotations

from dataclasses import dataclass, replace

from hoopwright.errors import InputError, NotConverged
from hoopwright.process.press import Press, PressStep, pressed
from hoopwright.process.press import run as run_press
from hoopwright.process.press_record import record_of
from hoopwright.process.press_tools import HolderCushion, HolderForce, HolderGap
from hoopwright.process.proof_piece import section_of
from hoopwright.process.shop import ShopCard
from hoopwright.process.workpiece import Workpiece

LADDER = (2.0, 4.0, 8.0)
"""Multiples of the first setting that are tried upward."""
GAP_OVER_MM = 0.03
"""How far a holder at a gap stands above the sheet when its load is taken."""


@dataclass(frozen=True, slots=True)
class HolderWindow:
    """Of one part. low_N : greatest push of the sheet on a holder that stands still. high_N : highest force tried that
    neither splits nor thins beyond the plan, or what the press has. high_by : what ends it.
    """

    set_N: float
    low_N: float
    high_N: float
    high_by: str


def holder_window(workpiece: Workpiece, operation: Press, card: ShopCard, at_setting: PressStep) -> HolderWindow:
    """The window round the setting of `operation`.

    at_setting : its own run. Every rung is a run of the kernel.

    Raises
    ------
    InputError
        An operation whose holder has no force.
    """
    holder = operation.holder
    if not isinstance(holder, (HolderForce, HolderCushion)):
        raise InputError(f"{operation.name}: holder", "none or a gap", "", "one with a force", "give it a force")
    tool = holder.tool
    section = section_of(workpiece)
    gap = float(section.thickness_mm.max()) + GAP_OVER_MM
    still = replace(operation, holder=HolderGap(tool, gap))
    result, seats = pressed(section, still, card)
    low = record_of(result, still.standing(gap - GAP_OVER_MM), seats).peak_N(tool.name)
    setting = at_setting.record.peak_N(tool.name)
    most = 1e3 * card.machines.press.holder_force_max_kN.value / operation.count
    high, why = setting, "the first setting"
    for factor in LADDER:
        raised = (
            HolderForce(tool, factor * holder.force_N)
            if isinstance(holder, HolderForce)
            else HolderCushion(tool, factor * holder.pressure_MPa, factor * holder.rate_MPa_per_mm)
        )
        if factor * setting > most:
            return HolderWindow(setting, low, most, "what the press has")
        try:
            step = run_press(workpiece, replace(operation, holder=raised), card)
        except NotConverged:
            return HolderWindow(setting, low, high, "the sheet tears free of its tools beyond it")
        ended = _spoilt(step)
        if ended:
            return HolderWindow(setting, low, high, ended)
        high, why = step.record.peak_N(tool.name), f"{factor:g} times the first setting, the highest tried"
    return HolderWindow(setting, low, high, why)


def _spoilt(step: PressStep) -> str:
    topics = {f.topic for f in step.findings}
    if "press-split" in topics:
        return "the forming limit is passed beyond it"
    return "the sheet thins too far beyond it" if "press-thinning" in topics else ""
