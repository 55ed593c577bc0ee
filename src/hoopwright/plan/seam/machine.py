"""What the laser can be set to: nonsense is refused with the machine's own limits before anything is reckoned."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.cards.machines import Laser
from hoopwright.errors import InputError, require_finite
from hoopwright.kernels.heat_absorbed import Shot
from hoopwright.kernels.seam_window import WeldScatter


@dataclass(frozen=True, slots=True)
class WeldSetting:
    """What the operator sets. spot_dia_mm : at 1/e2 on the sheet; focus_mm : from focus on the face, minus below it."""

    power_W: float
    speed_mm_per_s: float
    spot_dia_mm: float
    focus_mm: float = 0.0


def checked_setting(setting: WeldSetting, laser: Laser) -> WeldSetting:
    """The setting, if the machine can be set so.

    Raises
    ------
    InputError
        Power, speed or spot beyond what the machine's card says, or no number at all.
    """
    slow, fast = (f.value / 0.06 for f in (laser.speed_min_m_per_min, laser.speed_max_m_per_min))
    wanted = (
        ("laser power", setting.power_W, laser.power_min_W.value, laser.power_max_W.value, "W"),
        ("welding speed", setting.speed_mm_per_s, slow, fast, "mm/s"),
        ("spot diameter", setting.spot_dia_mm, laser.spot_dia_min_mm.value, laser.spot_dia_max_mm.value, "mm"),
    )
    for name, value, low, high, unit in wanted:
        number = require_finite(name, value, unit)
        if not low - 1e-9 <= number <= high + 1e-9:
            must = f"from {low:.4g} to {high:.4g}, what machine {laser.card_id} can be set to"
            raise InputError(name, value, unit, must, "set it inside the machine's limits")
    require_finite("focus height", setting.focus_mm, "mm")
    return setting


def shot_of(setting: WeldSetting, thickness_mm: float) -> Shot:
    """The setting as the heat kernels take it."""
    return Shot(setting.power_W, setting.speed_mm_per_s, 0.5 * setting.spot_dia_mm, thickness_mm)


def trial_box(
    laser: Laser, penetrating_W: float, gap_max_mm: float, focus_mm: float = 2.5
) -> tuple[list[float], list[float]]:
    """Lowest and highest power, speed, focus and gap of trials: half to three times the power to penetrate at 30 mm/s.

    Raises
    ------
    InputError
        A machine that cannot reach that range at all.
    """
    low = max(laser.power_min_W.value, 0.5 * penetrating_W)
    high = min(laser.power_max_W.value, 3.0 * penetrating_W)
    if low >= 0.8 * high:
        must = f"enough for half to three times {penetrating_W:.0f} W"
        raise InputError("laser power, largest", laser.power_max_W.value, "W", must, "weld this sheet on another laser")
    slow = max(laser.speed_min_m_per_min.value / 0.06, 10.0)
    fast = min(laser.speed_max_m_per_min.value / 0.06, 80.0)
    return [low, slow, -focus_mm, 0.0], [high, fast, focus_mm, gap_max_mm]


def scatter_of(laser: Laser, root: float = 0.04, face: float = 0.03) -> WeldScatter:
    """Scatter of the machine's card; run to run as given until five repeats say otherwise."""
    return WeldScatter(
        laser.power_scatter_pct.value / 100.0,
        laser.speed_scatter_pct.value / 100.0,
        laser.focus_scatter_mm.value,
        0.015,
        root,
        face,
    )


def scatter_from_repeats(readings: list[float], name: str) -> float:
    """Standard deviation of five or more repeats at one setting.

    Raises
    ------
    InputError
        Fewer than five.
    """
    if len(readings) < 5:
        raise InputError(f"repeats of {name}", len(readings), "", "5 or more", "weld more at the same setting")
    values = [require_finite(name, v) for v in readings]
    mean = sum(values) / len(values)
    return math.sqrt(sum((v - mean) ** 2 for v in values) / (len(values) - 1))


def drifted(first: float, again: float, sd: float) -> bool:
    """Whether a repeat of the first trial has moved by more than three standard deviations: then trials stop."""
    return abs(again - first) > 3.0 * sd
